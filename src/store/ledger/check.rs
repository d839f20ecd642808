//! Whether everything in the map fits together: asked after something had to be mended, and by the doctor.

use super::Ledger;
use super::place::{kind, number_after_tag, number_and_tag, place, tag_of};
use super::value::{Fate, Head, Remembered};
use crate::store::{Checked, StoreError};

impl Ledger<'_> {
    /// Opens every record and follows every mark.
    pub(in crate::store) fn check(&self) -> Result<Checked, StoreError> {
        let mut checked = Checked::default();
        self.shelf.each(&[kind::CHAT], &mut |at, _| {
            let chat = self.chat_at(tag_of(at)?)?;
            let found = chat.is_some_and(|chat| self.tag(&chat.id) == chat.tag);
            checked.chats += 1;
            needs(found, "a chat stands in another's place")
        })?;
        self.check_sessions(&mut checked)?;
        self.check_outbox(&mut checked)?;
        self.check_inbox(&mut checked)?;
        self.check_other(&mut checked)?;
        Ok(checked)
    }

    fn check_sessions(&self, checked: &mut Checked) -> Result<(), StoreError> {
        let mut events = 0;
        self.shelf.each(&[kind::HEAD], &mut |at, record| {
            let chat = self.chat_at(tag_of(at)?)?.ok_or_else(|| lost("the key of a chat is missing"))?;
            events += self.events(&chat, Head::read(record)?)?.len();
            Ok(())
        })?;
        checked.events = self.count(&[kind::EVENT])?;
        needs(checked.events == events, "an event belongs to no session")
    }

    fn check_outbox(&self, checked: &mut Checked) -> Result<(), StoreError> {
        let next = self.next_sequence()?;
        let mut chats_waiting = 0;
        let mut last = None;
        self.shelf.each(&[kind::SAY], &mut |at, closed| {
            let tag = tag_of(at)?;
            let chat = self.chat_at(tag)?.ok_or_else(|| lost("the key of a chat is missing"))?;
            chat.seal.open(at, closed)?;
            let sequence = number_after_tag(at).unwrap_or(u64::MAX);
            needs(sequence < next, "the outbox is ahead of its count")?;
            checked.outbox += 1;
            if last.replace(tag) == Some(tag) {
                return Ok(());
            }
            chats_waiting += 1;
            let mark = place(kind::OLDEST, &[&sequence.to_be_bytes(), &tag]);
            needs(self.shelf.get(&mark)?.is_some(), "a message to be sent is not marked")
        })?;
        self.shelf.each(&[kind::OLDEST], &mut |mark, _| {
            needs(number_and_tag(mark).is_some(), "a mark of the outbox is not readable")
        })?;
        needs(self.count(&[kind::OLDEST])? == chats_waiting, "a mark of the outbox points nowhere")
    }

    fn check_inbox(&self, checked: &mut Checked) -> Result<(), StoreError> {
        let mut waiting = 0;
        let mut aside = 0;
        self.shelf.each(&[kind::INBOX], &mut |at, record| {
            let name = at.get(1..).unwrap_or_default();
            let Remembered { fate, tag } = Remembered::read(record)?;
            let mark = place(kind::INBOX_OF, &[&tag, name]);
            needs(self.shelf.get(&mark)?.is_some(), "a message kept is not marked")?;
            checked.inbox += 1;
            let kind = match fate {
                Fate::Worked(_) => return Ok(()),
                Fate::Waits => {
                    waiting += 1;
                    kind::QUEUE
                }
                Fate::Aside => {
                    aside += 1;
                    kind::ASIDE
                }
            };
            let queued = place(kind, &[name]);
            let message = self.shelf.get(&queued)?.map(|value| self.message(&queued, &value)).transpose()?;
            needs(message.flatten().is_some(), "a message kept is not there")
        })?;
        needs(self.count(&[kind::QUEUE])? == waiting, "a message waits that was not kept")?;
        needs(self.count(&[kind::ASIDE])? == aside, "a message is aside that was not kept")?;
        needs(self.count(&[kind::INBOX_OF])? == checked.inbox, "a mark of the inbox points nowhere")
    }

    fn check_other(&self, checked: &mut Checked) -> Result<(), StoreError> {
        self.shelf.each(&[kind::OTHER], &mut |at, record| {
            let other = self.open_other(at, record)?.ok_or_else(|| lost("the key of a chat is missing"))?;
            needs(self.other_at(&other.name) == at, "a note stands in another's place")?;
            checked.other += 1;
            Ok(())
        })?;
        needs(self.count(&[kind::OTHER_OF])? == checked.other, "a mark of the notes points nowhere")
    }

    fn count(&self, prefix: &[u8]) -> Result<usize, StoreError> {
        let mut count = 0;
        self.shelf.each(prefix, &mut |_, _| {
            count += 1;
            Ok(())
        })?;
        Ok(count)
    }
}

fn lost(what: &str) -> StoreError {
    StoreError::Damaged(what.to_owned())
}

fn needs(holds: bool, otherwise: &str) -> Result<(), StoreError> {
    if holds { Ok(()) } else { Err(lost(otherwise)) }
}
