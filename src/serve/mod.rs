//! The server: what every way to it shares, and the messenger as one such way. The page is another, and carried by
//! `channel::web`.
//!
//! [`watch`] tells an operator how it is; [`run`] is the messenger.

#[cfg(feature = "telegram")]
mod messenger;
mod watch;

use std::net::SocketAddr;
use std::sync::Arc;
use std::time::Duration;

use axum::Router;
use tokio::net::TcpListener;
use tokio_util::sync::CancellationToken;

#[cfg(feature = "telegram")]
pub use self::messenger::{
    Answers, Api, CallError, Config, Examined, Limits, Menu, Phrase, Token, TokenError, TurnError, Turned,
    Way, examine, message_id, run,
};
pub use self::watch::{AtQuestion, Census, Watched};

use crate::channel::client::Proxies;
use crate::channel::listen;
use crate::store::{Store, StoreError};

/// Those who watch are few.
const WATCHERS: usize = 64;
/// How long a request to a machine's address may take in all, its body included.
const ANSWER_WITHIN: Duration = Duration::from_secs(20);

/// Why the server did not start.
#[derive(Debug, thiserror::Error)]
pub enum ServeError {
    /// The platform does not know the token.
    #[error("the bot token is refused: {0}")]
    Token(String),
    /// The HTTP client could not be made.
    #[error("no HTTP client: {0}")]
    Client(String),
    /// Another process listens there, or it is not ours to listen on.
    #[error("cannot listen on {address}: {reason}")]
    Listen {
        /// Where.
        address: SocketAddr,
        /// What the system said.
        reason: std::io::Error,
    },
    /// The public address has no path to listen on.
    #[error("the public URL must be https://name/path, with a path of letters, digits, - and _")]
    PublicUrl,
    /// The store failed.
    #[error(transparent)]
    Store(#[from] StoreError),
}

/// Serves health and metrics at an address, where one is given, and keeps the metrics going until `stop`.
pub async fn watch<S: Store, T: Watched>(
    address: Option<SocketAddr>,
    store: Arc<S>,
    app: Arc<T>,
    stop: CancellationToken,
) -> Result<(), ServeError> {
    if let Some(address) = address {
        listen(address, watch::routes(store, stop.clone()), WATCHERS, stop.clone()).await?;
    }
    tokio::spawn(watch::rounds(app, stop));
    Ok(())
}

/// Listens where machines ask: as guarded as the page, each with so many places of its own.
async fn listen(
    address: SocketAddr,
    routes: Router,
    places: usize,
    stop: CancellationToken,
) -> Result<(), ServeError> {
    let listener =
        TcpListener::bind(address).await.map_err(|reason| ServeError::Listen { address, reason })?;
    let limits =
        listen::Limits { connections: places, connections_each: places, ..listen::Limits::default() };
    let all = routes.layer(axum::middleware::from_fn(in_time));
    let served = listen::Served { spare: all.clone(), all, proxies: Proxies::default() };
    let (close, closing) = tokio::sync::watch::channel(false);
    tokio::spawn(async move {
        stop.cancelled().await;
        close.send_replace(true);
    });
    tokio::spawn(async move { listen::listen(listener, served, &limits, closing).await });
    Ok(())
}

/// Ends a request that takes too long, whoever is to blame.
async fn in_time(request: axum::extract::Request, next: axum::middleware::Next) -> axum::response::Response {
    use axum::response::IntoResponse as _;
    let answer = tokio::time::timeout(ANSWER_WITHIN, next.run(request)).await;
    answer.unwrap_or_else(|_| axum::http::StatusCode::REQUEST_TIMEOUT.into_response())
}
