//! The places of the map: a letter for the kind, then what tells one from another.
//!
//! A chat stands as its tag (16 bytes), a number big-endian, so that order by bytes is order by age.

use crate::store::StoreError;
use crate::store::seal::Tag;

/// The kinds of places, by their first byte.
pub(super) mod kind {
    /// About the store itself.
    pub(in crate::store::ledger) const META: u8 = b'm';
    /// `tag`: a chat's id and seal.
    pub(in crate::store::ledger) const CHAT: u8 = b'k';
    /// `tag`: how far a chat has come.
    pub(in crate::store::ledger) const HEAD: u8 = b'h';
    /// `tag number`: an event.
    pub(in crate::store::ledger) const EVENT: u8 = b'e';
    /// `tag sequence`: a message to be sent.
    pub(in crate::store::ledger) const SAY: u8 = b'o';
    /// `inbox key`: a message to be worked.
    pub(in crate::store::ledger) const QUEUE: u8 = b'q';
    /// `inbox key`: a message set aside.
    pub(in crate::store::ledger) const ASIDE: u8 = b'a';
    /// `tag inbox key`: when a message was worked.
    pub(in crate::store::ledger) const WORKED: u8 = b'w';
    /// `tag`: how many bytes are held of a chat.
    pub(in crate::store::ledger) const SIZE: u8 = b'b';
    /// `tag of the name`: something else.
    pub(in crate::store::ledger) const OTHER: u8 = b'n';
    /// `tag of the owner, tag of the name`: who owns it.
    pub(in crate::store::ledger) const OTHER_OF: u8 = b'y';
}

/// A place of a kind.
pub(super) fn place(kind: u8, parts: &[&[u8]]) -> Vec<u8> {
    let mut place = vec![kind];
    for part in parts {
        place.extend_from_slice(part);
    }
    place
}

/// The number after a kind and a tag.
pub(super) fn number_after_tag(place: &[u8]) -> Option<u64> {
    let (_, rest) = place.split_first_chunk::<17>()?;
    rest.try_into().ok().map(u64::from_be_bytes)
}

/// The tag after a kind.
pub(super) fn tag_of(place: &[u8]) -> Result<Tag, StoreError> {
    let tag = place.get(1..).and_then(<[u8]>::first_chunk::<16>);
    tag.copied().ok_or_else(|| StoreError::Damaged("a place is not readable".to_owned()))
}
