//! The workers: each kept message is worked once, in order a chat, chats beside one another.

use std::sync::Arc;
use std::time::Duration;

use serde::Serialize;
use serde::de::DeserializeOwned;
use teloxide::payloads::{AnswerCallbackQuery, SendChatAction};
use teloxide::requests::Payload;
use teloxide::types::{CallbackQueryId, ChatAction, ChatId};
use tokio::sync::{OwnedSemaphorePermit, Semaphore};
use tokio::task::JoinHandle;
use tokio::time::{Instant, sleep, timeout, timeout_at};
use tokio_util::sync::CancellationToken;

use super::answers::{Answers, TurnError, Turned};
use super::api::Api;
use super::backoff::{delays, until_stored};
use super::lanes::{Lanes, Pushed};
use super::outbox::Outbox;
use crate::channel::telegram::call::Place;
use crate::channel::telegram::update::{Arrival, Me, Reading, read};
use crate::message;
use crate::store::{Alone, InboxKey, Store, StoreError};

/// After so many failures a message is set aside.
const MOST_TRIES: u32 = 3;

/// A turn that takes longer shows that something is being done.
const NOTICEABLE: Duration = Duration::from_millis(300);

/// Signs that are nice to give (a button stops spinning, "typing") may be under way at once; more are dropped.
const MOST_SIGNS: usize = 64;

/// What was kept, as it came to us.
pub(super) enum Message {
    /// Just now, and so it has been read.
    Read(Box<Arrival>),
    /// From the store, as it was written there.
    Stored(Vec<u8>),
}

/// A kept message that waits for its turn.
pub(super) struct Job {
    pub(super) key: InboxKey,
    pub(super) message: Message,
    /// How often it has failed, be it that the process ended over it.
    pub(super) tries: u32,
    /// Its place among those that may wait; given back when the job is done.
    pub(super) _room: Option<OwnedSemaphorePermit>,
}

// Jobs are ordered by age: one that overtook another on the way here is put behind it again.
impl PartialEq for Job {
    fn eq(&self, other: &Self) -> bool {
        self.key == other.key
    }
}
impl Eq for Job {}
impl PartialOrd for Job {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}
impl Ord for Job {
    fn cmp(&self, other: &Self) -> std::cmp::Ordering {
        self.key.cmp(&other.key)
    }
}

/// The workers of all chats.
pub(super) struct Workers<S, T> {
    pub(super) store: Arc<S>,
    pub(super) app: Arc<T>,
    pub(super) api: Api,
    pub(super) outbox: Arc<Outbox<S, T>>,
    pub(super) me: Me,
    lanes: Lanes<Job>,
    places: Semaphore,
    signs: Arc<Semaphore>,
    at_once: u32,
    stop: CancellationToken,
}

impl<S: Store, T: Answers> Workers<S, T> {
    pub(super) fn new(
        store: Arc<S>,
        app: Arc<T>,
        api: Api,
        outbox: Arc<Outbox<S, T>>,
        me: Me,
        at_once: usize,
        stop: CancellationToken,
    ) -> Self {
        let at_once = u32::try_from(at_once.max(1)).unwrap_or(u32::MAX);
        let places = Semaphore::new(usize::try_from(at_once).unwrap_or(usize::MAX));
        let signs = Arc::new(Semaphore::new(MOST_SIGNS));
        Self { store, app, api, outbox, me, lanes: Lanes::new(), places, signs, at_once, stop }
    }

    /// Puts a kept message in line.
    pub(super) fn submit(self: &Arc<Self>, chat: &message::ChatId, job: Job) {
        if self.lanes.push(chat, job, usize::MAX) == Pushed::Opened {
            let (workers, chat) = (Arc::clone(self), chat.clone());
            tokio::spawn(async move { workers.walk(&chat).await });
        }
    }

    /// Waits until no turn is under way, or until `deadline`; answers whether all came to their end.
    pub(super) async fn drain(&self, deadline: Instant) -> bool {
        timeout_at(deadline, self.places.acquire_many(self.at_once)).await.is_ok()
    }

    /// How many chats have messages that wait for their turn.
    pub(super) fn chats_waiting(&self) -> usize {
        self.lanes.open()
    }

    /// Gives a sign that may be lost: at once, beside everything else.
    pub(super) fn sign<P>(&self, payload: P)
    where
        P: Payload<Output: DeserializeOwned + Send> + Serialize + Send + Sync + 'static,
    {
        let Ok(place) = Arc::clone(&self.signs).try_acquire_owned() else { return };
        let api = self.api.clone();
        tokio::spawn(async move {
            if let Err(error) = api.ask(&payload).await {
                tracing::debug!(method = P::NAME, %error, "a sign was not given");
            }
            drop(place);
        });
    }

    async fn walk(self: &Arc<Self>, chat: &message::ChatId) {
        while let Some(job) = self.lanes.next(chat) {
            let _alone = self.alone(&job).await;
            let Ok(_place) = self.places.acquire().await else { return };
            if self.stop.is_cancelled() {
                // What waits is kept, and worked after the next start.
                self.lanes.close(chat);
                return;
            }
            self.work(chat, &job).await;
        }
    }

    /// Waits until the message may be tried; one that is tried no more need not wait, and where we stop nobody does.
    async fn alone(&self, job: &Job) -> Option<Alone<'_>> {
        let tries = if job.tries >= MOST_TRIES { 0 } else { job.tries };
        tokio::select! {
            alone = self.store.may_try(tries) => Some(alone),
            () = self.stop.cancelled() => None,
        }
    }

    fn arrival(&self, message: &Message) -> Option<Box<Arrival>> {
        match message {
            Message::Read(arrival) => Some(arrival.clone()),
            Message::Stored(update) => {
                match read(&serde_json::from_slice(update).unwrap_or_default(), &self.me) {
                    Reading::Work(arrival) => Some(arrival),
                    Reading::NotTheirs { .. } | Reading::Gone(_) | Reading::Back(_) | Reading::Ignore(_) => {
                        None
                    }
                }
            }
        }
    }

    async fn work(self: &Arc<Self>, chat: &message::ChatId, job: &Job) {
        let Some(arrival) = self.arrival(&job.message) else {
            tracing::error!(key = job.key.0, "a kept update asks for nothing: set aside");
            return self.put_aside(job, Vec::new()).await;
        };
        if job.tries >= MOST_TRIES {
            return self.set_aside(chat, job).await;
        }
        if let Some(press) = &arrival.press {
            self.sign(AnswerCallbackQuery::new(CallbackQueryId(press.callback.clone())));
        }
        self.outbox.set_here(chat);
        if arrival.address.is_group() {
            let place = Place { reply_to: arrival.message, thread: arrival.thread };
            self.outbox.met_at(chat, place);
        }
        let turned = self.turn(chat, job, &arrival).await;
        if turned.is_some_and(|turned| turned.answered) {
            self.write_choice(chat, &arrival);
        }
        self.outbox.nudge(chat);
    }

    /// Writes the choice into the message whose button was pressed. One too old for the platform to show its
    /// words stays as it is.
    fn write_choice(&self, chat: &message::ChatId, arrival: &Arrival) {
        let (Some(press), Some(message)) = (&arrival.press, arrival.message) else { return };
        if let (Some(words), Some(label)) = (&press.words, &press.label) {
            self.outbox.answered(chat, message, words, label);
        }
    }

    /// Works the message until it is worked or set aside. `None`: set aside, or we are stopping.
    async fn turn(self: &Arc<Self>, chat: &message::ChatId, job: &Job, arrival: &Arrival) -> Option<Turned> {
        let mut delays = delays();
        loop {
            let began = Instant::now();
            let outcome = self.try_turn(job, arrival).await;
            metrics::histogram!("lapwise_turn_duration_seconds").record(began.elapsed().as_secs_f64());
            match outcome {
                Ok(turned) => {
                    metrics::counter!("lapwise_turns_total", "outcome" => "done").increment(1);
                    return Some(turned);
                }
                Err(TurnError::Store(StoreError::NotWaiting(_))) => {
                    // It was worked by a try of which we did not hear the end, or erased meanwhile.
                    metrics::counter!("lapwise_turns_total", "outcome" => "worked-before").increment(1);
                    return None;
                }
                Err(TurnError::Store(error)) => {
                    metrics::counter!("lapwise_turns_total", "outcome" => "store").increment(1);
                    tracing::warn!(key = job.key.0, %error, "the turn waits for the store");
                    if matches!(error, StoreError::Conflict { .. }) {
                        tokio::task::yield_now().await;
                    }
                }
                Err(TurnError::Fault(reason)) => {
                    metrics::counter!("lapwise_turns_total", "outcome" => "fault").increment(1);
                    let tries = until_stored("failed", || self.store.failed(job.key.clone())).await;
                    tracing::error!(key = job.key.0, tries, reason, "a message could not be worked");
                    if tries >= MOST_TRIES {
                        self.set_aside(chat, job).await;
                        return None;
                    }
                }
            }
            let wait = delays.next().unwrap_or(NOTICEABLE);
            if timeout(wait, self.stop.cancelled()).await.is_ok() {
                return None;
            }
        }
    }

    async fn set_aside(self: &Arc<Self>, chat: &message::ChatId, job: &Job) {
        let apology =
            self.app.apology().inspect_err(|reason| tracing::error!(reason, "no apology can be written"));
        self.put_aside(job, apology.into_iter().collect()).await;
        metrics::counter!("lapwise_set_aside_total").increment(1);
        tracing::error!(alert = true, key = job.key.0, "a message was set aside for a person to look at");
        self.outbox.nudge(chat);
    }

    async fn put_aside(&self, job: &Job, says: Vec<Vec<u8>>) {
        until_stored("set_aside", || async {
            match self.store.set_aside_saying(job.key.clone(), says.clone(), Vec::new()).await {
                // Its chat was erased meanwhile, or it was done by a try of which we did not hear the end.
                Err(StoreError::NotWaiting(_)) => Ok(()),
                done => done,
            }
        })
        .await;
    }

    /// One try, in a task of its own: a panic there ends the try and nothing else.
    async fn try_turn(self: &Arc<Self>, job: &Job, arrival: &Arrival) -> Result<Turned, TurnError> {
        let (app, key, inbound) = (Arc::clone(&self.app), job.key.clone(), arrival.inbound.clone());
        // Written down first: what ends the process over this message must not end it again and again.
        self.store.begin_try(key.clone()).await?;
        let mut turn: JoinHandle<_> = tokio::spawn(async move { app.turn(key, inbound).await });
        let ended = tokio::select! {
            ended = &mut turn => ended,
            () = sleep(NOTICEABLE) => {
                let mut typing = SendChatAction::new(ChatId(arrival.address.chat), ChatAction::Typing);
                typing.message_thread_id = Place { reply_to: None, thread: arrival.thread }.topic();
                self.sign(typing);
                turn.await
            }
        };
        self.store.end_try(job.key.clone()).await;
        // What a panic says may quote the person: only that it happened is told.
        ended.unwrap_or_else(|_| Err(TurnError::Fault("it panicked".to_owned())))
    }
}
