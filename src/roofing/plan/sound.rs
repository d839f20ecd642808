//! The last check: nothing is drawn or bought by a plan that does not hold together.

use std::collections::BTreeSet;
use std::ops::Deref;

use super::fastening::{check, held, required};
use super::{Fault, PlanParts, SlopePlan};
use crate::roofing::catalogue::Sheet;
use crate::roofing::layout::{Column, Course, LineKind, Piece};
use crate::roofing::rules::Requirement;
use crate::units::Length;

/// The first planner that counts layers, and keeps nails off ends and edges: earlier plans are what they are.
const LAYERS_COUNT: u32 = 2;

/// A plan that has passed every check. It is only made by [`plan`](super::plan), or read again as it was.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    parts: PlanParts,
}

impl Deref for Plan {
    type Target = PlanParts;
    fn deref(&self) -> &PlanParts {
        &self.parts
    }
}

impl Plan {
    /// Lets a plan out that holds together, new or read again.
    ///
    /// # Errors
    /// The first check that fails, with the figures that fail it: a fault of ours, not of the roof.
    pub fn checked(parts: PlanParts) -> Result<Self, Fault> {
        let (length, sheet) = (parts.site.length.value, &parts.site.sheet);
        for (index, slope) in parts.slopes.iter().enumerate() {
            covered_across(slope, slope.columns_of(0), length, sheet)?;
            covered_across(slope, slope.columns_of(1), length, sheet)?;
            covered_upwards(slope)?;
            every_cell_has_its_piece(slope, &parts.offcuts_for(index))?;
            pieces_fit_their_sheets(slope, sheet)?;
            no_gap_over_the_limit(slope)?;
            end_laps_on_lines(slope)?;
            fixings_in_timber(slope, length)?;
            purlins_reach(slope, length)?;
            if parts.made.by.planner >= LAYERS_COUNT {
                held(&parts, index, slope)?;
            } else {
                let least = required(slope, parts.site.covering.bite(false))?;
                check(slope.nail_bite >= least, "nail-bites", || format!("{} of {least}", slope.nail_bite))?;
            }
        }
        counted_as_drawn(&parts)?;
        Ok(Self { parts })
    }
}

fn covered_across(slope: &SlopePlan, columns: &[Column], length: Length, sheet: &Sheet) -> Result<(), Fault> {
    let mut columns: Vec<&Column> = columns.iter().collect();
    columns.sort_by_key(|column| column.from);
    let from = columns.first().map(|column| column.from);
    let to = columns.last().map(|column| column.to);
    let reaches = from.is_some_and(|from| from <= Length::ZERO) && to.is_some_and(|to| to >= length);
    check(reaches, "covered-from-verge-to-verge", || format!("{from:?} to {to:?} over {length}"))?;
    let lap = sheet.corrugation_pitch * slope.side_lap;
    for (left, right) in columns.iter().zip(columns.iter().skip(1)) {
        let lapped = left.to - right.from;
        check(lapped >= lap, "side-lap-wide-enough", || format!("{lapped} at {}", right.from))?;
    }
    Ok(())
}

fn covered_upwards(slope: &SlopePlan) -> Result<(), Fault> {
    let overhang = required(slope, Requirement::EavesOverhang)?;
    let from = slope.courses.first().map(|course| course.from);
    let to = slope.courses.last().map(|course| course.to);
    let reaches =
        from.is_some_and(|from| from <= -overhang) && to.is_some_and(|to| to >= slope.rafter_length);
    check(reaches, "covered-from-eaves-to-top", || format!("{from:?} to {to:?}"))?;
    let lap = required(slope, Requirement::EndLap)?;
    for (lower, upper) in slope.courses.iter().zip(slope.courses.iter().skip(1)) {
        let lapped = lower.to - upper.from;
        check(lapped >= lap, "end-lap-long-enough", || format!("{lapped} at {}", upper.from))?;
    }
    Ok(())
}

fn every_cell_has_its_piece(slope: &SlopePlan, offcuts: &[(usize, String, &Piece)]) -> Result<(), Fault> {
    let own = slope.cuts.sheets.iter().flat_map(|sheet| &sheet.pieces);
    let mut pieces: Vec<&Piece> = own.chain(offcuts.iter().map(|(_, _, piece)| *piece)).collect();
    pieces.sort_unstable_by_key(|piece| (piece.course, piece.column));
    let mut pieces = pieces.into_iter();
    for (row, course) in slope.courses.iter().enumerate() {
        for (number, column) in slope.columns_of(row).iter().enumerate() {
            let fits = pieces.next().is_some_and(|piece| {
                let here = (piece.course, piece.column) == (row, number);
                here && piece.length >= course.length() && piece.corrugations >= column.corrugations
            });
            check(fits, "every-cell-has-its-piece", || format!("course {row}, column {number}"))?;
        }
    }
    check(pieces.next().is_none(), "no-piece-without-a-cell", || slope.courses.len().to_string())
}

fn pieces_fit_their_sheets(slope: &SlopePlan, sheet: &Sheet) -> Result<(), Fault> {
    let apart = |a: &Piece, b: &Piece| {
        a.at + a.length <= b.at
            || b.at + b.length <= a.at
            || a.at_corrugation + a.corrugations <= b.at_corrugation
            || b.at_corrugation + b.corrugations <= a.at_corrugation
    };
    for bought in &slope.cuts.sheets {
        for (index, piece) in bought.all_pieces().enumerate() {
            let inside = piece.at >= Length::ZERO
                && piece.at_corrugation >= 0
                && piece.at + piece.length <= bought.length.min(sheet.length)
                && piece.at_corrugation + piece.corrugations <= sheet.corrugations;
            let clear = bought.all_pieces().skip(index + 1).all(|other| apart(piece, other));
            check(inside && clear, "pieces-fit-their-sheet", || format!("sheet {}", bought.number))?;
        }
    }
    Ok(())
}

fn no_gap_over_the_limit(slope: &SlopePlan) -> Result<(), Fault> {
    let limit = slope.max_line_gap();
    for (below, above) in slope.lines.iter().zip(slope.lines.iter().skip(1)) {
        let gap = above.y - below.y;
        let holds = gap > Length::ZERO && limit.is_some_and(|limit| gap <= limit);
        check(holds && above.y.is_whole_mm(), "gap-within-limit", || format!("{gap} below {}", above.y))?;
    }
    let first = slope.lines.first().map(|line| line.kind);
    let last = slope.lines.last().map(|line| line.kind);
    let ends = first == Some(LineKind::Eaves) && last == Some(LineKind::Top);
    check(ends, "lines-from-eaves-to-top", || format!("{first:?} {last:?}"))
}

fn end_laps_on_lines(slope: &SlopePlan) -> Result<(), Fault> {
    let centre = |lower: &Course, upper: &Course| (lower.to + upper.from) / 2;
    let laps =
        slope.courses.iter().zip(slope.courses.iter().skip(1)).map(|(lower, upper)| centre(lower, upper));
    let laps: Vec<Length> = laps.collect();
    let lines = slope.lines.iter().filter(|line| line.kind == LineKind::EndLap).map(|line| line.y);
    let lines: Vec<Length> = lines.collect();
    check(laps == lines, "end-laps-on-lines", || format!("{laps:?} on {lines:?}"))
}

fn fixings_in_timber(slope: &SlopePlan, length: Length) -> Result<(), Fault> {
    let heights: BTreeSet<Length> = slope.lines.iter().map(|line| line.y).collect();
    let mut points: Vec<(Length, Length)> = slope.fixings.iter().map(|fixing| (fixing.x, fixing.y)).collect();
    points.sort_unstable();
    for (index, (x, y)) in points.iter().enumerate() {
        let inside = (Length::ZERO..=length).contains(x) && heights.contains(y);
        let once = points.get(index + 1) != Some(&(*x, *y));
        check(inside && once, "fixing-in-timber-once", || format!("{x}, {y}"))?;
    }
    Ok(())
}

fn purlins_reach(slope: &SlopePlan, length: Length) -> Result<(), Fault> {
    if slope.purlin_timber.is_none() {
        return Ok(());
    }
    for line in 0..slope.lines.len() {
        let mut reached = Length::ZERO;
        for piece in slope.purlin_pieces.iter().filter(|piece| piece.line == line) {
            check(piece.from == reached, "purlins-meet", || format!("line {line} at {reached}"))?;
            reached = piece.to;
        }
        check(reached == length, "purlins-reach", || format!("line {line} to {reached}"))?;
    }
    Ok(())
}

fn counted_as_drawn(parts: &PlanParts) -> Result<(), Fault> {
    let whole = |count: usize| i64::try_from(count).unwrap_or(i64::MAX);
    let needed = |id: &str| {
        let lines = parts.materials.lines.iter().filter(|line| line.item == id);
        lines.map(|line| line.needed).sum::<i64>()
    };
    let sheets: i64 = parts.slopes.iter().map(|slope| whole(slope.cuts.sheets.len())).sum();
    check(needed(&parts.site.sheet.item.id) == sheets, "sheets-counted-as-cut", || sheets.to_string())?;
    let of_slope = |slope: &'_ SlopePlan| {
        [LineKind::Eaves, LineKind::EndLap, LineKind::Intermediate, LineKind::Top]
            .map(|kind| slope.nail_on(kind).0.to_owned())
    };
    let pieces = parts.slopes.iter().map(|slope| slope.nail_of_pieces().to_owned());
    let nails: BTreeSet<String> = parts.slopes.iter().flat_map(of_slope).chain(pieces).collect();
    let counted: i64 = nails.iter().map(|nail| needed(nail)).sum();
    let drawn: i64 = parts.slopes.iter().map(|slope| whole(slope.fixings.len())).sum();
    let own: i64 = parts.edges.iter().map(|run| run.own_fixings).sum();
    check(counted == drawn + own, "fixings-counted-as-drawn", || format!("{counted} of {}", drawn + own))
}
