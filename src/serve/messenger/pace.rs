//! How fast messages go out: so many a second over all, so many to each chat, so many to each group.

use std::num::NonZeroU32;

use governor::{DefaultDirectRateLimiter, DefaultKeyedRateLimiter, Quota, RateLimiter};
use tokio::sync::Mutex;

use super::config::Limits;
use crate::channel::telegram::address::Address;

/// How many may go at once before the pace sets in.
const BURST_OVERALL: u32 = 5;
const BURST_CHAT: u32 = 3;

/// The pace of everything sent. Editing counts as sending.
pub(super) struct Pace {
    overall: Option<DefaultDirectRateLimiter>,
    /// First come, first served: without it every waiting chat would wake for each free place.
    line: Mutex<()>,
    chats: Option<DefaultKeyedRateLimiter<i64>>,
    groups: Option<DefaultKeyedRateLimiter<i64>>,
}

impl Pace {
    /// A pace within the limits.
    pub(super) fn new(limits: &Limits) -> Self {
        let burst = |n| NonZeroU32::new(n).unwrap_or(NonZeroU32::MIN);
        let a_second = |rate, at_once| Quota::per_second(rate).allow_burst(burst(at_once));
        let chats = limits.sends_per_chat.map(|rate| RateLimiter::keyed(a_second(rate, BURST_CHAT)));
        let groups = limits.sends_per_chat.map(|_| {
            let quota = Quota::per_minute(limits.sends_per_group_minute).allow_burst(burst(BURST_CHAT));
            RateLimiter::keyed(quota)
        });
        Self {
            overall: limits.sends_per_second.map(|rate| RateLimiter::direct(a_second(rate, BURST_OVERALL))),
            line: Mutex::new(()),
            chats,
            groups,
        }
    }

    /// Waits until one call to `to` may be made.
    pub(super) async fn wait_for(&self, to: Address) {
        let limiter = if to.is_group() { &self.groups } else { &self.chats };
        if let Some(limiter) = limiter {
            limiter.until_key_ready(&to.chat).await;
        }
        if let Some(overall) = &self.overall {
            let _first_in_line = self.line.lock().await;
            overall.until_ready().await;
        }
    }

    /// Forgets chats that have been quiet: without this, memory would grow with everyone who ever wrote.
    pub(super) fn forget_quiet(&self) {
        for limiter in [&self.chats, &self.groups].into_iter().flatten() {
            limiter.retain_recent();
            limiter.shrink_to_fit();
        }
    }
}
