//! The directory: whose it is, which generation counts, who has it open.
//!
//! A marker is written before anything else, so that nothing of somebody else's is ever overwritten and a store
//! whose files have gone is never mistaken for a new one.

use std::ffi::OsStr;
use std::fs::{self, File, TryLockError};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use serde::{Deserialize, Serialize};

use super::faults::is_full;
use super::recovered::Recovered;
use crate::store::StoreError;

const MARKER: &str = "lapwise-store.json";
const NEW_MARKER: &str = "lapwise-store.json.new";
const LOCK: &str = "lapwise-store.lock";
const WITNESS: &str = "lapwise-store.written";
const TRYING: &str = "lapwise-store.trying";
const RECOVERED: &str = "recovered";

/// What stands after the count in the witness while the store is open.
pub(super) const OPEN: u8 = b'o';
/// What stands there when it has been closed in order.
pub(super) const CLOSED: u8 = b'c';

/// The version of the directory's layout.
const VERSION: u32 = 1;

/// What has been acknowledged: the log must reach it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Witness {
    /// How many batches have been applied, ever.
    pub(super) batches: u64,
    /// The generation whose log is meant.
    generation: u32,
    /// Up to where its log was on the disk; 0 where that is not known.
    pub(super) reached: u64,
}

impl Witness {
    pub(super) fn write(&self, state: u8) -> Vec<u8> {
        let mut bytes = self.batches.to_be_bytes().to_vec();
        bytes.push(state);
        bytes.extend(self.generation.to_be_bytes());
        bytes.extend(self.reached.to_be_bytes());
        bytes
    }

    /// A witness of another generation knows nothing of this one's log.
    fn read(bytes: &[u8], generation: u32) -> Self {
        let batches = bytes.first_chunk().map_or(0, |count| u64::from_be_bytes(*count));
        let meant = bytes.get(9..13).and_then(<[u8]>::first_chunk).map(|number| u32::from_be_bytes(*number));
        let reached = bytes.get(13..21).and_then(<[u8]>::first_chunk).map(|place| u64::from_be_bytes(*place));
        let reached = reached.filter(|_| meant == Some(generation)).unwrap_or_default();
        Self { batches, generation, reached }
    }
}

/// How far the store in the directory has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(super) enum State {
    /// Being begun: nothing has been acknowledged.
    New,
    /// Being restored: not whole.
    Restoring,
    /// In use.
    Ready,
}

#[derive(Clone, Debug, Serialize, Deserialize)]
struct Marker {
    lapwise_store: u32,
    engine: String,
    generation: u32,
    state: State,
}

/// Only what every version of the marker will have.
#[derive(Deserialize)]
struct AnyMarker {
    lapwise_store: u32,
    engine: String,
}

/// A directory that is ours until this is dropped.
pub(super) struct Directory {
    root: PathBuf,
    marker: Marker,
    /// Locked, and unlocked by the system when the process ends, however it ends.
    _lock: File,
}

impl Directory {
    /// Takes a directory: one with a store, or an empty or missing one, which gets a marker.
    pub(super) fn open(root: &Path) -> Result<Self, StoreError> {
        if !Self::is_at(root) {
            return Self::create(root, State::New);
        }
        let lock = lock(root)?;
        let marker = read_marker(root)?;
        make_private(root)?;
        Ok(Self { root: root.to_owned(), marker, _lock: lock })
    }

    /// Whether there is a marker.
    pub(super) fn is_at(root: &Path) -> bool {
        root.join(MARKER).exists()
    }

    /// Takes an empty or missing directory and marks it.
    pub(super) fn create(root: &Path, state: State) -> Result<Self, StoreError> {
        create_private(root).map_err(|error| at(root, &error))?;
        if Self::is_at(root) {
            return Err(StoreError::Foreign(format!(
                "{} holds a store already: choose an empty directory",
                root.display()
            )));
        }
        if let Some(name) = names(root)?.iter().find(|name| !is_litter(name)) {
            return Err(StoreError::Foreign(format!(
                "{} holds {} and no {MARKER}: choose an empty directory",
                root.display(),
                name.display()
            )));
        }
        let lock = lock(root)?;
        if root.join(MARKER).exists() {
            return Err(StoreError::InUse(format!(
                "{} was begun by another process just now",
                root.display()
            )));
        }
        let marker = Marker { lapwise_store: VERSION, engine: "sled".to_owned(), generation: 1, state };
        let directory = Self { root: root.to_owned(), marker, _lock: lock };
        directory.write_marker()?;
        Ok(directory)
    }

    pub(super) fn root(&self) -> &Path {
        &self.root
    }

    pub(super) fn state(&self) -> State {
        self.marker.state
    }

    pub(super) fn set_state(&mut self, state: State) -> Result<(), StoreError> {
        self.marker.state = state;
        self.write_marker()
    }

    /// Where the generation that counts is.
    pub(super) fn generation(&self) -> PathBuf {
        self.root.join(generation_name(self.marker.generation))
    }

    /// The file that says how many batches have been acknowledged.
    pub(super) fn witness(&self) -> Result<File, StoreError> {
        let path = self.root.join(WITNESS);
        let file = File::options().create(true).truncate(false).read(true).write(true).open(&path);
        file.map_err(|error| at(&path, &error))
    }

    /// What was acknowledged, as far as is known, and whether whoever had it open last closed it in order.
    pub(super) fn witnessed(&self) -> (Witness, bool) {
        let bytes = fs::read(self.root.join(WITNESS)).unwrap_or_default();
        (Witness::read(&bytes, self.marker.generation), bytes.get(8) == Some(&CLOSED))
    }

    /// What the witness is to hold.
    pub(super) fn witness_now(&self, batches: u64, reached: u64) -> Witness {
        Witness { batches, generation: self.marker.generation, reached }
    }

    /// The file that says which messages are being worked.
    pub(super) fn trying(&self) -> PathBuf {
        self.root.join(TRYING)
    }

    /// Deletes what a beginning that never finished left behind.
    pub(super) fn wipe_generation(&self) -> Result<(), StoreError> {
        remove_if_there(&self.generation())
    }

    /// Room for the next generation, which does not count yet.
    pub(super) fn begin_generation(&self) -> Result<PathBuf, StoreError> {
        let next = self.root.join(generation_name(self.marker.generation.saturating_add(1)));
        remove_if_there(&next)?;
        Ok(next)
    }

    /// Makes the next generation the one that counts.
    pub(super) fn next_generation(&mut self) -> Result<(), StoreError> {
        self.marker.generation = self.marker.generation.saturating_add(1);
        self.write_marker().inspect_err(|_| self.marker.generation -= 1)
    }

    /// Where a copy of what was found damaged goes; nothing is there yet.
    pub(super) fn recovered_folder(&self) -> Result<PathBuf, StoreError> {
        let parent = self.root.join(RECOVERED);
        fs::create_dir_all(&parent).map_err(|error| at(&parent, &error))?;
        let taken = names(&parent)?.len();
        let folder = (taken + 1..=taken + 1_000)
            .map(|number| parent.join(format!("{number:04}")))
            .find(|path| !path.exists());
        folder.ok_or_else(|| StoreError::Io(format!("{} is full of copies: delete some", parent.display())))
    }

    /// Gives a directory back as it was taken: empty.
    pub(super) fn abandon(self) {
        for path in [self.generation(), self.root.join(WITNESS), self.root.join(MARKER), self.root.join(LOCK)]
        {
            // The marker, if it stays, says that this store was never finished.
            let _ = if path.is_dir() { fs::remove_dir_all(&path) } else { fs::remove_file(&path) };
        }
    }

    fn write_marker(&self) -> Result<(), StoreError> {
        let text =
            serde_json::to_string_pretty(&self.marker).map_err(|error| StoreError::Io(error.to_string()))?;
        let new = self.root.join(NEW_MARKER);
        let write = || -> io::Result<()> {
            let mut file = File::create(&new)?;
            file.write_all(text.as_bytes())?;
            file.write_all(b"\n")?;
            file.sync_all()?;
            fs::rename(&new, self.root.join(MARKER))
        };
        write().map_err(|error| at(&new, &error))?;
        sync_directory(&self.root)
    }

    /// Deletes generations that do not count: a compaction that was cut short leaves one, before or after.
    pub(super) fn clear_other_generations(&self, recovered: &mut Vec<Recovered>) -> Result<(), StoreError> {
        let counts = generation_name(self.marker.generation);
        for name in names(&self.root)? {
            let text = name.to_string_lossy();
            if text.starts_with("sled-") && *text != *counts {
                let path = self.root.join(&name);
                remove_if_there(&path)?;
                recovered.push(Recovered::OtherGeneration { deleted: path });
            }
        }
        Ok(())
    }
}

fn generation_name(generation: u32) -> String {
    format!("sled-{generation:04}")
}

/// What may lie in a directory that is as good as empty.
fn is_litter(name: &OsStr) -> bool {
    name == LOCK || name == NEW_MARKER
}

/// How long a lock is waited for: a process that has just ended, or that is just being started by the one that held
/// the lock, may hold it a moment longer.
const LOCK_PATIENCE: Duration = Duration::from_millis(500);
/// How long between two looks at it.
const LOCK_LOOK: Duration = Duration::from_millis(10);

fn lock(root: &Path) -> Result<File, StoreError> {
    let path = root.join(LOCK);
    let file = File::options().create(true).truncate(false).write(true).open(&path);
    let file = file.map_err(|error| at(&path, &error))?;
    let begun = Instant::now();
    loop {
        match file.try_lock() {
            Ok(()) => return Ok(file),
            Err(TryLockError::WouldBlock) if begun.elapsed() < LOCK_PATIENCE => std::thread::sleep(LOCK_LOOK),
            Err(TryLockError::WouldBlock) => return Err(StoreError::InUse(root.display().to_string())),
            Err(TryLockError::Error(error)) => return Err(at(&path, &error)),
        }
    }
}

fn read_marker(root: &Path) -> Result<Marker, StoreError> {
    let path = root.join(MARKER);
    let text = fs::read_to_string(&path).map_err(|error| at(&path, &error))?;
    match serde_json::from_str::<AnyMarker>(&text) {
        Ok(any) if any.lapwise_store > VERSION => Err(StoreError::Foreign(format!(
            "{} was written by a newer lapwise (store version {})",
            root.display(),
            any.lapwise_store
        ))),
        Ok(any) if any.engine != "sled" => {
            Err(StoreError::Foreign(format!("{} is kept by the engine {:?}", root.display(), any.engine)))
        }
        Ok(_) | Err(_) => serde_json::from_str(&text).map_err(|error| {
            StoreError::Damaged(format!("{} is not readable ({error}): restore a backup", path.display()))
        }),
    }
}

fn names(root: &Path) -> Result<Vec<std::ffi::OsString>, StoreError> {
    let entries = fs::read_dir(root).map_err(|error| at(root, &error))?;
    let names: io::Result<Vec<_>> = entries.map(|entry| Ok(entry?.file_name())).collect();
    let mut names = names.map_err(|error| at(root, &error))?;
    names.sort_unstable();
    Ok(names)
}

/// Makes a directory that nobody but its owner can look into.
pub(super) fn create_private(root: &Path) -> io::Result<()> {
    let mut builder = fs::DirBuilder::new();
    #[cfg(unix)]
    std::os::unix::fs::DirBuilderExt::mode(&mut builder, 0o700);
    builder.recursive(true).create(root)
}

/// Takes from everybody else what a laxer umask gave them: a folder of sled's nobody can look into, a file of ours
/// nobody can read. The directory itself may be shared with others.
pub(super) fn make_private(root: &Path) -> Result<(), StoreError> {
    #[cfg(unix)]
    for name in names(root)? {
        use std::os::unix::fs::PermissionsExt as _;
        let text = name.to_string_lossy();
        let folder = text.starts_with("sled-") || text.starts_with("opening") || *text == *RECOVERED;
        if !folder && !text.starts_with("lapwise-store.") {
            continue;
        }
        let path = root.join(&name);
        let found = fs::metadata(&path).map_err(|error| at(&path, &error))?;
        if found.permissions().mode() & 0o077 != 0 {
            let mode = if found.is_dir() { 0o700 } else { 0o600 };
            fs::set_permissions(&path, fs::Permissions::from_mode(mode))
                .map_err(|error| at(&path, &error))?;
        }
        if text.starts_with("sled-") {
            for path in files_below(&path)? {
                fs::set_permissions(&path, fs::Permissions::from_mode(0o600))
                    .map_err(|error| at(&path, &error))?;
            }
        }
    }
    Ok(())
}

/// Files anywhere below a directory that others may read.
#[cfg(unix)]
fn files_below(folder: &Path) -> Result<Vec<PathBuf>, StoreError> {
    use std::os::unix::fs::PermissionsExt as _;
    let mut found = Vec::new();
    for name in names(folder)? {
        let path = folder.join(&name);
        let kind = fs::metadata(&path).map_err(|error| at(&path, &error))?;
        if kind.is_dir() {
            found.extend(files_below(&path)?);
        } else if kind.permissions().mode() & 0o077 != 0 {
            found.push(path);
        }
    }
    Ok(found)
}

/// Removes a directory with all that is in it.
pub(super) fn remove_if_there(path: &Path) -> Result<(), StoreError> {
    match fs::remove_dir_all(path) {
        Err(error) if error.kind() != io::ErrorKind::NotFound => Err(at(path, &error)),
        Ok(()) | Err(_) => Ok(()),
    }
}

/// A file without a name: gone when it is closed, however that comes about.
pub(super) fn nameless_file(path: &Path) -> Result<File, StoreError> {
    let file = File::options().create(true).truncate(true).read(true).write(true).open(path);
    let file = file.map_err(|error| at(path, &error))?;
    fs::remove_file(path).map_err(|error| at(path, &error))?;
    Ok(file)
}

/// Makes the names in a directory durable.
pub(super) fn sync_directory(path: &Path) -> Result<(), StoreError> {
    // Elsewhere a directory cannot be opened as a file, and its names are durable with the files.
    if cfg!(unix) {
        File::open(path).and_then(|directory| directory.sync_all()).map_err(|error| at(path, &error))?;
    }
    Ok(())
}

/// An error with the path it befell.
pub(super) fn at(path: &Path, error: &io::Error) -> StoreError {
    let text = format!("{}: {error}", path.display());
    if is_full(error) { StoreError::Full(text) } else { StoreError::Io(text) }
}
