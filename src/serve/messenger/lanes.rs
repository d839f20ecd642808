//! One lane a chat: its errands are done one at a time and in order, while other chats go on beside it.

use std::collections::{BTreeSet, HashMap};
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::time::Duration;

use tokio::time::Instant;

use crate::message::ChatId;

/// The errands of every chat that has any, smallest first; the same errand twice is one.
pub(super) struct Lanes<E> {
    lanes: Mutex<HashMap<ChatId, Lane<E>>>,
}

struct Lane<E> {
    since: Instant,
    errands: BTreeSet<E>,
}

/// What became of an errand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Pushed {
    /// The lane is new: the caller must walk it, with [`Lanes::next`] until that is `None`.
    Opened,
    /// Somebody walks the lane already.
    Joined,
    /// The lane is as long as it may be: the errand was not taken.
    Full,
}

impl<E: Ord> Lanes<E> {
    pub(super) fn new() -> Self {
        Self { lanes: Mutex::new(HashMap::new()) }
    }

    /// Adds an errand, unless the lane holds `most` already.
    pub(super) fn push(&self, chat: &ChatId, errand: E, most: usize) -> Pushed {
        let mut lanes = self.lock();
        if let Some(lane) = lanes.get_mut(chat) {
            if lane.errands.len() >= most {
                return Pushed::Full;
            }
            lane.errands.insert(errand);
            return Pushed::Joined;
        }
        let lane = Lane { since: Instant::now(), errands: BTreeSet::from([errand]) };
        lanes.insert(chat.clone(), lane);
        Pushed::Opened
    }

    /// The next errand; `None` closes the lane.
    pub(super) fn next(&self, chat: &ChatId) -> Option<E> {
        let mut lanes = self.lock();
        let next = lanes.get_mut(chat).and_then(|lane| lane.errands.pop_first());
        if next.is_none() {
            lanes.remove(chat);
            if lanes.is_empty() {
                // A crowd that has gone leaves its room behind otherwise.
                lanes.shrink_to_fit();
            }
        }
        next
    }

    /// Closes the lane with whatever is in it.
    pub(super) fn close(&self, chat: &ChatId) {
        self.lock().remove(chat);
    }

    /// How many chats have a lane.
    pub(super) fn open(&self) -> usize {
        self.lock().len()
    }

    /// How long the oldest lane has been open.
    pub(super) fn oldest(&self) -> Duration {
        let lanes = self.lock();
        lanes.values().map(|lane| lane.since).min().map_or(Duration::ZERO, |since| since.elapsed())
    }

    fn lock(&self) -> MutexGuard<'_, HashMap<ChatId, Lane<E>>> {
        self.lanes.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_lane_is_walked_in_order_and_opened_again() {
        let lanes = Lanes::new();
        let chat = ChatId::new("telegram:1").unwrap();
        assert_eq!(lanes.push(&chat, 2, 9), Pushed::Opened);
        assert_eq!(lanes.push(&chat, 1, 9), Pushed::Joined);
        assert_eq!(lanes.push(&chat, 2, 9), Pushed::Joined);
        assert_eq!([lanes.next(&chat), lanes.next(&chat), lanes.next(&chat)], [Some(1), Some(2), None]);
        assert_eq!(lanes.push(&chat, 3, 9), Pushed::Opened);
    }

    #[test]
    fn a_full_lane_takes_no_more() {
        let lanes = Lanes::new();
        let chat = ChatId::new("telegram:1").unwrap();
        lanes.push(&chat, 1, 1);
        assert_eq!(lanes.push(&chat, 2, 1), Pushed::Full);
    }
}
