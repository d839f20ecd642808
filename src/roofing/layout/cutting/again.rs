//! Cutting again when the work has begun: loose pieces instead of a whole slope.

use std::collections::BTreeMap;

use super::Meter;
use super::kinds::{Blank, Kind};
use super::patterns::Stacks;
use super::search::{Best, Search};
use super::{Budget, Stock};
use crate::units::Length;

/// One piece that is wanted, or a part of a sheet that is at hand.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Part {
    /// Up the slope.
    pub length: Length,
    /// Across.
    pub corrugations: i64,
}

/// Takes pieces out of the fewest whole sheets found, each list one sheet's.
///
/// Pieces narrower than a sheet are all cut as wide as the widest of them, so that one pattern serves them all;
/// what is too wide is trimmed. Pieces larger than a sheet come out of none, and are left out.
pub fn cut_pieces(wanted: &[Part], stock: &Stock, budget: Budget) -> Vec<Vec<Part>> {
    let fits = |part: &&Part| part.length <= stock.length && part.corrugations <= stock.corrugations;
    let wanted: Vec<Part> = wanted.iter().filter(fits).copied().collect();
    let narrow = wanted.iter().map(|part| part.corrugations).filter(|wide| *wide < stock.corrugations).max();
    let narrow = narrow.unwrap_or(stock.corrugations);
    let blank = Blank { length: stock.length.um(), width: stock.corrugations, narrow, narrow_max: narrow };
    let (kinds, mut heaps) = sorted(&wanted, stock);
    let counts = fewest(&kinds, &blank, &mut Meter::new(budget.steps)).unwrap_or_else(|| one_by_one(&kinds));
    let mut sheets = Vec::new();
    for (gives, times) in counts {
        for _ in 0..times {
            let take = |(heap, count): (&mut Vec<Part>, &i64)| {
                let from = heap.len().saturating_sub(usize::try_from(*count).unwrap_or(0));
                heap.split_off(from)
            };
            let sheet: Vec<Part> = heaps.iter_mut().zip(&gives).flat_map(take).collect();
            if !sheet.is_empty() {
                sheets.push(sheet);
            }
        }
    }
    sheets
}

/// The kinds of pieces, whole-width ones before narrow ones and long before short, and the pieces of each.
fn sorted(wanted: &[Part], stock: &Stock) -> (Vec<Kind>, Vec<Vec<Part>>) {
    let mut heaps: BTreeMap<(bool, std::cmp::Reverse<Length>), Vec<Part>> = BTreeMap::new();
    for part in wanted {
        let narrow = part.corrugations < stock.corrugations;
        heaps.entry((narrow, std::cmp::Reverse(part.length))).or_default().push(*part);
    }
    let kinds = heaps.iter().map(|((narrow, length), parts)| Kind {
        narrow: *narrow,
        low: length.0.um(),
        high: length.0.um(),
        demand: i64::try_from(parts.len()).unwrap_or(i64::MAX),
    });
    (kinds.collect(), heaps.values().cloned().collect())
}

/// The fewest sheets; `None` where the budget ran out before any way was found.
fn fewest(kinds: &[Kind], blank: &Blank, meter: &mut Meter) -> Option<Vec<(Vec<i64>, i64)>> {
    if kinds.is_empty() {
        return Some(Vec::new());
    }
    let stacks = Stacks::find(kinds, blank, meter)?;
    let mut search = Search::new(kinds, &stacks, meter)?;
    let pieces: i64 = kinds.iter().map(|kind| kind.demand).sum();
    for sheets in search.sheets_at_least..=pieces {
        let mut best = Best { cuts: i64::MAX, cutting: None };
        let finished = search.improve(sheets, &mut best, meter);
        if best.cutting.is_some() {
            return best.cutting;
        }
        finished?;
    }
    None
}

fn one_by_one(kinds: &[Kind]) -> Vec<(Vec<i64>, i64)> {
    let alone = |at: usize| (0..kinds.len()).map(|i| i64::from(i == at)).collect();
    kinds.iter().enumerate().map(|(at, kind)| (alone(at), kind.demand)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn stock() -> Stock {
        Stock {
            corrugations: 10,
            pitch: Length::from_mm(100),
            length: Length::from_mm(2_000),
            min_piece: Length::from_mm(300),
            max_extra_lap: Length::ZERO,
            extra_side_lap: false,
        }
    }

    #[test]
    fn loose_pieces_come_out_of_the_fewest_sheets() {
        let part = |mm: i64, corrugations: i64| Part { length: Length::from_mm(mm), corrugations };
        let wanted = [part(1_200, 10), part(1_200, 10), part(800, 10), part(800, 5), part(800, 4)];
        let sheets = cut_pieces(&wanted, &stock(), Budget::ROOF);
        assert_eq!(sheets.len(), 2, "{sheets:?}");
        let mut cut: Vec<Part> = sheets.into_iter().flatten().collect();
        let mut all = wanted.to_vec();
        cut.sort_unstable();
        all.sort_unstable();
        assert_eq!(cut, all);
        assert!(cut_pieces(&[], &stock(), Budget::ROOF).is_empty());
        assert!(cut_pieces(&[part(2_001, 10)], &stock(), Budget::ROOF).is_empty());
    }
}
