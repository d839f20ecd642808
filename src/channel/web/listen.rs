//! How long anybody may take: connections with a limit to their number and to the time for a request's head.

use std::collections::HashMap;
use std::net::{IpAddr, SocketAddr};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;

use axum::Router;
use axum::extract::Request;
use hyper::body::Incoming;
use hyper::server::conn::http1;
use hyper::service::service_fn;
use hyper_util::rt::{TokioIo, TokioTimer};
use tokio::net::{TcpListener, TcpStream};
use tokio::sync::{Semaphore, watch};
use tower::ServiceExt as _;

use super::Limits;

/// How long requests under way have to finish when we close.
const CLOSE_WITHIN: Duration = Duration::from_secs(10);
/// The largest head of a request, in bytes.
const LARGEST_HEAD: usize = 16 * 1024;

/// The address a connection comes from.
#[derive(Clone, Copy, Debug)]
pub(super) struct Peer(pub(super) SocketAddr);

/// Connections of each client.
type Counts = Arc<Mutex<HashMap<IpAddr, usize>>>;

/// One connection of a client, counted while it lasts.
struct Counted {
    counts: Counts,
    client: IpAddr,
}

impl Counted {
    fn new(counts: &Counts, client: IpAddr, most: usize) -> Option<Self> {
        let mut open = counts.lock().unwrap_or_else(PoisonError::into_inner);
        let count = open.entry(client).or_default();
        if *count >= most && !client.is_loopback() {
            return None;
        }
        *count = count.saturating_add(1);
        Some(Self { counts: Arc::clone(counts), client })
    }
}

impl Drop for Counted {
    fn drop(&mut self) {
        let mut open = self.counts.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(count) = open.get_mut(&self.client) {
            *count = count.saturating_sub(1);
            if *count == 0 {
                open.remove(&self.client);
            }
        }
    }
}

/// Takes connections until told to close; then waits a little for those that are busy.
pub(super) async fn listen(
    listener: TcpListener,
    router: Router,
    limits: &Limits,
    mut closing: watch::Receiver<bool>,
) {
    let places = Arc::new(Semaphore::new(limits.connections));
    let counts = Counts::default();
    loop {
        let accepted = tokio::select! {
            accepted = listener.accept() => accepted,
            _ = closing.wait_for(|closing| *closing) => break,
        };
        let (stream, peer) = match accepted {
            Ok(accepted) => accepted,
            Err(error) => {
                // Out of file handles, or a client gone while it was let in: the next may fare better.
                tracing::warn!(%error, "a connection was not taken");
                tokio::time::sleep(Duration::from_millis(50)).await;
                continue;
            }
        };
        // Whoever comes when all places are taken is turned away at once rather than kept waiting.
        let Ok(place) = Arc::clone(&places).try_acquire_owned() else { continue };
        let Some(counted) = Counted::new(&counts, peer.ip(), limits.connections_each) else { continue };
        let (router, head_within, closing) = (router.clone(), limits.head_within, closing.clone());
        tokio::spawn(async move {
            converse(stream, peer, router, head_within, closing).await;
            drop((place, counted));
        });
    }
    let all = u32::try_from(limits.connections).unwrap_or(u32::MAX);
    let _ = tokio::time::timeout(CLOSE_WITHIN, places.acquire_many(all)).await;
}

async fn converse(
    stream: TcpStream,
    peer: SocketAddr,
    router: Router,
    head_within: Duration,
    mut closing: watch::Receiver<bool>,
) {
    let _ = stream.set_nodelay(true);
    let service = service_fn(move |request: Request<Incoming>| {
        let mut request = request.map(axum::body::Body::new);
        request.extensions_mut().insert(Peer(peer));
        router.clone().oneshot(request)
    });
    let connection = http1::Builder::new()
        .timer(TokioTimer::new())
        .header_read_timeout(head_within)
        .max_buf_size(LARGEST_HEAD)
        .serve_connection(TokioIo::new(stream), service);
    tokio::pin!(connection);
    tokio::select! {
        // A client that hangs up or dawdles is nothing to report.
        _ = connection.as_mut() => return,
        _ = closing.wait_for(|closing| *closing) => connection.as_mut().graceful_shutdown(),
    }
    let _ = connection.await;
}
