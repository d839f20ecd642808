//! What is let in: so much a minute, from our own pages only, within a time; and what every answer carries.

use std::net::IpAddr;
use std::num::NonZeroU32;
use std::sync::Arc;
use std::sync::atomic::{AtomicU32, Ordering};

use axum::extract::{Request, State};
use axum::http::header::{self, HeaderName, HeaderValue};
use axum::http::{HeaderMap, Method, StatusCode};
use axum::middleware::Next;
use axum::response::{IntoResponse as _, Response};
use governor::{DefaultKeyedRateLimiter, Quota, RateLimiter};

use super::view::Notice;
use super::{Limits, Site};
use crate::channel::client::Client;
use crate::channel::listen::Peer;
use crate::channel::rooms::Rooms;

/// Nothing but what we serve ourselves, and nobody may frame us.
const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; \
                      form-action 'self'; base-uri 'none'; frame-ancestors 'none'";

static HEADERS: [(HeaderName, &str); 7] = [
    (header::CONTENT_SECURITY_POLICY, POLICY),
    (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
    (header::REFERRER_POLICY, "no-referrer"),
    (header::X_FRAME_OPTIONS, "DENY"),
    (HeaderName::from_static("cross-origin-opener-policy"), "same-origin"),
    (HeaderName::from_static("cross-origin-resource-policy"), "same-origin"),
    (HeaderName::from_static("permissions-policy"), "camera=(), geolocation=(), microphone=()"),
];

/// A body that announces more than this, in bytes, is refused before a byte of it is read; each route has its own
/// limit besides, for what comes without a length.
const LARGEST_ANNOUNCED: u64 = 64 * 1024;

/// Expired counts are swept once in so many requests.
const SWEEP_EVERY: u32 = 1_024;

/// How often clients come.
pub(super) struct Rates {
    words: DefaultKeyedRateLimiter<Client>,
    looks: DefaultKeyedRateLimiter<Client>,
    since_sweep: AtomicU32,
}

impl Rates {
    pub(super) fn new(limits: &Limits) -> Self {
        let limiter = |per_minute: NonZeroU32| RateLimiter::keyed(Quota::per_minute(per_minute));
        Self {
            words: limiter(limits.words_per_minute),
            looks: limiter(limits.looks_per_minute),
            since_sweep: AtomicU32::new(0),
        }
    }

    fn lets(&self, method: &Method, client: Client) -> bool {
        if self.since_sweep.fetch_add(1, Ordering::Relaxed).is_multiple_of(SWEEP_EVERY) {
            self.words.retain_recent();
            self.looks.retain_recent();
        }
        let limiter = if method == Method::POST { &self.words } else { &self.looks };
        limiter.check_key(&client).is_ok()
    }
}

/// Whether a browser says that another site's page sent this. Old browsers say nothing; the form's own token
/// stands behind this.
fn is_from_elsewhere(headers: &HeaderMap) -> bool {
    let site = headers.get("sec-fetch-site").and_then(|value| value.to_str().ok());
    site.is_some_and(|site| site != "same-origin" && site != "none")
}

/// Whether a request comes from another machine, be it by way of a proxy on this one: such a proxy says so, or passes
/// on the name that the other machine asked for.
fn is_from_afar(peer: Option<IpAddr>, headers: &HeaderMap) -> bool {
    let passed_on =
        ["forwarded", "x-forwarded-for", "x-forwarded-host", "x-forwarded-proto", "x-real-ip", "via"];
    let is_local = |host: &HeaderValue| {
        let host = host.to_str().unwrap_or_default();
        let name = host.rsplit_once(':').filter(|(_, port)| port.bytes().all(|b| b.is_ascii_digit()));
        let name = name.map_or(host, |(name, _)| name).trim_matches(['[', ']']);
        name == "localhost" || name.parse().is_ok_and(|address: IpAddr| address.is_loopback())
    };
    !peer.is_some_and(|peer| peer.to_canonical().is_loopback())
        || passed_on.iter().any(|name| headers.contains_key(*name))
        || !headers.get_all(header::HOST).iter().all(is_local)
}

/// How long a body says it is.
fn announced(headers: &HeaderMap) -> Option<u64> {
    headers.get(header::CONTENT_LENGTH)?.to_str().ok()?.parse().ok()
}

/// Lets a request in, or says why not.
pub(super) async fn guard<R: Rooms>(
    State(site): State<Arc<Site<R>>>,
    mut request: Request,
    next: Next,
) -> Response {
    let peer = request.extensions().get::<Peer>().map(|peer| peer.0.ip());
    let client = peer.map(|peer| site.config.proxies.client(peer, request.headers())).unwrap_or_default();
    request.extensions_mut().insert(client);
    let refused = if site.config.is_private && is_from_afar(peer, request.headers()) {
        tracing::error!(
            "somebody came through a proxy to a page that keeps words unsealed: start it with --key-file"
        );
        Some((StatusCode::FORBIDDEN, Notice::Private))
    } else if !site.rates.lets(request.method(), client) {
        Some((StatusCode::TOO_MANY_REQUESTS, Notice::TooFast))
    } else if request.method() == Method::POST && is_from_elsewhere(request.headers()) {
        Some((StatusCode::FORBIDDEN, Notice::Ended))
    } else if announced(request.headers()).is_some_and(|length| length > LARGEST_ANNOUNCED) {
        Some((StatusCode::PAYLOAD_TOO_LARGE, Notice::TooLong))
    } else {
        None
    };
    let mut response = match refused {
        Some((status, notice)) => site.views.notice(status, notice),
        None => match tokio::time::timeout(site.config.limits.answer_within, next.run(request)).await {
            Ok(response) => response,
            Err(_) => site.views.notice(StatusCode::REQUEST_TIMEOUT, Notice::Trouble),
        },
    };
    if response.status() == StatusCode::TOO_MANY_REQUESTS {
        response.headers_mut().insert(header::RETRY_AFTER, HeaderValue::from_static("10"));
    }
    dress(&site.config.base, response)
}

/// For what is asked by machines: no limits, the same headers.
pub(super) async fn headers_only<R: Rooms>(
    State(site): State<Arc<Site<R>>>,
    request: Request,
    next: Next,
) -> Response {
    dress(&site.config.base, next.run(request).await)
}

fn dress(base: &str, response: Response) -> Response {
    let mut response = response.into_response();
    let headers = response.headers_mut();
    for (name, value) in &HEADERS {
        headers.entry(name).or_insert(HeaderValue::from_static(value));
    }
    headers.entry(header::CACHE_CONTROL).or_insert(HeaderValue::from_static("no-store"));
    if base.starts_with("https:") {
        headers.insert(header::STRICT_TRANSPORT_SECURITY, HeaderValue::from_static("max-age=31536000"));
    }
    response
}
