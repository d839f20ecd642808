//! The one writer: takes whatever waits, applies it together, syncs once, tells everybody.

use std::fs::File;
use std::io::{self, Seek, Write};
use std::path::Path;
use std::sync::atomic::Ordering;
use std::sync::{Arc, PoisonError};

use tokio::sync::{mpsc, oneshot};

use super::Shared;
use super::directory::{CLOSED, Directory, OPEN, remove_if_there, sync_directory};
use super::recovery;
use crate::store::StoreError;
use crate::store::ledger::{Changes, Ledger, Overlay, Pair, Shelf};

/// How many changes share a sync at most: what is applied together is held in memory together.
const AT_MOST: usize = 512;

/// Tells a caller how it went.
type Tell = Box<dyn FnOnce(Result<(), StoreError>) + Send>;

/// Works out changes, and what to tell the caller once they are durable.
type Work = Box<dyn FnOnce(&Ledger<'_>) -> (Changes, Tell) + Send>;

/// Looks at everything while nothing changes.
type Look = Box<dyn FnOnce(&Ledger<'_>) + Send>;

/// What the writer can be asked for.
pub(super) enum Job {
    /// To change something.
    Change(Work),
    /// To stand still while somebody looks at everything.
    Look(Look),
    /// To write everything anew and forget the old files.
    Compact(oneshot::Sender<Result<(), StoreError>>),
}

impl Job {
    pub(super) fn change<T: Send + 'static>(
        work: impl FnOnce(&Ledger<'_>) -> Result<(Changes, T), StoreError> + Send + 'static,
        reply: oneshot::Sender<Result<T, StoreError>>,
    ) -> Self {
        // Whoever asked may have gone: the change stands all the same.
        Self::Change(Box::new(move |ledger| match work(ledger) {
            Ok((changes, answer)) => {
                let tell: Tell = Box::new(move |synced| drop(reply.send(synced.map(|()| answer))));
                (changes, tell)
            }
            Err(fault) => (Changes::new(), Box::new(move |_| drop(reply.send(Err(fault))))),
        }))
    }
}

/// The writer's own: nobody else holds the database or the directory.
pub(super) struct Writer {
    directory: Directory,
    db: ::sled::Db,
    /// A handle of our own on sled's file, because sled does not sync it.
    file: File,
    shared: Arc<Shared>,
    cache_bytes: u64,
    /// How many batches have been applied, ever.
    batches: u64,
    /// Holds that number once the batch is durable: what the log must still reach at the next opening.
    witness: File,
    /// Why nothing is written any more.
    stopped: Option<StoreError>,
}

impl Writer {
    pub(super) fn new(
        directory: Directory,
        db: ::sled::Db,
        shared: Arc<Shared>,
        cache_bytes: u64,
    ) -> Result<Self, StoreError> {
        let file = own_handle(&directory.generation())?;
        let batches = Ledger::batches(&*db)?;
        let mut witness = directory.witness()?;
        let io = |error: io::Error| StoreError::Io(format!("the witness: {error}"));
        write_witness(&mut witness, batches, OPEN).map_err(io)?;
        witness.sync_data().map_err(io)?;
        Ok(Self { directory, db, file, shared, cache_bytes, batches, witness, stopped: None })
    }

    pub(super) fn run(mut self, mut queue: mpsc::Receiver<Job>) {
        let mut together = Vec::new();
        while let Some(first) = queue.blocking_recv() {
            let mut next = Some(first);
            while let Some(job) = next {
                match job {
                    Job::Change(work) => together.push(work),
                    Job::Look(look) => {
                        self.settle(&mut together);
                        look(&Ledger::new(&*self.db, &self.shared.seal));
                    }
                    Job::Compact(reply) => {
                        self.settle(&mut together);
                        drop(reply.send(self.compact()));
                    }
                }
                next = if together.len() < AT_MOST { queue.try_recv().ok() } else { None };
            }
            self.settle(&mut together);
        }
        if self.stopped.is_none() {
            // Only spares the next opening a copy.
            let _ = write_witness(&mut self.witness, self.batches, CLOSED);
        }
    }

    /// Works out, applies and syncs together what waits, and tells everybody.
    fn settle(&mut self, together: &mut Vec<Work>) {
        let mut overlay = Overlay::new(&*self.db);
        let mut tell = Vec::with_capacity(together.len());
        let mut counted = 0;
        for work in together.drain(..) {
            let (changes, told) = work(&Ledger::new(&overlay, &self.shared.seal));
            counted += u64::from(!changes.is_empty());
            overlay.lay(changes);
            tell.push(told);
        }
        let changes = overlay.into_changes();
        let synced = if changes.is_empty() { Ok(()) } else { self.write(changes.into_iter()) };
        if synced.is_ok() {
            self.shared.changes.fetch_add(counted, Ordering::Relaxed);
        }
        for told in tell {
            told(synced.clone());
        }
    }

    fn write(&mut self, changes: impl Iterator<Item = (Vec<u8>, Option<Vec<u8>>)>) -> Result<(), StoreError> {
        if let Some(fault) = &self.stopped {
            return Err(fault.clone());
        }
        let batches = self.batches + 1;
        let written = apply(&self.db, changes.chain([Ledger::count_batch(batches)]))
            .and_then(|()| self.db.flush().map_err(|error| sled_fault(&error)))
            .and_then(|_| self.file.sync_data().map_err(|error| StoreError::Io(error.to_string())));
        match written {
            Ok(()) => {
                self.batches = batches;
                // Unsynced, and so at worst behind: it only ever accuses a log that has been cut.
                if let Err(error) = write_witness(&mut self.witness, batches, OPEN) {
                    tracing::warn!(%error, "the witness of the store could not be written");
                }
                self.shared.syncs.fetch_add(1, Ordering::Relaxed);
                Ok(())
            }
            // What sled holds in memory and what is on the disk may differ from here on.
            Err(fault) => {
                let fault =
                    StoreError::Io(format!("{fault}; nothing is written until the store is opened again"));
                self.stopped = Some(fault.clone());
                Err(fault)
            }
        }
    }

    fn copy_into(&self, generation: &Path) -> Result<(::sled::Db, File), StoreError> {
        let db = recovery::open_new(generation, self.cache_bytes)?;
        copy(&self.db, &db)?;
        sync_all(&db, generation)?;
        Ok((db, own_handle(generation)?))
    }

    /// Copies what is held into the next generation, makes that the one that counts, and deletes the old one.
    fn compact(&mut self) -> Result<(), StoreError> {
        if let Some(fault) = &self.stopped {
            return Err(fault.clone());
        }
        let next = self.directory.begin_generation()?;
        // What was begun is in the way of a disk that is full.
        let (db, file) = self.copy_into(&next).inspect_err(|_| drop(remove_if_there(&next)))?;
        let old = self.directory.generation();
        if let Err(fault) = self.directory.next_generation() {
            // Which of the two will count at the next opening is not known.
            self.stopped = Some(fault.clone());
            return Err(fault);
        }
        *self.shared.tree.write().unwrap_or_else(PoisonError::into_inner) = (*db).clone();
        self.db = db;
        self.file = file;
        std::fs::remove_dir_all(&old).map_err(|error| {
            StoreError::Io(format!(
                "{} could not be deleted: {error}; opening again tries again",
                old.display()
            ))
        })
    }
}

/// How many pairs are copied in one batch.
const COPIED_TOGETHER: usize = 1_000;

fn copy(from: &::sled::Tree, to: &::sled::Tree) -> Result<(), StoreError> {
    let mut together = Vec::new();
    from.each(&[], &mut |key, value| {
        together.push((key.to_vec(), Some(value.to_vec())));
        if together.len() < COPIED_TOGETHER { Ok(()) } else { apply(to, together.drain(..)) }
    })?;
    apply(to, together.into_iter())
}

/// Applies changes, all or nothing.
pub(super) fn apply(
    tree: &::sled::Tree,
    changes: impl Iterator<Item = (Vec<u8>, Option<Vec<u8>>)>,
) -> Result<(), StoreError> {
    let mut batch = ::sled::Batch::default();
    for (key, value) in changes {
        match value {
            Some(value) => batch.insert(key, value),
            None => batch.remove(key),
        }
    }
    tree.apply_batch(batch).map_err(|error| sled_fault(&error))
}

/// Makes a whole generation durable, its directory entries included.
pub(super) fn sync_all(db: &::sled::Db, generation: &Path) -> Result<(), StoreError> {
    db.flush().map_err(|error| sled_fault(&error))?;
    let io = |error: io::Error| StoreError::Io(error.to_string());
    own_handle(generation)?.sync_all().map_err(io)?;
    sync_directory(&generation.join("blobs"))?;
    sync_directory(generation)
}

fn write_witness(witness: &mut File, batches: u64, state: u8) -> io::Result<()> {
    witness.rewind()?;
    witness.write_all(&[batches.to_be_bytes().as_slice(), &[state]].concat())
}

fn own_handle(generation: &Path) -> Result<File, StoreError> {
    let path = generation.join("db");
    File::options()
        .write(true)
        .open(&path)
        .map_err(|error| StoreError::Io(format!("{}: {error}", path.display())))
}

/// sled's trouble in our words.
pub(super) fn sled_fault(error: &::sled::Error) -> StoreError {
    match error {
        ::sled::Error::Corruption { .. } => StoreError::Damaged(error.to_string()),
        ::sled::Error::Io(_)
        | ::sled::Error::CollectionNotFound(_)
        | ::sled::Error::Unsupported(_)
        | ::sled::Error::ReportableBug(_) => StoreError::Io(error.to_string()),
    }
}

impl Shelf for ::sled::Tree {
    fn get(&self, key: &[u8]) -> Result<Option<Vec<u8>>, StoreError> {
        let value = ::sled::Tree::get(self, key).map_err(|error| sled_fault(&error))?;
        Ok(value.map(|value| value.to_vec()))
    }

    fn range(&self, prefix: &[u8], from: &[u8], limit: usize) -> Result<Vec<Pair>, StoreError> {
        let mut pairs = Vec::new();
        for pair in ::sled::Tree::range(self, from.to_vec()..).take(limit) {
            let (key, value) = pair.map_err(|error| sled_fault(&error))?;
            if !key.starts_with(prefix) {
                break;
            }
            pairs.push((key.to_vec(), value.to_vec()));
        }
        Ok(pairs)
    }
}
