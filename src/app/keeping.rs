//! How long chats are kept: who has been quiet is told, and two weeks later everything of theirs is deleted.
//!
//! What was told is kept with the chat in the same transaction that queues the words, so that no restart tells it
//! twice; it holds since when the chat was quiet, so that any later turn makes it void. Nothing is deleted before
//! the day that was told, however late it was told.

use serde_json::{Value, json};

use super::rooms::transcript_changes;
use super::shares::day_note;
use super::{App, AppError, OURS};
use crate::conversation::NOTICE_DAYS;
use crate::conversation::saying::Draft;
use crate::conversation::session::Session;
use crate::message::{ChatId, Say};
use crate::roofing::note::{Arg, Note};
use crate::store::record::write_say;
use crate::store::transcript::Line;
use crate::store::{Beside, Notice, Other, Store};

const DAY: u64 = 86_400;
/// Keys of worked messages are remembered so long: twice as long as a messenger sends one again.
const REMEMBERED: u64 = 2 * DAY;
/// The name of the note that something was erased and its bytes are still in the files.
const ERASED: &str = "erased";
/// Chats of the terminal begin with this: they are on the person's own computer, and theirs to delete.
const LOCAL: &str = "local:";
/// Chats in groups begin with this: nobody is spoken to there who did not ask.
const GROUP: &str = "telegram:-";

/// What a round of tidying came to.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Tidied {
    /// Chats that were told they will be deleted.
    pub told: usize,
    /// Chats that were deleted.
    pub deleted: usize,
    /// Keys of worked messages that were forgotten.
    pub forgotten: usize,
    /// Whether the files were written anew, without what had been erased.
    pub compacted: bool,
}

impl<S: Store> App<S> {
    /// Tells and deletes chats that have been quiet for long, and forgets what is no longer needed: to be called
    /// now and then.
    pub async fn tidy(&self) -> Result<Tidied, AppError> {
        let now = (self.clock)();
        let forgotten = self.store.forget_worked(now.saturating_sub(REMEMBERED)).await?;
        let mut tidied = Tidied { forgotten, ..Tidied::default() };
        if let Some(days) = self.keep_days {
            let keep = u64::from(days) * DAY;
            let tell_after = keep.saturating_sub(u64::from(NOTICE_DAYS) * DAY);
            for (chat, last) in self.store.chats().await? {
                if last.saturating_add(tell_after) > now || chat.as_str().starts_with(LOCAL) {
                    continue;
                }
                match self.told(&chat, last).await? {
                    None => tidied.told += usize::from(self.tell(&chat, last, keep, now).await?),
                    Some(from) if from <= now => {
                        tidied.deleted += usize::from(self.let_go(&chat, last).await?);
                    }
                    Some(_) => {}
                }
            }
        }
        tidied.compacted = self.compact_after_erasures(now).await?;
        Ok(tidied)
    }

    /// From when on a chat may be deleted, if it was told since it fell quiet.
    async fn told(&self, chat: &ChatId, last: u64) -> Result<Option<u64>, AppError> {
        let Some(told) = self.store.get_other(told_of(chat)).await? else { return Ok(None) };
        let told: Value = serde_json::from_slice(&told.value).unwrap_or_default();
        let number = |name: &str| told.get(name).and_then(Value::as_u64);
        Ok(number("deleted_from").filter(|_| number("quiet_since") == Some(last)))
    }

    async fn tell(&self, chat: &ChatId, last: u64, keep: u64, now: u64) -> Result<bool, AppError> {
        let from = last.saturating_add(keep).max(now.saturating_add(u64::from(NOTICE_DAYS) * DAY));
        let owned = |name, value| Other { name, owner: Some(chat.clone()), value };
        let told = json!({ "quiet_since": last, "deleted_from": from }).to_string().into_bytes();
        let mut notice =
            Notice { chat: chat.clone(), last, others: vec![owned(told_of(chat), told)], says: Vec::new() };
        let session = self.session(chat).await?.session;
        if session.answers() == 0 || chat.as_str().starts_with(GROUP) {
            // There is nothing to lose, or nobody to tell it to.
        } else if chat.as_str().starts_with(OURS) {
            let mut transcript = self.transcript(chat).await?;
            if transcript.last > 0 {
                transcript.add(Line::Bot(self.going_quiet(from)));
                let changes = transcript_changes(chat, &transcript)?.into_iter();
                notice.others.extend(changes.filter_map(|change| match change {
                    Beside::Put(other) => Some(other),
                    Beside::Remove(_) => None,
                }));
            }
        } else {
            notice.says.push(write_say(&self.going_quiet(from))?);
        }
        Ok(self.store.notify(notice).await?)
    }

    fn going_quiet(&self, from: u64) -> Say {
        let note = Note::new("going-quiet").with("day", Arg::Note(Box::new(day_note(from))));
        self.voice(&Session::default()).speak(&Draft::of(note), 0)
    }

    /// Deletes everything of a chat, if it is still as quiet as that.
    async fn let_go(&self, chat: &ChatId, last: u64) -> Result<bool, AppError> {
        self.note_erasure().await?;
        let gone = self.store.expire(chat.clone(), last.saturating_add(1)).await?.is_some();
        if gone {
            self.sessions.take(chat);
            self.census.left(chat);
        }
        Ok(gone)
    }

    /// Notes that the files hold bytes of something that is about to be erased.
    pub(super) async fn note_erasure(&self) -> Result<(), AppError> {
        if self.store.get_other(ERASED.to_owned()).await?.is_none() {
            let value = (self.clock)().to_string().into_bytes();
            self.store.put_other(Other { name: ERASED.to_owned(), owner: None, value }).await?;
        }
        Ok(())
    }

    /// Writes the files anew a day after something was erased: everybody waits meanwhile, so once a day at most.
    async fn compact_after_erasures(&self, now: u64) -> Result<bool, AppError> {
        let Some(noted) = self.store.get_other(ERASED.to_owned()).await? else { return Ok(false) };
        let at = String::from_utf8_lossy(&noted.value).parse().unwrap_or(0_u64);
        if at.saturating_add(DAY) > now {
            return Ok(false);
        }
        // Taken away first: what is erased while the files are written is noted anew.
        self.store.remove_other(ERASED.to_owned()).await?;
        self.store.compact().await?;
        Ok(true)
    }
}

fn told_of(chat: &ChatId) -> String {
    format!("told/{chat}")
}
