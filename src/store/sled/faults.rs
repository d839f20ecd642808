//! What the disk and sled complain of, in our words.

use std::io;

use crate::store::StoreError;

/// sled's trouble in our words.
pub(super) fn sled_fault(error: &::sled::Error) -> StoreError {
    match error {
        ::sled::Error::Corruption { .. } => StoreError::Damaged(error.to_string()),
        ::sled::Error::Io(io) if is_full(io) => StoreError::Full(error.to_string()),
        ::sled::Error::Io(_)
        | ::sled::Error::CollectionNotFound(_)
        | ::sled::Error::Unsupported(_)
        | ::sled::Error::ReportableBug(_) => StoreError::Io(error.to_string()),
    }
}

/// Whether the disk, or what of it is ours, is full.
pub(super) fn is_full(error: &io::Error) -> bool {
    // sled wraps what the system said, and keeps the kind.
    matches!(
        error.kind(),
        io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded | io::ErrorKind::FileTooLarge
    )
}
