//! The page: the same chat in a browser, and the sheet for a supplier.
//!
//! Server-rendered, no front-end build. Everything works without the script; with it the page needs no full load and
//! is told at once what arrives later. It carries messages and decides nothing: [`Rooms`] is all it knows of what
//! stands behind it.
//!
//! Read in this order: `chat` and `counter` (what is served), `view` (how it is shown), `cookie` (who is who),
//! `guard` (what is let in), `listen` (how long anybody may take), `hub` (what arrives later).

mod chat;
mod cookie;
mod counter;
mod guard;
mod hub;
mod listen;
mod view;

use std::collections::BTreeMap;
use std::net::SocketAddr;
use std::num::NonZeroU32;
use std::sync::Arc;
use std::time::Duration;

use axum::Router;
use axum::http::StatusCode;
use axum::middleware::from_fn_with_state;
use axum::routing::get;
use tokio::net::TcpListener;
use tokio::sync::watch;

pub use self::cookie::Seal;
pub use self::view::PHRASES;

use self::guard::Rates;
use self::hub::Hub;
use self::view::Views;
use super::rooms::Rooms;

/// How much, how fast and how long.
#[derive(Clone, Debug)]
pub struct Limits {
    /// Messages and answers a minute of one client.
    pub words_per_minute: NonZeroU32,
    /// Pages, files and links opened a minute by one client.
    pub looks_per_minute: NonZeroU32,
    /// The largest body, in bytes.
    pub largest_body: usize,
    /// The longest message, in letters.
    pub longest_message: usize,
    /// How long a client may take over a request's head.
    pub head_within: Duration,
    /// How long a request may take in all, its body included.
    pub answer_within: Duration,
    /// Connections in all.
    pub connections: usize,
    /// Connections of one client; a proxy on this machine is not counted.
    pub connections_each: usize,
    /// Pages of one chat that are told at once what arrives later.
    pub watchers_each: usize,
}

impl Default for Limits {
    fn default() -> Self {
        let number = |n| NonZeroU32::new(n).unwrap_or(NonZeroU32::MIN);
        Self {
            words_per_minute: number(40),
            looks_per_minute: number(300),
            largest_body: 16 * 1024,
            longest_message: 2_000,
            head_within: Duration::from_secs(10),
            answer_within: Duration::from_secs(20),
            connections: 4_096,
            connections_each: 64,
            watchers_each: 6,
        }
    }
}

/// Everything the page must be told.
#[derive(Clone)]
pub struct Config {
    /// The address people see, such as `https://roof.example`, without a slash at its end.
    pub base: String,
    /// What signs cookies.
    pub seal: Seal,
    /// The clock, in seconds since 1970.
    pub clock: fn() -> u64,
    /// Where chance comes from.
    pub fresh: fn() -> [u8; 16],
    /// What stands on the pages, by message id: one for each of [`PHRASES`].
    pub phrases: BTreeMap<&'static str, String>,
    /// How much, how fast and how long.
    pub limits: Limits,
}

/// Why there is no page.
#[derive(Debug, thiserror::Error)]
pub enum WebError {
    /// Another process listens there, or it is not ours to listen on.
    #[error("cannot listen on {address}: {reason}")]
    Listen {
        /// Where.
        address: SocketAddr,
        /// What the system said.
        reason: std::io::Error,
    },
    /// A template is broken.
    #[error("a page cannot be built: {0}")]
    Template(#[from] minijinja::Error),
}

/// What every handler sees.
struct Site<R> {
    rooms: Arc<R>,
    config: Config,
    views: Views,
    hub: Arc<Hub>,
    rates: Rates,
    closing: watch::Receiver<bool>,
}

/// A page that listens already.
pub struct Web {
    listener: TcpListener,
}

impl Web {
    /// Takes an address; port 0 takes a free one.
    pub async fn bind(address: SocketAddr) -> Result<Self, WebError> {
        let listener =
            TcpListener::bind(address).await.map_err(|reason| WebError::Listen { address, reason })?;
        Ok(Self { listener })
    }

    /// The address that was taken.
    pub fn address(&self) -> std::io::Result<SocketAddr> {
        self.listener.local_addr()
    }

    /// Serves until `closing` turns true; then no new requests are taken and those under way are answered.
    pub async fn serve<R: Rooms>(
        self,
        rooms: Arc<R>,
        config: Config,
        closing: watch::Receiver<bool>,
    ) -> Result<(), WebError> {
        let limits = config.limits.clone();
        let router = router(rooms, config, closing.clone())?;
        listen::listen(self.listener, router, &limits, closing).await;
        Ok(())
    }
}

fn router<R: Rooms>(
    rooms: Arc<R>,
    config: Config,
    closing: watch::Receiver<bool>,
) -> Result<Router, WebError> {
    let chats = chat::routes(config.limits.largest_body);
    let site = Arc::new(Site {
        rooms,
        views: Views::new(config.phrases.clone())?,
        hub: Arc::default(),
        rates: Rates::new(&config.limits),
        config,
        closing,
    });
    let pages = chats.merge(counter::routes()).fallback(chat::nothing_here);
    let pages = pages.layer(from_fn_with_state(Arc::clone(&site), guard::guard));
    let watched = Router::new()
        .route("/healthz", get(|| async { "ok\n" }))
        .route("/readyz", get(readyz))
        .layer(from_fn_with_state(Arc::clone(&site), guard::headers_only));
    Ok(watched.merge(pages).with_state(site))
}

async fn readyz<R: Rooms>(
    axum::extract::State(site): axum::extract::State<Arc<Site<R>>>,
) -> (StatusCode, &'static str) {
    if !*site.closing.borrow() && site.rooms.ready().await {
        (StatusCode::OK, "ready\n")
    } else {
        (StatusCode::SERVICE_UNAVAILABLE, "not ready\n")
    }
}
