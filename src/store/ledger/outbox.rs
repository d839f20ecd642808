//! Messages to be sent.

use super::place::{kind, number_after_tag, place, tag_of};
use super::{Changes, Chat, Ledger};
use crate::message::ChatId;
use crate::store::{OutboxKey, StoreError, Waiting};

impl Ledger<'_> {
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
        for say in says {
            let at = place(kind::SAY, &[&chat.tag, &next.to_be_bytes()]);
            changes.push((at.clone(), Some(chat.seal.close(&at, say)?)));
            next += 1;
        }
        changes.push((place(kind::META, &[b"next"]), Some(next.to_be_bytes().to_vec())));
        Ok(())
    }

    pub(in crate::store) fn waiting(&self, limit: usize) -> Result<Vec<Waiting>, StoreError> {
        let mut oldest = Vec::new();
        let mut from = vec![kind::SAY];
        while let Some((at, closed)) = self.shelf.range(&[kind::SAY], &from, 1)?.pop() {
            let tag = tag_of(&at)?;
            // On to the next chat: no sequence is as high as that.
            from = place(kind::SAY, &[&tag, &u64::MAX.to_be_bytes()]);
            oldest.push((sequence(&at)?, tag, at, closed));
        }
        oldest.sort_unstable();
        oldest.truncate(limit);
        let mut waiting = Vec::new();
        for (sequence, tag, at, closed) in oldest {
            match self.chat_at(tag)?.map(|chat| Ok((chat.seal.open(&at, &closed)?, chat.id))) {
                Some(Ok((say, chat))) => waiting.push(Waiting { key: OutboxKey { chat, sequence }, say }),
                Some(Err(fault)) if self.shelf.get(&at)?.as_ref() == Some(&closed) => return Err(fault),
                // Erased, and perhaps begun anew, since it was read.
                None | Some(Err(_)) => {}
            }
        }
        Ok(waiting)
    }

    pub(in crate::store) fn waiting_for(&self, id: &ChatId) -> Result<Vec<Waiting>, StoreError> {
        let waiting = self.with_chat(id, |chat, _| {
            let says = self.shelf.all(&place(kind::SAY, &[&chat.tag]))?.into_iter();
            let waiting = says.map(|(at, closed)| {
                let key = OutboxKey { chat: chat.id.clone(), sequence: sequence(&at)? };
                Ok(Waiting { key, say: chat.seal.open(&at, &closed)? })
            });
            waiting.collect()
        })?;
        Ok(waiting.unwrap_or_default())
    }

    pub(in crate::store) fn strike(&self, key: &OutboxKey) -> Result<(Changes, ()), StoreError> {
        let at = place(kind::SAY, &[&self.tag(&key.chat), &key.sequence.to_be_bytes()]);
        let is_there = self.shelf.get(&at)?.is_some();
        Ok((if is_there { vec![(at, None)] } else { Changes::new() }, ()))
    }
}

/// The sequence in a place of the outbox.
pub(super) fn sequence(at: &[u8]) -> Result<u64, StoreError> {
    number_after_tag(at)
        .ok_or_else(|| StoreError::Damaged("a place in the outbox is not readable".to_owned()))
}
