//! Which messages are being worked just now, noted where the end of the process leaves it: one of them may be what
//! ended it.
//!
//! The notes are written before a message is worked and never synced: what a process wrote outlives it, however it
//! ends, and after a power cut there is nobody to blame.

use std::collections::HashMap;
use std::fs::{self, File};
use std::io::Write;
use std::path::Path;
use std::sync::{Mutex, PoisonError};

use super::directory::at;
use crate::store::ledger::{Changes, Ledger};
use crate::store::{InboxKey, StoreError};

/// How many messages can be noted at once: more than any server works at once.
const SLOTS: usize = 256;
/// How many bytes a note takes; a key that does not fit is not noted.
const SLOT: usize = 160;

/// The notes of this process.
pub(super) struct Tries(Mutex<Notes>);

struct Notes {
    file: File,
    taken: HashMap<InboxKey, usize>,
    free: Vec<usize>,
}

impl Notes {
    fn write(&mut self, slot: usize, note: &str) -> std::io::Result<()> {
        let mut bytes = note.as_bytes().to_vec();
        bytes.resize(SLOT, 0);
        write_at(&mut self.file, &bytes, u64::try_from(slot * SLOT).unwrap_or_default())
    }
}

#[cfg(unix)]
fn write_at(file: &mut File, bytes: &[u8], at: u64) -> std::io::Result<()> {
    std::os::unix::fs::FileExt::write_all_at(file, bytes, at)
}

#[cfg(not(unix))]
fn write_at(file: &mut File, bytes: &[u8], at: u64) -> std::io::Result<()> {
    use std::io::{Seek as _, SeekFrom};
    file.seek(SeekFrom::Start(at))?;
    file.write_all(bytes)
}

impl Tries {
    /// Notes in a file that is made anew, with room for all of them.
    pub(super) fn new(path: &Path) -> Result<Self, StoreError> {
        let made =
            File::create(path).and_then(|mut file| file.write_all(&vec![0; SLOTS * SLOT]).map(|()| file));
        let file = made.map_err(|error| at(path, &error))?;
        let notes = Notes { file, taken: HashMap::new(), free: (0..SLOTS).rev().collect() };
        Ok(Self(Mutex::new(notes)))
    }

    pub(super) fn begin(&self, key: &InboxKey) -> Result<(), StoreError> {
        let mut notes = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if key.0.len() > SLOT || notes.taken.contains_key(key) {
            return Ok(());
        }
        let Some(slot) = notes.free.pop() else { return Ok(()) };
        notes.taken.insert(key.clone(), slot);
        notes.write(slot, &key.0).map_err(|error| StoreError::Io(format!("the note of a try: {error}")))
    }

    pub(super) fn end(&self, key: &InboxKey) {
        let mut notes = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let Some(slot) = notes.taken.remove(key) else { return };
        if let Err(error) = notes.write(slot, "") {
            // It would be counted as a failure at worst.
            tracing::warn!(%error, "the note of a try could not be struck out");
        }
        notes.free.push(slot);
    }

    /// Strikes everything out.
    pub(super) fn clear(&self) {
        let mut notes = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let keys: Vec<_> = notes.taken.drain().collect();
        for (_, slot) in keys {
            let _ = notes.write(slot, "");
        }
    }
}

/// What counts the messages that an earlier process was working when it ended; `cut_short` names them.
pub(super) fn take(
    path: &Path,
    ledger: &Ledger<'_>,
    cut_short: &mut Vec<(InboxKey, u32)>,
) -> Result<Changes, StoreError> {
    let mut changes = Changes::new();
    for note in fs::read(path).unwrap_or_default().chunks(SLOT) {
        let end = note.iter().position(|byte| *byte == 0).unwrap_or(note.len());
        let key = note.get(..end).and_then(|key| std::str::from_utf8(key).ok()).filter(|key| !key.is_empty());
        let Some(key) = key.map(|key| InboxKey(key.to_owned())) else { continue };
        match ledger.failed(&key) {
            Ok((failed, tries)) => {
                changes.extend(failed);
                cut_short.push((key, tries));
            }
            // It was worked all the same, or its chat was erased.
            Err(StoreError::NotWaiting(_)) => {}
            Err(fault) => return Err(fault),
        }
    }
    Ok(changes)
}
