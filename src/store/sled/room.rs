//! Room on the disk. Below a floor nothing is written any more, so that what is under way always finds a place.

use std::path::Path;

use crate::store::StoreError;

/// How many bytes may still be written where a directory is; `None` where the system does not say.
pub(super) fn free(place: &Path) -> Option<u64> {
    #[cfg(unix)]
    {
        let found = rustix::fs::statvfs(place).ok()?;
        Some(found.f_bavail.saturating_mul(found.f_frsize))
    }
    #[cfg(not(unix))]
    {
        let _ = place;
        None
    }
}

/// Whether so many bytes can be written and `floor` bytes stay free.
///
/// # Errors
/// [`StoreError::Full`] where they cannot.
pub(super) fn for_bytes(place: &Path, floor: u64, bytes: u64) -> Result<(), StoreError> {
    match free(place) {
        Some(free) if free < floor.saturating_add(bytes) => Err(StoreError::Full(format!(
            "{free} bytes are free where {} is, and {bytes} are to be written while {floor} stay free",
            place.display()
        ))),
        Some(_) | None => Ok(()),
    }
}
