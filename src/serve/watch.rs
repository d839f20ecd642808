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

use crate::store::Store;

/// The limits of the bars in which times are counted, in seconds.
const BARS: [f64; 11] = [0.001, 0.0025, 0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1.0, 5.0];

/// How often the gauges are read and what is no longer needed is forgotten.
pub(super) const ROUND: Duration = Duration::from_secs(5);

/// How long the store may take to show that it answers.
const STORE_WITHIN: Duration = Duration::from_secs(2);

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

/// How many chats stand where: for whoever watches, and without a word of anybody.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Census {
    /// How many chats are in each state.
    pub states: Vec<(&'static str, usize)>,
    /// How it stands with each question there is.
    pub questions: Vec<AtQuestion>,
}

/// How it stands with one question.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AtQuestion {
    /// The question's id in the script.
    pub id: String,
    /// Chats that have been asked it and have not answered.
    pub waiting: usize,
    /// How many of them have been quiet for a day: this is where people leave.
    pub quiet: usize,
    /// How often it was put again since the start, because the answer was not understood.
    pub repeats: u64,
}

/// Whoever knows how many chats stand where.
pub trait Watched: Send + Sync + 'static {
    /// The numbers of this moment; asked for every few seconds.
    fn census(&self) -> Census;
}

/// What is watched.
struct Watch<S> {
    store: Arc<S>,
    stop: CancellationToken,
}

/// `/healthz`, `/readyz` and `/metrics`.
pub(super) fn routes<S: Store>(store: Arc<S>, stop: CancellationToken) -> Router {
    Router::new()
        .route("/healthz", get(|| async { "alive\n" }))
        .route("/readyz", get(ready::<S>))
        .route("/metrics", get(|| async { recorder().map(PrometheusHandle::render).unwrap_or_default() }))
        .with_state(Arc::new(Watch { store, stop }))
}

async fn ready<S: Store>(State(watch): State<Arc<Watch<S>>>) -> (StatusCode, &'static str) {
    if watch.stop.is_cancelled() {
        return (StatusCode::SERVICE_UNAVAILABLE, "stopping\n");
    }
    match timeout(STORE_WITHIN, watch.store.ready()).await {
        Ok(Ok(())) => (StatusCode::OK, "ready\n"),
        Ok(Err(_)) => (StatusCode::SERVICE_UNAVAILABLE, "the store fails\n"),
        Err(_) => (StatusCode::SERVICE_UNAVAILABLE, "the store does not answer\n"),
    }
}

/// Reads the gauges, again and again.
pub(super) async fn rounds<T: Watched>(app: Arc<T>, stop: CancellationToken) {
    let recorder = recorder();
    let mut every = interval(ROUND);
    loop {
        tokio::select! {
            () = stop.cancelled() => return,
            _ = every.tick() => {}
        }
        if let Some(recorder) = recorder {
            recorder.run_upkeep();
        }
        tell(app.census());
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

pub(super) fn count(n: usize) -> f64 {
    f64::from(u32::try_from(n).unwrap_or(u32::MAX))
}
