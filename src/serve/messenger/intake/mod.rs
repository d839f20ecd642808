//! The way in: an update is kept in the store before it is acknowledged, whichever way it came.

mod batch;
pub(super) mod flood;
pub(super) mod polling;
pub(super) mod webhook;

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::time::Duration;

use serde_json::Value;
use teloxide::payloads::AnswerCallbackQuery;
use teloxide::payloads::setters::*;
use teloxide::types::{AllowedUpdate, CallbackQueryId};
use tokio::sync::{OwnedSemaphorePermit, Semaphore};
use tokio::time::timeout;

use self::batch::{Broken, Came};
use self::flood::Flood;
use super::answers::{Answers, Phrase};
use super::config::Limits;
use super::workers::{Job, Message, Workers};
use crate::channel::telegram::slim::slim;
use crate::channel::telegram::update::{Arrival, Reading, read, update_id};
use crate::message::ChatId;
use crate::store::{InboxKey, Kept, Store, StoreError};

/// How long an update may wait for room before its sender is told to come again.
const ROOM_WITHIN: Duration = Duration::from_secs(5);

/// The kinds of update that are asked for, as the client library names those of `update::KINDS`.
const ALLOWED: [AllowedUpdate; 4] = [
    AllowedUpdate::Message,
    AllowedUpdate::EditedMessage,
    AllowedUpdate::CallbackQuery,
    AllowedUpdate::MyChatMember,
];

/// The chat under which updates are set aside of which nobody can tell whose they are. Nothing is ever sent to it.
const UNREADABLE: &str = "telegram:unreadable";
/// So many of them are set aside since a start, each up to so many bytes; the others are counted and let go.
const MOST_UNREADABLE: usize = 256;
const MOST_UNREADABLE_BYTES: usize = 4_096;

/// Why an update was not taken. It is not acknowledged, and comes again.
#[derive(Debug, thiserror::Error)]
pub(super) enum NotTaken {
    #[error("too many messages wait for their turn")]
    Crowded,
    #[error(transparent)]
    Store(#[from] StoreError),
}

/// Both ways in share this.
pub(super) struct Intake<S, T> {
    workers: Arc<Workers<S, T>>,
    flood: Flood,
    room: Arc<Semaphore>,
    most_waiting: usize,
    /// Whether something may be kept that we did not hear of.
    look_again: AtomicBool,
    /// How many messages had been put back when it was last looked.
    put_back: AtomicUsize,
    /// How many updates could not be read since the start.
    unreadable: AtomicUsize,
}

impl<S: Store, T: Answers> Intake<S, T> {
    pub(super) fn new(workers: Arc<Workers<S, T>>, limits: &Limits) -> Self {
        let most_waiting = limits.messages_waiting.clamp(1, Semaphore::MAX_PERMITS);
        let room = Arc::new(Semaphore::new(most_waiting));
        let look_again = AtomicBool::new(false);
        Self {
            workers,
            flood: Flood::new(limits),
            room,
            most_waiting,
            look_again,
            put_back: AtomicUsize::new(0),
            unreadable: AtomicUsize::new(0),
        }
    }

    /// Puts everything that was kept before this start in line, oldest first.
    pub(super) async fn resume(&self) -> Result<usize, StoreError> {
        let mut count = 0;
        for arrived in self.workers.store.arrived(usize::MAX).await? {
            if arrived.key.0.starts_with("telegram/") {
                // More may be kept than may wait: those that found no room wait all the same.
                let room = Arc::clone(&self.room).try_acquire_owned().ok();
                let message = Message::Stored(arrived.inbound);
                let job = Job { key: arrived.key, message, tries: arrived.tries, _room: room };
                self.workers.submit(&arrived.chat, job);
                count += 1;
            }
        }
        Ok(count)
    }

    /// Takes updates, in order. As many of the first as it answers may be acknowledged; where that is not all,
    /// it says why.
    async fn take(&self, updates: &[Came]) -> (usize, Option<NotTaken>) {
        let mut keeping = Vec::new();
        let mut failed = None;
        for (place, came) in updates.iter().enumerate() {
            let update = match came {
                Came::Whole(update) => update,
                Came::Broken(broken) => {
                    if let Err(error) = self.step_over(broken).await {
                        failed = Some((place, error.into()));
                        break;
                    }
                    continue;
                }
            };
            let Ok(Ok(room)) = timeout(ROOM_WITHIN, Arc::clone(&self.room).acquire_owned()).await else {
                failed = Some((place, NotTaken::Crowded));
                break;
            };
            if let Some(arrival) = self.sort(update) {
                // Begun together, so that the store can write them with one flush.
                let kept = keep(Arc::clone(&self.workers), arrival, slim(update), room);
                keeping.push((place, tokio::spawn(kept)));
            }
        }
        // From the last to the first, so that it is the first failure which stays.
        let mut jobs = Vec::new();
        for (place, kept) in keeping.into_iter().rev() {
            match kept.await.unwrap_or_else(|ended| Err(StoreError::Io(ended.to_string()))) {
                Ok(Some(job)) => jobs.push(job),
                Ok(None) => {}
                Err(error) => {
                    // It may have been kept all the same, and then comes again as one known already.
                    self.look_again.store(true, Ordering::Relaxed);
                    failed = Some((place, error.into()));
                }
            }
        }
        for (chat, job) in jobs.into_iter().rev() {
            self.workers.submit(&chat, job);
        }
        failed.map_or((updates.len(), None), |(place, why)| (place, Some(why)))
    }

    /// Sets an update aside that nobody can read, for a person to look at.
    async fn step_over(&self, Broken { number, bytes }: &Broken) -> Result<(), StoreError> {
        tracing::error!(alert = true, number, bytes = bytes.len(), "an update cannot be read: stepped over");
        metrics::counter!("lapwise_updates_total", "outcome" => "unreadable").increment(1);
        let Some(chat) = ChatId::new(UNREADABLE) else { return Ok(()) };
        if self.unreadable.fetch_add(1, Ordering::Relaxed) >= MOST_UNREADABLE {
            return Ok(());
        }
        let some = bytes.get(..MOST_UNREADABLE_BYTES).unwrap_or(bytes).to_vec();
        let (store, key) = (&self.workers.store, key(*number));
        if store.keep(key.clone(), chat, some).await? == Kept::New {
            store.set_aside(key).await?;
        }
        Ok(())
    }

    /// Puts in line what was kept without our hearing of it, where there may be such; to be called now and then.
    pub(super) async fn look_again(&self) -> Result<(), StoreError> {
        let put_back = self.workers.store.times_put_back();
        let more = self.put_back.swap(put_back, Ordering::Relaxed) != put_back;
        if self.look_again.swap(false, Ordering::Relaxed) || more {
            // One that is being worked meanwhile is found worked by its second turn, which changes nothing.
            self.resume().await.inspect_err(|_| self.look_again.store(true, Ordering::Relaxed))?;
        }
        Ok(())
    }

    /// How many messages wait for their turn or are being worked.
    pub(super) fn waiting(&self) -> usize {
        self.most_waiting.saturating_sub(self.room.available_permits())
    }

    /// Forgets what is no longer needed; to be called every few seconds.
    pub(super) fn tidy(&self) {
        self.flood.forget_quiet();
    }

    /// What there is to keep; everything else is done or let go at once.
    fn sort(&self, update: &Value) -> Option<Box<Arrival>> {
        let (outcome, arrival) = match read(update, &self.workers.me) {
            Reading::Work(arrival) => {
                if self.flood.lets_in(arrival.address) {
                    ("taken", Some(arrival))
                } else {
                    self.slow_down(&arrival);
                    ("flood", None)
                }
            }
            Reading::NotTheirs { callback } => {
                let words = self.workers.app.phrase(Phrase::NotYourButton);
                self.workers.sign(AnswerCallbackQuery::new(CallbackQueryId(callback)).text(words));
                ("not-theirs", None)
            }
            Reading::Gone(address) => {
                if let Some(chat) = address.chat_id() {
                    self.workers.outbox.set_gone(&chat);
                }
                ("gone", None)
            }
            Reading::Back(address) => {
                if let Some(chat) = address.chat_id() {
                    self.workers.outbox.set_here(&chat);
                }
                ("back", None)
            }
            Reading::Ignore(why) => (why, None),
        };
        metrics::counter!("lapwise_updates_total", "outcome" => outcome).increment(1);
        arrival
    }

    fn slow_down(&self, arrival: &Arrival) {
        if let Some(press) = &arrival.press {
            self.workers.sign(AnswerCallbackQuery::new(CallbackQueryId(press.callback.clone())));
        }
        if self.flood.says_so(arrival.address) {
            self.workers.outbox.say_aside(&arrival.inbound.chat, self.workers.app.phrase(Phrase::TooFast));
        }
    }
}

async fn keep<S: Store, T: Answers>(
    workers: Arc<Workers<S, T>>,
    arrival: Box<Arrival>,
    update: Value,
    room: OwnedSemaphorePermit,
) -> Result<Option<(ChatId, Job)>, StoreError> {
    let bytes = update.to_string().into_bytes();
    let key = key(update_id(&update).unwrap_or_default());
    let chat = arrival.inbound.chat.clone();
    match workers.store.keep(key.clone(), chat.clone(), bytes).await? {
        Kept::New => {
            let message = Message::Read(arrival);
            Ok(Some((chat, Job { key, message, tries: 0, _room: Some(room) })))
        }
        Kept::Repeat => {
            metrics::counter!("lapwise_updates_repeated_total").increment(1);
            Ok(None)
        }
    }
}

/// The key an update is kept under: sorted by age.
fn key(update: i64) -> InboxKey {
    InboxKey(format!("telegram/{update:020}"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::channel::telegram::update::KINDS;

    #[test]
    fn what_is_asked_for_is_what_is_read() {
        assert_eq!(serde_json::json!(ALLOWED), serde_json::json!(KINDS));
    }
}
