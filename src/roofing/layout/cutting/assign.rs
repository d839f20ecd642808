//! Every piece to its cell: bought sheets in the order of laying.

use super::guillotine::Group;
use super::kinds::{Blank, Kind, span};
use super::patterns::lay_out;
use super::search::Cutting;
use super::{Column, Course, Stock};
use crate::roofing::layout::{BoughtSheet, Piece};
use crate::units::Length;

/// A sheet begun, and the cells its pieces went to.
struct Begun {
    left: Vec<i64>,
    cells: Vec<Cell>,
}

#[derive(Clone, Copy)]
struct Cell {
    kind: usize,
    course: usize,
    column: usize,
}

/// Deals the pieces out in laying order, slope by slope and column by column from the eaves: an offcut is used at
/// the first place it is cut for, before a new sheet is begun.
pub(super) fn assign(
    cutting: &Cutting,
    kinds: &[Kind],
    groups: &[Group],
    (courses, columns): (&[Course], &[Column]),
    (blank, stock): (&Blank, &Stock),
) -> Vec<BoughtSheet> {
    let mut unopened: Vec<(Vec<i64>, i64)> = cutting.clone();
    // Sheets that give most pieces first: their offcuts are then at hand when they are wanted.
    unopened.sort_by(|(a, _), (b, _)| b.iter().sum::<i64>().cmp(&a.iter().sum()).then(b.cmp(a)));
    let mut begun: Vec<Begun> = Vec::new();
    let mut first = 0;
    // Nothing lies over the top course of a slope: the next one begins another slope.
    for slope in courses.split_inclusive(|course| !course.top_is_lapped) {
        for (index, column) in columns.iter().enumerate() {
            for (laid, course) in slope.iter().zip(first..) {
                let narrow = column.corrugations < blank.width;
                let (low, high) = span(laid, stock);
                let wanted = |kind: &Kind| (kind.narrow, kind.low, kind.high) == (narrow, low, high);
                let Some(kind) = kinds.iter().position(wanted) else { continue };
                take(Cell { kind, course, column: index }, &mut begun, &mut unopened);
            }
        }
        first += slope.len();
    }
    begun
        .into_iter()
        .zip(1..)
        .filter_map(|(sheet, number)| cut_sheet(&sheet.cells, number, kinds, groups, blank))
        .collect()
}

fn take(cell: Cell, begun: &mut Vec<Begun>, unopened: &mut [(Vec<i64>, i64)]) {
    let has = |left: &[i64]| left.get(cell.kind).is_some_and(|count| *count > 0);
    if !begun.iter().any(|sheet| has(&sheet.left))
        && let Some((counts, sheets)) =
            unopened.iter_mut().find(|(counts, sheets)| *sheets > 0 && has(counts))
    {
        *sheets -= 1;
        begun.push(Begun { left: counts.clone(), cells: Vec::new() });
    }
    if let Some(sheet) = begun.iter_mut().find(|sheet| has(&sheet.left)) {
        if let Some(count) = sheet.left.get_mut(cell.kind) {
            *count -= 1;
        }
        sheet.cells.push(cell);
    }
}

fn cut_sheet(
    cells: &[Cell],
    number: usize,
    kinds: &[Kind],
    groups: &[Group],
    blank: &Blank,
) -> Option<BoughtSheet> {
    let count = |kind: usize| cells.iter().filter(|cell| cell.kind == kind).count();
    let counts: Vec<i64> = (0..kinds.len()).map(|kind| i64::try_from(count(kind)).unwrap_or(0)).collect();
    let (mut placed, cuts) = lay_out(&counts, kinds, groups, blank)?;
    placed.sort_by_key(|piece| (piece.at, piece.at_corrugation));
    let pieces = cells.iter().filter_map(|cell| {
        let at = placed.iter().position(|piece| piece.kind == cell.kind)?;
        let piece = placed.remove(at);
        Some(Piece {
            course: cell.course,
            column: cell.column,
            length: Length::from_um(piece.length),
            corrugations: piece.corrugations,
            at: Length::from_um(piece.at),
            at_corrugation: piece.at_corrugation,
        })
    });
    let (pieces, cuts) = (pieces.collect(), usize::try_from(cuts).unwrap_or(0));
    Some(BoughtSheet { number, length: Length::from_um(blank.length), pieces, for_back: Vec::new(), cuts })
}
