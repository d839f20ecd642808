//! How much is kept: so many bytes of one chat, so many of all. At the limit a person is told so kindly; what adds
//! nothing, an export, and deleting everything go on.

use super::think::Thought;
use super::{App, AppError, Stood};
use crate::conversation::event::Event;
use crate::conversation::saying::Draft;
use crate::message::ChatId;
use crate::roofing::note::Note;
use crate::store::{HeldBytes, Revision, Store};

/// How many bytes may be held.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Budget {
    /// Of one chat. The longest job that was played takes a twentieth of what is usual here.
    pub chat: u64,
    /// Of all. Chats that are not there yet are turned away when a tenth of it is left.
    pub all: u64,
}

impl Default for Budget {
    fn default() -> Self {
        Self { chat: 4_000_000, all: 4_000_000_000 }
    }
}

impl<S: Store> App<S> {
    /// What a chat is told that may not grow any more; nothing where it may.
    pub(super) async fn over_budget(&self, chat: &ChatId, at: Revision) -> Result<Option<Note>, AppError> {
        let HeldBytes { chat, all } = self.store.held(chat.clone()).await?;
        let kilobytes = u32::try_from(all / 1_000).unwrap_or(u32::MAX);
        metrics::gauge!("lapwise_held_bytes").set(f64::from(kilobytes) * 1_000.0);
        let is_new = at == Revision::default();
        let room = if is_new { self.budget.all - self.budget.all / 10 } else { self.budget.all };
        let (budget, note) = if chat >= self.budget.chat {
            ("chat", Note::new("chat-full"))
        } else if all >= room {
            ("all", Note::new("store-full"))
        } else {
            return Ok(None);
        };
        metrics::counter!("lapwise_over_budget_total", "budget" => budget).increment(1);
        Ok(Some(note))
    }

    /// What a turn comes to where the chat is full: itself where it adds next to nothing, else the word of it.
    pub(super) fn within_budget(&self, thought: Thought, before: &Stood, full: Note) -> Thought {
        let adds = |event: &Event| !matches!(event, Event::AskedToDelete | Event::KeptGoing);
        if thought.wish.is_some() || !thought.events.iter().any(adds) {
            return thought;
        }
        let says = vec![self.voice(&before.session).speak(&Draft::of(full), 0)];
        Thought {
            events: Vec::new(),
            after: before.session.clone(),
            events_after: before.events,
            says,
            greeting: 0,
            answered: false,
            wish: None,
            plan: None,
            shared: None,
        }
    }
}
