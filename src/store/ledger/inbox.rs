//! Messages that came in: kept before they are acknowledged, worked once, remembered for a while.
//!
//! A message stands in one place only: in the queue, aside, or among what its chat has had worked.

use super::place::{kind, place};
use super::value::{Queued, number};
use super::{Changes, Chat, Ledger};
use crate::message::ChatId;
use crate::store::seal::Tag;
use crate::store::{Arrived, Beside, InboxKey, Kept, StoreError};

fn queue(key: &InboxKey) -> Vec<u8> {
    place(kind::QUEUE, &[key.0.as_bytes()])
}

fn aside(key: &InboxKey) -> Vec<u8> {
    place(kind::ASIDE, &[key.0.as_bytes()])
}

impl Ledger<'_> {
    pub(in crate::store) fn keep(
        &self,
        key: &InboxKey,
        id: &ChatId,
        inbound: &[u8],
    ) -> Result<(Changes, Kept), StoreError> {
        let mut changes = Changes::new();
        let chat = self.chat_or_new(id, &mut changes)?;
        let at = queue(key);
        for known in [&at, &aside(key), &place(kind::WORKED, &[&chat.tag, key.0.as_bytes()])] {
            if self.shelf.get(known)?.is_some() {
                return Ok((Changes::new(), Kept::Repeat));
            }
        }
        let closed = chat.seal.close(&at, inbound)?;
        changes.push((at, Some(Queued { tag: chat.tag, tries: 0, closed: &closed }.write())));
        Ok((changes, Kept::New))
    }

    pub(in crate::store) fn arrived(&self, limit: usize) -> Result<Vec<Arrived>, StoreError> {
        self.messages(kind::QUEUE, limit)
    }

    pub(in crate::store) fn aside(&self, limit: usize) -> Result<Vec<Arrived>, StoreError> {
        self.messages(kind::ASIDE, limit)
    }

    fn messages(&self, kind: u8, limit: usize) -> Result<Vec<Arrived>, StoreError> {
        let mut arrived = Vec::new();
        for (at, value) in self.shelf.range(&[kind], &[kind], limit)? {
            match self.message(&at, &value) {
                Ok(Some(message)) => arrived.push(message),
                Err(fault) if self.shelf.get(&at)?.as_ref() == Some(&value) => return Err(fault),
                // It has gone, or its chat begun anew, since the range was read.
                Ok(None) | Err(_) => {}
            }
        }
        Ok(arrived)
    }

    /// A message in the queue or aside; `None` where its chat has been erased.
    pub(super) fn message(&self, at: &[u8], value: &[u8]) -> Result<Option<Arrived>, StoreError> {
        let name = at.get(1..).and_then(|name| String::from_utf8(name.to_vec()).ok());
        let key = name
            .map(InboxKey)
            .ok_or_else(|| StoreError::Damaged("the key of a message is not readable".to_owned()))?;
        let Queued { tag, tries, closed } = Queued::read(value)?;
        let Some(chat) = self.chat_at(tag)? else { return Ok(None) };
        // Closed for its place in the queue, so that it can be set aside as it is.
        let inbound = chat.seal.open(&queue(&key), closed)?;
        Ok(Some(Arrived { key, chat: chat.id, inbound, tries }))
    }

    fn queued(&self, key: &InboxKey) -> Result<Vec<u8>, StoreError> {
        self.shelf.get(&queue(key))?.ok_or_else(|| StoreError::NotWaiting(key.clone()))
    }

    pub(in crate::store) fn failed(&self, key: &InboxKey) -> Result<(Changes, u32), StoreError> {
        let record = self.queued(key)?;
        let queued = Queued::read(&record)?;
        let tries = queued.tries.saturating_add(1);
        Ok((vec![(queue(key), Some(Queued { tries, ..queued }.write()))], tries))
    }

    pub(in crate::store) fn set_aside(&self, key: &InboxKey) -> Result<(Changes, ()), StoreError> {
        let queued = self.queued(key)?;
        Ok((vec![(queue(key), None), (aside(key), Some(queued))], ()))
    }

    /// Sets a message aside, with what is said of it to its chat.
    pub(in crate::store) fn set_aside_saying(
        &self,
        key: &InboxKey,
        says: &[Vec<u8>],
        beside: &[Beside],
    ) -> Result<(Changes, ()), StoreError> {
        let (mut changes, ()) = self.set_aside(key)?;
        // Nothing is said to a chat that has been erased.
        let Some(chat) = self.chat_at(Queued::read(&self.queued(key)?)?.tag)? else {
            return Ok((changes, ()));
        };
        self.queue_says(&chat, says, &mut changes)?;
        Ok((self.beside(changes, beside)?, ()))
    }

    /// Puts a message that was set aside back into the queue, as if it had never been tried.
    pub(in crate::store) fn put_back(&self, key: &InboxKey) -> Result<(Changes, ()), StoreError> {
        let record = self.shelf.get(&aside(key))?.ok_or_else(|| StoreError::NotWaiting(key.clone()))?;
        let queued = Queued { tries: 0, ..Queued::read(&record)? };
        Ok((vec![(aside(key), None), (queue(key), Some(queued.write()))], ()))
    }

    /// Lets go of a message that was set aside: as good as worked.
    pub(in crate::store) fn drop_aside(&self, key: &InboxKey, now: u64) -> Result<(Changes, ()), StoreError> {
        let record = self.shelf.get(&aside(key))?.ok_or_else(|| StoreError::NotWaiting(key.clone()))?;
        let worked = place(kind::WORKED, &[&Queued::read(&record)?.tag, key.0.as_bytes()]);
        Ok((vec![(aside(key), None), (worked, Some(now.to_be_bytes().to_vec()))], ()))
    }

    /// Marks a message of a chat worked.
    pub(super) fn worked(&self, key: &InboxKey, chat: &Chat, now: u64) -> Result<Changes, StoreError> {
        if Queued::read(&self.queued(key)?)?.tag != chat.tag {
            return Err(StoreError::NotWaiting(key.clone()));
        }
        let worked = place(kind::WORKED, &[&chat.tag, key.0.as_bytes()]);
        Ok(vec![(queue(key), None), (worked, Some(now.to_be_bytes().to_vec()))])
    }

    /// Where messages of a chat stand that are not worked, in the queue or aside.
    pub(super) fn unworked(&self, kind: u8, tag: &Tag) -> Result<Vec<Vec<u8>>, StoreError> {
        let mut found = Vec::new();
        self.shelf.each(&[kind], &mut |at, value| {
            if Queued::read(value)?.tag == *tag {
                found.push(at.to_vec());
            }
            Ok(())
        })?;
        Ok(found)
    }

    /// The marks of messages worked before a time.
    pub(in crate::store) fn worked_before(&self, before: u64) -> Result<Vec<Vec<u8>>, StoreError> {
        let mut marks = Vec::new();
        self.shelf.each(&[kind::WORKED], &mut |mark, at| {
            if number(at)? < before {
                marks.push(mark.to_vec());
            }
            Ok(())
        })?;
        Ok(marks)
    }

    /// Forgets those of some marks whose messages were worked before a time.
    pub(in crate::store) fn forget_worked(
        &self,
        marks: &[Vec<u8>],
        before: u64,
    ) -> Result<(Changes, usize), StoreError> {
        let mut changes = Changes::new();
        for mark in marks {
            // Erased, and worked once more, since it was found.
            if let Some(at) = self.shelf.get(mark)?
                && number(&at)? < before
            {
                changes.push((mark.clone(), None));
            }
        }
        let forgotten = changes.len();
        Ok((changes, forgotten))
    }
}
