//! The page: the same chat in a browser, and the sheet for a supplier.
//!
//! Server-rendered, no front-end build. Everything works without the script; with it the page needs no full load and
//! is told at once what arrives later. It carries messages and decides nothing: [`Rooms`] is all it knows of what
//! stands behind it.
//!
//! Read in this order: `chat` and `counter` (what is served), `view` (how it is shown), `cookie` (who is who),
//! `guard` (what is let in), `hub` (what arrives later).

mod chat;
mod cookie;
mod counter;
mod guard;
mod hub;
mod view;

use std::collections::BTreeMap;
use std::net::SocketAddr;
use std::num::NonZeroU32;
use std::sync::Arc;
use std::time::Duration;

use axum::Router;
use axum::http::StatusCode;
use axum::middleware::from_fn_with_state;
use axum::response::Response;
use axum::routing::get;
use tokio::net::TcpListener;
use tokio::sync::watch;

pub use self::cookie::Seal;
pub use self::view::PHRASES;

use self::guard::Rates;
use self::hub::Hub;
use self::view::Views;
use super::client::Proxies;
use super::listen::{self, Served};
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
    /// How long a request may take in all, its body included.
    pub answer_within: Duration,
    /// Connections, and how long each may dawdle.
    pub listen: listen::Limits,
    /// Pages of one chat that are told at once what arrives later.
    pub watchers_each: usize,
    /// The same of one client, whatever their chats.
    pub watchers_of_client: usize,
    /// The same of all.
    pub watchers: usize,
    /// How long a page is told before it must ask again.
    pub watched_for: Duration,
}

impl Default for Limits {
    fn default() -> Self {
        let number = |n| NonZeroU32::new(n).unwrap_or(NonZeroU32::MIN);
        Self {
            words_per_minute: number(40),
            looks_per_minute: number(300),
            // The longest message in the signs that take most room in a form, and half as much again.
            largest_body: 48 * 1024,
            longest_message: 2_000,
            answer_within: Duration::from_secs(20),
            listen: listen::Limits::default(),
            watchers_each: 6,
            watchers_of_client: 24,
            watchers: 2_048,
            watched_for: Duration::from_mins(5),
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
    /// Whose word on where a request comes from is taken.
    pub proxies: Proxies,
    /// Whether only this very machine may see the page: what people say is kept without a key.
    pub is_private: bool,
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
        let limits = config.limits.listen.clone();
        let served = served(rooms, config, closing.clone())?;
        listen::listen(self.listener, served, &limits, closing).await;
        Ok(())
    }
}

fn served<R: Rooms>(
    rooms: Arc<R>,
    config: Config,
    closing: watch::Receiver<bool>,
) -> Result<Served, WebError> {
    let chats = chat::routes(config.limits.largest_body);
    let site = Arc::new(Site {
        rooms,
        views: Views::new(config.phrases.clone())?,
        hub: Arc::new(Hub::new(&config.limits)),
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
    let spare = watched.clone().fallback(crowded::<R>).with_state(Arc::clone(&site));
    let proxies = site.config.proxies.clone();
    Ok(Served { all: watched.merge(pages).with_state(site), spare, proxies })
}

/// For whoever comes when every place is taken, and wants more than to know whether we live.
async fn crowded<R: Rooms>(axum::extract::State(site): axum::extract::State<Arc<Site<R>>>) -> Response {
    site.views.notice(StatusCode::SERVICE_UNAVAILABLE, view::Notice::TooFast)
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
