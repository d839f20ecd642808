//! How many bytes are held of each chat, and of all: counted with every change, so that nobody has to look through
//! everything to know.
//!
//! What counts is what stays in the map, key and value, sealed as it is, but for these counts and what the store keeps
//! of itself. What only passes through, a message until it is worked and an answer until it is sent, does not count: it
//! would be counted twice to no end, at every turn. A store from before this was counted so is counted once, when it is
//! opened.

use std::collections::BTreeMap;

use super::place::{kind, place, tag_of};
use super::value::{Queued, number};
use super::{Changes, Ledger, Shelf};
use crate::message::ChatId;
use crate::store::seal::Tag;
use crate::store::{HeldBytes, StoreError};

/// Where the sum over everything stands.
fn of_all() -> Vec<u8> {
    place(kind::META, &[b"held"])
}

/// Where it stood when what passes through counted, too.
fn of_all_before() -> Vec<u8> {
    place(kind::META, &[b"bytes"])
}

/// Whether what stands here stays.
fn stays(key: &[u8]) -> bool {
    !matches!(key.first(), None | Some(&(kind::META | kind::SIZE | kind::QUEUE | kind::SAY)))
}

/// The chat that a pair belongs to; `None` for what belongs to nobody.
fn owner(key: &[u8], value: &[u8]) -> Option<Tag> {
    let in_key = || key.get(1..).and_then(<[u8]>::first_chunk::<16>).copied();
    match *key.first()? {
        kind::CHAT | kind::HEAD | kind::EVENT | kind::WORKED | kind::OTHER_OF => in_key(),
        kind::ASIDE => Queued::read(value).ok().map(|queued| queued.tag),
        kind::OTHER => value.first_chunk::<16>().copied(),
        _ => None,
    }
    .filter(|tag| *tag != Tag::default())
}

/// What is added to each count; below zero where something went.
#[derive(Default)]
struct Tally {
    chats: BTreeMap<Tag, i64>,
    all: i64,
}

impl Tally {
    fn add(&mut self, key: &[u8], value: &[u8], sign: i64) {
        if !stays(key) {
            return;
        }
        let bytes =
            i64::try_from(key.len().saturating_add(value.len())).unwrap_or(i64::MAX).saturating_mul(sign);
        if let Some(tag) = owner(key, value) {
            let count = self.chats.entry(tag).or_default();
            *count = count.saturating_add(bytes);
        }
        self.all = self.all.saturating_add(bytes);
    }
}

fn count(shelf: &dyn Shelf, at: &[u8]) -> Result<u64, StoreError> {
    shelf.get(at)?.map_or(Ok(0), |count| number(&count))
}

fn raised(shelf: &dyn Shelf, at: Vec<u8>, by: i64) -> Result<(Vec<u8>, Option<Vec<u8>>), StoreError> {
    let bytes = count(shelf, &at)?.saturating_add_signed(by);
    Ok((at, (bytes > 0).then(|| bytes.to_be_bytes().to_vec())))
}

/// Adds to changes what they make of the counts. Of two changes to one key the later counts, as it does in the map.
fn counted(shelf: &dyn Shelf, changes: Changes) -> Result<Changes, StoreError> {
    let mut last: BTreeMap<Vec<u8>, Option<Vec<u8>>> = changes.into_iter().collect();
    let mut tally = Tally::default();
    for (key, value) in last.iter().filter(|(key, _)| stays(key)) {
        if let Some(before) = shelf.get(key)? {
            tally.add(key, &before, -1);
        }
        if let Some(value) = value {
            tally.add(key, value, 1);
        }
    }
    for (tag, by) in tally.chats {
        let (at, bytes) = raised(shelf, place(kind::SIZE, &[&tag]), by)?;
        last.insert(at, bytes);
    }
    if tally.all != 0 {
        let (at, bytes) = raised(shelf, of_all(), tally.all)?;
        last.insert(at, bytes);
    }
    Ok(last.into_iter().collect())
}

/// What counts everything in a store that was never counted; nothing where it was.
pub(in crate::store) fn first_count(shelf: &dyn Shelf) -> Result<Changes, StoreError> {
    if shelf.get(&of_all())?.is_some() {
        return Ok(Changes::new());
    }
    let (mut tally, mut changes) = (Tally::default(), vec![(of_all_before(), None)]);
    shelf.each(&[], &mut |key, value| {
        tally.add(key, value, 1);
        if key.first() == Some(&kind::SIZE) {
            changes.push((key.to_vec(), None));
        }
        Ok(())
    })?;
    let bytes = |count: i64| Some(u64::try_from(count).unwrap_or_default().to_be_bytes().to_vec());
    // Of two changes to one key the later counts.
    changes.extend(tally.chats.iter().map(|(tag, count)| (place(kind::SIZE, &[tag]), bytes(*count))));
    changes.push((of_all(), bytes(tally.all)));
    Ok(changes)
}

impl Ledger<'_> {
    /// The changes, with what they make of the counts.
    pub(in crate::store) fn counted(&self, changes: Changes) -> Result<Changes, StoreError> {
        if changes.is_empty() { Ok(changes) } else { counted(self.shelf, changes) }
    }

    pub(in crate::store) fn held(&self, id: &ChatId) -> Result<HeldBytes, StoreError> {
        Ok(HeldBytes {
            chat: count(self.shelf, &place(kind::SIZE, &[&self.tag(id)]))?,
            all: count(self.shelf, &of_all())?,
        })
    }

    /// Counts everything anew; an error where that is not what was counted.
    pub(super) fn check_sizes(&self) -> Result<(), StoreError> {
        let mut tally = Tally::default();
        let mut counts = BTreeMap::new();
        self.shelf.each(&[], &mut |key, value| {
            tally.add(key, value, 1);
            if let (Some(&kind::SIZE), Ok(tag)) = (key.first(), tag_of(key)) {
                counts.insert(tag, i64::try_from(number(value)?).unwrap_or(i64::MAX));
            }
            Ok(())
        })?;
        let all = i64::try_from(count(self.shelf, &of_all())?).unwrap_or(i64::MAX);
        if (tally.chats, tally.all) == (counts, all) {
            Ok(())
        } else {
            Err(StoreError::Damaged("the bytes held are not as they were counted".to_owned()))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    type Map = BTreeMap<Vec<u8>, Vec<u8>>;

    #[test]
    fn a_store_that_was_counted_otherwise_is_counted_once() {
        let (chat, gone) = ([1; 16], [2; 16]);
        let head = place(kind::HEAD, &[&chat]);
        let say = place(kind::SAY, &[&chat, &7_u64.to_be_bytes()]);
        let eight = |number: u64| number.to_be_bytes().to_vec();
        let mut map = Map::from([
            (head.clone(), vec![0; 24]),
            (say, vec![0; 900]),
            (place(kind::SIZE, &[&chat]), eight(966)),
            (place(kind::SIZE, &[&gone]), eight(50)),
            (of_all_before(), eight(1_016)),
        ]);
        for (key, value) in first_count(&map).unwrap() {
            match value {
                Some(value) => drop(map.insert(key, value)),
                None => drop(map.remove(&key)),
            }
        }
        let counted = eight(u64::try_from(head.len() + 24).unwrap());
        assert_eq!(map.get(&place(kind::SIZE, &[&chat])), Some(&counted));
        assert_eq!(map.get(&of_all()), Some(&counted));
        assert!(!map.contains_key(&place(kind::SIZE, &[&gone])) && !map.contains_key(&of_all_before()));
        assert_eq!(first_count(&map).unwrap(), Changes::new());
    }
}
