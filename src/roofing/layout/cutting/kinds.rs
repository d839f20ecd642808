//! Kinds of pieces: cells whose pieces are interchangeable.

use super::{Columns, Stock};
use crate::roofing::layout::Course;

/// Pieces of one width and one allowed span of lengths.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Kind {
    /// For the last column, where that is narrower than a sheet.
    pub(super) narrow: bool,
    /// Shortest, in micrometres.
    pub(super) low: i64,
    /// Longest: more than `low` where a lap hides the extra.
    pub(super) high: i64,
    /// How many cells want one.
    pub(super) demand: i64,
}

/// The sheet as the cutting sees it, with the widths that matter.
#[derive(Clone, Copy, Debug)]
pub(super) struct Blank {
    /// In micrometres.
    pub(super) length: i64,
    /// In corrugations.
    pub(super) width: i64,
    /// The narrowest piece for the last column.
    pub(super) narrow: i64,
    /// The widest piece for the last column.
    pub(super) narrow_max: i64,
}

impl Blank {
    /// The sheet against these columns.
    pub(super) fn new(columns: &Columns, stock: &Stock) -> Self {
        let narrow = columns.last_corrugations;
        Self {
            length: stock.length.um(),
            width: stock.corrugations,
            narrow,
            narrow_max: if stock.extra_side_lap { stock.corrugations } else { narrow },
        }
    }

    /// Strips for the last column side by side.
    pub(super) fn lanes(&self) -> i64 {
        self.width.checked_div(self.narrow).unwrap_or(1).max(1)
    }
}

/// The shortest and longest a course's pieces may be.
pub(super) fn span(course: &Course, stock: &Stock) -> (i64, i64) {
    let low = course.length().um();
    let extra = if course.top_is_lapped { stock.max_extra_lap.um().max(0) } else { 0 };
    (low, (low + extra).min(stock.length.um()))
}

/// The kinds of a set of spans, longest first, full-width ones before narrow ones.
pub(super) fn kinds(spans: &[(i64, i64)], columns: &Columns) -> Vec<Kind> {
    let mut kinds: Vec<Kind> = Vec::new();
    for (narrow, demand) in [(false, columns.full()), (true, columns.count - columns.full())] {
        let mut sorted = spans.to_vec();
        sorted.sort_unstable_by(|a, b| b.cmp(a));
        for (low, high) in sorted.into_iter().filter(|_| demand > 0) {
            match kinds.last_mut() {
                Some(last) if (last.narrow, last.low, last.high) == (narrow, low, high) => {
                    last.demand += demand;
                }
                _ => kinds.push(Kind { narrow, low, high, demand }),
            }
        }
    }
    kinds
}
