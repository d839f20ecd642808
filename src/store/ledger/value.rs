//! The records that carry numbers: how far a chat has come, what became of a message.

use crate::store::StoreError;
use crate::store::seal::Tag;

/// The version of places and values.
pub(in crate::store) const LAYOUT: u32 = 1;

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

/// What became of a message.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Fate {
    /// It waits to be worked.
    Waits,
    /// It was worked at a time.
    Worked(u64),
    /// It was set aside.
    Aside,
}

/// What is remembered of a message: its fate and its chat.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Remembered {
    pub(super) fate: Fate,
    pub(super) tag: Tag,
}

impl Remembered {
    pub(super) fn worked_before(self, before: u64) -> bool {
        matches!(self.fate, Fate::Worked(at) if at < before)
    }

    pub(super) fn write(self) -> Vec<u8> {
        let (fate, at) = match self.fate {
            Fate::Waits => (b'q', 0),
            Fate::Worked(at) => (b'w', at),
            Fate::Aside => (b'a', 0),
        };
        [[fate].as_slice(), &self.tag, &at.to_be_bytes()].concat()
    }

    pub(super) fn read(bytes: &[u8]) -> Result<Self, StoreError> {
        let unreadable = || StoreError::Damaged("what became of a message is not readable".to_owned());
        let (fate, rest) = bytes.split_first().ok_or_else(unreadable)?;
        let (tag, at) = rest.split_first_chunk::<16>().ok_or_else(unreadable)?;
        let fate = match fate {
            b'q' => Fate::Waits,
            b'w' => Fate::Worked(number(at)?),
            b'a' => Fate::Aside,
            _ => return Err(unreadable()),
        };
        Ok(Self { fate, tag: *tag })
    }
}

/// A message in the queue or aside: how often working it failed, then the closed message.
pub(super) fn write_tried(tries: u32, closed: &[u8]) -> Vec<u8> {
    [tries.to_be_bytes().as_slice(), closed].concat()
}

/// How often working a message failed, and the closed message.
pub(super) fn read_tried(bytes: &[u8]) -> Result<(u32, &[u8]), StoreError> {
    let (tries, closed) = bytes
        .split_first_chunk::<4>()
        .ok_or_else(|| StoreError::Damaged("a queued message is not readable".to_owned()))?;
    Ok((u32::from_be_bytes(*tries), closed))
}
