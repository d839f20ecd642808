//! Sessions: events in order, and the one transaction that a turn is.

use super::place::{kind, place, tag_of};
use super::value::{Head, number};
use super::{Changes, Chat, Ledger, Overlay};
use crate::message::ChatId;
use crate::store::seal::Tag;
use crate::store::{Beside, Commit, Revision, StoreError, StoredSession};

/// How often a session is read anew when it changes while it is read.
const READ_AGAIN: usize = 8;

impl Ledger<'_> {
    pub(super) fn head(&self, tag: &Tag) -> Result<Option<Head>, StoreError> {
        self.shelf.get(&place(kind::HEAD, &[tag]))?.map(|record| Head::read(&record)).transpose()
    }

    pub(in crate::store) fn load(&self, id: &ChatId) -> Result<StoredSession, StoreError> {
        let session = self.with_chat(id, |chat, head| {
            let events = self.events(chat, head)?;
            Ok(StoredSession { revision: Revision(head.revision), events })
        })?;
        Ok(session.unwrap_or_default())
    }

    /// Reads something of a chat, and once more where the chat was erased and begun anew meanwhile: half of one
    /// and half of the other looks like damage.
    pub(super) fn with_chat<T>(
        &self,
        id: &ChatId,
        read: impl Fn(&Chat, Head) -> Result<T, StoreError>,
    ) -> Result<Option<T>, StoreError> {
        let tag = self.tag(id);
        let found = || Ok((self.shelf.get(&place(kind::CHAT, &[&tag]))?, self.head(&tag)?));
        for _ in 0..READ_AGAIN {
            let before = found()?;
            let Some(chat) = self.chat_at(tag)? else { return Ok(None) };
            match read(&chat, before.1.unwrap_or_default()) {
                Err(fault) if found()? == before => return Err(fault),
                Err(_) => {}
                Ok(read) => return Ok(Some(read)),
            }
        }
        Err(StoreError::Io("the chat changes too fast to be read".to_owned()))
    }

    /// The events a head speaks of; those added since do not count.
    pub(super) fn events(&self, chat: &Chat, head: Head) -> Result<Vec<Vec<u8>>, StoreError> {
        let prefix = place(kind::EVENT, &[&chat.tag]);
        let wanted = usize::try_from(head.events).unwrap_or(usize::MAX);
        let mut events = Vec::new();
        for (index, (at, closed)) in (0_u64..).zip(self.shelf.range(&prefix, &prefix, wanted)?) {
            if !at.ends_with(&index.to_be_bytes()) {
                break;
            }
            events.push(chat.seal.open(&at, &closed)?);
        }
        if events.len() == wanted {
            Ok(events)
        } else {
            Err(StoreError::Damaged(format!("of {wanted} events of a chat, {} are there", events.len())))
        }
    }

    pub(in crate::store) fn commit(&self, commit: &Commit) -> Result<(Changes, Revision), StoreError> {
        let mut changes = Changes::new();
        let chat = self.chat_or_new(&commit.chat, &mut changes)?;
        let mut head = self.head(&chat.tag)?.unwrap_or_default();
        if head.revision != commit.read_at.0 {
            return Err(StoreError::Conflict { read_at: commit.read_at, found: Revision(head.revision) });
        }
        if let Some(key) = &commit.worked {
            changes.extend(self.worked(key, &chat, commit.now)?);
        }
        for event in &commit.events {
            let at = place(kind::EVENT, &[&chat.tag, &head.events.to_be_bytes()]);
            changes.push((at.clone(), Some(chat.seal.close(&at, event)?)));
            head.events += 1;
        }
        self.queue_says(&chat, &commit.says, &mut changes)?;
        head.revision += 1;
        head.last = commit.now;
        changes.push((place(kind::HEAD, &[&chat.tag]), Some(head.write())));
        Ok((changes, Revision(head.revision)))
    }

    /// A turn and what is kept beside it: each change sees those before it.
    pub(in crate::store) fn commit_with(
        &self,
        commit: &Commit,
        beside: &[Beside],
    ) -> Result<(Changes, Revision), StoreError> {
        let (changes, revision) = self.commit(commit)?;
        Ok((self.beside(changes, beside)?, revision))
    }

    /// Some changes with what is kept beside them.
    pub(super) fn beside(&self, changes: Changes, beside: &[Beside]) -> Result<Changes, StoreError> {
        let mut overlay = Overlay::new(self.shelf);
        overlay.lay(changes);
        for one in beside {
            let ledger = Ledger::new(&overlay, self.seal);
            let changes = match one {
                Beside::Put(other) => ledger.put_other(other)?.0,
                Beside::Remove(name) => ledger.remove_other(name)?.0,
            };
            overlay.lay(changes);
        }
        Ok(overlay.into_changes().into_iter().collect())
    }

    pub(in crate::store) fn chats(&self) -> Result<Vec<(ChatId, u64)>, StoreError> {
        let mut chats = Vec::new();
        self.shelf.each(&[kind::HEAD], &mut |at, record| {
            // Erased since the head was read.
            if let Some(chat) = self.chat_at(tag_of(at)?)? {
                chats.push((chat.id, Head::read(record)?.last));
            }
            Ok(())
        })?;
        chats.sort_unstable();
        Ok(chats)
    }

    /// The next place in the outbox of the whole store.
    pub(super) fn next_sequence(&self) -> Result<u64, StoreError> {
        self.shelf.get(&place(kind::META, &[b"next"]))?.map_or(Ok(0), |next| number(&next))
    }
}
