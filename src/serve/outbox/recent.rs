//! A map that forgets its oldest entries: what is nice to know of a chat, never what must be known.

use std::collections::{HashMap, VecDeque};
use std::hash::Hash;

/// At most so many entries, the latest written.
pub(super) struct Recent<K, V> {
    most: usize,
    // The stamp tells a live place in the line from one left behind by a later write.
    entries: HashMap<K, (u64, V)>,
    line: VecDeque<(K, u64)>,
    stamp: u64,
}

impl<K: Clone + Eq + Hash, V> Recent<K, V> {
    pub(super) fn new(most: usize) -> Self {
        Self { most, entries: HashMap::new(), line: VecDeque::new(), stamp: 0 }
    }

    pub(super) fn get(&self, key: &K) -> Option<&V> {
        self.entries.get(key).map(|(_, value)| value)
    }

    pub(super) fn len(&self) -> usize {
        self.entries.len()
    }

    pub(super) fn remove(&mut self, key: &K) -> Option<V> {
        self.entries.remove(key).map(|(_, value)| value)
    }

    pub(super) fn insert(&mut self, key: K, value: V) -> Option<V> {
        self.stamp = self.stamp.wrapping_add(1);
        self.line.push_back((key.clone(), self.stamp));
        let before = self.entries.insert(key, (self.stamp, value));
        while self.entries.len() > self.most {
            let Some((oldest, stamp)) = self.line.pop_front() else { break };
            if self.is_live(&oldest, stamp) {
                self.entries.remove(&oldest);
            }
        }
        // Places left behind are cleared now and then, not at every write.
        if self.line.len() > self.entries.len().saturating_mul(2) {
            let mut line = std::mem::take(&mut self.line);
            line.retain(|(key, stamp)| self.is_live(key, *stamp));
            self.line = line;
        }
        before.map(|(_, value)| value)
    }

    fn is_live(&self, key: &K, stamp: u64) -> bool {
        self.entries.get(key).is_some_and(|(at, _)| *at == stamp)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_oldest_are_forgotten_and_the_room_stays_bounded() {
        let mut recent = Recent::new(3);
        for round in 0..100 {
            for key in 0..3 {
                recent.insert(key, round);
            }
        }
        assert!(recent.line.len() <= 6);
        let mut few = Recent::new(1_000);
        (0..100).for_each(|round| drop(few.insert(0, round)));
        assert!(few.line.len() <= 2);
        recent.insert(9, 0);
        assert_eq!((recent.get(&0), recent.get(&1), recent.get(&9)), (None, Some(&99), Some(&0)));
    }
}
