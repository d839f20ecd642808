//! Purlin timber: every row cut from stock lengths, with joints only over the timbers below.

use std::collections::BTreeMap;

use super::{Line, PurlinPiece};
use crate::units::Length;

/// What sawing takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sawing {
    /// Each cut.
    pub cut: Length,
    /// The end of a timber that several pieces are cut from, to square it.
    pub squared: Length,
}

impl Sawing {
    /// What pieces take of one timber. One piece may be a whole timber, with both its ends as they are sold.
    fn takes(self, pieces: i64, together: Length) -> Length {
        if pieces > 1 { together + self.cut * pieces + self.squared } else { together }
    }
}

/// One length of a row before it is given a stock length.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Run {
    line: usize,
    from: Length,
    to: Length,
}

/// What a way of cutting costs, the dearest first: timber bought, stock lengths, pieces.
type Cost = (Length, usize, usize);

/// Joints stand over one timber in every third row at most, where the roof is long enough for that.
const ROWS_APART: usize = 3;

/// Cuts one row of timber for every line.
///
/// Timbers below stand at whole multiples of `spacing` from the left end and at the right end. Rows are cut in turn in up
/// to three ways that have no joint over the same timber, as far as the length allows; of those, the timber bought is the
/// least of the ways tried, then stock lengths, then joints. `None` where no stock length reaches from timber to timber.
pub fn cut_purlins(
    lines: &[Line],
    length: Length,
    spacing: Length,
    stock: &[Length],
    sawing: Sawing,
) -> Option<Vec<PurlinPiece>> {
    let rows = all_rows(length, spacing, stock);
    let turns = turns(&rows, lines.len());
    // Ways that come to the same lengths, a row and its mirror image above all, cost the same.
    let mut known: BTreeMap<Vec<Length>, Cost> = BTreeMap::new();
    let mut best: Option<(Cost, &Vec<&Row>)> = None;
    for turn in &turns {
        let lengths = lengths(lines.len(), turn);
        let cost = if let Some(cost) = known.get(&lengths) {
            *cost
        } else {
            let cost = cost(&lengths, stock, sawing)?;
            known.insert(lengths, cost);
            cost
        };
        if best.as_ref().is_none_or(|(least, _)| cost < *least) {
            best = Some((cost, turn));
        }
    }
    let (_, turn) = best?;
    pack(runs(lines, turn), stock, sawing)
}

/// One way to cut a row.
struct Row {
    /// Both ends of the row, and every joint between them.
    ends: Vec<Length>,
}

impl Row {
    fn joints(&self) -> &[Length] {
        self.ends.get(1..self.ends.len().saturating_sub(1)).unwrap_or_default()
    }

    fn lengths(&self) -> impl Iterator<Item = Length> {
        self.ends.iter().zip(self.ends.iter().skip(1)).map(|(from, to)| *to - *from)
    }

    fn shares_a_joint_with(&self, other: &Self) -> bool {
        self.joints().iter().any(|joint| other.joints().contains(joint))
    }
}

/// Every way to cut one row that is tried, once. A row with two joints more than need be is worth no try.
fn all_rows(length: Length, spacing: Length, stock: &[Length]) -> Vec<Row> {
    let mut all: Vec<Row> = Vec::new();
    for ends in stock.iter().flat_map(|longest| rows(length, spacing, *longest)) {
        if !all.iter().any(|row| row.ends == ends) {
            all.push(Row { ends });
        }
    }
    let fewest = all.iter().map(|row| row.ends.len()).min().unwrap_or_default();
    all.retain(|row| row.ends.len() <= fewest + 1);
    all
}

/// The largest sets of up to three ways, no two of which have a joint over the same timber; no more ways than rows. A row
/// without joints needs no other.
fn turns(rows: &[Row], lines: usize) -> Vec<Vec<&Row>> {
    let whole: Vec<Vec<&Row>> =
        rows.iter().filter(|row| row.joints().is_empty()).map(|row| vec![row]).collect();
    if !whole.is_empty() {
        return whole;
    }
    let mut largest: Vec<Vec<&Row>> = rows.iter().map(|row| vec![row]).collect();
    for _ in 1..ROWS_APART.min(lines) {
        let longer: Vec<Vec<&Row>> = largest.iter().flat_map(|turn| with_one_more(turn, rows)).collect();
        if longer.is_empty() {
            break;
        }
        largest = longer;
    }
    largest
}

/// Every set with one more way, listed later, that has no joint in common with it.
fn with_one_more<'r>(turn: &[&'r Row], rows: &'r [Row]) -> Vec<Vec<&'r Row>> {
    let last = turn.last().and_then(|last| rows.iter().position(|row| row.ends == last.ends));
    let further = rows.iter().skip(last.map_or(0, |last| last + 1));
    let apart = further.filter(|row| !turn.iter().any(|other| other.shares_a_joint_with(row)));
    apart.map(|row| turn.iter().copied().chain([row]).collect()).collect()
}

/// The joints of one row cut into runs no longer than `longest`: from the left, its first run whole or one or two timbers
/// shorter; from the right; and evenly.
fn rows(length: Length, spacing: Length, longest: Length) -> Vec<Vec<Length>> {
    let over_a_timber = |x: Length| spacing * x.div_floor(spacing);
    let from_the_left = |shorter: i64| {
        let mut joints = Vec::new();
        let mut at = Length::ZERO;
        while length - at > longest {
            let short = if joints.is_empty() { spacing * shorter } else { Length::ZERO };
            let next = over_a_timber(at + longest - short);
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
    let ways = [from_the_left(0), from_the_right(), evenly(), from_the_left(1), from_the_left(2)];
    let ways = ways.into_iter().flatten();
    ways.map(|joints| [Length::ZERO].into_iter().chain(joints).chain([length]).collect()).collect()
}

fn runs(lines: &[Line], turn: &[&Row]) -> Vec<Run> {
    let rows = turn.iter().cycle().take(lines.len()).enumerate();
    let of_row = |(line, row): (usize, &&Row)| {
        let pairs = row.ends.iter().zip(row.ends.iter().skip(1));
        pairs.map(|(from, to)| Run { line, from: *from, to: *to }).collect::<Vec<_>>()
    };
    rows.flat_map(of_row).collect()
}

/// The lengths of ways to cut a row, laid in turn, longest first.
fn lengths(lines: usize, turn: &[&Row]) -> Vec<Length> {
    let mut lengths: Vec<Length> = turn.iter().cycle().take(lines).flat_map(|row| row.lengths()).collect();
    lengths.sort_unstable_by(|a, b| b.cmp(a));
    lengths
}

fn cost(lengths: &[Length], stock: &[Length], sawing: Sawing) -> Option<Cost> {
    let (_, bought) = fill(lengths.iter().copied(), stock, sawing)?;
    Some((bought.iter().copied().sum(), bought.len(), lengths.len()))
}

fn pack(mut runs: Vec<Run>, stock: &[Length], sawing: Sawing) -> Option<Vec<PurlinPiece>> {
    runs.sort_by_key(|run| (-(run.to - run.from), run.line, run.from));
    let (places, bought) = fill(runs.iter().map(|run| run.to - run.from), stock, sawing)?;
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
fn fill(
    lengths: impl Iterator<Item = Length>,
    stock: &[Length],
    sawing: Sawing,
) -> Option<(Vec<usize>, Vec<Length>)> {
    let longest = *stock.iter().max()?;
    // On each: how many pieces, and how long they are together.
    let mut filled: Vec<(i64, Length)> = Vec::new();
    let places = lengths.map(|needs| {
        let holds = |(pieces, used): &(i64, Length)| sawing.takes(pieces + 1, *used + needs) <= longest;
        let room = filled.iter_mut().enumerate().filter(|(_, carried)| holds(carried));
        let found = room.max_by_key(|(_, (_, used))| *used).map(|(place, (pieces, used))| {
            *pieces += 1;
            *used += needs;
            place
        });
        found.unwrap_or_else(|| {
            filled.push((1, needs));
            filled.len() - 1
        })
    });
    let places = places.collect();
    let shortest = |(pieces, used): &(i64, Length)| {
        let takes = sawing.takes(*pieces, *used);
        stock.iter().copied().filter(|length| *length >= takes).min()
    };
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

    fn mm(mm: i64) -> Length {
        Length::from_mm(mm)
    }

    fn cut(rows: i64, length: i64, spacing: i64) -> Vec<PurlinPiece> {
        let lines: Vec<Line> =
            (0..rows).map(|row| Line { y: mm(25 + 500 * row), kind: LineKind::Intermediate }).collect();
        let stock = [2_400, 3_000, 3_600, 4_800].map(mm);
        let sawing = Sawing { cut: mm(4), squared: mm(10) };
        cut_purlins(&lines, mm(length), mm(spacing), &stock, sawing)
            .expect("stock reaches from timber to timber")
    }

    fn joints(pieces: &[PurlinPiece], line: usize) -> Vec<Length> {
        pieces
            .iter()
            .filter(|piece| piece.line == line && piece.from > mm(0))
            .map(|piece| piece.from)
            .collect()
    }

    #[test]
    fn joins_only_over_timbers_and_never_over_the_same_in_three_rows() {
        for (rows, length, spacing) in
            [(2, 5_400, 600), (8, 6_000, 1_500), (7, 7_350, 600), (12, 20_000, 400)]
        {
            let pieces = cut(rows, length, spacing);
            for piece in &pieces {
                assert_eq!(piece.from.div_ceil(mm(spacing)) * spacing, piece.from.round_mm(), "{length}");
            }
            for line in 0..usize::try_from(rows).expect("a few") {
                let here = joints(&pieces, line);
                let next = [joints(&pieces, line + 1), joints(&pieces, line + 2)].concat();
                assert!(!here.is_empty());
                assert!(here.iter().all(|joint| !next.contains(joint)), "{length}, row {line}: {here:?}");
            }
        }
    }

    #[test]
    fn saw_cuts_and_a_squared_end_are_taken_from_a_timber_that_is_shared() {
        // Two of 2395 mm, two cuts and an end would be 4808 mm: each is cut from one of its own.
        let own: Vec<Length> = cut(2, 2_395, 600).iter().map(|piece| piece.stock).collect();
        assert_eq!(own, [mm(2_400), mm(2_400)]);
        // Two of 2390 mm are 4798 mm with all that.
        assert_eq!(bought_lengths(&cut(2, 2_390, 600)), [mm(4_800)]);
        // A whole one is not cut at all.
        assert_eq!(bought_lengths(&cut(1, 3_000, 600)), [mm(3_000)]);
        for (rows, length, spacing) in [(8, 6_000, 1_500), (7, 7_350, 600), (12, 20_000, 400)] {
            let pieces = cut(rows, length, spacing);
            for piece in &pieces {
                let shared = pieces.iter().filter(|other| other.stock_number == piece.stock_number);
                let lengths: Vec<Length> = shared.map(|one| one.to - one.from).collect();
                let cuts = i64::try_from(lengths.len()).expect("a few");
                let takes = lengths.iter().copied().sum::<Length>() + mm(4) * cuts + mm(10);
                assert!(cuts == 1 || takes <= piece.stock, "{takes} out of {}", piece.stock);
            }
        }
    }
}
