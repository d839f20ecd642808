//! Whether everything in the map fits together: asked after something had to be mended, and by the doctor.

use std::collections::BTreeSet;

use super::Ledger;
use super::outbox::sequence;
use super::place::{kind, tag_of};
use super::value::{Head, number};
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
        self.check_sizes()?;
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
        self.shelf.each(&[kind::SAY], &mut |at, closed| {
            let chat = self.chat_at(tag_of(at)?)?.ok_or_else(|| lost("the key of a chat is missing"))?;
            chat.seal.open(at, closed)?;
            checked.outbox += 1;
            needs(sequence(at)? < next, "the outbox is ahead of its count")
        })
    }

    fn check_inbox(&self, checked: &mut Checked) -> Result<(), StoreError> {
        let mut unworked = BTreeSet::new();
        for kind in [kind::QUEUE, kind::ASIDE] {
            self.shelf.each(&[kind], &mut |at, value| {
                let message = self.message(at, value)?;
                let message = message.ok_or_else(|| lost("the key of a chat is missing"))?;
                needs(unworked.insert(message.key.0), "a message is both in the queue and aside")
            })?;
        }
        checked.inbox = unworked.len();
        self.shelf.each(&[kind::WORKED], &mut |at, worked| {
            number(worked)?;
            checked.inbox += 1;
            needs(self.chat_at(tag_of(at)?)?.is_some(), "the key of a chat is missing")?;
            let key = at.get(17..).and_then(|key| std::str::from_utf8(key).ok());
            needs(!key.is_some_and(|key| unworked.contains(key)), "a message worked is still to be worked")
        })
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
