//! The one way in for whoever connects: the page, the webhook and the metrics all listen here, with limits to the
//! number of connections, to those of one client, and to the time a head or an answer may take.
//!
//! Some places are kept for looking whether the server lives: they are given when all others are taken, for one quick
//! question each. Whoever is slow there makes room for the next.

use std::collections::{HashMap, VecDeque};
use std::io;
use std::net::{IpAddr, SocketAddr};
use std::pin::Pin;
use std::sync::{Arc, Mutex, PoisonError};
use std::task::{Context, Poll, ready};
use std::time::Duration;

use axum::Router;
use axum::extract::Request;
use hyper::body::Incoming;
use hyper::server::conn::http1;
use hyper::service::service_fn;
use hyper_util::rt::{TokioIo, TokioTimer};
use tokio::io::{AsyncRead, AsyncWrite, ReadBuf};
use tokio::net::{TcpListener, TcpStream};
use tokio::sync::{OwnedSemaphorePermit, Semaphore, watch};
use tokio::task::AbortHandle;
use tokio::time::{Instant, Sleep, sleep_until, timeout};
use tower::ServiceExt as _;

use super::client::{Client, Proxies};

/// How long requests under way have to finish when we close.
const CLOSE_WITHIN: Duration = Duration::from_secs(10);
/// The largest head of a request, in bytes.
const LARGEST_HEAD: usize = 16 * 1024;
/// How long somebody on a spare place has in all.
const SPARE_WITHIN: Duration = Duration::from_secs(2);

/// How many and how long.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Limits {
    /// Connections in all.
    pub connections: usize,
    /// Connections of one client; a trusted proxy is not counted.
    pub connections_each: usize,
    /// Connections beyond these, for looking whether the server lives.
    pub spare: usize,
    /// How long a client may take over a request's head.
    pub head_within: Duration,
    /// How long a client may take nothing of its answer.
    pub taken_within: Duration,
}

impl Default for Limits {
    fn default() -> Self {
        Self {
            connections: 4_096,
            connections_each: 64,
            spare: 64,
            head_within: Duration::from_secs(10),
            taken_within: Duration::from_secs(10),
        }
    }
}

/// What is served.
#[derive(Clone)]
pub struct Served {
    /// To everybody who found a place.
    pub all: Router,
    /// To those on a spare place.
    pub spare: Router,
    /// Whose word on where a request comes from is taken.
    pub proxies: Proxies,
}

/// The address a connection comes from.
#[derive(Clone, Copy, Debug)]
pub struct Peer(pub SocketAddr);

/// Something of each client, counted while it lasts.
#[derive(Clone, Default)]
pub struct Counts(Arc<Mutex<HashMap<Client, usize>>>);

/// One of those.
pub struct Counted {
    counts: Counts,
    client: Client,
}

impl Counts {
    /// One more of a client; `None` where it has as many as it may.
    pub fn one_more(&self, client: Client, most: usize) -> Option<Counted> {
        let mut open = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let count = open.entry(client).or_default();
        if *count >= most {
            return None;
        }
        *count = count.saturating_add(1);
        Some(Counted { counts: self.clone(), client })
    }
}

impl Drop for Counted {
    fn drop(&mut self) {
        let mut open = self.counts.0.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(count) = open.get_mut(&self.client) {
            *count = count.saturating_sub(1);
            if *count == 0 {
                open.remove(&self.client);
            }
        }
    }
}

/// Where connections find their places.
struct Places {
    all: Arc<Semaphore>,
    each: Counts,
    /// Those on spare places, who came first before who came last.
    spare: VecDeque<AbortHandle>,
}

/// A place, counted to a client that is no proxy.
type Place = (OwnedSemaphorePermit, Option<Counted>);

impl Places {
    fn find(&self, peer: IpAddr, limits: &Limits, proxies: &Proxies) -> Option<Place> {
        let counted = if proxies.trusts(peer) {
            None
        } else {
            Some(self.each.one_more(Client::of(peer), limits.connections_each)?)
        };
        Some((Arc::clone(&self.all).try_acquire_owned().ok()?, counted))
    }

    /// Gives somebody a spare place, in place of who has been there longest.
    fn give_spare(&mut self, guest: AbortHandle, most: usize) {
        self.spare.push_back(guest);
        while self.spare.len() > most {
            self.spare.pop_front().inspect(AbortHandle::abort);
        }
    }
}

/// Takes connections until told to close; then waits a little for those that are busy.
pub async fn listen(
    listener: TcpListener,
    served: Served,
    limits: &Limits,
    mut closing: watch::Receiver<bool>,
) {
    let all = Arc::new(Semaphore::new(limits.connections));
    let mut places = Places { all, each: Counts::default(), spare: VecDeque::new() };
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
        let place = places.find(peer.ip(), limits, &served.proxies);
        let (served, limits, closing) = (served.clone(), limits.clone(), closing.clone());
        let most_spare = limits.spare;
        if let Some(place) = place {
            tokio::spawn(async move {
                converse(stream, peer, served.all, &limits, true, closing).await;
                drop(place);
            });
        } else {
            let guest = tokio::spawn(async move {
                let talk = converse(stream, peer, served.spare, &limits, false, closing);
                let _ = timeout(SPARE_WITHIN, talk).await;
            });
            places.give_spare(guest.abort_handle(), most_spare);
        }
    }
    let all = u32::try_from(limits.connections).unwrap_or(u32::MAX);
    let _ = timeout(CLOSE_WITHIN, places.all.acquire_many(all)).await;
}

async fn converse(
    stream: TcpStream,
    peer: SocketAddr,
    router: Router,
    limits: &Limits,
    keeps_alive: bool,
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
        .header_read_timeout(limits.head_within)
        .max_buf_size(LARGEST_HEAD)
        .keep_alive(keeps_alive)
        .serve_connection(TokioIo::new(Patient::new(stream, limits.taken_within)), service);
    tokio::pin!(connection);
    tokio::select! {
        // A client that hangs up or dawdles is nothing to report.
        _ = connection.as_mut() => return,
        _ = closing.wait_for(|closing| *closing) => connection.as_mut().graceful_shutdown(),
    }
    let _ = connection.await;
}

/// A stream whose other end must go on taking what it is sent.
struct Patient {
    stream: TcpStream,
    within: Duration,
    /// Since when nothing was taken, as the end of our patience.
    until: Option<Pin<Box<Sleep>>>,
}

impl Patient {
    fn new(stream: TcpStream, within: Duration) -> Self {
        Self { stream, within, until: None }
    }

    /// What became of a write: an error where it has waited too long.
    fn minded<T>(&mut self, cx: &mut Context<'_>, written: Poll<io::Result<T>>) -> Poll<io::Result<T>> {
        if written.is_ready() {
            self.until = None;
            return written;
        }
        let within = self.within;
        let until = self.until.get_or_insert_with(|| Box::pin(sleep_until(Instant::now() + within)));
        ready!(until.as_mut().poll(cx));
        Poll::Ready(Err(io::ErrorKind::TimedOut.into()))
    }
}

impl AsyncRead for Patient {
    fn poll_read(
        mut self: Pin<&mut Self>,
        cx: &mut Context<'_>,
        into: &mut ReadBuf<'_>,
    ) -> Poll<io::Result<()>> {
        Pin::new(&mut self.stream).poll_read(cx, into)
    }
}

impl AsyncWrite for Patient {
    fn poll_write(mut self: Pin<&mut Self>, cx: &mut Context<'_>, bytes: &[u8]) -> Poll<io::Result<usize>> {
        let written = Pin::new(&mut self.stream).poll_write(cx, bytes);
        self.minded(cx, written)
    }

    fn poll_write_vectored(
        mut self: Pin<&mut Self>,
        cx: &mut Context<'_>,
        parts: &[io::IoSlice<'_>],
    ) -> Poll<io::Result<usize>> {
        let written = Pin::new(&mut self.stream).poll_write_vectored(cx, parts);
        self.minded(cx, written)
    }

    fn is_write_vectored(&self) -> bool {
        self.stream.is_write_vectored()
    }

    fn poll_flush(mut self: Pin<&mut Self>, cx: &mut Context<'_>) -> Poll<io::Result<()>> {
        let flushed = Pin::new(&mut self.stream).poll_flush(cx);
        self.minded(cx, flushed)
    }

    fn poll_shutdown(mut self: Pin<&mut Self>, cx: &mut Context<'_>) -> Poll<io::Result<()>> {
        Pin::new(&mut self.stream).poll_shutdown(cx)
    }
}

#[cfg(test)]
mod tests {
    use axum::routing::get;
    use tokio::io::{AsyncReadExt as _, AsyncWriteExt as _};

    use super::*;

    /// A server with these limits; it ends with the sender.
    async fn serve(limits: Limits) -> (SocketAddr, watch::Sender<bool>) {
        let listener = TcpListener::bind(("127.0.0.1", 0)).await.unwrap();
        let address = listener.local_addr().unwrap();
        let (close, closing) = watch::channel(false);
        let alive = Router::new().route("/healthz", get(|| async { "alive" }));
        let large = get(|| async { vec![b'x'; 50_000_000] });
        let all = alive.clone().route("/large", large);
        let served = Served { all, spare: alive, proxies: Proxies::default() };
        tokio::spawn(async move { listen(listener, served, &limits, closing).await });
        (address, close)
    }

    async fn ask(stream: &mut TcpStream, path: &str) -> String {
        stream.write_all(format!("GET {path} HTTP/1.1\r\nhost: x\r\n\r\n").as_bytes()).await.unwrap();
        let mut answer = vec![0; 4_096];
        let read = timeout(Duration::from_secs(5), stream.read(&mut answer)).await.unwrap();
        String::from_utf8_lossy(&answer[..read.unwrap_or(0)]).into_owned()
    }

    #[tokio::test]
    async fn when_all_places_are_taken_one_can_still_ask_whether_the_server_lives() {
        let (address, _close) = serve(Limits { connections: 8, ..Limits::default() }).await;
        let mut held = Vec::new();
        for _ in 0..8 {
            held.push(TcpStream::connect(address).await.unwrap());
        }
        tokio::time::sleep(Duration::from_millis(50)).await;
        // Many more than there are spare places.
        for _ in 0..200 {
            held.push(TcpStream::connect(address).await.unwrap());
        }
        tokio::time::sleep(Duration::from_millis(50)).await;
        let mut last = TcpStream::connect(address).await.unwrap();
        assert!(ask(&mut last, "/healthz").await.ends_with("alive"));
        let mut other = TcpStream::connect(address).await.unwrap();
        assert!(ask(&mut other, "/large").await.starts_with("HTTP/1.1 404"));
    }

    #[tokio::test]
    async fn whoever_takes_nothing_of_an_answer_is_hung_up_on() {
        let limits = Limits {
            taken_within: Duration::from_millis(200),
            connections: 1,
            spare: 0,
            ..Limits::default()
        };
        let (address, _close) = serve(limits).await;
        let mut slow = TcpStream::connect(address).await.unwrap();
        slow.write_all(b"GET /large HTTP/1.1\r\nhost: x\r\n\r\n").await.unwrap();
        let begun = Instant::now();
        loop {
            tokio::time::sleep(Duration::from_millis(100)).await;
            let mut next = TcpStream::connect(address).await.unwrap();
            next.write_all(b"GET /healthz HTTP/1.1\r\nhost: x\r\n\r\n").await.unwrap();
            let mut answer = [0; 64];
            if next.read(&mut answer).await.is_ok_and(|read| read > 0) {
                break;
            }
            assert!(begun.elapsed() < Duration::from_secs(10), "the one place is still held");
        }
        drop(slow);
    }
}
