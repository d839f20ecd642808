//! One turn: take, think, keep, say. The only place where the conversation and the store meet.

mod rooms;
mod shares;

use std::sync::Arc;

use crate::book::Book;
use crate::channel::{Replied, TurnFault, Turns};
use crate::conversation::event::Event;
use crate::conversation::saying::Voice;
use crate::conversation::session::Session;
use crate::conversation::{Guide, Turn, turn};
use crate::export::state::state_json;
use crate::message::{ChatId, Content, Inbound, Say};
use crate::store::record::{read_event, write_event};
use crate::store::{Commit, InboxKey, Revision, Store, StoreError};
use crate::units::UsualUnit;

pub use rooms::Page;
pub use shares::{Fresh, Links};
use shares::Link;

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
    links: Option<Links>,
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
    /// What is kept of a share cannot be read.
    #[error("a share cannot be read: {0}")]
    Share(#[from] serde_json::Error),
}

/// What a turn comes to, before it is kept.
struct Thought {
    events: Vec<Event>,
    after: Session,
    says: Vec<Say>,
    state: serde_json::Value,
}

impl<S: Store> App<S> {
    /// An app over a book and a store. `kept` is the message that says where answers are kept.
    pub fn new(book: Arc<Book>, store: Arc<S>, clock: Clock, kept: &'static str) -> Self {
        Self { book, store, clock, language: "en".to_owned(), kept, links: None }
    }

    /// The same app where a page is served, so that links can be given to suppliers.
    #[must_use]
    pub fn with_links(self, links: Links) -> Self {
        Self { links: Some(links), ..self }
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
        let link = self.links.as_ref().map(Links::fresh);
        let (replied, _) = self
            .keep(&inbound.chat, worked, queue, link.as_ref(), |guide, session| {
                turn(guide, session, &inbound.content)
            })
            .await?;
        Ok(replied)
    }

    /// Thinks over the chat as it stands and keeps what that comes to; again where somebody else was faster.
    async fn keep(
        &self,
        chat: &ChatId,
        worked: Option<InboxKey>,
        queue: impl Fn(&Say) -> Option<Vec<u8>>,
        link: Option<&Link>,
        think: impl Fn(&Guide<'_>, &Session) -> Turn,
    ) -> Result<(Replied, Revision), AppError> {
        let mut tries = 0;
        loop {
            let (session, revision) = self.session(chat).await?;
            let thought = self.think(&session, link, &think);
            self.mind_shares(chat, &thought, link).await?;
            let commit = Commit {
                chat: chat.clone(),
                read_at: revision,
                events: thought.events.iter().map(write_event).collect::<Result<_, _>>()?,
                says: thought.says.iter().filter_map(&queue).collect(),
                worked: worked.clone(),
                now: (self.clock)(),
            };
            match self.store.commit(commit).await {
                Ok(kept) => return Ok((Replied { says: thought.says, state: thought.state }, kept)),
                Err(StoreError::Conflict { .. }) if tries < MOST_TRIES => tries += 1,
                Err(error) => return Err(error.into()),
            }
        }
    }

    /// The pure part of a turn.
    fn think(
        &self,
        session: &Session,
        link: Option<&Link>,
        think: impl Fn(&Guide<'_>, &Session) -> Turn,
    ) -> Thought {
        let guide = self.guide(link);
        let turn = think(&guide, session);
        let mut after = session.clone();
        for event in &turn.events {
            after.apply(event);
        }
        let voice = self.voice(after.usual().unwrap_or(UsualUnit::M));
        let mut says: Vec<Say> = turn.says.iter().map(|draft| voice.speak(draft, after.prompt())).collect();
        if let Some(link) = link {
            shares::attach_code(&mut says, link);
        }
        let state = state_json(&guide, &voice, &after);
        Thought { events: turn.events, after, says, state }
    }

    fn voice(&self, units: UsualUnit) -> Voice<'_> {
        Voice { words: &self.book.words, language: &self.language, units }
    }

    fn guide<'a>(&'a self, link: Option<&'a Link>) -> Guide<'a> {
        Guide {
            handbook: &self.book.handbook,
            script: &self.book.script,
            words: &self.book.words,
            language: &self.language,
            kept: self.kept,
            link: link.map(Link::url),
        }
    }

    /// What a chat opens with, before anything is kept.
    fn greeting(&self) -> Vec<Say> {
        let start = Content::Text("/start".to_owned());
        self.think(&Session::default(), None, |guide, session| turn(guide, session, &start)).says
    }
}

impl<S: Store> Turns for App<S> {
    /// For channels that show what they get at once, and need no outbox.
    async fn turn(&self, inbound: Inbound) -> Result<Replied, TurnFault> {
        self.work(&inbound, None, |_| None).await.map_err(fault)
    }
}

/// Notes what went wrong for whoever runs the bot; the person is told only that something did.
fn fault(error: AppError) -> TurnFault {
    tracing::error!(%error, "a turn failed");
    TurnFault(error.to_string())
}
