//! Trying again: ever more slowly, and not all at the same moment.

use std::future::Future;
use std::time::Duration;

use backon::{BackoffBuilder, ExponentialBuilder};
use tokio::time::sleep;

use crate::store::StoreError;

/// Waiting times without end: doubling from 200 ms to 30 s, each up to as much again at random.
pub(super) fn delays() -> impl Iterator<Item = Duration> + Send {
    ExponentialBuilder::default()
        .with_min_delay(Duration::from_millis(200))
        .with_max_delay(Duration::from_secs(30))
        .with_jitter()
        .without_max_times()
        .build()
}

/// Asks the store until it answers. A store that fails (a full disk) stops the work; it loses nothing.
pub(super) async fn until_stored<V, F>(what: &'static str, mut ask: impl FnMut() -> F) -> V
where
    F: Future<Output = Result<V, StoreError>>,
{
    let mut delays = delays();
    loop {
        match ask().await {
            Ok(value) => return value,
            Err(error) => {
                tracing::error!(what, %error, "the store fails");
                metrics::counter!("lapwise_store_failures_total", "what" => what).increment(1);
                sleep(delays.next().unwrap_or(Duration::from_secs(30))).await;
            }
        }
    }
}
