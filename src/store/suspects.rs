//! Messages that failed before, one of which may be what ended the process: when they may be tried again.
//!
//! A process ends for many reasons, and whatever it was working then is noted. Of those messages only one that ends it
//! again and again, on its own, is to blame. So they are tried one at a time, and only once the process has stood for a
//! while without them, the longer the nearer a message is to being set aside: whatever ends processes in quick succession,
//! or always at the same age, ends them before they come to that message, and so does not count against it.

use std::sync::OnceLock;
use std::time::Duration;

use tokio::sync::{Semaphore, SemaphorePermit};
use tokio::time::{Instant, sleep_until};

/// How long the process must have stood for a message that failed once; for each time more, twice as long and this.
const STOOD: Duration = Duration::from_secs(1);
/// Nobody is kept waiting for longer.
const MOST: Duration = Duration::from_secs(15);

/// Lets suspects through one at a time.
pub(in crate::store) struct Suspects {
    /// When the first of them asked: from then on messages are worked.
    began: OnceLock<Instant>,
    stood: Duration,
    one: Semaphore,
}

/// The right to try a suspect, until it is let go.
#[derive(Debug)]
pub struct Alone<'a> {
    _one: Option<SemaphorePermit<'a>>,
}

impl Suspects {
    pub(in crate::store) fn new() -> Self {
        Self { began: OnceLock::new(), stood: STOOD, one: Semaphore::new(1) }
    }

    /// See [`super::Store::may_try`].
    pub(in crate::store) async fn may_try(&self, tries: u32) -> Alone<'_> {
        if tries == 0 {
            return Alone { _one: None };
        }
        let began = *self.began.get_or_init(Instant::now);
        sleep_until(began + self.stands_for(tries)).await;
        // Never closed.
        Alone { _one: self.one.acquire().await.ok() }
    }

    fn stands_for(&self, tries: u32) -> Duration {
        let times = 1_u32.checked_shl(tries).map_or(u32::MAX, |twice| twice - 1);
        self.stood.saturating_mul(times).min(MOST)
    }
}

#[cfg(test)]
mod tests {
    use tokio::time::timeout;

    use super::*;

    #[tokio::test]
    async fn suspects_wait_until_the_process_has_stood_and_go_one_at_a_time() {
        let stood = Duration::from_millis(20);
        let suspects = Suspects { stood, ..Suspects::new() };
        let began = Instant::now();
        let first = suspects.may_try(1).await;
        assert!(began.elapsed() >= stood);
        let innocent = suspects.may_try(0).await;
        assert!(timeout(stood * 10, suspects.may_try(2)).await.is_err(), "two at a time");
        drop((first, innocent));
        suspects.may_try(2).await;
        assert!(began.elapsed() >= stood * 3);
    }

    #[test]
    fn the_nearer_to_being_set_aside_the_longer() {
        let waits = [1, 2, 3, 4, 40].map(|tries| Suspects::new().stands_for(tries).as_secs());
        assert_eq!(waits, [1, 3, 7, 15, 15]);
    }
}
