//! Messages to be sent. A mark stands for the oldest of each chat, so that ten thousand chats are seen at a glance.

use super::place::{kind, number_after_tag, number_and_tag, place};
use super::{Changes, Chat, Ledger};
use crate::message::ChatId;
use crate::store::seal::Tag;
use crate::store::{OutboxKey, StoreError, Waiting};

impl Ledger<'_> {
    /// The oldest message of a chat at or after a place that waits to be sent.
    fn first_say(&self, tag: &Tag, from: u64) -> Result<Option<u64>, StoreError> {
        let prefix = place(kind::SAY, &[tag]);
        let from = place(kind::SAY, &[tag, &from.to_be_bytes()]);
        let first = self.shelf.range(&prefix, &from, 1)?;
        Ok(first.first().and_then(|(at, _)| number_after_tag(at)))
    }

    pub(super) fn queue_says(
        &self,
        chat: &Chat,
        says: &[Vec<u8>],
        changes: &mut Changes,
    ) -> Result<(), StoreError> {
        if says.is_empty() {
            return Ok(());
        }
        let mut next = self.next_sequence()?;
        if self.first_say(&chat.tag, 0)?.is_none() {
            changes.push((place(kind::OLDEST, &[&next.to_be_bytes(), &chat.tag]), Some(Vec::new())));
        }
        for say in says {
            let at = place(kind::SAY, &[&chat.tag, &next.to_be_bytes()]);
            changes.push((at.clone(), Some(chat.seal.close(&at, say)?)));
            next += 1;
        }
        changes.push((place(kind::META, &[b"next"]), Some(next.to_be_bytes().to_vec())));
        Ok(())
    }

    pub(in crate::store) fn waiting(&self, limit: usize) -> Result<Vec<Waiting>, StoreError> {
        let mut waiting = Vec::new();
        for (mark, _) in self.shelf.range(&[kind::OLDEST], &[kind::OLDEST], limit)? {
            let (sequence, tag) = number_and_tag(&mark)
                .ok_or_else(|| StoreError::Damaged("a mark of the outbox is not readable".to_owned()))?;
            // Struck or erased since the range was read.
            let Some(chat) = self.chat_at(tag)? else { continue };
            let at = place(kind::SAY, &[&tag, &sequence.to_be_bytes()]);
            let Some(closed) = self.shelf.get(&at)? else { continue };
            let say = chat.seal.open(&at, &closed)?;
            waiting.push(Waiting { key: OutboxKey { chat: chat.id, sequence }, say });
        }
        Ok(waiting)
    }

    pub(in crate::store) fn waiting_for(&self, id: &ChatId) -> Result<Vec<Waiting>, StoreError> {
        let waiting = self.with_chat(id, |chat, _| {
            let says = self.shelf.all(&place(kind::SAY, &[&chat.tag]))?.into_iter();
            let waiting = says.map(|(at, closed)| {
                let sequence = number_after_tag(&at)
                    .ok_or_else(|| StoreError::Damaged("a place in the outbox is not readable".to_owned()))?;
                let say = chat.seal.open(&at, &closed)?;
                Ok(Waiting { key: OutboxKey { chat: chat.id.clone(), sequence }, say })
            });
            waiting.collect()
        })?;
        Ok(waiting.unwrap_or_default())
    }

    pub(in crate::store) fn strike(&self, key: &OutboxKey) -> Result<(Changes, ()), StoreError> {
        let tag = self.tag(&key.chat);
        let at = place(kind::SAY, &[&tag, &key.sequence.to_be_bytes()]);
        if self.shelf.get(&at)?.is_none() {
            return Ok((Changes::new(), ()));
        }
        let mut changes = vec![(at, None)];
        if self.first_say(&tag, 0)? == Some(key.sequence) {
            changes.push((place(kind::OLDEST, &[&key.sequence.to_be_bytes(), &tag]), None));
            if let Some(next) = self.first_say(&tag, key.sequence.saturating_add(1))? {
                changes.push((place(kind::OLDEST, &[&next.to_be_bytes(), &tag]), Some(Vec::new())));
            }
        }
        Ok((changes, ()))
    }
}
