//! sled held open: every wait for it is bounded, and it is asked whether it is well after each sync.
//!
//! Where a write of sled's fails in the background, a flush that waits for it may never be woken, and closing it then
//! waits for ever. So the flush runs in a thread of its own, is woken where sled has noted a fault, and closing is
//! left to a thread that may be left behind.

use std::fs::File;
use std::path::Path;
use std::sync::mpsc::{Receiver, RecvTimeoutError, SyncSender, channel, sync_channel};
use std::thread::JoinHandle;
use std::time::{Duration, Instant};

use super::directory::at;
use super::faults::sled_fault;
use crate::store::StoreError;

/// A disk that has not taken a batch after so long is as good as gone.
const SYNC_WITHIN: Duration = Duration::from_secs(20);
/// How often sled is asked for faults of its own while a flush is waited for.
const LOOK_EVERY: Duration = Duration::from_millis(100);
/// How long closing is waited for.
pub(super) const CLOSE_WITHIN: Duration = Duration::from_secs(5);

/// sled, open.
pub(super) struct Held {
    db: ::sled::Db,
    ask: SyncSender<()>,
    told: Receiver<Result<(), StoreError>>,
    syncing: JoinHandle<()>,
}

impl Held {
    pub(super) fn new(db: ::sled::Db, generation: &Path) -> Result<Self, StoreError> {
        let file = own_handle(generation)?;
        let (ask, asked) = sync_channel(1);
        let (tell, told) = channel();
        let copy = db.clone();
        let syncing = std::thread::Builder::new()
            .name("store-sync".to_owned())
            .spawn(move || {
                while asked.recv().is_ok() {
                    if tell.send(sync(&copy, &file)).is_err() {
                        return;
                    }
                }
            })
            .map_err(|error| StoreError::Io(error.to_string()))?;
        Ok(Self { db, ask, told, syncing })
    }

    pub(super) fn db(&self) -> &::sled::Db {
        &self.db
    }

    /// Up to where the log is on the disk: it only grows, within a generation.
    pub(super) fn reached(&self) -> u64 {
        u64::try_from(self.db.context.pagecache.log.stable_offset()).unwrap_or_default()
    }

    /// Makes everything that was applied durable; an error where that is not certain.
    pub(super) fn sync(&self) -> Result<(), StoreError> {
        let gone = || StoreError::Io("the thread that syncs has ended".to_owned());
        let begun = Instant::now();
        self.ask.try_send(()).map_err(|_| gone())?;
        loop {
            match self.told.recv_timeout(LOOK_EVERY) {
                Ok(synced) => return synced,
                Err(RecvTimeoutError::Disconnected) => return Err(gone()),
                Err(RecvTimeoutError::Timeout) => {}
            }
            if let Err(fault) = self.well() {
                // Answered at once, and it wakes whoever sled has forgotten to wake.
                let _ = self.db.flush();
                return Err(fault);
            }
            if begun.elapsed() > SYNC_WITHIN {
                return Err(StoreError::Io("the disk does not take what is written".to_owned()));
            }
        }
    }

    /// Whether no write of sled's has failed in the background.
    pub(super) fn well(&self) -> Result<(), StoreError> {
        self.db.context.global_error().map_err(|error| sled_fault(&error))
    }

    /// Lets go of it; what is returned tells when it has closed.
    pub(super) fn close(self) -> Receiver<()> {
        let (tell, told) = channel();
        let closing = std::thread::Builder::new().name("store-close".to_owned()).spawn(move || {
            let Self { db, ask, told: _, syncing } = self;
            drop(ask);
            // It holds the database, too: whoever lets go last closes it.
            let _ = syncing.join();
            drop(db);
            let _ = tell.send(());
        });
        if let Err(error) = closing {
            tracing::error!(%error, "the store is closed where it is");
        }
        told
    }
}

/// A handle of our own on sled's file, because sled does not sync it.
fn own_handle(generation: &Path) -> Result<File, StoreError> {
    let path = generation.join("db");
    File::options().write(true).open(&path).map_err(|error| at(&path, &error))
}

/// The same as [`Held::sync`], for as long as it takes.
pub(super) fn sync_now(db: &::sled::Db, generation: &Path) -> Result<(), StoreError> {
    sync(db, &own_handle(generation)?)
}

fn sync(db: &::sled::Db, file: &File) -> Result<(), StoreError> {
    db.flush().map_err(|error| sled_fault(&error))?;
    file.sync_data().map_err(|error| StoreError::Io(error.to_string()))?;
    db.context.global_error().map_err(|error| sled_fault(&error))
}
