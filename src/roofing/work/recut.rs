//! A sheet is spoilt: what is still to be cut, out of what is left.

use std::collections::{BTreeMap, BTreeSet};

use super::{Goods, StepKey, StepKind, bought};
use crate::roofing::catalogue::StockMethod;
use crate::roofing::layout::cutting::{Budget, Part, Stock, cut_pieces};
use crate::roofing::layout::{BoughtSheet, Piece};
use crate::roofing::plan::Plan;
use crate::units::Length;

/// How the pieces still wanted are cut now.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Recut {
    /// Pieces that come out of offcuts at hand, each with the offcut it comes from.
    pub from_offcuts: Vec<(Part, Part)>,
    /// Pieces of each whole sheet still to be cut.
    pub sheets: Vec<Vec<Part>>,
    /// Whole sheets at hand, spoilt ones taken off.
    pub at_hand: i64,
    /// Sheets to buy.
    pub buy: i64,
}

impl Recut {
    /// The same with so many whole sheets at hand, as the person counted them.
    pub fn with_sheets(self, at_hand: i64) -> Self {
        let wanted = i64::try_from(self.sheets.len()).unwrap_or(i64::MAX);
        Self { at_hand, buy: (wanted - at_hand).max(0), ..self }
    }
}

/// Cuts again what is still to be laid, where so many whole sheets are spoilt.
///
/// A sheet counts as cut once the first course that takes a piece of it is done; its other pieces are then ready,
/// and what it has over is an offcut. `kept` are parts of spoilt sheets that can still be used.
pub fn recut(
    plan: &Plan,
    done: impl Fn(&StepKey) -> bool,
    steps: &[StepKey],
    spoilt: i64,
    kept: &[Part],
) -> Recut {
    let mut offcuts = kept.to_vec();
    let mut wanted = Vec::new();
    let mut begun = 0;
    let sheet = &plan.site.sheet;
    let laid = Laid::new(plan, steps, done);
    for (index, slope) in plan.slopes.iter().enumerate() {
        for cut in &slope.cuts.sheets {
            let for_back = cut.for_back.iter().map(|piece| (index + 1, piece));
            let mut pieces = cut.pieces.iter().map(|piece| (index, piece)).chain(for_back);
            if pieces.any(|(slope, piece)| laid.has(slope, piece)) {
                begun += 1;
                offcuts.extend(over(cut, sheet.corrugations));
            } else {
                let pieces = cut.all_pieces();
                wanted.extend(pieces.map(|one| Part { length: one.length, corrugations: one.corrugations }));
            }
        }
    }
    let from_offcuts = take_from_offcuts(&mut wanted, &mut offcuts, sheet.min_piece);
    let stock = Stock { length: Length::from_mm(sheet.length.floor_mm()), ..Stock::from(sheet) };
    let sheets = match plan.site.covering.stock {
        StockMethod::CutFromStock => cut_pieces(&wanted, &stock, Budget::ROOF),
        StockMethod::OrderedToLength => wanted.into_iter().map(|part| vec![part]).collect(),
    };
    Recut { from_offcuts, sheets, at_hand: 0, buy: 0 }
        .with_sheets((bought(Goods::Sheets, plan) - begun - spoilt).max(0))
}

/// What lies on the roof by the steps that are done.
struct Laid {
    /// Slope and course, by index.
    courses: BTreeSet<(usize, usize)>,
    /// Slopes whose first sheet lies, and whether it is all there is of the first course.
    first_sheets: BTreeMap<usize, bool>,
}

impl Laid {
    fn new(plan: &Plan, steps: &[StepKey], done: impl Fn(&StepKey) -> bool) -> Self {
        let of_kind = |kind| steps.iter().filter(move |key| key.kind == kind);
        let course = |key: &StepKey| Some((key.slope, usize::try_from(key.figures.first()? - 1).ok()?));
        let only = |slope: usize| plan.slopes.get(slope).is_some_and(|slope| slope.columns_of(0).len() == 1);
        let first_sheets = of_kind(StepKind::FirstSheet).filter(|key| done(key)).map(|key| key.slope);
        Self {
            courses: of_kind(StepKind::Course).filter(|key| done(key)).filter_map(course).collect(),
            first_sheets: first_sheets.map(|slope| (slope, only(slope))).collect(),
        }
    }

    fn has(&self, slope: usize, piece: &Piece) -> bool {
        let in_a_first_sheet = self
            .first_sheets
            .get(&slope)
            .is_some_and(|only| piece.course == 0 && (*only || piece.column == 0));
        in_a_first_sheet || self.courses.contains(&(slope, piece.course))
    }
}

/// What a sheet has over at its end, and beside its pieces.
fn over(sheet: &BoughtSheet, corrugations: i64) -> Vec<Part> {
    let end = sheet.all_pieces().map(|piece| piece.at + piece.length).max().unwrap_or(Length::ZERO);
    let side = sheet.all_pieces().map(|piece| piece.at_corrugation + piece.corrugations).max().unwrap_or(0);
    let parts = [
        Part { length: sheet.length - end, corrugations },
        Part { length: end, corrugations: corrugations - side },
    ];
    parts.into_iter().filter(|part| part.length > Length::ZERO && part.corrugations > 0).collect()
}

/// Largest pieces first, each out of the smallest offcut that holds it; what is over of that is an offcut again.
fn take_from_offcuts(wanted: &mut Vec<Part>, offcuts: &mut Vec<Part>, least: Length) -> Vec<(Part, Part)> {
    wanted.sort_unstable_by(|a, b| b.cmp(a));
    let mut taken = Vec::new();
    let mut still_wanted = Vec::new();
    for part in wanted.drain(..) {
        offcuts.sort_unstable();
        let holds = |offcut: &Part| offcut.length >= part.length && offcut.corrugations >= part.corrugations;
        match offcuts.iter().position(holds) {
            Some(at) => {
                let offcut = offcuts.remove(at);
                taken.push((part, offcut));
                let rest = Part { length: offcut.length - part.length, ..offcut };
                offcuts.extend((rest.length >= least).then_some(rest));
            }
            None => still_wanted.push(part),
        }
    }
    *wanted = still_wanted;
    taken
}
