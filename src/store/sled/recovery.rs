//! Opening sled's files, mended where they can be: a copy first, the log above all, never an empty store.

use std::fmt;
use std::fs;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};
use std::time::Duration;

use super::Options;
use super::directory::{Directory, at};
use super::writer::sled_fault;
use crate::store::StoreError;
use crate::store::ledger::Ledger;
use crate::store::seal::Seal;

/// Something that was mended.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Recovered {
    /// A compaction had been cut short; the files that do not count were deleted.
    OtherGeneration {
        /// What was deleted.
        deleted: PathBuf,
    },
    /// A snapshot had been left half written; it was moved aside. Nothing is lost: the log holds everything.
    HalfSnapshot {
        /// Where it is now.
        moved_to: PathBuf,
    },
    /// The snapshot was not readable; everything was read from the log instead.
    Snapshot {
        /// Where the files as found were copied.
        copied_to: PathBuf,
    },
    /// The end of the log is missing: what was acknowledged last is lost.
    LogCut {
        /// How many of the last writes (each of one or more turns) are lost.
        writes: u64,
    },
}

impl fmt::Display for Recovered {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::OtherGeneration { deleted } => {
                write!(
                    f,
                    "an interrupted compaction had left {}, which did not count: deleted",
                    deleted.display()
                )
            }
            Self::HalfSnapshot { moved_to } => write!(
                f,
                "a half-written snapshot was moved to {}; everything acknowledged is in the log",
                moved_to.display()
            ),
            Self::LogCut { writes } => write!(
                f,
                "THE END OF THE LOG IS MISSING: the last {writes} writes, each of one or more turns, are lost; \
                 what came before them is whole"
            ),
            Self::Snapshot { copied_to } => write!(
                f,
                "the snapshot was not readable and everything was read from the log instead; the files as found \
                 are in {}",
                copied_to.display()
            ),
        }
    }
}

/// Opens a generation that is not there yet.
pub(super) fn open_new(generation: &Path, cache_bytes: u64) -> Result<::sled::Db, StoreError> {
    open_sled(generation, cache_bytes)
}

/// Opens the generation that counts without its key and without mending anything.
pub(super) fn open_unsealed(directory: &Directory, cache_bytes: u64) -> Result<::sled::Db, StoreError> {
    let generation = directory.generation();
    find_log(&generation)?;
    let half = half_snapshots(&generation)?;
    if !half.is_empty() {
        return Err(StoreError::Damaged(
            "a snapshot is half written: open the store once, to mend it".to_owned(),
        ));
    }
    let db = open_sled(&generation, cache_bytes)?;
    if Ledger::is_store(&*db)? { Ok(db) } else { Err(beyond_mending(directory, "it has become empty")) }
}

/// Opens the generation that counts, mending what can be mended.
pub(super) fn open(
    directory: &Directory,
    options: Options,
    recovered: &mut Vec<Recovered>,
) -> Result<(::sled::Db, Seal), StoreError> {
    let generation = directory.generation();
    find_log(&generation)?;
    let half = half_snapshots(&generation)?;
    if !half.is_empty() {
        let folder = directory.recovered_folder()?;
        for path in half {
            let moved_to = folder.join(path.file_name().unwrap_or_default());
            fs::rename(&path, &moved_to).map_err(|error| at(&path, &error))?;
            recovered.push(Recovered::HalfSnapshot { moved_to });
        }
    }
    let db = match open_sled(&generation, options.cache_bytes) {
        Ok(db) => db,
        Err(StoreError::Damaged(fault)) => {
            let copied_to = directory.recovered_folder()?;
            copy_files(&generation, &copied_to)?;
            for path in snapshots(&generation)? {
                fs::remove_file(&path).map_err(|error| at(&path, &error))?;
            }
            let db = open_sled(&generation, options.cache_bytes).map_err(|again| {
                beyond_mending(directory, &format!("{fault}; from the log alone: {again}"))
            })?;
            recovered.push(Recovered::Snapshot { copied_to });
            db
        }
        Err(other) => return Err(other),
    };
    let seal = match Ledger::resume(&*db, options.keyring) {
        Err(StoreError::Damaged(fault)) => return Err(beyond_mending(directory, &fault)),
        resumed => resumed?,
    };
    let lost = directory.witnessed().saturating_sub(Ledger::batches(&*db)?);
    if lost > 0 {
        recovered.push(Recovered::LogCut { writes: lost });
    }
    if !recovered.is_empty() {
        let checked = Ledger::new(&*db, &seal).check();
        checked.map_err(|fault| beyond_mending(directory, &fault.to_string()))?;
    }
    Ok((db, seal))
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
            .flush_every_ms(Some(500))
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

/// A store whose log has gone is damaged, not new.
fn find_log(generation: &Path) -> Result<(), StoreError> {
    let log = generation.join("db");
    match fs::metadata(&log) {
        Ok(found) if found.len() > 0 => Ok(()),
        Ok(_) => Err(StoreError::Damaged(format!("{} is empty: restore a backup", log.display()))),
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => {
            Err(StoreError::Damaged(format!("{} is missing: restore a backup", log.display())))
        }
        Err(error) => Err(at(&log, &error)),
    }
}

fn beyond_mending(directory: &Directory, fault: &str) -> StoreError {
    StoreError::Damaged(format!(
        "{fault}. Keep {} as it is, and restore the last backup into another directory",
        directory.root().display()
    ))
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
    for path in files_named(from, |_| true)? {
        let copy = to.join(path.file_name().unwrap_or_default());
        if path.is_dir() {
            fs::create_dir(&copy).map_err(|error| at(&copy, &error))?;
            copy_files(&path, &copy)?;
        } else {
            fs::copy(&path, &copy).map_err(|error| at(&copy, &error))?;
        }
    }
    Ok(())
}
