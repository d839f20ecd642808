//! Messages that came in: kept before they are acknowledged, worked once, remembered for a while.

use super::place::{kind, place, text_after};
use super::value::{Fate, Remembered, read_tried, write_tried};
use super::{Changes, Chat, Ledger};
use crate::message::ChatId;
use crate::store::{Arrived, InboxKey, Kept, StoreError};

impl Ledger<'_> {
    pub(in crate::store) fn keep(
        &self,
        key: &InboxKey,
        id: &ChatId,
        inbound: &[u8],
    ) -> Result<(Changes, Kept), StoreError> {
        let name = key.0.as_bytes();
        let at = place(kind::INBOX, &[name]);
        if self.shelf.get(&at)?.is_some() {
            return Ok((Changes::new(), Kept::Repeat));
        }
        let mut changes = Changes::new();
        let chat = self.chat_or_new(id, &mut changes)?;
        // Closed for its place in the inbox, so that it can be set aside as it is.
        let closed = chat.seal.close(&at, inbound)?;
        changes.push((place(kind::QUEUE, &[name]), Some(write_tried(0, &closed))));
        changes.push((at, Some(Remembered { fate: Fate::Waits, tag: chat.tag }.write())));
        changes.push((place(kind::INBOX_OF, &[&chat.tag, name]), Some(Vec::new())));
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

    pub(super) fn message(&self, at: &[u8], value: &[u8]) -> Result<Option<Arrived>, StoreError> {
        let key = text_after(1, at)
            .map(InboxKey)
            .ok_or_else(|| StoreError::Damaged("the key of a message is not readable".to_owned()))?;
        let Some(Remembered { tag, .. }) = self.remembered(&key)? else { return Ok(None) };
        let Some(chat) = self.chat_at(tag)? else { return Ok(None) };
        let (tries, closed) = read_tried(value)?;
        let inbound = chat.seal.open(&place(kind::INBOX, &[key.0.as_bytes()]), closed)?;
        Ok(Some(Arrived { key, chat: chat.id, inbound, tries }))
    }

    fn remembered(&self, key: &InboxKey) -> Result<Option<Remembered>, StoreError> {
        let record = self.shelf.get(&place(kind::INBOX, &[key.0.as_bytes()]))?;
        record.map(|record| Remembered::read(&record)).transpose()
    }

    /// A message that waits to be worked: its chat's tag, its tries and the closed message.
    fn queued(&self, key: &InboxKey) -> Result<(Remembered, Vec<u8>), StoreError> {
        let not_waiting = || StoreError::NotWaiting(key.clone());
        let remembered = self.remembered(key)?.ok_or_else(not_waiting)?;
        let queued = self.shelf.get(&place(kind::QUEUE, &[key.0.as_bytes()]))?.ok_or_else(not_waiting)?;
        Ok((remembered, queued))
    }

    pub(in crate::store) fn failed(&self, key: &InboxKey) -> Result<(Changes, u32), StoreError> {
        let (_, queued) = self.queued(key)?;
        let (tries, closed) = read_tried(&queued)?;
        let tries = tries.saturating_add(1);
        let at = place(kind::QUEUE, &[key.0.as_bytes()]);
        Ok((vec![(at, Some(write_tried(tries, closed)))], tries))
    }

    pub(in crate::store) fn set_aside(&self, key: &InboxKey) -> Result<(Changes, ()), StoreError> {
        let name = key.0.as_bytes();
        let (remembered, queued) = self.queued(key)?;
        let remembered = Remembered { fate: Fate::Aside, ..remembered };
        let changes = vec![
            (place(kind::QUEUE, &[name]), None),
            (place(kind::ASIDE, &[name]), Some(queued)),
            (place(kind::INBOX, &[name]), Some(remembered.write())),
        ];
        Ok((changes, ()))
    }

    /// Marks a message of a chat worked.
    pub(super) fn worked(&self, key: &InboxKey, chat: &Chat, now: u64) -> Result<Changes, StoreError> {
        let name = key.0.as_bytes();
        let (remembered, _) = self.queued(key)?;
        if remembered.tag != chat.tag {
            return Err(StoreError::NotWaiting(key.clone()));
        }
        let remembered = Remembered { fate: Fate::Worked(now), ..remembered };
        Ok(vec![(place(kind::QUEUE, &[name]), None), (place(kind::INBOX, &[name]), Some(remembered.write()))])
    }

    /// The keys of messages worked before a time.
    pub(in crate::store) fn worked_before(&self, before: u64) -> Result<Vec<InboxKey>, StoreError> {
        let mut keys = Vec::new();
        self.shelf.each(&[kind::INBOX], &mut |at, record| {
            if Remembered::read(record)?.worked_before(before) {
                keys.extend(text_after(1, at).map(InboxKey));
            }
            Ok(())
        })?;
        Ok(keys)
    }

    /// Forgets those of some keys whose messages were worked before a time.
    pub(in crate::store) fn forget_worked(
        &self,
        keys: &[InboxKey],
        before: u64,
    ) -> Result<(Changes, usize), StoreError> {
        let mut changes = Changes::new();
        for key in keys {
            if let Some(remembered) = self.remembered(key)?.filter(|found| found.worked_before(before)) {
                let name = key.0.as_bytes();
                changes.push((place(kind::INBOX, &[name]), None));
                changes.push((place(kind::INBOX_OF, &[&remembered.tag, name]), None));
            }
        }
        let forgotten = changes.len() / 2;
        Ok((changes, forgotten))
    }
}
