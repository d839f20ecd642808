//! Erasing a chat: everything that carries its tag, its key first of all; and what is told before that.

use super::place::{kind, place};
use super::value::Head;
use super::{Changes, Ledger};
use crate::message::ChatId;
use crate::store::seal::Tag;
use crate::store::{Erased, Notice, StoreError};

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
            changes.push((at, None));
            erased.outbox += 1;
        }
        let worked = self.shelf.all(&place(kind::WORKED, &[&tag]))?.into_iter().map(|(at, _)| at);
        let waiting = self.unworked(kind::QUEUE, &tag)?;
        for at in worked.chain(waiting).chain(self.unworked(kind::ASIDE, &tag)?) {
            changes.push((at, None));
            erased.inbox += 1;
        }
        for (mark, _) in self.shelf.all(&place(kind::OTHER_OF, &[&tag]))? {
            changes.push((place(kind::OTHER, &[mark.get(17..).unwrap_or_default()]), None));
            changes.push((mark, None));
            erased.other += 1;
        }
        Ok((changes, erased))
    }

    /// Tells a chat something if it is still quiet: not a turn, so its head stays as it is.
    pub(in crate::store) fn notify(&self, notice: &Notice) -> Result<(Changes, bool), StoreError> {
        let tag = self.tag(&notice.chat);
        let quiet = self.head(&tag)?.is_some_and(|Head { last, .. }| last == notice.last);
        let Some(chat) = self.chat_at(tag)?.filter(|_| quiet) else { return Ok((Changes::new(), false)) };
        if !self.unworked(kind::QUEUE, &tag)?.is_empty() {
            return Ok((Changes::new(), false));
        }
        let mut changes = Changes::new();
        for other in &notice.others {
            changes.extend(self.put_other(other)?.0);
        }
        self.queue_says(&chat, &notice.says, &mut changes)?;
        Ok((changes, true))
    }

    /// Erases a chat if it is still idle and none of its messages waits to be worked.
    pub(in crate::store) fn expire(
        &self,
        id: &ChatId,
        before: u64,
    ) -> Result<(Changes, Option<Erased>), StoreError> {
        let tag = self.tag(id);
        let idle = self.head(&tag)?.is_some_and(|Head { last, .. }| last < before);
        if !idle || !self.unworked(kind::QUEUE, &tag)?.is_empty() {
            return Ok((Changes::new(), None));
        }
        let (changes, erased) = self.erase_at(tag)?;
        Ok((changes, Some(erased)))
    }
}
