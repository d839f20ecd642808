//! Purlin timber: every row cut from stock lengths, with joints only over the timbers below.

use std::collections::BTreeMap;
use std::collections::btree_map::Entry;

use super::{Line, PurlinPiece};
use crate::units::Length;

/// One length of a row before it is given a stock length.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Run {
    line: usize,
    from: Length,
    to: Length,
}

/// What a way of cutting costs, the dearest first: timber bought, stock lengths, joints.
type Cost = (Length, usize, usize);

/// Cuts one row of timber for every line.
///
/// Timbers below stand at whole multiples of `spacing` from the left end and at the right end. The timber
/// bought is the least of the ways tried, then stock lengths, then joints; neighbouring rows have their joints
/// over different timbers where that costs nothing. `None` where no stock length reaches from timber to timber.
pub fn cut_purlins(
    lines: &[Line],
    length: Length,
    spacing: Length,
    stock: &[Length],
) -> Option<Vec<PurlinPiece>> {
    let rows = all_rows(length, spacing, stock);
    // Rows cut into the same lengths, a row and its mirror image above all, cost the same.
    let mut known: BTreeMap<(&[Length], &[Length]), Cost> = BTreeMap::new();
    let mut best: Option<(Cost, &Row, &Row)> = None;
    for even in &rows {
        for odd in &rows {
            let cost = match known.entry((&even.lengths, &odd.lengths)) {
                Entry::Occupied(known) => *known.get(),
                Entry::Vacant(new) => *new.insert(cost(lines.len(), even, odd, stock)?),
            };
            let staggered = even.ends != odd.ends;
            let better = best.is_none_or(|(least, _, _)| cost < least || (cost == least && staggered));
            if better {
                best = Some((cost, even, odd));
            }
        }
    }
    let (_, even, odd) = best?;
    pack(runs(lines, &even.ends, &odd.ends), stock)
}

/// One way to cut a row.
struct Row {
    /// Both ends of the row, and every joint between them.
    ends: Vec<Length>,
    /// From each to the next, longest first.
    lengths: Vec<Length>,
}

/// Every way to cut one row that is tried, once.
fn all_rows(length: Length, spacing: Length, stock: &[Length]) -> Vec<Row> {
    let mut all: Vec<Row> = Vec::new();
    for ends in stock.iter().flat_map(|longest| rows(length, spacing, *longest)) {
        if !all.iter().any(|row| row.ends == ends) {
            let mut lengths: Vec<Length> =
                ends.iter().zip(ends.iter().skip(1)).map(|(a, b)| *b - *a).collect();
            lengths.sort_unstable_by(|a, b| b.cmp(a));
            all.push(Row { ends, lengths });
        }
    }
    all
}

/// The joints of one row cut into runs no longer than `longest`: from the left, from the right, and evenly.
fn rows(length: Length, spacing: Length, longest: Length) -> Vec<Vec<Length>> {
    let over_a_timber = |x: Length| spacing * x.div_floor(spacing);
    let from_the_left = || {
        let mut joints = Vec::new();
        let mut at = Length::ZERO;
        while length - at > longest {
            let next = over_a_timber(at + longest);
            if next <= at {
                return None;
            }
            joints.push(next);
            at = next;
        }
        Some(joints)
    };
    let from_the_right = || {
        let mut joints = Vec::new();
        let mut at = length;
        while at > longest {
            let next = spacing * (at - longest).div_ceil(spacing);
            if next >= at {
                return None;
            }
            joints.push(next);
            at = next;
        }
        joints.reverse();
        Some(joints)
    };
    let evenly = || {
        let runs = length.div_ceil(longest).max(1);
        let joints: Vec<Length> = (1..runs).map(|number| over_a_timber(length * number / runs)).collect();
        let ends = [Length::ZERO].into_iter().chain(joints.iter().copied());
        let fits = ends.zip(joints.iter().copied().chain([length])).all(|(a, b)| a < b && b - a <= longest);
        fits.then_some(joints)
    };
    let ways = [from_the_left(), from_the_right(), evenly()].into_iter().flatten();
    ways.map(|joints| [Length::ZERO].into_iter().chain(joints).chain([length]).collect()).collect()
}

fn runs(lines: &[Line], even: &[Length], odd: &[Length]) -> Vec<Run> {
    let mut runs = Vec::new();
    for line in 0..lines.len() {
        let ends = if line % 2 == 0 { even } else { odd };
        let pairs = ends.iter().zip(ends.iter().skip(1));
        runs.extend(pairs.map(|(from, to)| Run { line, from: *from, to: *to }));
    }
    runs
}

/// What two ways to cut a row cost, laid in turn. Only lengths matter here.
fn cost(lines: usize, even: &Row, odd: &Row, stock: &[Length]) -> Option<Cost> {
    let mut runs = [even.lengths.repeat(lines.div_ceil(2)), odd.lengths.repeat(lines / 2)].concat();
    runs.sort_unstable_by(|a, b| b.cmp(a));
    let (_, bought) = fill(runs.iter().copied(), stock)?;
    Some((bought.iter().copied().sum(), bought.len(), runs.len() - lines))
}

fn pack(mut runs: Vec<Run>, stock: &[Length]) -> Option<Vec<PurlinPiece>> {
    runs.sort_by_key(|run| (-(run.to - run.from), run.line, run.from));
    let (places, bought) = fill(runs.iter().map(|run| run.to - run.from), stock)?;
    let piece = |(run, place): (&Run, usize)| {
        let stock = *bought.get(place)?;
        Some(PurlinPiece { line: run.line, from: run.from, to: run.to, stock, stock_number: place + 1 })
    };
    let mut pieces: Vec<PurlinPiece> = runs.iter().zip(places).map(piece).collect::<Option<_>>()?;
    pieces.sort_by_key(|piece| (piece.line, piece.from));
    Some(pieces)
}

/// Puts lengths, longest first, each onto the fullest stock length that still holds it; then every stock length is
/// changed for the shortest that holds what it carries. On which each goes, by place, and what is bought.
fn fill(lengths: impl Iterator<Item = Length>, stock: &[Length]) -> Option<(Vec<usize>, Vec<Length>)> {
    let longest = *stock.iter().max()?;
    let mut filled: Vec<Length> = Vec::new();
    let places = lengths.map(|needs| {
        let room = filled.iter_mut().enumerate().filter(|(_, used)| **used + needs <= longest);
        let found = room.max_by_key(|(_, used)| **used).map(|(place, used)| {
            *used += needs;
            place
        });
        found.unwrap_or_else(|| {
            filled.push(needs);
            filled.len() - 1
        })
    });
    let places = places.collect();
    let shortest = |used: &Length| stock.iter().copied().filter(|length| length >= used).min();
    Some((places, filled.iter().map(shortest).collect::<Option<_>>()?))
}

/// Every stock length that the pieces are cut from.
pub fn bought_lengths(pieces: &[PurlinPiece]) -> Vec<Length> {
    let numbered = pieces.iter().map(|piece| (piece.stock_number, piece.stock));
    let by_number: BTreeMap<usize, Length> = numbered.collect();
    by_number.into_values().collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::roofing::layout::LineKind;

    #[test]
    fn joins_only_over_timbers_and_buys_no_more_than_two_rows_need() {
        let row = |y| Line { y: Length::from_mm(y), kind: LineKind::Intermediate };
        let lines = [row(25), row(600)];
        let stock = [Length::from_mm(2_400), Length::from_mm(3_000), Length::from_mm(4_800)];
        let pieces = cut_purlins(&lines, Length::from_mm(5_400), Length::from_mm(600), &stock);
        let pieces = pieces.expect("stock reaches from timber to timber");
        assert!(
            pieces
                .iter()
                .all(|piece| piece.from.div_ceil(Length::from_mm(600)) * 600 == piece.from.round_mm())
        );
        let bought: Length = bought_lengths(&pieces).into_iter().sum();
        assert_eq!(bought, Length::from_mm(10_800));
    }
}
