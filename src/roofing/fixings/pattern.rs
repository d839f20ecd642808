//! Where every nail of a slope goes.

use std::collections::BTreeSet;

use super::Fixing;
use crate::roofing::layout::{Column, Course, Line, LineKind, Piece};
use crate::roofing::roof::Hand;
use crate::units::Length;

/// A fixing every so many corrugations, by what the line is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Every {
    /// At the eaves.
    pub eaves: i64,
    /// At end laps.
    pub end_lap: i64,
    /// At lines between.
    pub intermediate: i64,
    /// Along the top, through the piece that closes it.
    pub top: i64,
}

impl Every {
    const fn of(self, kind: LineKind) -> i64 {
        match kind {
            LineKind::Eaves => self.eaves,
            LineKind::EndLap => self.end_lap,
            LineKind::Intermediate => self.intermediate,
            LineKind::Top => self.top,
        }
    }
}

/// The corrugations of a slope, counted in laying order from 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Crowns {
    /// How many there are.
    pub count: i64,
    /// Crown to crown.
    pub pitch: Length,
    /// The outer edge of the first one.
    pub edge: Length,
    /// The end laying starts from.
    pub start_from: Hand,
    /// How long the timber along the eaves is: no nail goes past it.
    pub timber: Length,
    /// How far from the ends of a timber a nail stays.
    pub from_end: Length,
    /// Whether it is the hollow after each crown that is fixed, not the crown.
    pub in_pan: bool,
}

impl Crowns {
    /// Where along the eaves a corrugation is fixed.
    fn x(&self, corrugation: i64) -> Length {
        let within = if self.in_pan { self.pitch } else { self.pitch / 2 };
        let along = self.pitch * corrugation + within;
        match self.start_from {
            Hand::Left => self.edge + along,
            Hand::Right => self.edge - along,
        }
    }

    fn on_timber(&self, corrugation: i64) -> bool {
        // The last hollow would be the outer edge of the last sheet.
        let count = if self.in_pan { self.count - 1 } else { self.count };
        let within = self.from_end..=self.timber - self.from_end;
        (0..count).contains(&corrugation) && within.contains(&self.x(corrugation))
    }

    fn clear_of(&self, corrugation: i64, joints: &[Length]) -> bool {
        joints.iter().all(|joint| (self.x(corrugation) - *joint).abs() >= self.from_end)
    }

    /// No nail over a joint of the timber: the corrugations on both sides of it are nailed instead.
    fn off_joints(&self, nailed: BTreeSet<i64>, joints: &[Length]) -> BTreeSet<i64> {
        let instead = |corrugation: i64| {
            let beside = if self.clear_of(corrugation, joints) {
                vec![corrugation]
            } else {
                vec![corrugation - 1, corrugation + 1]
            };
            beside.into_iter().filter(move |one| self.on_timber(*one) && self.clear_of(*one, joints))
        };
        nailed.into_iter().flat_map(instead).collect()
    }
}

/// What a line of nails goes into.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Seat {
    /// The line.
    pub line: Line,
    /// Where its timber is joined.
    pub joints: Vec<Length>,
}

/// Every nail of a slope, by line from the eaves up, in laying order along it.
///
/// `columns` are those of the first, third, … course, then those of the second, fourth, …: in laying order with
/// corrugations counted likewise. Beside every side lap, the corrugation on
/// each side of it has a nail at every line, whatever the spacing; so have the first and last crown on timber.
pub fn nail(
    seats: &[Seat],
    courses: &[Course],
    columns: [&[Column]; 2],
    pieces: &[Piece],
    crowns: &Crowns,
    every: Every,
    top_piece: bool,
) -> Vec<Fixing> {
    let on_timber: Vec<i64> = (0..crowns.count).filter(|crown| crowns.on_timber(*crown)).collect();
    let beside: Vec<(&Course, Vec<i64>)> = courses
        .iter()
        .zip(columns.iter().cycle())
        .enumerate()
        .map(|(index, (course, columns))| {
            let beside = beside_laps(index, columns, pieces).filter(|crown| crowns.on_timber(*crown));
            (course, beside.collect())
        })
        .collect();
    let mut fixings = Vec::new();
    for Seat { line, joints } in seats {
        let step = every.of(line.kind).max(1);
        let mut nailed: BTreeSet<i64> = on_timber.iter().copied().filter(|crown| crown % step == 0).collect();
        nailed.extend(on_timber.first());
        nailed.extend(on_timber.last());
        for (course, beside) in &beside {
            if course.lies_at(line.y) {
                nailed.extend(beside);
            }
        }
        fixings.extend(crowns.off_joints(nailed, joints).into_iter().map(|crown| Fixing {
            x: crowns.x(crown),
            y: line.y,
            line: line.kind,
            through_edge_piece: top_piece && line.kind == LineKind::Top,
        }));
    }
    fixings
}

/// The corrugation on each side of every side lap of one course, the pieces as wide as they are cut.
fn beside_laps<'a>(
    course: usize,
    columns: &'a [Column],
    pieces: &'a [Piece],
) -> impl Iterator<Item = i64> + 'a {
    let pairs = columns.iter().zip(columns.iter().enumerate().skip(1));
    pairs.flat_map(move |(lower, (index, upper))| {
        let piece = pieces.iter().find(|piece| piece.course == course && piece.column == index);
        let wide = piece.map_or(upper.corrugations, |piece| piece.corrugations);
        // A piece wider than its column reaches further back over the one laid before it.
        let free_edge = upper.first_corrugation + upper.corrugations - wide;
        [free_edge - 1, lower.first_corrugation + lower.corrugations]
    })
}
