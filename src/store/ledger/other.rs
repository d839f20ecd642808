//! Everything else that has to outlive the process, found by its name or by its owner.

use super::place::{kind, place};
use super::{Changes, Ledger};
use crate::message::ChatId;
use crate::store::seal::{Tag, ValueSeal};
use crate::store::{Other, StoreError};

/// The tag of what belongs to nobody.
const NOBODY: Tag = [0; 16];

/// A record: the owner's tag, then closed: how long the name is, the name, the value.
struct Record {
    owner: Tag,
    closed: Vec<u8>,
}

impl Record {
    fn read(bytes: &[u8]) -> Result<Self, StoreError> {
        let (owner, closed) = bytes.split_first_chunk::<16>().ok_or_else(unreadable)?;
        Ok(Self { owner: *owner, closed: closed.to_vec() })
    }
}

fn unreadable() -> StoreError {
    StoreError::Damaged("a note is not readable".to_owned())
}

impl Ledger<'_> {
    pub(super) fn other_at(&self, name: &str) -> Vec<u8> {
        place(kind::OTHER, &[&self.seal.tag(kind::OTHER, name)])
    }

    /// Who owns a record, and the seal of their things; `None` where the owner has been erased.
    fn owner(&self, tag: Tag) -> Result<Option<(Option<ChatId>, ValueSeal)>, StoreError> {
        if tag == NOBODY {
            return Ok(Some((None, self.seal.own())));
        }
        Ok(self.chat_at(tag)?.map(|chat| (Some(chat.id), chat.seal)))
    }

    pub(super) fn open_other(&self, at: &[u8], bytes: &[u8]) -> Result<Option<Other>, StoreError> {
        let record = Record::read(bytes)?;
        let Some((owner, seal)) = self.owner(record.owner)? else { return Ok(None) };
        let opened = seal.open(at, &record.closed)?;
        let (length, rest) = opened.split_first_chunk::<8>().ok_or_else(unreadable)?;
        let length = usize::try_from(u64::from_be_bytes(*length)).map_err(|_| unreadable())?;
        let (name, value) = rest.split_at_checked(length).ok_or_else(unreadable)?;
        let name = String::from_utf8(name.to_vec()).map_err(|_| unreadable())?;
        Ok(Some(Other { name, owner, value: value.to_vec() }))
    }

    /// What takes a record and its owner's mark away.
    fn take_other(&self, at: &[u8]) -> Result<Option<Changes>, StoreError> {
        let Some(bytes) = self.shelf.get(at)? else { return Ok(None) };
        let owner = Record::read(&bytes)?.owner;
        let name = at.get(1..).unwrap_or_default();
        Ok(Some(vec![(at.to_vec(), None), (place(kind::OTHER_OF, &[&owner, name]), None)]))
    }

    pub(in crate::store) fn put_other(&self, other: &Other) -> Result<(Changes, ()), StoreError> {
        let at = self.other_at(&other.name);
        let mut changes = self.take_other(&at)?.unwrap_or_default();
        let (owner, seal) = match &other.owner {
            None => (NOBODY, self.seal.own()),
            Some(id) => {
                let chat = self.chat_or_new(id, &mut changes)?;
                (chat.tag, chat.seal)
            }
        };
        let length = u64::try_from(other.name.len()).map_err(|_| unreadable())?;
        let plain = [length.to_be_bytes().as_slice(), other.name.as_bytes(), &other.value].concat();
        let record = [owner.as_slice(), &seal.close(&at, &plain)?].concat();
        let name = at.get(1..).unwrap_or_default();
        changes.push((place(kind::OTHER_OF, &[&owner, name]), Some(Vec::new())));
        changes.push((at, Some(record)));
        Ok((changes, ()))
    }

    pub(in crate::store) fn get_other(&self, name: &str) -> Result<Option<Other>, StoreError> {
        let at = self.other_at(name);
        let Some(bytes) = self.shelf.get(&at)? else { return Ok(None) };
        match self.open_other(&at, &bytes) {
            // Erased and kept anew in between: as good as gone.
            Err(_) if self.shelf.get(&at)?.as_ref() != Some(&bytes) => Ok(None),
            answer => answer,
        }
    }

    pub(in crate::store) fn list_other(&self, owner: Option<&ChatId>) -> Result<Vec<Other>, StoreError> {
        match owner {
            None => self.others_of(NOBODY),
            Some(id) => Ok(self.with_chat(id, |chat, _| self.others_of(chat.tag))?.unwrap_or_default()),
        }
    }

    fn others_of(&self, owner: Tag) -> Result<Vec<Other>, StoreError> {
        let mut others = Vec::new();
        for (mark, _) in self.shelf.all(&place(kind::OTHER_OF, &[&owner]))? {
            let at = place(kind::OTHER, &[mark.get(17..).unwrap_or_default()]);
            if let Some(bytes) = self.shelf.get(&at)? {
                others.extend(self.open_other(&at, &bytes)?);
            }
        }
        others.sort_unstable_by(|a, b| a.name.cmp(&b.name));
        Ok(others)
    }

    pub(in crate::store) fn remove_other(&self, name: &str) -> Result<(Changes, bool), StoreError> {
        let taken = self.take_other(&self.other_at(name))?;
        let was_there = taken.is_some();
        Ok((taken.unwrap_or_default(), was_there))
    }
}
