//! Erasing a chat: everything that carries its tag, its key first of all.

use super::place::{kind, number_after_tag, place};
use super::value::{Fate, Head, Remembered};
use super::{Changes, Ledger};
use crate::message::ChatId;
use crate::store::seal::Tag;
use crate::store::{Erased, StoreError};

impl Ledger<'_> {
    pub(in crate::store) fn erase(&self, id: &ChatId) -> Result<(Changes, Erased), StoreError> {
        self.erase_at(self.tag(id))
    }

    fn erase_at(&self, tag: Tag) -> Result<(Changes, Erased), StoreError> {
        let mut changes = vec![(place(kind::CHAT, &[&tag]), None), (place(kind::HEAD, &[&tag]), None)];
        let mut erased = Erased::default();
        for (at, _) in self.shelf.all(&place(kind::EVENT, &[&tag]))? {
            changes.push((at, None));
            erased.events += 1;
        }
        for (at, _) in self.shelf.all(&place(kind::SAY, &[&tag]))? {
            if let Some(sequence) = number_after_tag(&at) {
                changes.push((place(kind::OLDEST, &[&sequence.to_be_bytes(), &tag]), None));
            }
            changes.push((at, None));
            erased.outbox += 1;
        }
        for (mark, _) in self.shelf.all(&place(kind::INBOX_OF, &[&tag]))? {
            let name = mark.get(17..).unwrap_or_default();
            for kind in [kind::INBOX, kind::QUEUE, kind::ASIDE] {
                changes.push((place(kind, &[name]), None));
            }
            changes.push((mark, None));
            erased.inbox += 1;
        }
        for (mark, _) in self.shelf.all(&place(kind::OTHER_OF, &[&tag]))? {
            changes.push((place(kind::OTHER, &[mark.get(17..).unwrap_or_default()]), None));
            changes.push((mark, None));
            erased.other += 1;
        }
        Ok((changes, erased))
    }

    /// The chats that were last committed to before a time.
    pub(in crate::store) fn idle(&self, before: u64) -> Result<Vec<ChatId>, StoreError> {
        let chats = self.chats()?.into_iter();
        Ok(chats.filter(|(_, last)| *last < before).map(|(id, _)| id).collect())
    }

    /// Erases a chat if it is still idle and none of its messages waits to be worked.
    pub(in crate::store) fn expire(
        &self,
        id: &ChatId,
        before: u64,
    ) -> Result<(Changes, Option<Erased>), StoreError> {
        let tag = self.tag(id);
        let idle = self.head(&tag)?.is_some_and(|Head { last, .. }| last < before);
        if !idle || self.has_unworked(&tag)? {
            return Ok((Changes::new(), None));
        }
        let (changes, erased) = self.erase_at(tag)?;
        Ok((changes, Some(erased)))
    }

    fn has_unworked(&self, tag: &Tag) -> Result<bool, StoreError> {
        for (mark, _) in self.shelf.all(&place(kind::INBOX_OF, &[tag]))? {
            let at = place(kind::INBOX, &[mark.get(17..).unwrap_or_default()]);
            let remembered = self.shelf.get(&at)?.map(|record| Remembered::read(&record)).transpose()?;
            if matches!(remembered, Some(Remembered { fate: Fate::Waits, .. })) {
                return Ok(true);
            }
        }
        Ok(false)
    }
}
