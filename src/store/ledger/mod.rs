//! What is kept where: the whole contract over any ordered map of bytes.
//!
//! A function that reads answers; a function that writes answers with the changes that make it true, and changes
//! nothing itself. The engine applies the changes of many at once, all or nothing, and makes them durable.

mod backup;
mod check;
mod erase;
mod inbox;
mod other;
mod outbox;
mod place;
mod session;
mod size;
mod value;

use std::collections::BTreeMap;
use std::io::Write;

pub(in crate::store) use backup::{export, import};
pub(in crate::store) use size::first_count;
pub(in crate::store) use value::LAYOUT;

use super::seal::{Seal, Tag, ValueSeal};
use super::{BackedUp, Keyring, StoreError};
use crate::message::ChatId;
use place::{kind, place};

/// A key with its value.
pub(in crate::store) type Pair = (Vec<u8>, Vec<u8>);

/// What is to be changed: a value to put, or `None` to remove.
pub(in crate::store) type Changes = Vec<(Vec<u8>, Option<Vec<u8>>)>;

/// How many pairs are held in memory when many are gone through.
const AT_A_TIME: usize = 1_000;

/// Sees a key and its value.
type See<'a> = &'a mut dyn FnMut(&[u8], &[u8]) -> Result<(), StoreError>;

/// An ordered map of bytes.
pub(in crate::store) trait Shelf {
    /// The value at a key.
    fn get(&self, key: &[u8]) -> Result<Option<Vec<u8>>, StoreError>;

    /// At most `limit` pairs whose keys begin with `prefix` and are not below `from`, in order.
    fn range(&self, prefix: &[u8], from: &[u8], limit: usize) -> Result<Vec<Pair>, StoreError>;

    /// Every pair whose key begins with `prefix`, in order, some at a time.
    fn each(&self, prefix: &[u8], see: See<'_>) -> Result<(), StoreError> {
        let mut from = prefix.to_vec();
        loop {
            let pairs = self.range(prefix, &from, AT_A_TIME)?;
            let Some((last, _)) = pairs.last() else { return Ok(()) };
            from.clone_from(last);
            from.push(0);
            for (key, value) in pairs {
                see(&key, &value)?;
            }
        }
    }

    /// All pairs whose key begins with `prefix`, in order: where they are few.
    fn all(&self, prefix: &[u8]) -> Result<Vec<Pair>, StoreError> {
        self.range(prefix, prefix, usize::MAX)
    }
}

impl Shelf for BTreeMap<Vec<u8>, Vec<u8>> {
    fn get(&self, key: &[u8]) -> Result<Option<Vec<u8>>, StoreError> {
        Ok(self.get(key).cloned())
    }

    fn range(&self, prefix: &[u8], from: &[u8], limit: usize) -> Result<Vec<Pair>, StoreError> {
        let pairs = self.range(from.to_vec()..).take_while(|(key, _)| key.starts_with(prefix)).take(limit);
        Ok(pairs.map(|(key, value)| (key.clone(), value.clone())).collect())
    }
}

/// A map with changes laid over it that are not applied yet.
pub(in crate::store) struct Overlay<'a, S: ?Sized> {
    under: &'a S,
    over: BTreeMap<Vec<u8>, Option<Vec<u8>>>,
}

impl<'a, S: Shelf + ?Sized> Overlay<'a, S> {
    pub(in crate::store) fn new(under: &'a S) -> Self {
        Self { under, over: BTreeMap::new() }
    }

    pub(in crate::store) fn lay(&mut self, changes: Changes) {
        self.over.extend(changes);
    }

    pub(in crate::store) fn into_changes(self) -> BTreeMap<Vec<u8>, Option<Vec<u8>>> {
        self.over
    }
}

impl<S: Shelf + ?Sized> Shelf for Overlay<'_, S> {
    fn get(&self, key: &[u8]) -> Result<Option<Vec<u8>>, StoreError> {
        self.over.get(key).map_or_else(|| self.under.get(key), |value| Ok(value.clone()))
    }

    fn range(&self, prefix: &[u8], from: &[u8], limit: usize) -> Result<Vec<Pair>, StoreError> {
        let over: Vec<_> =
            self.over.range(from.to_vec()..).take_while(|(key, _)| key.starts_with(prefix)).collect();
        // Each change hides at most one pair below it.
        let under = self.under.range(prefix, from, limit.saturating_add(over.len()))?;
        let mut merged: BTreeMap<Vec<u8>, Vec<u8>> = under.into_iter().collect();
        for (key, value) in over {
            match value {
                Some(value) => merged.insert(key.clone(), value.clone()),
                None => merged.remove(key),
            };
        }
        Ok(merged.into_iter().take(limit).collect())
    }
}

/// The contract over a map.
pub(in crate::store) struct Ledger<'a> {
    shelf: &'a dyn Shelf,
    seal: &'a Seal,
}

/// A chat with its place and its seal.
struct Chat {
    id: ChatId,
    tag: Tag,
    seal: ValueSeal,
}

impl<'a> Ledger<'a> {
    pub(in crate::store) fn new(shelf: &'a dyn Shelf, seal: &'a Seal) -> Self {
        Self { shelf, seal }
    }

    /// The seal of an empty map, and what makes it a store.
    pub(in crate::store) fn begin(ring: Option<Keyring>) -> Result<(Seal, Changes), StoreError> {
        let at = place(kind::META, &[b"seal"]);
        let (seal, record) = Seal::create(ring, &at)?;
        let layout = LAYOUT.to_be_bytes().to_vec();
        Ok((seal, vec![(at, Some(record)), (place(kind::META, &[b"layout"]), Some(layout))]))
    }

    /// The seal of a map that is a store.
    pub(in crate::store) fn resume(shelf: &dyn Shelf, ring: Option<Keyring>) -> Result<Seal, StoreError> {
        let empty = || StoreError::Damaged("it holds no beginning, as if it were empty".to_owned());
        let layout = shelf.get(&place(kind::META, &[b"layout"]))?.ok_or_else(empty)?;
        if layout != LAYOUT.to_be_bytes() {
            return Err(StoreError::Foreign("it was written by another version of lapwise".to_owned()));
        }
        let at = place(kind::META, &[b"seal"]);
        let record = shelf.get(&at)?.ok_or_else(empty)?;
        Seal::reopen(ring, &at, &record)
    }

    /// The change that says how many batches have been applied, this one included.
    pub(in crate::store) fn count_batch(number: u64) -> (Vec<u8>, Option<Vec<u8>>) {
        (place(kind::META, &[b"batches"]), Some(number.to_be_bytes().to_vec()))
    }

    /// How many batches have been applied.
    pub(in crate::store) fn batches(shelf: &dyn Shelf) -> Result<u64, StoreError> {
        shelf.get(&place(kind::META, &[b"batches"]))?.map_or(Ok(0), |count| value::number(&count))
    }

    /// Whether a map is a store, for those who have not got its key.
    pub(in crate::store) fn is_store(shelf: &dyn Shelf) -> Result<bool, StoreError> {
        Ok(shelf.get(&place(kind::META, &[b"layout"]))?.is_some_and(|layout| layout == LAYOUT.to_be_bytes()))
    }

    /// Writes a backup.
    pub(in crate::store) fn export(&self, to: impl Write) -> Result<BackedUp, StoreError> {
        export(self.shelf, to)
    }

    /// Closes everything that was wrapped by a key of the ring with the newest one.
    pub(in crate::store) fn rotate(&self) -> Result<(Changes, usize), StoreError> {
        let mut changes = Changes::new();
        for (at, record) in self.shelf.all(&[kind::CHAT])? {
            let (id, seal) = self.seal.unwrap_chat(&at, &record)?;
            let record = self.seal.wrap_chat(&at, &id, &seal)?;
            changes.push((at, Some(record)));
        }
        let chats = changes.len();
        let at = place(kind::META, &[b"seal"]);
        let record = self.seal.record(&at)?;
        changes.push((at, Some(record)));
        Ok((changes, chats))
    }

    fn tag(&self, id: &ChatId) -> Tag {
        self.seal.tag(kind::CHAT, id.as_str())
    }

    fn chat_at(&self, tag: Tag) -> Result<Option<Chat>, StoreError> {
        let at = place(kind::CHAT, &[&tag]);
        let Some(record) = self.shelf.get(&at)? else { return Ok(None) };
        let (id, seal) = self.seal.unwrap_chat(&at, &record)?;
        let id = ChatId::new(id).ok_or_else(|| StoreError::Damaged("a chat has no id".to_owned()))?;
        Ok(Some(Chat { id, tag, seal }))
    }

    fn chat_or_new(&self, id: &ChatId, changes: &mut Changes) -> Result<Chat, StoreError> {
        let tag = self.tag(id);
        if let Some(chat) = self.chat_at(tag)? {
            return Ok(chat);
        }
        let seal = self.seal.new_chat();
        let at = place(kind::CHAT, &[&tag]);
        let record = self.seal.wrap_chat(&at, id.as_str(), &seal)?;
        changes.push((at, Some(record)));
        Ok(Chat { id: id.clone(), tag, seal })
    }
}
