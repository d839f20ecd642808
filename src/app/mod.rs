//! One turn: take, think, keep, say. The only place where the conversation and the store meet.

#[cfg(feature = "telegram")]
mod answers;
mod budget;
mod census;
mod files;
mod keeping;
mod papers;
mod plans;
mod pool;
mod rooms;
mod sessions;
mod shares;
mod think;

use std::sync::Arc;

use census::Census;
use pool::Pool;
use sessions::{Sessions, Stood};
use think::Thought;

use crate::book::Book;
use crate::channel::{Replied, TurnFault, Turns};
use crate::conversation::event::Event;
use crate::conversation::saying::{Draft, Voice};
use crate::conversation::session::Session;
use crate::conversation::{Guide, Turn, Wish, turn};
use crate::export::state::state_json;
use crate::message::{ChatId, Content, Inbound, Say};
use crate::roofing::note::Note;
use crate::roofing::plan::{Handbook, Plan};
use crate::roofing::roof::covering;
use crate::store::record::{read_event, write_event, write_say};
use crate::store::transcript::Heard;
use crate::store::{Beside, Commit, InboxKey, Revision, Store, StoreError};
use crate::units::{Day, UsualUnit};

pub use budget::Budget;
pub use keeping::Tidied;
pub use rooms::Page;
use shares::Link;
pub use shares::{Fresh, Links};

/// How often a turn is worked again because somebody else wrote to the chat in between.
const MOST_TRIES: usize = 5;

/// Chats of pages begin with this.
const OURS: &str = "web:";

/// The chat's clock, in seconds since 1970: handed in, so that every turn replays.
pub type Clock = fn() -> u64;

/// The app behind every channel.
pub struct App<S> {
    book: Arc<Book>,
    store: Arc<S>,
    clock: Clock,
    language: String,
    kept: &'static str,
    shows: Shows,
    keep_days: Option<u16>,
    links: Option<Links>,
    census: Arc<Census>,
    sessions: Arc<Sessions>,
    pool: Pool,
    budget: Budget,
}

/// What the channel of an app can show beside words.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Shows {
    /// Nothing: files would be lost.
    Words,
    /// Files and photos, but no SVG: messengers.
    Photos,
    /// Files and every picture: a page.
    Page,
    /// Files by their path; it draws SVG itself, as well as it can.
    Terminal,
}

impl<S> Clone for App<S> {
    // Not derived: that would ask the store, which is shared, to be copied too.
    fn clone(&self) -> Self {
        Self {
            book: Arc::clone(&self.book),
            store: Arc::clone(&self.store),
            clock: self.clock,
            language: self.language.clone(),
            kept: self.kept,
            shows: self.shows,
            keep_days: self.keep_days,
            links: self.links.clone(),
            census: Arc::clone(&self.census),
            sessions: Arc::clone(&self.sessions),
            pool: self.pool.clone(),
            budget: self.budget,
        }
    }
}

/// What one message led to.
#[derive(Clone, Debug)]
pub struct Worked {
    /// What is said.
    pub says: Vec<Say>,
    /// The chat as it stands now.
    after: Arc<Session>,
    /// Whether the message was taken as an answer: a stale or second press of a button is not.
    pub answered: bool,
    /// The revision the chat stands at now.
    pub revision: Revision,
}

/// Where what a turn says goes, in the turn's own transaction.
#[derive(Clone, Debug)]
enum Goes {
    /// To whoever asked, at once: it is kept nowhere.
    Back,
    /// To the outbox.
    Out,
    /// To the page: written down after what was heard, if anything was.
    Page(Option<Heard>),
}

/// What goes with a turn into its transaction.
struct With {
    /// The message that is worked.
    worked: Option<InboxKey>,
    goes: Goes,
    /// A link, should one be given.
    link: Option<Arc<Link>>,
    beside: Vec<Beside>,
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
    /// A turn panicked. What a panic says may quote the person: only that it happened is told.
    #[error("it panicked")]
    Panicked,
}

impl<S: Store> App<S> {
    /// An app over a book and a store. `kept` is the message that says where answers are kept.
    pub fn new(book: Arc<Book>, store: Arc<S>, clock: Clock, kept: &'static str) -> Self {
        Self {
            book,
            store,
            clock,
            language: "en".to_owned(),
            kept,
            shows: Shows::Words,
            keep_days: None,
            links: None,
            census: Arc::default(),
            sessions: Arc::default(),
            pool: Pool::default(),
            budget: Budget::default(),
        }
    }

    /// The same app, for a channel that can hand over files: pictures, papers, tables.
    #[must_use]
    pub fn with_files(self) -> Self {
        Self { shows: Shows::Photos, ..self }
    }

    /// The same app, for a terminal: files, and the whole roof as SVG for it to draw.
    #[must_use]
    pub fn on_terminal(self) -> Self {
        Self { shows: Shows::Terminal, ..self }
    }

    /// The same app, where a chat that has been quiet for so many days is deleted (see [`App::tidy`]).
    #[must_use]
    pub fn keeping_for(self, days: u16) -> Self {
        Self { keep_days: Some(days), ..self }
    }

    /// The same app, where no more than that is kept.
    #[must_use]
    pub fn with_budget(self, budget: Budget) -> Self {
        Self { budget, ..self }
    }

    /// The same app where a page is served, so that links can be given to suppliers.
    #[must_use]
    pub fn with_links(self, links: Links) -> Self {
        Self { links: Some(links), ..self }
    }

    /// A chat as it stands.
    async fn session(&self, chat: &ChatId) -> Result<Stood, AppError> {
        let stored = self.store.load(chat.clone()).await?;
        let events = stored.events.iter().map(|bytes| read_event(bytes)).collect::<Result<Vec<_>, _>>()?;
        let session = Arc::new(Session::fold(&events));
        Ok(Stood { session, revision: stored.revision, events: count(events.len()) })
    }

    /// Works one message. When it returns, its events are kept, and so are its says where `queued`: then they wait
    /// in the outbox to be sent.
    pub async fn work(
        &self,
        inbound: &Inbound,
        worked: Option<InboxKey>,
        queued: bool,
    ) -> Result<Worked, AppError> {
        let goes = if queued { Goes::Out } else { Goes::Back };
        self.hear(&inbound.chat, inbound.content.clone(), worked, goes).await
    }

    async fn hear(
        &self,
        chat: &ChatId,
        content: Content,
        worked: Option<InboxKey>,
        goes: Goes,
    ) -> Result<Worked, AppError> {
        let link = self.links.as_ref().map(|links| Arc::new(links.fresh()));
        let think = move |guide: &Guide<'_>, session: &Session| turn(guide, session, &content);
        self.keep(chat, With { worked, goes, link, beside: Vec::new() }, Arc::new(think)).await
    }

    /// Thinks over a chat as it stands and keeps what that comes to, all in one transaction; again where somebody
    /// else was faster.
    async fn keep<T>(&self, chat: &ChatId, with: With, think: Arc<T>) -> Result<Worked, AppError>
    where
        T: Fn(&Guide<'_>, &Session) -> Turn + Send + Sync + 'static,
    {
        let mut tries = 0;
        loop {
            let stood = match self.sessions.take(chat) {
                Some(known) => known,
                None => self.session(chat).await?,
            };
            let revision = stood.revision;
            let before = Arc::clone(&stood.session);
            let earlier = self.earlier(chat, &before).await?;
            let full = self.over_budget(chat, revision).await?;
            let mut thought = self.think_over(stood.clone(), earlier, &with, Arc::clone(&think)).await;
            if let Some(full) = full {
                thought = self.within_budget(thought, &stood, full);
            }
            if thought.wish == Some(Wish::Delete) {
                // What is erased takes the inbound message with it: nothing is left to be marked.
                return self.delete(chat, with.goes).await;
            }
            let mut beside = self.shares_of(chat, &thought.events, thought.shared.as_ref()).await?;
            beside.extend(self.plans_of(chat, &before, &thought).await?);
            beside.extend(with.beside.iter().cloned());
            beside.extend(self.written(chat, &with.goes, &thought, revision).await?);
            let commit = Commit {
                chat: chat.clone(),
                read_at: revision,
                events: thought.events.iter().map(write_event).collect::<Result<_, _>>()?,
                says: queued(&thought.says, &with.goes)?,
                worked: with.worked.clone(),
                now: (self.clock)(),
            };
            let now = commit.now;
            match self.store.commit_with(commit, beside).await {
                Ok(revision) => {
                    if thought.events.contains(&Event::Missed) {
                        self.census.missed(&before);
                    }
                    self.census.stands(chat, &thought.after, self.handbook(), now);
                    let Thought { mut says, answered, after, events_after: events, .. } = thought;
                    if thought.wish == Some(Wish::Export) {
                        self.fill_export(chat, &mut says).await?;
                    }
                    let stands = Stood { session: Arc::clone(&after), revision, events };
                    self.sessions.put(chat, stands);
                    return Ok(Worked { says, after, answered, revision });
                }
                Err(StoreError::Conflict { .. }) if tries < MOST_TRIES => tries += 1,
                Err(error) => return Err(error.into()),
            }
        }
    }

    /// Erases everything held of a chat, and says by count what was erased.
    async fn delete(&self, chat: &ChatId, goes: Goes) -> Result<Worked, AppError> {
        // The numbers of what a page shows go on: a browser may remember files by them.
        let last = self.last_line(chat, &goes).await?;
        self.note_erasure().await?;
        let erased = self.store.erase(chat.clone()).await?;
        self.census.left(chat);
        let note = Note::new("deleted")
            .count("events", erased.events)
            .count("inbox", erased.inbox)
            .count("outbox", erased.outbox)
            .count("other", erased.other);
        let session = Session::default();
        let says = vec![self.voice(&session).speak(&Draft::of(note), 0)];
        let mut revision = Revision::default();
        if !matches!(goes, Goes::Back) {
            let now = (self.clock)();
            let commit = Commit {
                chat: chat.clone(),
                read_at: revision,
                events: Vec::new(),
                says: queued(&says, &goes)?,
                worked: None,
                now,
            };
            let beside = rooms::begun_anew(chat, &goes, last, &says)?;
            revision = self.store.commit_with(commit, beside).await?;
            self.census.stands(chat, &session, self.handbook(), now);
        }
        Ok(Worked { says, after: Arc::new(session), answered: true, revision })
    }

    /// What a chat opens with, before anything is kept.
    fn greeting(&self) -> Vec<Say> {
        let stood = Stood::default();
        think::think(self, &stood, None, &Goes::Back, None, &|guide, session| turn(guide, session, &start()))
            .says
    }

    fn voice<'a>(&'a self, session: &'a Session) -> Voice<'a> {
        Voice {
            words: &self.book.words,
            language: self.book.language(
                session.language().unwrap_or(&self.language),
                covering(session.facts(), self.handbook()),
            ),
            units: session.usual().unwrap_or(UsualUnit::M),
        }
    }

    /// The rules and goods in force today.
    fn handbook(&self) -> &Handbook {
        self.book.on(self.today())
    }

    /// The day it is in UTC.
    fn today(&self) -> Day {
        Day::from_seconds((self.clock)())
    }

    fn guide<'a>(
        &'a self,
        session: &'a Session,
        link: Option<&'a Link>,
        earlier: Option<&'a Plan>,
    ) -> Guide<'a> {
        self.guide_on(self.today(), session, link, earlier)
    }

    /// What a turn of some day goes by.
    fn guide_on<'a>(
        &'a self,
        today: Day,
        session: &'a Session,
        link: Option<&'a Link>,
        earlier: Option<&'a Plan>,
    ) -> Guide<'a> {
        let language = session.language().unwrap_or(&self.language);
        Guide {
            handbook: self.book.on(today),
            today,
            earlier,
            script: &self.book.script,
            words: &self.book.words,
            ears: self.book.hearing.of(language),
            hearing: &self.book.hearing,
            topics: &self.book.topics,
            asks: &self.book.asks,
            language,
            kept: self.kept,
            keep_days: self.keep_days,
            link: link.map(Link::url),
        }
    }
}

/// Notes what went wrong for whoever runs the bot; the person is told only that something did.
fn fault(error: &AppError) -> TurnFault {
    tracing::error!(%error, "a turn failed");
    TurnFault(error.to_string())
}

/// What is queued of what is said.
fn queued(says: &[Say], goes: &Goes) -> Result<Vec<Vec<u8>>, AppError> {
    match goes {
        Goes::Out => Ok(says.iter().map(write_say).collect::<Result<_, _>>()?),
        Goes::Back | Goes::Page(_) => Ok(Vec::new()),
    }
}

/// What a chat begins with.
fn start() -> Content {
    Content::Text("/start".to_owned())
}

fn count(number: usize) -> u64 {
    u64::try_from(number).unwrap_or(u64::MAX)
}

impl<S: Store> Turns for App<S> {
    /// For channels that show what they get at once, and need no outbox.
    async fn turn(&self, inbound: Inbound) -> Result<Replied, TurnFault> {
        let chat = inbound.chat.clone();
        match self.work(&inbound, None, false).await {
            Ok(Worked { says, after, .. }) => {
                let earlier = self.earlier(&chat, &after).await.map_err(|error| fault(&error))?;
                let state =
                    state_json(&self.guide(&after, None, earlier.as_ref()), &self.voice(&after), &after);
                Ok(Replied { says, state })
            }
            Err(error) => Err(fault(&error)),
        }
    }
}
