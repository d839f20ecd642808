//! The embedded store: sled 0.34 behind one writer.
//!
//! sled's own flush does not reach the disk on Linux, its asynchronous flush can stop for good, and a snapshot
//! left half written keeps it from opening. So there is one writer (`writer`) that shares a real sync between
//! all who wait, and the directory is looked at before sled sees it (`directory`, `recovery`).
//!
//! Nothing is written that would take the disk below a floor of free space (`room`). Where the engine fails all the
//! same, it is let go and opened anew from the disk (`writer`, `held`); until then nothing is read or written.
//!
//! ```text
//! DIR/lapwise-store.json     what this is, and which generation counts
//! DIR/lapwise-store.lock     held while open
//! DIR/lapwise-store.written  what was acknowledged: the log must reach it
//! DIR/lapwise-store.trying   which messages are being worked, should one of them end the process
//! DIR/sled-0001/             sled's files; compacting writes the next generation
//! DIR/opening/               the files as found, where they are to be mended
//! DIR/recovered/0001/        copies of what was found damaged, to be looked at and deleted by a person
//! ```

mod directory;
mod faults;
mod held;
mod log;
mod recovered;
mod recovery;
mod room;
mod trying;
mod writer;

use std::fs::File;
use std::io::{BufRead, BufWriter, Write};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU64, AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, PoisonError, RwLock};
use std::time::Duration;

use tokio::sync::{mpsc, oneshot, watch};

use super::engine::Engine;
use super::ledger::{Changes, Ledger, Pair, export, first_count, import};
use super::seal::Seal;
use super::suspects::Suspects;
use super::{BackedUp, InboxKey, Keyring, StoreError};
use directory::{Directory, State};
pub use recovered::Recovered;
use trying::Tries;
use writer::{Job, Writer};

/// How a store is opened.
#[derive(Clone, Debug)]
pub struct Options {
    /// What it is sealed with; without a ring what is written can be read by anyone who reads the files.
    pub keyring: Option<Keyring>,
    /// Pages to keep in memory, in bytes of the log: sled holds each as four times that.
    pub cache_bytes: u64,
    /// Whether to go on where acknowledged writes are known to be lost; otherwise that is an error.
    pub accept_loss: bool,
    /// How many bytes stay free on the disk: nothing is written where that would leave less.
    pub floor_bytes: u64,
}

impl Default for Options {
    fn default() -> Self {
        Self { keyring: None, cache_bytes: 8 << 20, accept_loss: false, floor_bytes: 4 << 20 }
    }
}

/// What was found and done at opening.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct OpenReport {
    /// Whether the store is new.
    pub created: bool,
    /// What had to be mended, in order: for the log, loudly.
    pub recovered: Vec<Recovered>,
    /// Messages that were being worked when the process before this one ended without closing the store, each with
    /// how often it has failed by now: one of them may have ended it.
    pub cut_short: Vec<(InboxKey, u32)>,
}

/// How much was written so far.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Written {
    /// Calls that changed something and were acknowledged.
    pub changes: u64,
    /// Syncs they shared.
    pub syncs: u64,
}

/// What the writer and the readers have in common.
struct Shared {
    /// The engine's map, or why it is closed.
    tree: RwLock<Result<::sled::Tree, StoreError>>,
    seal: Seal,
    changes: AtomicU64,
    syncs: AtomicU64,
    /// Whether this process can no longer open the engine that failed.
    given_up: watch::Sender<bool>,
}

impl Shared {
    fn tree(&self) -> Result<::sled::Tree, StoreError> {
        self.tree.read().unwrap_or_else(PoisonError::into_inner).clone()
    }

    fn open(&self, tree: ::sled::Tree) {
        *self.tree.write().unwrap_or_else(PoisonError::into_inner) = Ok(tree);
    }

    fn close(&self, fault: StoreError) {
        *self.tree.write().unwrap_or_else(PoisonError::into_inner) = Err(fault);
    }

    fn give_up(&self) {
        self.given_up.send_replace(true);
    }
}

/// A store in a directory.
pub struct SledStore {
    jobs: Option<mpsc::Sender<Job>>,
    shared: Arc<Shared>,
    root: PathBuf,
    floor_bytes: u64,
    tries: Tries,
    suspects: Suspects,
    put_backs: AtomicUsize,
    /// Disconnected when the writer has ended.
    writer: Mutex<std::sync::mpsc::Receiver<()>>,
}

/// How long the end of the writer is waited for when the store is closed.
const END_WITHIN: Duration = Duration::from_secs(10);

/// How many writes may wait for the writer before callers wait to hand theirs over.
const WAITING_JOBS: usize = 1_024;

impl SledStore {
    /// Opens the store in a directory, or begins one where the directory is empty or not there.
    ///
    /// # Errors
    /// [`StoreError::Foreign`], [`StoreError::InUse`], [`StoreError::Key`], [`StoreError::Damaged`] or
    /// [`StoreError::Io`]; the files are left as they were found then.
    pub fn open(dir: &Path, options: Options) -> Result<(Self, OpenReport), StoreError> {
        let mut report = OpenReport::default();
        let mut directory = Directory::open(dir)?;
        let (db, seal) = match directory.state() {
            State::New => {
                report.created = true;
                directory.wipe_generation()?;
                room::for_bytes(dir, options.floor_bytes, 0)?;
                let db = recovery::open_new(&directory.generation(), options.cache_bytes)?;
                let (seal, changes) = Ledger::begin(options.keyring.clone())?;
                writer::apply(&db, changes.into_iter())?;
                writer::sync_all(&db, &directory.generation())?;
                directory.set_state(State::Ready)?;
                (db, seal)
            }
            State::Restoring => {
                return Err(StoreError::Damaged(format!(
                    "restoring into {} did not finish: delete the directory and restore again",
                    dir.display()
                )));
            }
            State::Ready => recovery::open(&directory, options.clone(), &mut report.recovered)?,
        };
        // Only now that the one that counts has been opened.
        directory.clear_other_generations(&mut report.recovered)?;
        directory::make_private(dir)?;
        let mut changes = first_count(&*db)?;
        changes.extend(trying::take(&directory.trying(), &Ledger::new(&*db, &seal), &mut report.cut_short)?);
        // The notes are struck out first: killed in between, a failure too few is counted, never one twice.
        let tries = Tries::new(&directory.trying())?;
        if !changes.is_empty() {
            writer::apply(&db, changes.into_iter())?;
            held::sync_now(&db, &directory.generation())?;
        }
        Self::start(directory, db, seal, options, tries).map(|store| (store, report))
    }

    fn start(
        directory: Directory,
        db: ::sled::Db,
        seal: Seal,
        options: Options,
        tries: Tries,
    ) -> Result<Self, StoreError> {
        let shared = Arc::new(Shared {
            tree: RwLock::new(Ok((*db).clone())),
            seal,
            changes: AtomicU64::new(0),
            syncs: AtomicU64::new(0),
            given_up: watch::Sender::new(false),
        });
        let (root, floor_bytes) = (directory.root().to_owned(), options.floor_bytes);
        let (jobs, queue) = mpsc::channel(WAITING_JOBS);
        let writer = Writer::new(directory, db, Arc::clone(&shared), options)?;
        let (running, ended) = std::sync::mpsc::channel();
        std::thread::Builder::new()
            .name("store-writer".to_owned())
            .spawn(move || {
                writer.run(queue);
                drop(running);
            })
            .map_err(|error| StoreError::Io(error.to_string()))?;
        Ok(Self {
            jobs: Some(jobs),
            shared,
            root,
            floor_bytes,
            writer: Mutex::new(ended),
            tries,
            suspects: Suspects::new(),
            put_backs: AtomicUsize::new(0),
        })
    }

    /// Until this process can no longer open an engine that failed: it is to end then, and to be started anew.
    pub async fn given_up(&self) {
        let mut given_up = self.shared.given_up.subscribe();
        // The sender lives as long as the store.
        let _ = given_up.wait_for(|given_up| *given_up).await;
    }

    /// Restores a backup into a directory that is empty or not there.
    ///
    /// # Errors
    /// [`StoreError::Foreign`] where something is there already or the backup is none of ours,
    /// [`StoreError::Damaged`] where it is not whole; the directory is left empty then.
    pub fn restore(from: impl BufRead, into: &Path) -> Result<BackedUp, StoreError> {
        let mut directory = Directory::create(into, State::Restoring)?;
        let restored = restore_into(from, &mut directory);
        if restored.is_err() {
            directory.abandon();
        }
        restored
    }

    /// Reads a backup through without keeping it: whether it is whole, and what it holds.
    ///
    /// # Errors
    /// [`StoreError::Foreign`] where it is none of ours, [`StoreError::Damaged`] where it is not whole.
    pub fn read_backup(from: impl BufRead) -> Result<BackedUp, StoreError> {
        import(from, |_| Ok(()))
    }

    /// Whether a store was begun in a directory.
    pub fn is_at(dir: &Path) -> bool {
        Directory::is_at(dir)
    }

    /// Backs up a store that nobody has open; its key is not needed.
    ///
    /// # Errors
    /// As [`SledStore::open`]; a store that needs mending is to be opened first.
    pub fn backup_cold(dir: &Path, to: impl Write) -> Result<BackedUp, StoreError> {
        let directory = Directory::open(dir)?;
        if directory.state() != State::Ready {
            return Err(StoreError::Damaged(format!("{} was never finished", dir.display())));
        }
        recovery::with_unsealed(&directory, Options::default().cache_bytes, |tree| export(tree, to))
    }

    /// How much was written since it was opened.
    pub fn written(&self) -> Written {
        Written {
            changes: self.shared.changes.load(Ordering::Relaxed),
            syncs: self.shared.syncs.load(Ordering::Relaxed),
        }
    }

    async fn hand_over(&self, job: Job) -> Result<(), StoreError> {
        let jobs = self.jobs.as_ref().ok_or_else(stopped)?;
        jobs.send(job).await.map_err(|_| stopped())
    }
}

fn stopped() -> StoreError {
    StoreError::Io("the writer has stopped".to_owned())
}

fn restore_into(from: impl BufRead, directory: &mut Directory) -> Result<BackedUp, StoreError> {
    let db = recovery::open_new(&directory.generation(), Options::default().cache_bytes)?;
    let put = |pairs: Vec<Pair>| writer::apply(&db, pairs.into_iter().map(|(key, value)| (key, Some(value))));
    let restored = import(from, put)?;
    if !Ledger::is_store(&*db)? {
        return Err(StoreError::Damaged("the backup has no beginning".to_owned()));
    }
    writer::sync_all(&db, &directory.generation())?;
    drop(db);
    directory.set_state(State::Ready)?;
    Ok(restored)
}

impl Drop for SledStore {
    /// Finishes what was handed over, and lets go of the directory; bounded in time, whatever the disk does.
    fn drop(&mut self) {
        drop(self.jobs.take());
        // It ends by hanging up. What was acknowledged is on the disk in any case.
        let writer = self.writer.get_mut().unwrap_or_else(PoisonError::into_inner);
        let _ = writer.recv_timeout(END_WITHIN);
        // Whatever was still being worked was stopped with the rest: it is not to blame.
        self.tries.clear();
    }
}

impl Engine for SledStore {
    fn note_try(&self, key: &InboxKey) -> Result<(), StoreError> {
        self.tries.begin(key)
    }

    fn strike_try(&self, key: &InboxKey) {
        self.tries.end(key);
    }

    fn suspects(&self) -> &Suspects {
        &self.suspects
    }

    fn put_backs(&self) -> &AtomicUsize {
        &self.put_backs
    }

    async fn takes_writes(&self) -> Result<(), StoreError> {
        let jobs = self.jobs.as_ref().filter(|jobs| !jobs.is_closed()).ok_or_else(stopped);
        jobs.and_then(|_| self.shared.tree()).and_then(|_| room::for_bytes(&self.root, self.floor_bytes, 0))
    }

    async fn look<T: Send + 'static>(
        &self,
        look: impl FnOnce(&Ledger<'_>) -> Result<T, StoreError> + Send + 'static,
    ) -> Result<T, StoreError> {
        look(&Ledger::new(&self.shared.tree()?, &self.shared.seal))
    }

    async fn look_through<T: Send + 'static>(
        &self,
        look: impl FnOnce(&Ledger<'_>) -> Result<T, StoreError> + Send + 'static,
    ) -> Result<T, StoreError> {
        let shared = Arc::clone(&self.shared);
        let looked = tokio::task::spawn_blocking(move || look(&Ledger::new(&shared.tree()?, &shared.seal)));
        looked.await.map_err(|error| StoreError::Io(error.to_string()))?
    }

    async fn change<T: Send + 'static>(
        &self,
        work: impl FnOnce(&Ledger<'_>) -> Result<(Changes, T), StoreError> + Send + 'static,
    ) -> Result<T, StoreError> {
        let (reply, answer) = oneshot::channel();
        self.hand_over(Job::change(work, reply)).await?;
        answer.await.map_err(|_| stopped())?
    }

    async fn look_at_all<T: Send + 'static>(
        &self,
        look: impl FnOnce(&Ledger<'_>) -> Result<T, StoreError> + Send + 'static,
    ) -> Result<T, StoreError> {
        let (reply, answer) = oneshot::channel();
        self.hand_over(Job::look(look, reply)).await?;
        answer.await.map_err(|_| stopped())?
    }

    async fn write_backup(&self, to: impl Write + Send + 'static) -> Result<BackedUp, StoreError> {
        let unwritten = |error: std::io::Error| StoreError::Io(format!("the backup: {error}"));
        // The writer stands still only while it writes to a file beside it, however slow the reader is.
        let spool = directory::nameless_file(&self.root.join("backup.spool"))?;
        let copy = spool.try_clone().map_err(unwritten)?;
        let backed_up = self.look_at_all(move |ledger| ledger.export(BufWriter::new(copy))).await?;
        let copied = tokio::task::spawn_blocking(move || copy_from_start(spool, to));
        copied.await.map_err(|error| StoreError::Io(error.to_string()))?.map_err(unwritten)?;
        Ok(backed_up)
    }

    async fn write_anew(&self) -> Result<(), StoreError> {
        let (reply, answer) = oneshot::channel();
        self.hand_over(Job::Compact(reply)).await?;
        answer.await.map_err(|_| stopped())?
    }
}

fn copy_from_start(mut from: File, mut to: impl Write) -> std::io::Result<()> {
    use std::io::Seek;
    from.rewind()?;
    std::io::copy(&mut from, &mut to)?;
    to.flush()
}
