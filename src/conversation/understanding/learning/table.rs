//! Weights by term and column, in whole numbers: what was learned, ready to be added up.
//!
//! Whole numbers add up to the same on every machine.

use crate::conversation::understanding::words::terms::{Key, Keys, key_of};

/// The weight of one term in one column.
type Cell = (u8, i16);

/// Weights of terms, by column.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(in super::super) struct Table {
    /// What every message starts with, by column.
    pub(in super::super) bias: Vec<i32>,
    keys: Keys,
    /// How rare each term is, and where its cells end.
    rows: Vec<(u16, usize)>,
    cells: Vec<Cell>,
}

/// A table as it is read line by line: starting waits for it.
#[derive(Debug, Default)]
pub(in super::super) struct Building {
    rows: Vec<(Key, u16, std::ops::Range<usize>)>,
    cells: Vec<Cell>,
}

impl Building {
    /// Takes a line: the term's name, how rare it is, and cells such as `12:-340`, parted by tabs.
    pub(in super::super) fn take(&mut self, line: &str) -> Option<()> {
        let (name, rest) = line.split_once('\t')?;
        let (rare, cells) = rest.split_once('\t').unwrap_or((rest, ""));
        let start = self.cells.len();
        let (mut column, mut number, mut negative) = (None, 0_i32, false);
        for byte in cells.bytes().chain((!cells.is_empty()).then_some(b'\t')) {
            match byte {
                b'0'..=b'9' => number = number.checked_mul(10)?.checked_add(i32::from(byte - b'0'))?,
                b'-' => negative = true,
                b':' => column = Some(u8::try_from(std::mem::take(&mut number)).ok()?),
                b'\t' => {
                    let weight = i16::try_from(std::mem::take(&mut number)).ok()?;
                    let weight = if std::mem::take(&mut negative) { -weight } else { weight };
                    self.cells.push((column.take()?, weight));
                }
                _ => return None,
            }
        }
        self.rows.push((key_of(name), rare.parse().ok()?, start..self.cells.len()));
        Some(())
    }

    /// The table, with what every message starts with.
    pub(in super::super) fn done(mut self, bias: Vec<i32>) -> Table {
        self.rows.sort_unstable_by_key(|(key, ..)| *key);
        let mut table = Table { bias, ..Table::default() };
        for (key, rare, cells) in self.rows {
            table.cells.extend(self.cells.get(cells).unwrap_or_default());
            table.keys.push(key);
            table.rows.push((rare, table.cells.len()));
        }
        table
    }
}

/// One term of a table: its name, how rare it is, and its weights.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(in super::super) struct Row {
    pub(in super::super) name: String,
    pub(in super::super) rare: u16,
    pub(in super::super) cells: Vec<Cell>,
}

impl Table {
    /// A table of these rows.
    pub(in super::super) fn new(bias: Vec<i32>, rows: &[Row]) -> Self {
        let mut keyed: Vec<(Key, &Row)> = rows.iter().map(|row| (key_of(&row.name), row)).collect();
        keyed.sort_unstable_by_key(|(key, _)| *key);
        let mut table = Self { bias, ..Self::default() };
        for (key, row) in keyed {
            table.cells.extend(&row.cells);
            table.keys.push(key);
            table.rows.push((row.rare, table.cells.len()));
        }
        table
    }

    /// How rare a term is, and its weights.
    fn row(&self, key: Key) -> Option<(u16, &[Cell])> {
        let at = self.place(key)?;
        let (rare, end) = *self.rows.get(at)?;
        let start = at.checked_sub(1).and_then(|before| self.rows.get(before)).map_or(0, |row| row.1);
        Some((rare, self.cells.get(start..end)?))
    }

    /// Whether it knows a term.
    pub(in super::super) fn knows(&self, key: Key) -> bool {
        self.place(key).is_some()
    }

    /// Where a term stands. Keys are spread evenly, so that a key's own size says nearly where it is.
    fn place(&self, key: Key) -> Option<usize> {
        let many = u64::try_from(self.keys.len()).ok()?;
        let mut at = usize::try_from((key >> 32).checked_mul(many)? >> 32).ok()?;
        while at > 0 && self.keys.get(at).is_none_or(|there| *there > key) {
            at -= 1;
        }
        while self.keys.get(at).is_some_and(|there| *there < key) {
            at += 1;
        }
        self.keys.get(at).filter(|there| **there == key).map(|_| at)
    }

    /// The weight of a term in a column.
    pub(in super::super) fn weight(&self, key: Key, column: usize) -> Option<i32> {
        let (_, cells) = self.row(key)?;
        cells.iter().find(|(of, _)| usize::from(*of) == column).map(|(_, weight)| i32::from(*weight))
    }

    /// The plain sum of the terms' weights, by column.
    pub(in super::super) fn sum(&self, keys: &Keys) -> Vec<i32> {
        let mut sums = self.bias.clone();
        for (_, cells) in keys.iter().filter_map(|key| self.row(*key)) {
            for (column, weight) in cells {
                if let Some(sum) = sums.get_mut(usize::from(*column)) {
                    *sum += i32::from(*weight);
                }
            }
        }
        sums
    }

    /// The sum of the terms' weights by column: each term counts as it is rare, each block of terms as much as
    /// any other, however many it holds.
    pub(in super::super) fn score(&self, blocks: [&Keys; 2]) -> Vec<i32> {
        let mut scores = self.bias.clone();
        for keys in blocks {
            let mut sums = vec![0_i64; scores.len()];
            let mut squares = 0_u64;
            for (rare, cells) in keys.iter().filter_map(|key| self.row(*key)) {
                squares += u64::from(rare) * u64::from(rare);
                for (column, weight) in cells {
                    if let Some(sum) = sums.get_mut(usize::from(*column)) {
                        *sum += i64::from(*weight) * i64::from(rare);
                    }
                }
            }
            let length = i64::try_from(squares.isqrt()).unwrap_or(i64::MAX).max(1);
            for (score, sum) in scores.iter_mut().zip(sums) {
                *score += i32::try_from(sum / length).unwrap_or_default();
            }
        }
        scores
    }

    /// How rare a term is, in the tenths that [`Row::rare`] holds; nothing for one it does not know.
    pub(in super::super) fn rarity(&self, key: Key) -> Option<u16> {
        self.row(key).map(|(rare, _)| rare)
    }
}
