//! The webhook: an update that is pushed to us is answered with 200 only when it is kept.

use std::sync::Arc;

use axum::Router;
use axum::body::to_bytes;
use axum::extract::{Request, State};
use axum::http::StatusCode;
use axum::routing::post;
use data_encoding::HEXLOWER;
use hmac::{Hmac, KeyInit, Mac};
use sha2::Sha256;
use subtle::ConstantTimeEq;
use teloxide::payloads::SetWebhook;
use teloxide::payloads::setters::*;
use tokio::time::sleep;
use tokio_util::sync::CancellationToken;

use super::{ALLOWED, Intake, batch};
use crate::serve::messenger::answers::Answers;
use crate::serve::messenger::api::{Api, CallError};
use crate::serve::messenger::backoff::delays;
use crate::serve::messenger::config::Token;
use crate::store::Store;

/// The header that carries the secret (Bot API, `setWebhook`).
const SECRET_HEADER: &str = "X-Telegram-Bot-Api-Secret-Token";

/// How many calls the platform may make at once (Bot API, `setWebhook`: 1 to 100).
const CONNECTIONS: u8 = 40;

/// What only the platform and we know. Made from the token, so that every replica knows it and no second secret
/// must be looked after.
#[derive(Clone)]
pub(in crate::serve::messenger) struct Secret(String);

impl Secret {
    pub(in crate::serve::messenger) fn of(token: &Token) -> Result<Self, hmac::digest::InvalidLength> {
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
    /// The largest body, in bytes.
    largest: usize,
    stop: CancellationToken,
}

/// The route the platform calls.
pub(in crate::serve::messenger) fn route<S: Store, T: Answers>(
    path: &str,
    intake: Arc<Intake<S, T>>,
    secret: Secret,
    largest: usize,
    stop: CancellationToken,
) -> Router {
    let gate = Arc::new(Gate { intake, secret, largest, stop });
    Router::new().route(path, post(receive::<S, T>)).with_state(gate)
}

/// Takes an update. Not a byte of its body is read before the secret is known to be right.
async fn receive<S: Store, T: Answers>(State(gate): State<Arc<Gate<S, T>>>, request: Request) -> StatusCode {
    let given = request.headers().get(SECRET_HEADER).map_or(&[][..], |value| value.as_bytes());
    if !gate.secret.is(given) {
        metrics::counter!("lapwise_webhook_refused_total").increment(1);
        return StatusCode::UNAUTHORIZED;
    }
    if gate.stop.is_cancelled() {
        return StatusCode::SERVICE_UNAVAILABLE;
    }
    let Ok(body) = to_bytes(request.into_body(), gate.largest).await else {
        return StatusCode::PAYLOAD_TOO_LARGE;
    };
    let Some(came) = batch::one(&String::from_utf8_lossy(&body)) else {
        // Sent again it would be no better: it is let go, so that those behind it get through.
        tracing::error!(bytes = body.len(), "an update without a number was let go");
        metrics::counter!("lapwise_updates_total", "outcome" => "unnumbered").increment(1);
        return StatusCode::OK;
    };
    let (_, why_not) = gate.intake.take(&[came]).await;
    if let Some(why_not) = why_not {
        tracing::warn!(%why_not, "an update was not taken; it comes again");
        return StatusCode::SERVICE_UNAVAILABLE;
    }
    StatusCode::OK
}

/// Tells the platform where to call. Tried until it is done.
pub(in crate::serve::messenger) async fn register(
    api: Api,
    public_url: String,
    secret: Secret,
    stop: CancellationToken,
) {
    let Ok(url) = public_url.parse() else {
        return tracing::error!(alert = true, public_url, "the public URL is none");
    };
    let wish =
        SetWebhook::new(url).secret_token(secret.0).max_connections(CONNECTIONS).allowed_updates(ALLOWED);
    for pause in delays() {
        match api.ask(&wish).await {
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
