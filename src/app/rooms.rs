//! Chats for a page: each turn's words are kept beside its events, so that a page can be loaded again.
//!
//! The order of things makes a lost answer impossible and a doubled one harmless: a message is noted with the
//! revision the chat stands at, worked, and then shown. Whoever sends it again after a crash finds the note: where
//! the chat has moved on since, it was worked; where it has not, it is worked now.

use std::hash::{DefaultHasher, Hash as _, Hasher as _};

use data_encoding::HEXLOWER;
use sha2::{Digest, Sha256};
use tokio::sync::{Mutex, MutexGuard};

use super::{App, AppError, Shows, fault};
use crate::channel::rooms::{Entry, File, Rooms, Spoken};
use crate::channel::supplier::{Answered, Mark, Sheet};
use crate::channel::{Replied, TurnFault, Turns};
use crate::message::{ChatId, Content, Inbound, Say};
use crate::store::transcript::{self, Line, Transcript};
use crate::store::{Other, Revision, Store};

/// So many chats can be worked at once without waiting for one another by chance.
const LOCKS: usize = 256;
/// Chats of pages begin with this.
pub(super) const OURS: &str = "web:";

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

    /// One writer a chat.
    async fn lock(&self, chat: &ChatId) -> Option<MutexGuard<'_, ()>> {
        let mut hasher = DefaultHasher::new();
        chat.hash(&mut hasher);
        let count = u64::try_from(LOCKS).unwrap_or(1);
        let index = usize::try_from(hasher.finish() % count).unwrap_or_default();
        Some(self.locks.get(index)?.lock().await)
    }

    async fn transcript(&self, chat: &ChatId) -> Result<Transcript, AppError> {
        match self.app.store.get_other(transcript_of(chat)).await? {
            Some(other) => Ok(transcript::read(&other.value)?),
            None => Ok(Transcript::default()),
        }
    }

    async fn put(&self, chat: &ChatId, name: String, value: Vec<u8>) -> Result<(), AppError> {
        Ok(self.app.store.put_other(Other { name, owner: Some(chat.clone()), value }).await?)
    }

    async fn save(&self, chat: &ChatId, transcript: &Transcript) -> Result<(), AppError> {
        self.put(chat, transcript_of(chat), transcript::write(transcript)?).await
    }

    async fn revision(&self, chat: &ChatId) -> Result<Revision, AppError> {
        Ok(self.app.store.load(chat.clone()).await?.revision)
    }

    /// Works a message and adds what it says; the message itself is added by the caller.
    async fn turn_in(
        &self,
        chat: &ChatId,
        content: &Content,
        transcript: &mut Transcript,
    ) -> Result<(), AppError> {
        let inbound = Inbound { chat: chat.clone(), id: String::new(), content: content.clone() };
        let worked = self.app.work(&inbound, None, false).await?;
        if worked.revision == Revision::default() {
            // Everything was deleted, this transcript too: what is said of it is all that stays.
            *transcript = Transcript { last: transcript.last, ..Transcript::default() };
        }
        self.add(chat, transcript, worked.says, worked.revision).await
    }

    async fn add(
        &self,
        chat: &ChatId,
        transcript: &mut Transcript,
        says: Vec<Say>,
        revision: Revision,
    ) -> Result<(), AppError> {
        transcript.revision = revision.0;
        for mut say in says {
            for file in &mut say.files {
                let digest = HEXLOWER.encode(&Sha256::digest(&file.bytes));
                let value = [file.media_type.as_bytes(), b"\n", &file.bytes].concat();
                self.put(chat, file_of(chat, &digest), value).await?;
                file.bytes.clear();
                file.name = format!("{digest}/{}", file.name);
            }
            transcript.add(Line::Bot(say));
        }
        Ok(())
    }

    /// The transcript, brought up to where the chat stands: it may have fallen behind in a crash.
    async fn current(&self, chat: &ChatId) -> Result<(Transcript, Revision), AppError> {
        let mut transcript = self.transcript(chat).await?;
        let revision = self.revision(chat).await?;
        if transcript.revision != revision.0 {
            self.turn_in(chat, &start(), &mut transcript).await?;
            self.save(chat, &transcript).await?;
            return Ok((transcript, self.revision(chat).await?));
        }
        Ok((transcript, revision))
    }

    async fn hear_in(&self, inbound: &Inbound, shown: String) -> Result<(), AppError> {
        let chat = &inbound.chat;
        let _alone = self.lock(chat).await;
        let (mut transcript, mut revision) = self.current(chat).await?;
        if transcript.ids.contains(&inbound.id) {
            return Ok(());
        }
        if revision == Revision::default() {
            self.turn_in(chat, &start(), &mut transcript).await?;
            revision = Revision(transcript.revision);
        }
        let noted = self.app.store.get_other(noted_of(chat)).await?;
        let was_worked = noted.and_then(|noted| read_note(&noted.value, &inbound.id));
        transcript.add(Line::You(shown));
        if was_worked.is_some_and(|noted_at| noted_at < revision.0) {
            self.turn_in(chat, &start(), &mut transcript).await?;
        } else {
            self.put(chat, noted_of(chat), format!("{} {}", revision.0, inbound.id).into_bytes()).await?;
            self.turn_in(chat, &inbound.content, &mut transcript).await?;
        }
        transcript.worked(inbound.id.clone());
        self.save(chat, &transcript).await
    }

    async fn said_in(&self, chat: &ChatId, after: u64) -> Result<Vec<Entry>, AppError> {
        let transcript = {
            let _alone = self.lock(chat).await;
            self.current_if_any(chat).await?
        };
        let entry = |(number, line): (u64, &Line)| Entry {
            number,
            spoken: match line {
                Line::You(text) => Spoken::You(text.clone()),
                Line::Bot(say) => Spoken::Bot(say.clone()),
            },
        };
        Ok(transcript.after(after).map(entry).collect())
    }

    async fn current_if_any(&self, chat: &ChatId) -> Result<Transcript, AppError> {
        Ok(self.current(chat).await?.0)
    }

    async fn answer_in(&self, token: &str, marks: &[Mark]) -> Result<Answered, AppError> {
        let Some(chat) = self.app.owner_of(token).await? else { return Ok(Answered::Gone) };
        let _alone = self.lock(&chat).await;
        // A page is looked at; every other channel is sent what is said.
        let is_ours = chat.as_str().starts_with(OURS);
        let before = if is_ours { Some(self.current(&chat).await?.0) } else { None };
        let (answered, says, revision) = self.app.take_answer(token, marks, !is_ours).await?;
        if let (Answered::Told(_), Some(mut transcript)) = (&answered, before) {
            self.add(&chat, &mut transcript, says, revision).await?;
            self.save(&chat, &transcript).await?;
        }
        Ok(answered)
    }

    async fn file_in(&self, chat: &ChatId, digest: &str) -> Result<Option<File>, AppError> {
        let Some(other) = self.app.store.get_other(file_of(chat, digest)).await? else { return Ok(None) };
        if other.owner.as_ref() != Some(chat) {
            return Ok(None);
        }
        let mut parts = other.value.splitn(2, |byte| *byte == b'\n');
        let (Some(media_type), Some(bytes)) = (parts.next(), parts.next()) else { return Ok(None) };
        let media_type = String::from_utf8_lossy(media_type).into_owned();
        Ok(Some(File { media_type, bytes: bytes.to_vec() }))
    }
}

fn start() -> Content {
    Content::Text("/start".to_owned())
}

pub(super) fn transcript_of(chat: &ChatId) -> String {
    format!("transcript/{chat}")
}

fn noted_of(chat: &ChatId) -> String {
    format!("noted/{chat}")
}

fn file_of(chat: &ChatId, digest: &str) -> String {
    format!("file/{chat}/{digest}")
}

/// The revision at which a message was noted, where the note is of that message.
fn read_note(note: &[u8], id: &str) -> Option<u64> {
    let (revision, noted) = std::str::from_utf8(note).ok()?.split_once(' ')?;
    (noted == id).then(|| revision.parse().ok())?
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
        self.app.store.get_other("ready".to_owned()).await.is_ok()
    }
}
