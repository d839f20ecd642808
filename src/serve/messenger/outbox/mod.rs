//! The one sender: everything a chat's turns have to say goes out from here, in order, at the platform's pace.
//!
//! A message is struck from the store when it has been delivered. Killed in between, it is sent once more after
//! the restart: at worst a person sees it twice, never not at all.

mod send;

use std::num::NonZeroUsize;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::Duration;

use lru::LruCache;
use tokio::sync::Semaphore;
use tokio::time::{Instant, sleep};
use tokio_util::sync::CancellationToken;

use super::answers::{Answers, TurnError};
use super::api::Api;
use super::backoff::{delays, until_stored};
use super::config::Limits;
use super::lanes::{Lanes, Pushed};
use super::pace::Pace;
use crate::channel::telegram::address::Address;
use crate::channel::telegram::answered::{take_buttons, write_choice};
use crate::channel::telegram::call::{Call, Place};
use crate::channel::telegram::outgoing::calls;
use crate::message::{Attachment, ChatId, Say};
use crate::store::{Store, Waiting};

/// Of how many chats the last question, the last place and the goodbye are remembered.
const CHATS_REMEMBERED: NonZeroUsize = NonZeroUsize::MIN.saturating_add(49_999);

/// How many messages outside its turns may wait for one chat.
const MOST_ASIDES: usize = 8;

/// What the walker of a chat's lane has to do. The turns' messages come first.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Errand {
    /// Send what the store holds for the chat.
    Waiting,
    /// Send something that is kept nowhere: an edit, a notice. Lost in a crash, and no harm done.
    Aside(u64, Box<Aside>),
}

#[derive(Clone, Debug, PartialEq, Eq)]
struct Aside(Call);

// Asides are ordered by their number; the call decides nothing.
impl PartialOrd for Aside {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Aside {
    fn cmp(&self, _: &Self) -> std::cmp::Ordering {
        std::cmp::Ordering::Equal
    }
}

/// What became of something sent.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Sent {
    /// The server has it, as the message with this id.
    Yes(Option<i64>),
    /// The person cannot be written to.
    Gone,
    /// The server will never take it.
    Never,
}

/// What is nice to know of a chat.
struct Known {
    /// The message whose buttons can still be pressed, and the token of its question.
    asking: LruCache<ChatId, (i64, u64)>,
    places: LruCache<ChatId, Place>,
    gone: LruCache<ChatId, ()>,
    asides: u64,
}

/// The sender.
pub(super) struct Outbox<S, T> {
    store: Arc<S>,
    app: Arc<T>,
    api: Api,
    pace: Pace,
    at_once: Semaphore,
    lanes: Lanes<Errand>,
    known: Mutex<Known>,
    cut: CancellationToken,
}

impl<S: Store, T: Answers> Outbox<S, T> {
    pub(super) fn new(store: Arc<S>, app: Arc<T>, api: Api, limits: &Limits) -> Self {
        let known = Known {
            asking: LruCache::new(CHATS_REMEMBERED),
            places: LruCache::new(CHATS_REMEMBERED),
            gone: LruCache::new(CHATS_REMEMBERED),
            asides: 0,
        };
        Self {
            store,
            app,
            api,
            pace: Pace::new(limits),
            at_once: Semaphore::new(limits.calls_at_once.max(1)),
            lanes: Lanes::new(),
            known: Mutex::new(known),
            cut: CancellationToken::new(),
        }
    }

    /// Opens a lane for every chat that the store holds messages for: after a start, and now and then.
    pub(super) async fn resume(self: &Arc<Self>) -> Result<usize, crate::store::StoreError> {
        let waiting = self.store.waiting(usize::MAX).await?;
        for message in &waiting {
            self.nudge(&message.key.chat);
        }
        Ok(waiting.len())
    }

    /// There is something to send for this chat.
    pub(super) fn nudge(self: &Arc<Self>, chat: &ChatId) {
        self.push(chat, Errand::Waiting, usize::MAX);
    }

    /// Says something outside the chat's turns.
    pub(super) fn say_aside(self: &Arc<Self>, chat: &ChatId, words: String) {
        if let Some(to) = Address::of(chat) {
            let place = self.place(chat);
            self.aside(chat, Call::Text { to, place, words, keys: Vec::new() });
        }
    }

    /// The question that stands in `message` was answered by a button: its buttons go, the choice is written.
    pub(super) fn answered(self: &Arc<Self>, chat: &ChatId, message: i64, words: &str, label: &str) {
        let Some(to) = Address::of(chat) else { return };
        let mut known = self.known();
        if known.asking.get(chat).is_some_and(|(asking, _)| *asking == message) {
            known.asking.pop(chat);
        }
        drop(known);
        self.aside(chat, write_choice(to, message, words, label));
    }

    /// Where the last message of this chat stood: replies go there.
    pub(super) fn met_at(&self, chat: &ChatId, place: Place) {
        self.known().places.put(chat.clone(), place);
    }

    /// The person blocked the bot.
    pub(super) fn set_gone(self: &Arc<Self>, chat: &ChatId) {
        self.known().gone.put(chat.clone(), ());
        self.nudge(chat);
    }

    /// The person is here.
    pub(super) fn set_here(&self, chat: &ChatId) {
        self.known().gone.pop(chat);
    }

    /// How many chats have something to be sent, and for how long the first of them.
    pub(super) fn depth(&self) -> (usize, Duration) {
        (self.lanes.open(), self.lanes.oldest())
    }

    /// How many chats are known to be gone: they blocked the bot, or were left by it.
    pub(super) fn gone(&self) -> usize {
        self.known().gone.len()
    }

    /// Forgets what is no longer needed; to be called every few seconds.
    pub(super) fn tidy(&self) {
        self.pace.forget_quiet();
    }

    /// Waits until everything is sent, or until `deadline`; answers for how many chats something is left, kept
    /// for the next start.
    pub(super) async fn drain(&self, deadline: Instant) -> usize {
        while self.lanes.open() > 0 && Instant::now() < deadline {
            sleep(Duration::from_millis(20)).await;
        }
        let left = self.lanes.open();
        self.cut.cancel();
        left
    }

    fn known(&self) -> MutexGuard<'_, Known> {
        self.known.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn place(&self, chat: &ChatId) -> Place {
        self.known().places.get(chat).copied().unwrap_or_default()
    }

    fn aside(self: &Arc<Self>, chat: &ChatId, call: Call) {
        let mut known = self.known();
        known.asides = known.asides.wrapping_add(1);
        let errand = Errand::Aside(known.asides, Box::new(Aside(call)));
        drop(known);
        self.push(chat, errand, MOST_ASIDES);
    }

    fn push(self: &Arc<Self>, chat: &ChatId, errand: Errand, most: usize) {
        if Address::of(chat).is_none() {
            return;
        }
        if self.lanes.push(chat, errand, most) == Pushed::Opened {
            let (outbox, chat) = (Arc::clone(self), chat.clone());
            tokio::spawn(async move { outbox.walk(&chat).await });
        }
    }

    async fn walk(self: &Arc<Self>, chat: &ChatId) {
        while let Some(errand) = self.lanes.next(chat) {
            tokio::select! {
                () = self.cut.cancelled() => return self.lanes.close(chat),
                () = self.run(chat, errand) => {}
            }
        }
    }

    async fn run(self: &Arc<Self>, chat: &ChatId, errand: Errand) {
        match errand {
            Errand::Waiting => self.send_waiting(chat).await,
            Errand::Aside(_, aside) => {
                if self.known().gone.get(chat).is_none() && self.send(aside.0).await == Sent::Gone {
                    self.known().gone.put(chat.clone(), ());
                }
            }
        }
    }

    async fn send_waiting(self: &Arc<Self>, chat: &ChatId) {
        let waiting = until_stored("waiting_for", || self.store.waiting_for(chat.clone())).await;
        for message in waiting {
            if self.known().gone.get(chat).is_none() && self.deliver(chat, &message).await == Sent::Gone {
                tracing::info!(%chat, "the chat is gone; nothing more is sent to it");
                self.known().gone.put(chat.clone(), ());
            }
            until_stored("strike", || self.store.strike(message.key.clone())).await;
        }
    }

    async fn deliver(self: &Arc<Self>, chat: &ChatId, message: &Waiting) -> Sent {
        let (Some(mut say), Some(to)) = (self.read(message), Address::of(chat)) else { return Sent::Never };
        say.files = self.made(chat, say.files).await;
        let mut last = Sent::Never;
        for call in calls(&say, to, self.place(chat)) {
            let keyed = matches!(&call, Call::Text { keys, .. } if !keys.is_empty());
            last = self.send(call).await;
            match last {
                Sent::Yes(id) => self.note_question(chat, to, &say, id.filter(|_| keyed)),
                Sent::Gone => return Sent::Gone,
                Sent::Never => {
                    tracing::error!(%chat, sequence = message.key.sequence, "a message was refused");
                }
            }
        }
        last
    }

    /// A new question takes the buttons off the one before, which can no longer be answered by them.
    fn note_question(self: &Arc<Self>, chat: &ChatId, to: Address, say: &Say, keyed: Option<i64>) {
        let Some(prompt) = say.prompt else { return };
        let mut known = self.known();
        let before = match keyed {
            Some(message) => known.asking.put(chat.clone(), (message, prompt)),
            // More words to the same question leave its buttons alone.
            None if known.asking.get(chat).is_some_and(|(_, asked)| *asked == prompt) => None,
            None => known.asking.pop(chat),
        };
        drop(known);
        if let Some((message, _)) = before {
            self.aside(chat, take_buttons(to, message));
        }
    }

    /// A message's files, made now. Words go without the files that cannot be made.
    async fn made(self: &Arc<Self>, chat: &ChatId, files: Vec<Attachment>) -> Vec<Attachment> {
        let mut delays = delays();
        while !files.is_empty() {
            // In a task of its own: a panic there ends the try and nothing else.
            let (app, of, wanted) = (Arc::clone(&self.app), chat.clone(), files.clone());
            let making = tokio::spawn(async move { app.made(of, wanted).await });
            match making.await.unwrap_or_else(|_| Err(TurnError::Fault("it panicked".to_owned()))) {
                Ok(made) => return made,
                Err(TurnError::Fault(reason)) => {
                    tracing::error!(reason, "files could not be made");
                    metrics::counter!("lapwise_files_failed_total").increment(1);
                    break;
                }
                Err(TurnError::Store(error)) => {
                    tracing::error!(%error, "the store fails");
                    metrics::counter!("lapwise_store_failures_total", "what" => "made").increment(1);
                    sleep(delays.next().unwrap_or(Duration::from_secs(30))).await;
                }
            }
        }
        Vec::new()
    }

    fn read(&self, message: &Waiting) -> Option<Say> {
        let read = || self.app.read_say(&message.say);
        let read = std::panic::catch_unwind(std::panic::AssertUnwindSafe(read));
        match read.unwrap_or_else(|_| Err("reading it panicked".to_owned())) {
            Ok(say) => Some(say),
            Err(reason) => {
                tracing::error!(sequence = message.key.sequence, reason, "a stored message cannot be read");
                metrics::counter!("lapwise_outbox_unreadable_total").increment(1);
                None
            }
        }
    }
}
