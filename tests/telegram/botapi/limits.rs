//! The published limits, enforced: about one message a second to a chat with short bursts, 20 a minute to a
//! group, 30 a second over all.

use std::collections::HashMap;
use std::collections::VecDeque;
use std::time::{Duration, Instant};

/// What is enforced.
#[derive(Clone, Copy, Debug)]
pub struct Published {
    /// Messages to one chat in any five seconds.
    pub chat_in_five_seconds: usize,
    /// Messages to one group in any minute.
    pub group_in_a_minute: usize,
    /// Messages over all in any second.
    pub overall_in_a_second: usize,
}

impl Default for Published {
    fn default() -> Self {
        Self { chat_in_five_seconds: 8, group_in_a_minute: 20, overall_in_a_second: 30 }
    }
}

#[derive(Default)]
pub struct Meter {
    published: Option<Published>,
    overall: VecDeque<Instant>,
    chats: HashMap<i64, VecDeque<Instant>>,
}

impl Meter {
    pub fn new(published: Option<Published>) -> Self {
        Self { published, ..Self::default() }
    }

    /// Whether a message to `chat` is one too many.
    pub fn exceeded(&mut self, chat: i64) -> bool {
        let Some(published) = self.published else { return false };
        let now = Instant::now();
        let (most, within) = if chat < 0 {
            (published.group_in_a_minute, Duration::from_mins(1))
        } else {
            (published.chat_in_five_seconds, Duration::from_secs(5))
        };
        let times = self.chats.entry(chat).or_default();
        forget(times, now, within);
        forget(&mut self.overall, now, Duration::from_secs(1));
        if times.len() >= most || self.overall.len() >= published.overall_in_a_second {
            return true;
        }
        times.push_back(now);
        self.overall.push_back(now);
        false
    }
}

fn forget(times: &mut VecDeque<Instant>, now: Instant, within: Duration) {
    while times.front().is_some_and(|at| now.duration_since(*at) >= within) {
        times.pop_front();
    }
}
