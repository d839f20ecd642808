//! A store that forgets everything with the process: for tests, benches and trying things out.

use std::collections::BTreeMap;
use std::io::Write;
use std::sync::atomic::AtomicUsize;
use std::sync::{Mutex, MutexGuard, PoisonError};

use super::engine::Engine;
use super::ledger::{Changes, Ledger, export, first_count};
use super::seal::Seal;
use super::suspects::Suspects;
use super::{BackedUp, InboxKey, Keyring, StoreError};

type Map = BTreeMap<Vec<u8>, Vec<u8>>;

/// A store in memory.
pub struct MemoryStore {
    map: Mutex<Map>,
    seal: Seal,
    suspects: Suspects,
    put_backs: AtomicUsize,
}

impl MemoryStore {
    /// An empty store; what is in it is sealed where a ring is given.
    pub fn new(ring: Option<Keyring>) -> Result<Self, StoreError> {
        let (seal, changes) = Ledger::begin(ring)?;
        let mut map = Map::new();
        apply(changes, &mut map);
        apply(first_count(&map)?, &mut map);
        Ok(Self { map: Mutex::new(map), seal, suspects: Suspects::new(), put_backs: AtomicUsize::new(0) })
    }

    fn map(&self) -> MutexGuard<'_, Map> {
        // Changes are worked out before the first is made: a panic leaves the map as it was.
        self.map.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

fn apply(changes: Changes, map: &mut Map) {
    for (key, value) in changes {
        match value {
            Some(value) => map.insert(key, value),
            None => map.remove(&key),
        };
    }
}

impl Engine for MemoryStore {
    // Nothing outlives the process, so nothing is to be found of it.
    fn note_try(&self, _: &InboxKey) -> Result<(), StoreError> {
        Ok(())
    }

    fn strike_try(&self, _: &InboxKey) {}

    fn suspects(&self) -> &Suspects {
        &self.suspects
    }

    fn put_backs(&self) -> &AtomicUsize {
        &self.put_backs
    }

    async fn takes_writes(&self) -> Result<(), StoreError> {
        Ok(())
    }

    async fn look<T: Send + 'static>(
        &self,
        look: impl FnOnce(&Ledger<'_>) -> Result<T, StoreError> + Send + 'static,
    ) -> Result<T, StoreError> {
        look(&Ledger::new(&*self.map(), &self.seal))
    }

    async fn look_through<T: Send + 'static>(
        &self,
        look: impl FnOnce(&Ledger<'_>) -> Result<T, StoreError> + Send + 'static,
    ) -> Result<T, StoreError> {
        self.look(look).await
    }

    async fn look_at_all<T: Send + 'static>(
        &self,
        look: impl FnOnce(&Ledger<'_>) -> Result<T, StoreError> + Send + 'static,
    ) -> Result<T, StoreError> {
        self.look(look).await
    }

    async fn change<T: Send + 'static>(
        &self,
        work: impl FnOnce(&Ledger<'_>) -> Result<(Changes, T), StoreError> + Send + 'static,
    ) -> Result<T, StoreError> {
        let mut map = self.map();
        let ledger = Ledger::new(&*map, &self.seal);
        let (changes, answer) = work(&ledger)?;
        let changes = ledger.counted(changes)?;
        apply(changes, &mut map);
        Ok(answer)
    }

    async fn write_backup(&self, to: impl Write + Send + 'static) -> Result<BackedUp, StoreError> {
        export(&*self.map(), to)
    }

    async fn write_anew(&self) -> Result<(), StoreError> {
        Ok(())
    }
}
