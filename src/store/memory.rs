//! A store that forgets everything with the process: for tests, benches and trying things out.

use std::collections::BTreeMap;
use std::io::Write;
use std::sync::{Mutex, MutexGuard, PoisonError};

use super::engine::Engine;
use super::ledger::{Changes, Ledger, export};
use super::seal::Seal;
use super::{BackedUp, Keyring, StoreError};

type Map = BTreeMap<Vec<u8>, Vec<u8>>;

/// A store in memory.
pub struct MemoryStore {
    map: Mutex<Map>,
    seal: Seal,
}

impl MemoryStore {
    /// An empty store; what is in it is sealed where a ring is given.
    pub fn new(ring: Option<Keyring>) -> Result<Self, StoreError> {
        let (seal, changes) = Ledger::begin(ring)?;
        let mut map = Map::new();
        apply(changes, &mut map);
        Ok(Self { map: Mutex::new(map), seal })
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
        let (changes, answer) = work(&Ledger::new(&*map, &self.seal))?;
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
