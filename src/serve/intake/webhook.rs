//! The webhook: an update that is pushed to us is answered with 200 only when it is kept.

use std::sync::Arc;

use axum::Router;
use axum::body::Bytes;
use axum::extract::{DefaultBodyLimit, State};
use axum::http::{HeaderMap, StatusCode};
use axum::routing::post;
use data_encoding::HEXLOWER;
use hmac::{Hmac, KeyInit, Mac};
use serde_json::{Value, json};
use sha2::Sha256;
use subtle::ConstantTimeEq;
use tokio::time::sleep;
use tokio_util::sync::CancellationToken;

use super::Intake;
use crate::channel::telegram::update::KINDS;
use crate::serve::answers::Answers;
use crate::serve::api::{Api, CallError};
use crate::serve::backoff::delays;
use crate::serve::config::Token;
use crate::store::Store;

/// The header that carries the secret (Bot API, `setWebhook`).
const SECRET_HEADER: &str = "X-Telegram-Bot-Api-Secret-Token";

/// How many calls the platform may make at once (Bot API, `setWebhook`: 1 to 100).
const CONNECTIONS: u32 = 40;

/// What only the platform and we know. Made from the token, so that every replica knows it and no second secret
/// must be looked after.
#[derive(Clone)]
pub(in crate::serve) struct Secret(String);

impl Secret {
    pub(in crate::serve) fn of(token: &Token) -> Result<Self, hmac::digest::InvalidLength> {
        let mut mac = Hmac::<Sha256>::new_from_slice(token.expose().as_bytes())?;
        mac.update(b"lapwise webhook secret");
        Ok(Self(HEXLOWER.encode(&mac.finalize().into_bytes())))
    }

    /// Whether `given` is the secret, in a time that does not tell how much of it was right.
    fn is(&self, given: &[u8]) -> bool {
        self.0.as_bytes().ct_eq(given).into()
    }
}

struct Gate<S, T> {
    intake: Arc<Intake<S, T>>,
    secret: Secret,
    stop: CancellationToken,
}

/// The route the platform calls.
pub(in crate::serve) fn route<S: Store, T: Answers>(
    path: &str,
    intake: Arc<Intake<S, T>>,
    secret: Secret,
    largest: usize,
    stop: CancellationToken,
) -> Router {
    let gate = Arc::new(Gate { intake, secret, stop });
    Router::new().route(path, post(receive::<S, T>)).layer(DefaultBodyLimit::max(largest)).with_state(gate)
}

async fn receive<S: Store, T: Answers>(
    State(gate): State<Arc<Gate<S, T>>>,
    headers: HeaderMap,
    body: Bytes,
) -> StatusCode {
    let given = headers.get(SECRET_HEADER).map_or(&[][..], |value| value.as_bytes());
    if !gate.secret.is(given) {
        metrics::counter!("lapwise_webhook_refused_total").increment(1);
        return StatusCode::UNAUTHORIZED;
    }
    if gate.stop.is_cancelled() {
        return StatusCode::SERVICE_UNAVAILABLE;
    }
    let Ok(update) = serde_json::from_slice::<Value>(&body) else {
        // Sent again it would be no better: it is let go, so that those behind it get through.
        tracing::error!(bytes = body.len(), "an update that is no JSON was let go");
        metrics::counter!("lapwise_updates_total", "outcome" => "unreadable").increment(1);
        return StatusCode::OK;
    };
    let (_, why_not) = gate.intake.take(&[update]).await;
    if let Some(why_not) = why_not {
        tracing::warn!(%why_not, "an update was not taken; it comes again");
        return StatusCode::SERVICE_UNAVAILABLE;
    }
    StatusCode::OK
}

/// Tells the platform where to call. Tried until it is done.
pub(in crate::serve) async fn register(
    api: Api,
    public_url: String,
    secret: Secret,
    stop: CancellationToken,
) {
    let wish = json!({
        "url": public_url,
        "secret_token": secret.0,
        "max_connections": CONNECTIONS,
        "allowed_updates": KINDS,
    });
    for pause in delays() {
        match api.ask("setWebhook", &wish).await {
            Ok(_) => return tracing::info!("the webhook is set"),
            Err(error @ CallError::Refused { .. }) => {
                return tracing::error!(alert = true, %error, "the webhook is refused: is the public URL right?");
            }
            Err(error) => tracing::warn!(%error, "the webhook is not set yet"),
        }
        tokio::select! {
            () = stop.cancelled() => return,
            () = sleep(pause) => {}
        }
    }
}
