//! Sessions of chats that wrote lately, so that a long chat is not read from its first event at every turn.
//!
//! What stands here may be outdated: the store refuses what was thought over an old revision, and then it is read.

use std::num::NonZeroUsize;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use lru::LruCache;

use crate::conversation::session::Session;
use crate::message::ChatId;
use crate::store::Revision;

/// Of how many chats, at some ten kilobytes each.
const CHATS: NonZeroUsize = NonZeroUsize::MIN.saturating_add(1_023);

/// A chat as it stands.
#[derive(Clone, Debug, Default)]
pub(super) struct Stood {
    pub(super) session: Arc<Session>,
    pub(super) revision: Revision,
    /// How many events it is the fold of.
    pub(super) events: u64,
}

/// The sessions, each with the revision it stands at.
pub(super) struct Sessions(Mutex<LruCache<ChatId, Stood>>);

impl Default for Sessions {
    fn default() -> Self {
        Self(Mutex::new(LruCache::new(CHATS)))
    }
}

impl Sessions {
    fn lock(&self) -> MutexGuard<'_, LruCache<ChatId, Stood>> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Takes a chat's session out: it comes back when a turn of it was kept.
    pub(super) fn take(&self, chat: &ChatId) -> Option<Stood> {
        self.lock().pop(chat)
    }

    pub(super) fn put(&self, chat: &ChatId, stood: Stood) {
        self.lock().put(chat.clone(), stood);
    }
}
