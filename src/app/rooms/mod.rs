//! Chats for a page: what was said is kept beside the events, so that a page can be loaded again.
//!
//! A message is kept in the inbox first. Working it is one transaction: its events, the lines it adds to the page, and
//! that it is worked. Killed anywhere, it is worked after the start or when it is sent again, and once.

mod transcripts;

use std::hash::{DefaultHasher, Hash as _, Hasher as _};

use data_encoding::HEXLOWER;
use sha2::{Digest, Sha256};
use tokio::sync::{Mutex, MutexGuard};
use tokio::time::Instant;

use super::files::KEPT_FILE;
use super::{App, AppError, Goes, Shows, Worked, fault};
use crate::channel::rooms::{Entry, File, Rooms, Spoken};
use crate::channel::supplier::{Answered, Mark, Sheet};
use crate::channel::{Replied, TurnFault, Turns};
use crate::conversation::saying::Draft;
use crate::conversation::session::Session;
use crate::message::{ChatId, Inbound, Say};
use crate::roofing::note::Note;
use crate::store::transcript::{Heard, Line, read_heard, write_heard};
use crate::store::{InboxKey, Kept, Store, StoreError};

pub(super) use transcripts::{begun_anew, transcript_changes};

/// So many chats can be worked at once without waiting for one another by chance.
const LOCKS: usize = 256;
/// Keys of messages to pages begin with this.
const INBOX: &str = "web/";
/// After so many failures a message is set aside.
const MOST_TRIES: u32 = 3;

/// The app behind a page.
pub struct Page<S> {
    app: App<S>,
    locks: Vec<Mutex<()>>,
}

impl<S: Store> Page<S> {
    /// A page's app.
    pub fn new(app: App<S>) -> Self {
        let app = App { shows: Shows::Page, ..app };
        Self { app, locks: (0..LOCKS).map(|_| Mutex::new(())).collect() }
    }

    /// Works what was kept and not worked: after a start, and now and then; answers how many messages that were.
    pub async fn resume(&self) -> Result<usize, AppError> {
        let mut arrived = self.app.store.arrived(usize::MAX).await?;
        arrived.retain(|arrived| arrived.key.0.starts_with(INBOX));
        // What may have ended the process waits for a while, and nobody else with it.
        arrived.sort_by_key(|arrived| arrived.tries);
        let mut count = 0;
        for arrived in arrived {
            let tries = if arrived.tries >= MOST_TRIES { 0 } else { arrived.tries };
            let _alone = self.app.store.may_try(tries).await;
            let _mine = self.lock(&arrived.chat).await;
            let Ok(heard) = read_heard(&arrived.inbound) else {
                // One that nobody can read keeps none of the others waiting.
                tracing::error!(
                    alert = true,
                    key = arrived.key.0,
                    "a kept message cannot be read: set aside"
                );
                self.app.store.set_aside(arrived.key).await?;
                continue;
            };
            if arrived.tries >= MOST_TRIES {
                self.set_aside(&arrived.chat, arrived.key, heard).await?;
            } else {
                self.work(&arrived.chat, arrived.key, heard).await?;
            }
            count += 1;
        }
        Ok(count)
    }

    /// One writer a chat.
    async fn lock(&self, chat: &ChatId) -> Option<MutexGuard<'_, ()>> {
        let mut hasher = DefaultHasher::new();
        chat.hash(&mut hasher);
        let count = u64::try_from(LOCKS).unwrap_or(1);
        let index = usize::try_from(hasher.finish() % count).unwrap_or_default();
        Some(self.locks.get(index)?.lock().await)
    }

    async fn hear_in(&self, inbound: &Inbound, shown: String) -> Result<(), AppError> {
        let chat = &inbound.chat;
        let heard = Heard { id: inbound.id.clone(), shown, content: inbound.content.clone() };
        let key = key_of(chat, &inbound.id);
        let mine = self.lock(chat).await;
        if self.app.head(chat).await?.ids.contains(&inbound.id) {
            return Ok(());
        }
        if self.app.store.keep(key.clone(), chat.clone(), write_heard(&heard)?).await? == Kept::New {
            return self.work(chat, key, heard).await;
        }
        drop(mine);
        // It was kept and not worked, and the process may have ended over it.
        let _alone = self.app.store.may_try(1).await;
        let _mine = self.lock(chat).await;
        if self.app.head(chat).await?.ids.contains(&inbound.id) {
            return Ok(());
        }
        // One that is known as worked all the same is found so when its turn is to be kept.
        self.work(chat, key, heard).await
    }

    /// Works a message that is kept, until it is worked or set aside.
    async fn work(&self, chat: &ChatId, key: InboxKey, heard: Heard) -> Result<(), AppError> {
        loop {
            // Written down first: what ends the process over this message must not end it again and again.
            self.app.store.begin_try(key.clone()).await?;
            let began = Instant::now();
            let turned = self.try_turn(chat, &key, &heard).await;
            self.app.store.end_try(key.clone()).await;
            metrics::histogram!("lapwise_turn_duration_seconds").record(began.elapsed().as_secs_f64());
            let error = match turned {
                Ok(_) => {
                    count_turn("done");
                    return Ok(());
                }
                Err(AppError::Store(StoreError::NotWaiting(_))) => {
                    count_turn("worked-before");
                    return Ok(());
                }
                Err(AppError::Store(error)) => {
                    count_turn("store");
                    return Err(error.into());
                }
                Err(error) => error,
            };
            count_turn("fault");
            let tries = match self.app.store.failed(key.clone()).await {
                Err(StoreError::NotWaiting(_)) => return Ok(()),
                tries => tries?,
            };
            tracing::error!(key = key.0, tries, %error, "a message could not be worked");
            if tries >= MOST_TRIES {
                return self.set_aside(chat, key, heard).await;
            }
        }
    }

    /// One try, in a task of its own: a panic there ends the try and nothing else, and a browser that hangs up does
    /// not end it half way.
    async fn try_turn(&self, chat: &ChatId, key: &InboxKey, heard: &Heard) -> Result<Worked, AppError> {
        let (app, chat, key) = (self.app.clone(), chat.clone(), key.clone());
        let (content, goes) = (heard.content.clone(), Goes::Page(Some(heard.clone())));
        let turn = tokio::spawn(async move { app.hear(&chat, content, Some(key), goes).await });
        turn.await.unwrap_or(Err(AppError::Panicked))
    }

    async fn set_aside(&self, chat: &ChatId, key: InboxKey, heard: Heard) -> Result<(), AppError> {
        let note = Draft::of(Note::new("our-fault"));
        let say = self.app.voice(&Session::default()).speak(&note, 0);
        let mut transcript = self.app.transcript(chat).await?;
        transcript.add(Line::You(heard.shown));
        transcript.add(Line::Bot(say));
        transcript.worked(heard.id);
        let shown = transcript_changes(chat, &transcript)?;
        match self.app.store.set_aside_saying(key.clone(), Vec::new(), shown).await {
            // Worked or set aside by somebody who was faster.
            Err(StoreError::NotWaiting(_)) => return Ok(()),
            set => set?,
        }
        metrics::counter!("lapwise_set_aside_total").increment(1);
        tracing::error!(alert = true, key = key.0, "a message was set aside for a person to look at");
        Ok(())
    }

    async fn said_in(&self, chat: &ChatId, after: u64) -> Result<Vec<Entry>, AppError> {
        let transcript = self.app.transcript(chat).await?;
        let entry = |(number, line): (u64, &Line)| Entry {
            number,
            spoken: match line {
                Line::You(text) => Spoken::You(text.clone()),
                Line::Bot(say) => Spoken::Bot(say.clone()),
            },
        };
        Ok(transcript.after(after).map(entry).collect())
    }

    async fn answer_in(&self, token: &str, marks: &[Mark]) -> Result<Answered, AppError> {
        let Some(chat) = self.app.owner_of(token).await? else { return Ok(Answered::Gone) };
        let _alone = self.lock(&chat).await;
        self.app.take_answer(token, marks).await
    }

    /// A file that the page shows, made now.
    async fn file_in(&self, chat: &ChatId, digest: &str) -> Result<Option<File>, AppError> {
        let transcript = self.app.transcript(chat).await?;
        let shown = transcript.lines.into_iter().rev().filter_map(|line| match line {
            Line::Bot(say) => Some(say.files),
            Line::You(_) => None,
        });
        let of_digest = |name: &str| name.split_once('/').is_some_and(|(named, _)| named == digest);
        let Some(mut file) = shown.flatten().find(|file| of_digest(&file.name)) else { return Ok(None) };
        if file.recipe.is_none() {
            return self.kept_file(chat, digest).await;
        }
        file.name = file.name.split_once('/').map(|(_, name)| name.to_owned()).unwrap_or_default();
        let made = self.app.made(chat, vec![file]).await?;
        Ok(made.into_iter().next().map(|file| File { media_type: file.media_type, bytes: file.bytes }))
    }

    /// A file that an earlier version kept.
    async fn kept_file(&self, chat: &ChatId, digest: &str) -> Result<Option<File>, AppError> {
        let name = format!("{KEPT_FILE}{chat}/{digest}");
        let Some(other) = self.app.store.get_other(name).await? else { return Ok(None) };
        if other.owner.as_ref() != Some(chat) {
            return Ok(None);
        }
        let mut parts = other.value.splitn(2, |byte| *byte == b'\n');
        let (Some(media_type), Some(bytes)) = (parts.next(), parts.next()) else { return Ok(None) };
        let media_type = String::from_utf8_lossy(media_type).into_owned();
        Ok(Some(File { media_type, bytes: bytes.to_vec() }))
    }
}

fn count_turn(outcome: &'static str) {
    metrics::counter!("lapwise_turns_total", "outcome" => outcome).increment(1);
}

/// The key of a message to a page. A page sends one at a time, so these need not be sorted by age.
fn key_of(chat: &ChatId, id: &str) -> InboxKey {
    let digest = Sha256::digest(format!("{chat}\n{id}"));
    InboxKey(format!("{INBOX}{}", HEXLOWER.encode(&digest)))
}

impl<S: Store> Turns for Page<S> {
    async fn turn(&self, inbound: Inbound) -> Result<Replied, TurnFault> {
        self.app.turn(inbound).await
    }
}

impl<S: Store> Rooms for Page<S> {
    fn welcome(&self) -> Vec<Say> {
        self.app.greeting()
    }

    async fn said(&self, chat: ChatId, after: u64) -> Result<Vec<Entry>, TurnFault> {
        self.said_in(&chat, after).await.map_err(|error| fault(&error))
    }

    async fn hear(&self, inbound: Inbound, shown: String) -> Result<(), TurnFault> {
        self.hear_in(&inbound, shown).await.map_err(|error| fault(&error))
    }

    async fn file(&self, chat: ChatId, digest: String) -> Result<Option<File>, TurnFault> {
        self.file_in(&chat, &digest).await.map_err(|error| fault(&error))
    }

    async fn sheet(&self, token: String) -> Result<Option<Sheet>, TurnFault> {
        self.app.sheet(&token).await.map_err(|error| fault(&error))
    }

    async fn answer(&self, token: String, marks: Vec<Mark>) -> Result<Answered, TurnFault> {
        self.answer_in(&token, &marks).await.map_err(|error| fault(&error))
    }

    async fn ready(&self) -> bool {
        self.app.store.ready().await.is_ok()
    }
}
