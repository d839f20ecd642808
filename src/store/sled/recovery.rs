//! Opening sled's files, mended where they can be: in place where nothing can be lost by it, else a copy first; the
//! log above all; never an empty store.

use std::fs;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};
use std::time::Duration;

use super::Options;
use super::directory::{Directory, at, create_private, remove_if_there, sync_directory};
use super::faults::sled_fault;
use super::log::{self, Verdict};
use super::recovered::Recovered;
use crate::store::StoreError;
use crate::store::ledger::Ledger;
use crate::store::seal::Seal;

/// Opens a generation that is not there yet.
pub(super) fn open_new(generation: &Path, cache_bytes: u64) -> Result<::sled::Db, StoreError> {
    create_private(generation).map_err(|error| at(generation, &error))?;
    open_sled(generation, cache_bytes)
}

/// Opens the generation that counts without its key and without mending anything, and hands it on.
pub(super) fn with_unsealed<T>(
    directory: &Directory,
    cache_bytes: u64,
    read: impl FnOnce(&::sled::Tree) -> Result<T, StoreError>,
) -> Result<T, StoreError> {
    let copy = Copy::take(directory)?;
    let opened = open_whole(directory, cache_bytes).and_then(|db| read(&db));
    if let Err(StoreError::Damaged(fault)) = opened {
        copy.put_back(directory)?;
        return Err(StoreError::Damaged(format!("{fault}: open the store once, to mend it")));
    }
    copy.discard(directory)?;
    opened
}

fn open_whole(directory: &Directory, cache_bytes: u64) -> Result<::sled::Db, StoreError> {
    let generation = directory.generation();
    if !half_snapshots(&generation)?.is_empty() {
        return Err(StoreError::Damaged("a snapshot is half written".to_owned()));
    }
    let db = open_sled(&generation, cache_bytes)?;
    if !Ledger::is_store(&*db)? || Ledger::batches(&*db)? < directory.witnessed().0.batches {
        return Err(StoreError::Damaged("the end of the log is missing".to_owned()));
    }
    Ok(db)
}

/// Opens the generation that counts, mending what can be mended.
///
/// sled mends in place: it zeroes whatever comes after the first record it cannot read. So the files are looked at
/// before it sees them (`log`), and copied where it would lose something that was acknowledged. The copy is put back
/// where the store cannot be opened, and kept where it was mended.
pub(super) fn open(
    directory: &Directory,
    options: Options,
    recovered: &mut Vec<Recovered>,
) -> Result<(::sled::Db, Seal), StoreError> {
    let copy = Copy::take(directory)?;
    match open_mending(directory, options, recovered) {
        Ok(opened) => {
            if recovered.is_empty() {
                copy.discard(directory)?;
            } else {
                recovered.push(Recovered::Copied { to: copy.keep(directory)? });
            }
            Ok(opened)
        }
        Err(fault) => {
            copy.put_back(directory)?;
            let StoreError::Damaged(fault) = fault else { return Err(fault) };
            Err(StoreError::Damaged(format!(
                "{fault}. The files are as they were found: keep them, and restore the last backup into another \
                 directory"
            )))
        }
    }
}

fn open_mending(
    directory: &Directory,
    options: Options,
    recovered: &mut Vec<Recovered>,
) -> Result<(::sled::Db, Seal), StoreError> {
    let generation = directory.generation();
    for path in half_snapshots(&generation)? {
        fs::remove_file(&path).map_err(|error| at(&path, &error))?;
        recovered.push(Recovered::HalfSnapshot { removed: path });
    }
    let db = match open_sled(&generation, options.cache_bytes) {
        Err(StoreError::Damaged(fault)) => {
            for path in snapshots(&generation)? {
                fs::remove_file(&path).map_err(|error| at(&path, &error))?;
                recovered.push(Recovered::Snapshot { removed: path });
            }
            let from_log = open_sled(&generation, options.cache_bytes);
            from_log.map_err(|again| StoreError::Damaged(format!("{fault}; from the log alone: {again}")))?
        }
        opened => opened?,
    };
    let seal = Ledger::resume(&*db, options.keyring)?;
    let lost = directory.witnessed().0.batches.saturating_sub(Ledger::batches(&*db)?);
    if lost > 0 && !options.accept_loss {
        return Err(StoreError::Damaged(format!(
            "the last {lost} writes, each of one or more turns, are missing at the end of the log; what came \
             before them can be gone on with if you accept the loss"
        )));
    }
    if lost > 0 {
        recovered.push(Recovered::LogCut { writes: lost });
    }
    if !recovered.is_empty() {
        Ledger::new(&*db, &seal).check()?;
    }
    Ok((db, seal))
}

/// The files as they were found.
struct Copy {
    path: Option<PathBuf>,
    /// Whether an earlier opening, which did not finish, made it: the files may have been written since.
    earlier: bool,
}

/// Up to how many bytes are read through first even where the store was closed in order.
const READ_ALWAYS: u64 = 256 << 20;

impl Copy {
    fn take(directory: &Directory) -> Result<Self, StoreError> {
        let [path, part, done] =
            ["opening", "opening.part", "opening.done"].map(|name| directory.root().join(name));
        remove_if_there(&part)?;
        remove_if_there(&done)?;
        let generation = directory.generation();
        if path.exists() && generation.exists() {
            return Ok(Self { path: Some(path), earlier: true });
        }
        if path.exists() {
            // Stopped in the middle of putting back.
            fs::rename(&path, &generation).map_err(|error| at(&path, &error))?;
            sync_directory(directory.root())?;
        }
        let length = find_log(&generation)?;
        let (witness, was_closed) = directory.witnessed();
        let none = Self { path: None, earlier: false };
        if was_closed && length > READ_ALWAYS {
            return Ok(none);
        }
        let verdict = log::judge(&generation, witness.reached).map_err(|error| at(&generation, &error))?;
        if verdict == Verdict::Whole {
            return Ok(none);
        }
        match copy_files(&generation, &part).inspect_err(|_| drop(remove_if_there(&part))) {
            Ok(()) => {}
            Err(StoreError::Full(_)) if verdict == Verdict::Doubtful => {
                tracing::warn!(
                    "there is no room for a copy of the store's files: they are opened without one"
                );
                return Ok(none);
            }
            Err(StoreError::Full(fault)) => {
                return Err(StoreError::Full(format!(
                    "the store is damaged, and there is no room to keep its {length} bytes as they are while it is \
                     mended ({fault}): make room, or restore a backup elsewhere"
                )));
            }
            Err(fault) => return Err(fault),
        }
        fs::rename(&part, &path).map_err(|error| at(&path, &error))?;
        Ok(Self { path: Some(path), earlier: false })
    }

    /// Forgets the copy, durably before anything is acknowledged: half a copy, or an old one, is never put back.
    fn discard(self, directory: &Directory) -> Result<(), StoreError> {
        let Some(path) = self.path else { return Ok(()) };
        let done = directory.root().join("opening.done");
        fs::rename(&path, &done).map_err(|error| at(&path, &error))?;
        sync_directory(directory.root())?;
        remove_if_there(&done)
    }

    /// Leaves the generation as it was found.
    fn put_back(self, directory: &Directory) -> Result<(), StoreError> {
        if self.earlier {
            return self.keep(directory).map(drop);
        }
        let Some(path) = self.path else { return Ok(()) };
        let (generation, done) = (directory.generation(), directory.root().join("opening.done"));
        fs::rename(&generation, &done).map_err(|error| at(&generation, &error))?;
        fs::rename(&path, &generation).map_err(|error| at(&path, &error))?;
        sync_directory(directory.root())?;
        remove_if_there(&done)
    }

    /// Keeps the copy for a person to look at.
    fn keep(self, directory: &Directory) -> Result<PathBuf, StoreError> {
        let folder = directory.recovered_folder()?;
        match self.path {
            Some(path) => fs::rename(&path, &folder).map_err(|error| at(&path, &error))?,
            None => copy_files(&directory.generation(), &folder)?,
        }
        sync_directory(directory.root())?;
        Ok(folder)
    }
}

/// How often and how long a lock is waited for that another store of this process is about to let go.
const TRY_LOCK: (usize, Duration) = (40, Duration::from_millis(25));

fn open_sled(generation: &Path, cache_bytes: u64) -> Result<::sled::Db, StoreError> {
    let (at_most, pause) = TRY_LOCK;
    let mut tried = 0;
    loop {
        let config = ::sled::Config::default()
            .path(generation)
            .mode(::sled::Mode::LowSpace)
            // Each time sled cleans one segment of its file at most: less often, and a busy file grows fivefold.
            .flush_every_ms(Some(50))
            .cache_capacity(cache_bytes);
        tried += 1;
        // sled panics over some damage that it does not expect.
        match catch_unwind(AssertUnwindSafe(|| config.open())) {
            Ok(Ok(db)) => return Ok(db),
            Ok(Err(::sled::Error::Io(error))) if error.to_string().contains("could not acquire lock") => {
                if tried == at_most {
                    return Err(StoreError::InUse(generation.display().to_string()));
                }
                std::thread::sleep(pause);
            }
            Ok(Err(error)) => return Err(sled_fault(&error)),
            Err(_) => return Err(StoreError::Damaged("the engine gave up over it".to_owned())),
        }
    }
}

/// How long the log is. A store whose log has gone is damaged, not new.
fn find_log(generation: &Path) -> Result<u64, StoreError> {
    let log = generation.join("db");
    match fs::metadata(&log) {
        Ok(found) if found.len() > 0 => Ok(found.len()),
        Ok(_) => Err(StoreError::Damaged(format!("{} is empty: restore a backup", log.display()))),
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => {
            Err(StoreError::Damaged(format!("{} is missing: restore a backup", log.display())))
        }
        Err(error) => Err(at(&log, &error)),
    }
}

fn files_named(generation: &Path, fits: impl Fn(&str) -> bool) -> Result<Vec<PathBuf>, StoreError> {
    let mut paths = Vec::new();
    for entry in fs::read_dir(generation).map_err(|error| at(generation, &error))? {
        let entry = entry.map_err(|error| at(generation, &error))?;
        if fits(&entry.file_name().to_string_lossy()) {
            paths.push(entry.path());
        }
    }
    paths.sort_unstable();
    Ok(paths)
}

fn half_snapshots(generation: &Path) -> Result<Vec<PathBuf>, StoreError> {
    files_named(generation, |name| name.starts_with("snap.") && name.ends_with(".generating"))
}

fn snapshots(generation: &Path) -> Result<Vec<PathBuf>, StoreError> {
    files_named(generation, |name| name.starts_with("snap.") && !name.ends_with(".generating"))
}

fn copy_files(from: &Path, to: &Path) -> Result<(), StoreError> {
    create_private(to).map_err(|error| at(to, &error))?;
    for path in files_named(from, |_| true)? {
        let copy = to.join(path.file_name().unwrap_or_default());
        if path.is_dir() {
            copy_files(&path, &copy)?;
        } else {
            fs::copy(&path, &copy).map_err(|error| at(&copy, &error))?;
        }
    }
    Ok(())
}
