//! The records that carry numbers: how far a chat has come, how often a message was tried.

use crate::store::StoreError;
use crate::store::seal::Tag;

/// The version of places and values.
pub(in crate::store) const LAYOUT: u32 = 2;

/// How far a chat has come.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Head {
    /// Commits so far.
    pub(super) revision: u64,
    /// Events so far.
    pub(super) events: u64,
    /// When the last commit was.
    pub(super) last: u64,
}

impl Head {
    pub(super) fn write(self) -> Vec<u8> {
        [self.revision, self.events, self.last].iter().flat_map(|number| number.to_be_bytes()).collect()
    }

    pub(super) fn read(bytes: &[u8]) -> Result<Self, StoreError> {
        let mut numbers = bytes.chunks(8).map(number);
        match (numbers.next(), numbers.next(), numbers.next(), numbers.next()) {
            (Some(Ok(revision)), Some(Ok(events)), Some(Ok(last)), None) => {
                Ok(Self { revision, events, last })
            }
            _ => Err(StoreError::Damaged("the head of a chat is not readable".to_owned())),
        }
    }
}

/// A number as it is stored.
pub(super) fn number(bytes: &[u8]) -> Result<u64, StoreError> {
    let unreadable = |_| StoreError::Damaged("a number is not readable".to_owned());
    bytes.try_into().map(u64::from_be_bytes).map_err(unreadable)
}

/// A message in the queue or aside.
pub(super) struct Queued<'a> {
    /// Its chat.
    pub(super) tag: Tag,
    /// How often working it failed.
    pub(super) tries: u32,
    /// The message itself, closed.
    pub(super) closed: &'a [u8],
}

impl<'a> Queued<'a> {
    pub(super) fn write(&self) -> Vec<u8> {
        [self.tag.as_slice(), &self.tries.to_be_bytes(), self.closed].concat()
    }

    pub(super) fn read(bytes: &'a [u8]) -> Result<Self, StoreError> {
        let parts = bytes.split_first_chunk().and_then(|(tag, rest)| Some((tag, rest.split_first_chunk()?)));
        let (tag, (tries, closed)) =
            parts.ok_or_else(|| StoreError::Damaged("a queued message is not readable".to_owned()))?;
        Ok(Self { tag: *tag, tries: u32::from_be_bytes(*tries), closed })
    }
}
