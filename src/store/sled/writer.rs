//! The one writer: takes whatever waits, applies it together, syncs once, tells everybody.
//!
//! Where the engine fails, it is closed: what it holds in memory and what is on the disk may differ from there on, so
//! nothing is written or read until it has been opened anew from the disk, which the writer does by itself.

use std::fs::File;
use std::io::{self, Seek, Write};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::Ordering;
use std::time::{Duration, Instant};

use tokio::sync::mpsc::error::TryRecvError;
use tokio::sync::{mpsc, oneshot};

use super::directory::{CLOSED, Directory, OPEN, Witness, remove_if_there, sync_directory};
use super::faults::sled_fault;
use super::held::{CLOSE_WITHIN, Held, sync_now};
use super::{Options, Shared, recovery, room};
use crate::store::StoreError;
use crate::store::ledger::{Changes, Ledger, Overlay, Pair, Shelf};

/// How many changes share a sync at most: what is applied together is held in memory together.
const AT_MOST: usize = 512;
/// How often a closed engine is tried to be opened, and callers are told that it is closed.
const TRY_EVERY: Duration = Duration::from_millis(500);
const TELL_EVERY: Duration = Duration::from_millis(20);
/// An engine that is closed for so long, and not for lack of room, is not opened by this process any more.
const GIVE_UP_AFTER: Duration = Duration::from_secs(30);

/// Tells a caller how it went.
type Tell = Box<dyn FnOnce(Result<(), StoreError>) + Send>;

/// Works out changes, and what to tell the caller once they are durable.
type Work = Box<dyn FnOnce(Result<&Ledger<'_>, StoreError>) -> (Changes, Tell) + Send>;

/// Looks at everything while nothing changes.
type Look = Box<dyn FnOnce(Result<&Ledger<'_>, StoreError>) + Send>;

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
        let counted = |ledger: &Ledger<'_>| {
            let (changes, answer) = work(ledger)?;
            Ok((ledger.counted(changes)?, answer))
        };
        Self::Change(Box::new(move |ledger| match ledger.and_then(counted) {
            Ok((changes, answer)) => {
                let tell: Tell = Box::new(move |synced| drop(reply.send(synced.map(|()| answer))));
                (changes, tell)
            }
            Err(fault) => (Changes::new(), Box::new(move |_| drop(reply.send(Err(fault))))),
        }))
    }

    pub(super) fn look<T: Send + 'static>(
        look: impl FnOnce(&Ledger<'_>) -> Result<T, StoreError> + Send + 'static,
        reply: oneshot::Sender<Result<T, StoreError>>,
    ) -> Self {
        Self::Look(Box::new(move |ledger| drop(reply.send(ledger.and_then(look)))))
    }
}

/// The engine, or since when and why it is closed.
enum Engine {
    Open(Held),
    Closed { fault: StoreError, since: Instant, tried: Instant },
}

/// The writer's own: nobody else holds the database or the directory.
pub(super) struct Writer {
    directory: Directory,
    engine: Engine,
    shared: Arc<Shared>,
    options: Options,
    /// How many batches have been applied, ever.
    batches: u64,
    /// Holds what the log must still reach at the next opening.
    witness: File,
}

impl Writer {
    pub(super) fn new(
        directory: Directory,
        db: ::sled::Db,
        shared: Arc<Shared>,
        options: Options,
    ) -> Result<Self, StoreError> {
        let batches = Ledger::batches(&*db)?;
        let held = Held::new(db, &directory.generation())?;
        let mut witness = directory.witness()?;
        let io = |error: io::Error| StoreError::Io(format!("the witness: {error}"));
        let seen = directory.witness_now(batches, held.reached());
        write_witness(&mut witness, &seen, OPEN).map_err(io)?;
        witness.sync_data().map_err(io)?;
        Ok(Self { directory, engine: Engine::Open(held), shared, options, batches, witness })
    }

    pub(super) fn run(mut self, mut queue: mpsc::Receiver<Job>) {
        let mut together = Vec::new();
        loop {
            let first = match &self.engine {
                Engine::Open(_) => queue.blocking_recv(),
                Engine::Closed { .. } => match queue.try_recv() {
                    Err(TryRecvError::Empty) => {
                        std::thread::sleep(TELL_EVERY);
                        self.open_again();
                        continue;
                    }
                    received => received.ok(),
                },
            };
            let Some(first) = first else { break };
            let mut next = Some(first);
            while let Some(job) = next {
                match job {
                    Job::Change(work) => together.push(work),
                    Job::Look(look) => {
                        self.settle(&mut together);
                        match &self.engine {
                            Engine::Open(held) => look(Ok(&Ledger::new(&**held.db(), &self.shared.seal))),
                            Engine::Closed { fault, .. } => look(Err(fault.clone())),
                        }
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
        self.finish();
    }

    /// Closes the engine in order, or leaves it behind where that takes too long: all it was told is on the disk.
    fn finish(mut self) {
        let Engine::Open(held) = self.engine else { return };
        let seen = self.directory.witness_now(self.batches, held.reached());
        self.shared.close(StoreError::Io("the store has been closed".to_owned()));
        if held.close().recv_timeout(CLOSE_WITHIN).is_ok() {
            // Only spares the next opening a look at the whole log.
            let _ = write_witness(&mut self.witness, &seen, CLOSED);
        } else {
            tracing::error!("the engine of the store did not close in time and is left behind");
        }
    }

    /// Works out, applies and syncs together what waits, and tells everybody.
    fn settle(&mut self, together: &mut Vec<Work>) {
        let held = match &self.engine {
            Engine::Open(held) => held,
            Engine::Closed { fault, .. } => {
                for work in together.drain(..) {
                    let (_, told) = work(Err(fault.clone()));
                    told(Err(fault.clone()));
                }
                return;
            }
        };
        let mut overlay = Overlay::new(&**held.db());
        let mut tell = Vec::with_capacity(together.len());
        let mut counted = 0;
        for work in together.drain(..) {
            let (changes, told) = work(Ok(&Ledger::new(&overlay, &self.shared.seal)));
            counted += u64::from(!changes.is_empty());
            overlay.lay(changes);
            tell.push(told);
        }
        let changes: Vec<_> = overlay.into_changes().into_iter().collect();
        let synced = if changes.is_empty() { Ok(()) } else { self.write(changes) };
        if synced.is_ok() {
            self.shared.changes.fetch_add(counted, Ordering::Relaxed);
        }
        for told in tell {
            told(synced.clone());
        }
    }

    fn write(&mut self, changes: Vec<(Vec<u8>, Option<Vec<u8>>)>) -> Result<(), StoreError> {
        let held = match &self.engine {
            Engine::Open(held) => held,
            Engine::Closed { fault, .. } => return Err(fault.clone()),
        };
        let bytes: usize =
            changes.iter().map(|(key, value)| key.len() + value.as_ref().map_or(0, Vec::len)).sum();
        // Nothing has been touched yet: the next batch may find room again.
        room::for_bytes(
            self.directory.root(),
            self.options.floor_bytes,
            u64::try_from(bytes).unwrap_or(u64::MAX),
        )?;
        let batches = self.batches + 1;
        // sled panics over some faults that it does not expect.
        let written = catch_unwind(AssertUnwindSafe(|| {
            apply(held.db(), changes.into_iter().chain([Ledger::count_batch(batches)]))?;
            held.sync()
        }));
        match written.unwrap_or_else(|_| Err(StoreError::Io("the engine gave up over it".to_owned()))) {
            Ok(()) => {
                self.batches = batches;
                let seen = self.directory.witness_now(batches, held.reached());
                // Unsynced, and so at worst behind: it only ever accuses a log that has been cut.
                if let Err(error) = write_witness(&mut self.witness, &seen, OPEN) {
                    tracing::warn!(%error, "the witness of the store could not be written");
                }
                self.shared.syncs.fetch_add(1, Ordering::Relaxed);
                Ok(())
            }
            Err(fault) => {
                self.close(fault.clone());
                Err(fault)
            }
        }
    }

    /// Lets go of an engine that failed: what it holds in memory is not what is on the disk.
    fn close(&mut self, fault: StoreError) {
        tracing::error!(alert = true, %fault, "the store failed; it is opened anew as soon as that can be done");
        self.shared.close(fault.clone());
        let now = Instant::now();
        let before = std::mem::replace(&mut self.engine, Engine::Closed { fault, since: now, tried: now });
        if let Engine::Open(held) = before {
            drop(held.close());
        }
    }

    /// Opens a closed engine from the disk, if it is time to try again.
    fn open_again(&mut self) {
        let Engine::Closed { fault, since, tried } = &mut self.engine else { return };
        if tried.elapsed() < TRY_EVERY {
            return;
        }
        let since = *since;
        let root = self.directory.root();
        let mut recovered = Vec::new();
        let opened = room::for_bytes(root, self.options.floor_bytes, 0)
            .and_then(|()| recovery::open(&self.directory, self.options.clone(), &mut recovered))
            .and_then(|(db, _)| Ok((Ledger::batches(&*db)?, Held::new(db, &self.directory.generation())?)));
        *tried = Instant::now();
        match opened {
            Ok((batches, held)) => {
                for mended in &recovered {
                    tracing::error!(%mended, "the store was found damaged and has been mended");
                }
                tracing::error!(alert = true, closed_for = ?since.elapsed(), "the store is open again");
                self.batches = batches;
                self.shared.open((**held.db()).clone());
                self.engine = Engine::Open(held);
            }
            Err(found) => {
                let waits_for_room = matches!(found, StoreError::Full(_));
                *fault = found.clone();
                self.shared.close(found);
                if !waits_for_room && since.elapsed() > GIVE_UP_AFTER {
                    self.shared.give_up();
                }
            }
        }
    }

    /// Copies what is held into the next generation, makes that the one that counts, and deletes the old one.
    fn compact(&mut self) -> Result<(), StoreError> {
        let held = match &self.engine {
            Engine::Open(held) => held,
            Engine::Closed { fault, .. } => return Err(fault.clone()),
        };
        let next = self.directory.begin_generation()?;
        let length = held.db().size_on_disk().map_err(|error| sled_fault(&error))?;
        room::for_bytes(self.directory.root(), self.options.floor_bytes, length)?;
        let copied = copy_into(held, &next, self.options.cache_bytes);
        // What was begun is in the way of a disk that is full.
        let copied = copied.inspect_err(|_| drop(remove_if_there(&next)))?;
        let old = self.directory.generation();
        if let Err(fault) = self.directory.next_generation() {
            // Which of the two will count at the next opening is not known.
            drop(copied.close());
            self.close(fault.clone());
            return Err(fault);
        }
        self.shared.open((**copied.db()).clone());
        let seen = self.directory.witness_now(self.batches, copied.reached());
        if let Err(error) = write_witness(&mut self.witness, &seen, OPEN) {
            tracing::warn!(%error, "the witness of the store could not be written");
        }
        if let Engine::Open(before) = std::mem::replace(&mut self.engine, Engine::Open(copied)) {
            let _ = before.close().recv_timeout(CLOSE_WITHIN);
        }
        std::fs::remove_dir_all(&old).map_err(|error| {
            StoreError::Io(format!(
                "{} could not be deleted: {error}; opening again tries again",
                old.display()
            ))
        })
    }
}

fn copy_into(held: &Held, generation: &Path, cache_bytes: u64) -> Result<Held, StoreError> {
    let copied = Held::new(recovery::open_new(generation, cache_bytes)?, generation)?;
    let done =
        copy(held.db(), copied.db()).and_then(|()| copied.sync()).and_then(|()| sync_names(generation));
    match done {
        Ok(()) => Ok(copied),
        Err(fault) => {
            let _ = copied.close().recv_timeout(CLOSE_WITHIN);
            Err(fault)
        }
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
    sync_now(db, generation)?;
    sync_names(generation)
}

fn sync_names(generation: &Path) -> Result<(), StoreError> {
    sync_directory(&generation.join("blobs"))?;
    sync_directory(generation)
}

fn write_witness(file: &mut File, witness: &Witness, state: u8) -> io::Result<()> {
    file.rewind()?;
    file.write_all(&witness.write(state))
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
