//! Work for the processor, off the threads that wait: a large roof or a drawing must not hold up everybody's network.
//!
//! What thinks and what draws have places of their own, so that a crowd that wants pictures never keeps a word from
//! being answered.

use std::num::NonZeroUsize;
use std::sync::Arc;

use tokio::sync::Semaphore;

/// The places.
#[derive(Clone)]
pub(super) struct Pool {
    thinking: Arc<Semaphore>,
    drawing: Arc<Semaphore>,
}

impl Default for Pool {
    fn default() -> Self {
        let cores = std::thread::available_parallelism().map_or(1, NonZeroUsize::get);
        Self {
            thinking: Arc::new(Semaphore::new(cores.max(2))),
            drawing: Arc::new(Semaphore::new((cores / 2).max(1))),
        }
    }
}

impl Pool {
    /// Thinks over a message.
    pub(super) async fn think<T: Send + 'static>(&self, work: impl FnOnce() -> T + Send + 'static) -> T {
        run(&self.thinking, work).await
    }

    /// Makes files.
    pub(super) async fn draw<T: Send + 'static>(&self, work: impl FnOnce() -> T + Send + 'static) -> T {
        run(&self.drawing, work).await
    }
}

async fn run<T: Send + 'static>(places: &Arc<Semaphore>, work: impl FnOnce() -> T + Send + 'static) -> T {
    // Never closed; and the place is held until the work is done, however soon whoever waits for it gives up.
    let place = Arc::clone(places).acquire_owned().await.ok();
    let done = tokio::task::spawn_blocking(move || {
        let done = work();
        drop(place);
        done
    });
    match done.await {
        Ok(done) => done,
        Err(ended) if ended.is_panic() => std::panic::resume_unwind(ended.into_panic()),
        // The runtime is going away, and we with it.
        Err(_) => std::future::pending().await,
    }
}

#[cfg(test)]
mod tests {
    use std::time::Duration;

    use super::*;

    #[tokio::test]
    async fn a_crowd_that_draws_keeps_nobody_from_thinking() {
        let pool = Pool::default();
        for _ in 0..100 {
            let pool = pool.clone();
            tokio::spawn(async move { pool.draw(|| std::thread::sleep(Duration::from_millis(200))).await });
        }
        tokio::time::sleep(Duration::from_millis(50)).await;
        let thought = tokio::time::timeout(Duration::from_secs(2), pool.think(|| 42)).await;
        assert_eq!(thought, Ok(42));
    }
}
