//! What an operator sees: is it alive, is it ready, and how is it doing.

use std::sync::{Arc, OnceLock};
use std::time::Duration;

use axum::Router;
use axum::extract::State;
use axum::http::StatusCode;
use axum::routing::get;
use metrics_exporter_prometheus::{Matcher, PrometheusBuilder, PrometheusHandle};
use tokio::time::{interval, timeout};
use tokio_util::sync::CancellationToken;

use super::answers::{Answers, AtQuestion, Census};
use super::intake::Intake;
use super::outbox::Outbox;
use crate::store::Store;

/// The limits of the bars in which times are counted, in seconds.
const BARS: [f64; 11] = [0.001, 0.0025, 0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1.0, 5.0];

/// How often the gauges are read and what is no longer needed is forgotten.
const ROUND: Duration = Duration::from_secs(5);

/// How long the store may take to show that it answers.
const STORE_WITHIN: Duration = Duration::from_secs(2);

/// Every how many rounds the store is asked for messages that nobody is sending.
const RESUME_ROUNDS: u32 = 12;

/// The one recorder of the process.
static RECORDER: OnceLock<Option<PrometheusHandle>> = OnceLock::new();

fn recorder() -> Option<&'static PrometheusHandle> {
    let install = || {
        let bars =
            PrometheusBuilder::new().set_buckets_for_metric(Matcher::Suffix("_seconds".to_owned()), &BARS);
        bars.and_then(PrometheusBuilder::install_recorder)
            .inspect_err(|error| tracing::error!(%error, "no metrics"))
            .ok()
    };
    RECORDER.get_or_init(install).as_ref()
}

/// What is watched.
pub(super) struct Watch<S, T> {
    pub(super) store: Arc<S>,
    pub(super) app: Arc<T>,
    pub(super) intake: Arc<Intake<S, T>>,
    pub(super) outbox: Arc<Outbox<S, T>>,
    pub(super) stop: CancellationToken,
}

/// `/healthz`, `/readyz` and `/metrics`.
pub(super) fn routes<S: Store, T: Answers>(watch: Arc<Watch<S, T>>) -> Router {
    Router::new()
        .route("/healthz", get(|| async { "alive\n" }))
        .route("/readyz", get(ready::<S, T>))
        .route("/metrics", get(|| async { recorder().map(PrometheusHandle::render).unwrap_or_default() }))
        .with_state(watch)
}

async fn ready<S: Store, T: Answers>(State(watch): State<Arc<Watch<S, T>>>) -> (StatusCode, &'static str) {
    if watch.stop.is_cancelled() {
        return (StatusCode::SERVICE_UNAVAILABLE, "stopping\n");
    }
    match timeout(STORE_WITHIN, watch.store.arrived(1)).await {
        Ok(Ok(_)) => (StatusCode::OK, "ready\n"),
        Ok(Err(_)) => (StatusCode::SERVICE_UNAVAILABLE, "the store fails\n"),
        Err(_) => (StatusCode::SERVICE_UNAVAILABLE, "the store does not answer\n"),
    }
}

/// Reads the gauges and tidies up, again and again.
pub(super) async fn rounds<S: Store, T: Answers>(watch: Arc<Watch<S, T>>) {
    let recorder = recorder();
    let mut every = interval(ROUND);
    let mut round: u32 = 0;
    loop {
        tokio::select! {
            () = watch.stop.cancelled() => return,
            _ = every.tick() => {}
        }
        if let Some(recorder) = recorder {
            recorder.run_upkeep();
        }
        watch.intake.tidy();
        watch.outbox.tidy();
        let (depth, age) = watch.outbox.depth();
        metrics::gauge!("lapwise_outbox_chats").set(count(depth));
        metrics::gauge!("lapwise_outbox_oldest_seconds").set(age.as_secs_f64());
        metrics::gauge!("lapwise_inbox_messages").set(count(watch.intake.waiting()));
        metrics::gauge!("lapwise_chats_gone").set(count(watch.outbox.gone()));
        tell(watch.app.census());
        round = round.wrapping_add(1);
        if round.is_multiple_of(RESUME_ROUNDS) {
            // Nothing should be left lying; if anything is, this finds it.
            let found = async { watch.intake.look_again().await.and(watch.outbox.resume().await) };
            if let Err(error) = found.await {
                tracing::error!(%error, "the store fails");
            }
        }
    }
}

fn tell(census: Census) {
    for (state, chats) in census.states {
        metrics::gauge!("lapwise_chats", "state" => state).set(count(chats));
    }
    for AtQuestion { id, waiting, quiet, repeats } in census.questions {
        metrics::gauge!("lapwise_question_chats", "question" => id.clone()).set(count(waiting));
        metrics::gauge!("lapwise_question_quiet_chats", "question" => id.clone()).set(count(quiet));
        metrics::counter!("lapwise_reprompts_total", "question" => id).absolute(repeats);
    }
}

fn count(n: usize) -> f64 {
    f64::from(u32::try_from(n).unwrap_or(u32::MAX))
}
