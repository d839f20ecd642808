//! One turn: take, think, keep, say. The only place where the conversation and the store meet.

#[cfg(feature = "telegram")]
mod answers;
mod census;
mod keeping;
mod papers;
mod plans;
mod rooms;
mod sessions;
mod shares;

use std::sync::Arc;

use census::Census;
use data_encoding::BASE64;
use papers::Papers;
use sessions::Sessions;

use crate::book::Book;
use crate::channel::{Replied, TurnFault, Turns};
use crate::conversation::event::Event;
use crate::conversation::saying::{Draft, Voice};
use crate::conversation::session::Session;
use crate::conversation::{Guide, Turn, Wish, turn};
use crate::export::state::state_json;
use crate::message::{Attachment, ChatId, Content, Inbound, Say};
use crate::roofing::note::Note;
use crate::roofing::plan::{Handbook, Plan};
use crate::roofing::roof::covering;
use crate::store::record::{read_event, write_event, write_say};
use crate::store::{Commit, InboxKey, Revision, Store, StoreError};
use crate::units::{Day, UsualUnit};

pub use keeping::Tidied;
pub use rooms::Page;
use shares::Link;
pub use shares::{Fresh, Links};

/// How often a turn is worked again because somebody else wrote to the chat in between.
const MOST_TRIES: usize = 5;

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

/// A turn thought through, before anything is kept.
struct Thought {
    events: Vec<Event>,
    after: Session,
    says: Vec<Say>,
    answered: bool,
    wish: Option<Wish>,
    /// The plan that stands from now on, where it is another than before.
    plan: Option<Box<Plan>>,
    /// What went wrong on our side.
    faults: Vec<String>,
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

    /// Works one message. When it returns, its events are kept, and so are its says where `queued`: then they wait
    /// in the outbox to be sent.
    pub async fn work(
        &self,
        inbound: &Inbound,
        worked: Option<InboxKey>,
        queued: bool,
    ) -> Result<Worked, AppError> {
        let link = self.links.as_ref().map(Links::fresh);
        let think = |guide: &Guide<'_>, session: &Session| turn(guide, session, &inbound.content);
        self.keep(&inbound.chat, worked, queued, link.as_ref(), think).await
    }

    /// Thinks over a chat as it stands and keeps what that comes to; again where somebody else was faster.
    async fn keep(
        &self,
        chat: &ChatId,
        worked: Option<InboxKey>,
        queued: bool,
        link: Option<&Link>,
        think: impl Fn(&Guide<'_>, &Session) -> Turn,
    ) -> Result<Worked, AppError> {
        let mut tries = 0;
        loop {
            let (session, revision) = match self.sessions.take(chat) {
                Some(known) => known,
                None => self.session(chat).await.map(|(session, revision)| (Arc::new(session), revision))?,
            };
            let earlier = self.earlier(chat, &session).await?;
            let thought = self.think(&session, link, earlier.as_ref(), &think);
            for fault in &thought.faults {
                tracing::error!(%fault, "a plan is faulty");
            }
            self.mind_shares(chat, &thought, link).await?;
            self.keep_plan(chat, &thought).await?;
            let (says, worked) = match thought.wish {
                None => (thought.says, worked.clone()),
                Some(Wish::Export) => (self.export(chat, thought.says).await?, worked.clone()),
                // What is erased takes the inbound message with it: nothing is left to be marked.
                Some(Wish::Delete) => return self.delete(chat, queued).await,
            };
            let now = (self.clock)();
            let commit = Commit {
                chat: chat.clone(),
                read_at: revision,
                events: thought.events.iter().map(write_event).collect::<Result<_, _>>()?,
                says: outbox(&says, queued)?,
                worked,
                now,
            };
            match self.store.commit(commit).await {
                Ok(revision) => {
                    if thought.events.contains(&Event::Missed) {
                        self.census.missed(&session);
                    }
                    self.census.stands(chat, &thought.after, self.handbook(), now);
                    self.forget_plans(chat, &session, &thought.after).await?;
                    let after = Arc::new(thought.after);
                    self.sessions.put(chat, Arc::clone(&after), revision);
                    return Ok(Worked { says, after, answered: thought.answered, revision });
                }
                Err(StoreError::Conflict { .. }) if tries < MOST_TRIES => tries += 1,
                Err(error) => return Err(error.into()),
            }
        }
    }

    /// Adds everything held of a chat, as a file, to what is said.
    async fn export(&self, chat: &ChatId, says: Vec<Say>) -> Result<Vec<Say>, AppError> {
        let stored = self.store.load(chat.clone()).await?;
        let waiting = self.store.waiting_for(chat.clone()).await?;
        let others = self.store.list_other(Some(chat.clone())).await?;
        let readable = |bytes: &[u8]| {
            serde_json::from_slice(bytes)
                .unwrap_or_else(|_| serde_json::json!({ "base64": BASE64.encode(bytes) }))
        };
        let held = serde_json::json!({
            "chat": chat.as_str(),
            "events": stored.events.iter().map(|event| readable(event)).collect::<Vec<_>>(),
            "waiting_to_be_sent": waiting.iter().map(|one| readable(&one.say)).collect::<Vec<_>>(),
            "other": others.iter().map(|other| readable(&other.value)).collect::<Vec<_>>(),
        });
        let unsaid = Session::default();
        let voice = self.voice(&unsaid);
        let mut file = voice.speak(&Draft::of(Note::new("exported")), 0);
        file.files.push(Attachment {
            name: "everything-kept.json".to_owned(),
            media_type: "application/json".to_owned(),
            alt: file.text.clone(),
            bytes: serde_json::to_vec_pretty(&held).unwrap_or_default(),
        });
        Ok([file].into_iter().chain(says).collect())
    }

    /// Erases everything held of a chat, and says by count what was erased.
    async fn delete(&self, chat: &ChatId, queued: bool) -> Result<Worked, AppError> {
        self.note_erasure().await?;
        let erased = self.store.erase(chat.clone()).await?;
        self.census.left(chat);
        let note = Note::new("deleted")
            .count("events", erased.events)
            .count("inbox", erased.inbox)
            .count("outbox", erased.outbox)
            .count("other", erased.other);
        let session = Session::default();
        let voice = self.voice(&session);
        let says = vec![voice.speak(&Draft::of(note), 0)];
        let mut revision = Revision::default();
        if queued {
            let commit = Commit {
                chat: chat.clone(),
                read_at: Revision::default(),
                events: Vec::new(),
                says: outbox(&says, queued)?,
                worked: None,
                now: (self.clock)(),
            };
            revision = self.store.commit(commit).await?;
            self.census.stands(chat, &session, self.handbook(), (self.clock)());
        }
        Ok(Worked { says, after: Arc::new(session), answered: true, revision })
    }

    /// The pure part of a turn.
    fn think(
        &self,
        session: &Session,
        link: Option<&Link>,
        earlier: Option<&Plan>,
        think: impl Fn(&Guide<'_>, &Session) -> Turn,
    ) -> Thought {
        let guide = self.guide(session, link, earlier);
        let turn = think(&guide, session);
        let mut after = session.clone();
        for event in &turn.events {
            after.apply(event);
        }
        let voice = self.voice(&after);
        let papers =
            Papers { guide, voice, session: &after, date: self.today().to_string(), shows: self.shows };
        let says = turn.says.iter().map(|draft| {
            let mut say = voice.speak(draft, after.prompt());
            if self.shows != Shows::Words {
                say.files = papers.make(&draft.attach);
                say.files.extend(link.and_then(|link| link.code_for(&say.text, self.shows)));
            }
            say
        });
        Thought {
            says: says.collect(),
            answered: after.prompt() != session.prompt() || turn.wish.is_some(),
            wish: turn.wish,
            plan: turn.plan,
            faults: turn.faults,
            events: turn.events,
            after,
        }
    }

    /// What a chat opens with, before anything is kept.
    fn greeting(&self) -> Vec<Say> {
        let start = Content::Text("/start".to_owned());
        self.think(&Session::default(), None, None, |guide, session| turn(guide, session, &start)).says
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

    /// The day it is in UTC.
    fn today(&self) -> Day {
        Day::from_seconds((self.clock)())
    }

    /// The rules and goods in force today.
    fn handbook(&self) -> &Handbook {
        self.book.on(self.today())
    }

    fn guide<'a>(
        &'a self,
        session: &'a Session,
        link: Option<&'a Link>,
        earlier: Option<&'a Plan>,
    ) -> Guide<'a> {
        let language = session.language().unwrap_or(&self.language);
        Guide {
            handbook: self.handbook(),
            today: self.today(),
            earlier,
            script: &self.book.script,
            words: &self.book.words,
            ears: self.book.hearing.of(language),
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
fn outbox(says: &[Say], queued: bool) -> Result<Vec<Vec<u8>>, AppError> {
    if !queued {
        return Ok(Vec::new());
    }
    Ok(says.iter().map(write_say).collect::<Result<_, _>>()?)
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
