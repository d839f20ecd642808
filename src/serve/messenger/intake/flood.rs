//! Chats that send more than a person can: what is too much is not read, and told so, kindly and seldom.

use std::num::NonZeroU32;

use governor::{DefaultKeyedRateLimiter, Quota, RateLimiter};

use crate::channel::telegram::address::Address;
use crate::serve::messenger::config::Limits;

/// How many messages of each chat are read.
pub(super) struct Flood {
    read: Option<DefaultKeyedRateLimiter<Address>>,
    told: DefaultKeyedRateLimiter<Address>,
}

impl Flood {
    pub(super) fn new(limits: &Limits) -> Self {
        let read = limits.read_per_minute.map(|rate| RateLimiter::keyed(Quota::per_minute(rate)));
        Self { read, told: RateLimiter::keyed(Quota::per_minute(NonZeroU32::MIN)) }
    }

    /// Whether one more message of the chat is read.
    pub(super) fn lets_in(&self, chat: Address) -> bool {
        self.read.as_ref().is_none_or(|limiter| limiter.check_key(&chat).is_ok())
    }

    /// Whether it is time to tell the chat: once a minute.
    pub(super) fn says_so(&self, chat: Address) -> bool {
        self.told.check_key(&chat).is_ok()
    }

    /// Forgets chats that have been quiet.
    pub(super) fn forget_quiet(&self) {
        for limiter in self.read.iter().chain([&self.told]) {
            limiter.retain_recent();
            limiter.shrink_to_fit();
        }
    }
}
