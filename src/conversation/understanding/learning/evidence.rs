//! How much more often messages about a topic use a term than all others do.
//!
//! A term that speaks for no topic weighs nothing; none weighs against one.
//!
//! # Source
//! The weight is the logarithm of the ratio of two smoothed frequencies, the "weight of evidence" (Good,
//! "Probability and the Weighing of Evidence", 1950); the smoothing is common practice, no source.

use std::collections::BTreeMap;

use super::machine::round;
use super::table::{Row, Table};
use crate::conversation::understanding::words::terms::{Key, Keys};

/// How many messages that use each term as everybody does are added to a topic's own.
const PRIOR: f64 = 1.0;
/// Terms of fewer messages than this are not weighed.
const FEWEST: f64 = 2.0;
/// What keeps a term that no other topic uses from weighing without end.
const UNSEEN: f64 = 0.05;
/// How the length of a message tells against what its words weigh: by this power.
const DAMPING: f64 = 0.2;
/// Weights smaller than this, in whole numbers, are left out.
const SLIGHTEST: i16 = 20;
/// What a weight of one is in whole numbers: as heavy beside the linear model as does best on messages held out.
const ONE: f64 = 80.0;

/// Weighs the telling terms of messages, each with the column it is about.
pub(in super::super) fn learn(lessons: &[(Keys, usize)], names: &BTreeMap<Key, String>) -> Vec<Row> {
    let mut sizes: BTreeMap<usize, f64> = BTreeMap::new();
    let mut uses: BTreeMap<Key, BTreeMap<usize, f64>> = BTreeMap::new();
    let mut all = 0.0;
    for (keys, column) in lessons {
        all += 1.0;
        *sizes.entry(*column).or_default() += 1.0;
        for key in keys {
            *uses.entry(*key).or_default().entry(*column).or_default() += 1.0;
        }
    }
    let weigh = |by_column: BTreeMap<usize, f64>| {
        let everywhere: f64 = by_column.values().sum();
        let usual = PRIOR * everywhere / all;
        let weight = |(column, here): (usize, f64)| {
            let size = sizes.get(&column).copied().unwrap_or_default();
            let own = (here + usual) / (size + PRIOR);
            let others = (everywhere - here + usual + UNSEEN) / (all - size + PRIOR);
            let weight = i16::try_from(round(libm::log(own / others) * ONE)).unwrap_or(i16::MAX);
            Some((u8::try_from(column).ok()?, weight)).filter(|(_, weight)| *weight >= SLIGHTEST)
        };
        by_column.into_iter().filter_map(weight).collect()
    };
    uses.retain(|_, by_column| by_column.values().sum::<f64>() >= FEWEST);
    let row = |(key, by_column)| {
        let cells: Vec<_> = weigh(by_column);
        Row { name: names.get(&key).cloned().unwrap_or_default(), rare: 0, cells }
    };
    let mut rows: Vec<Row> = uses.into_iter().map(row).filter(|row| !row.cells.is_empty()).collect();
    rows.sort_by(|a, b| a.name.cmp(&b.name));
    rows
}

/// What each column gets for these terms, of which `told` are words that tell something.
pub(in super::super) fn weigh(table: &Table, keys: &Keys, told: usize) -> Vec<i32> {
    // A long message has more words that weigh by chance.
    let length = libm::pow(u32::try_from(told.max(1)).map_or(f64::MAX, f64::from), DAMPING);
    table.sum(keys).into_iter().map(|sum| round(f64::from(sum) * 10.0 / length) / 10).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    const NAMES: [(Key, &str); 3] = [(1, "w:sheet"), (2, "w:moss"), (3, "w:paint")];

    #[test]
    fn a_term_only_one_topic_uses_weighs_more_than_one_they_share() {
        let names = NAMES.map(|(key, name)| (key, name.to_owned())).into();
        let rows = learn(&[(vec![1, 2], 0), (vec![2], 0), (vec![1, 3], 1), (vec![1], 1)], &names);
        let weight = |name: &str, column: u8| {
            let row = rows.iter().find(|row| row.name == name);
            row.and_then(|row| row.cells.iter().find(|cell| cell.0 == column)).map_or(0, |cell| cell.1)
        };
        assert!(weight("w:moss", 0) > 50);
        assert_eq!(weight("w:moss", 1), 0);
        assert!(weight("w:sheet", 0) < 10);
    }
}
