//! One turn: take, think, keep, say. The only place where the conversation and the store meet.

use std::sync::Arc;

use crate::book::Book;
use crate::channel::{Replied, TurnFault, Turns};
use crate::conversation::event::Event;
use crate::conversation::saying::Voice;
use crate::conversation::session::Session;
use crate::conversation::{Guide, turn};
use crate::export::state::state_json;
use crate::message::{ChatId, Inbound, Say};
use crate::store::record::{read_event, write_event};
use crate::store::{Commit, InboxKey, Revision, Store, StoreError};
use crate::units::UsualUnit;

/// How often a turn is worked again because somebody else wrote to the chat in between.
const MOST_TRIES: usize = 5;

/// The chat's clock, in seconds since 1970: handed in, so that every turn replays.
pub type Clock = fn() -> u64;

/// The app behind every channel.
#[derive(Clone)]
pub struct App<S> {
    book: Arc<Book>,
    store: Arc<S>,
    clock: Clock,
    language: String,
    kept: &'static str,
}

/// What went wrong in a turn; nothing acknowledged is lost by any of these.
#[derive(Debug, thiserror::Error)]
pub enum AppError {
    /// The store.
    #[error(transparent)]
    Store(#[from] StoreError),
    /// A stored event cannot be read.
    #[error(transparent)]
    Record(#[from] crate::store::record::RecordError),
}

impl<S: Store> App<S> {
    /// An app over a book and a store. `kept` is the message that says where answers are kept.
    pub fn new(book: Arc<Book>, store: Arc<S>, clock: Clock, kept: &'static str) -> Self {
        Self { book, store, clock, language: "en".to_owned(), kept }
    }

    /// A chat's session and the revision it stands at.
    async fn session(&self, chat: &ChatId) -> Result<(Session, Revision), AppError> {
        let stored = self.store.load(chat.clone()).await?;
        let events = stored.events.iter().map(|bytes| read_event(bytes)).collect::<Result<Vec<_>, _>>()?;
        Ok((Session::fold(&events), stored.revision))
    }

    /// Works one message. When it returns, its events are kept, and so are `says` where `queue` turns them into
    /// messages to be sent.
    pub async fn work(
        &self,
        inbound: &Inbound,
        worked: Option<InboxKey>,
        queue: impl Fn(&Say) -> Option<Vec<u8>>,
    ) -> Result<Replied, AppError> {
        let mut tries = 0;
        loop {
            let (session, revision) = self.session(&inbound.chat).await?;
            let (events, says, state) = self.think(&session, inbound);
            let commit = Commit {
                chat: inbound.chat.clone(),
                read_at: revision,
                events: events.iter().map(write_event).collect::<Result<_, _>>()?,
                says: says.iter().filter_map(&queue).collect(),
                worked: worked.clone(),
                now: (self.clock)(),
            };
            match self.store.commit(commit).await {
                Ok(_) => return Ok(Replied { says, state }),
                Err(StoreError::Conflict { .. }) if tries < MOST_TRIES => tries += 1,
                Err(error) => return Err(error.into()),
            }
        }
    }

    /// The pure part of a turn.
    fn think(&self, session: &Session, inbound: &Inbound) -> (Vec<Event>, Vec<Say>, serde_json::Value) {
        let guide = self.guide();
        let turn = turn(&guide, session, &inbound.content);
        let mut after = session.clone();
        for event in &turn.events {
            after.apply(event);
        }
        let voice = Voice {
            words: &self.book.words,
            language: &self.language,
            units: after.usual().unwrap_or(UsualUnit::M),
        };
        let says = turn.says.iter().map(|draft| voice.speak(draft, after.prompt())).collect();
        let state = state_json(&guide, &voice, &after);
        (turn.events, says, state)
    }

    fn guide(&self) -> Guide<'_> {
        Guide {
            handbook: &self.book.handbook,
            script: &self.book.script,
            words: &self.book.words,
            language: &self.language,
            kept: self.kept,
        }
    }
}

impl<S: Store> Turns for App<S> {
    /// For channels that show what they get at once, and need no outbox.
    async fn turn(&self, inbound: Inbound) -> Result<Replied, TurnFault> {
        self.work(&inbound, None, |_| None).await.map_err(|error| {
            tracing::error!(%error, "a turn failed");
            TurnFault(error.to_string())
        })
    }
}
