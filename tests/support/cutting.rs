//! Checks a cutting with a tape and a saw: independent of how it was found.

#![allow(
    dead_code,
    clippy::unwrap_used,
    clippy::indexing_slicing,
    reason = "only tests build with this, each with its own part"
)]

use std::collections::{BTreeSet, HashMap};

use lapwise::roofing::layout::cutting::{Cutting, Slope, Stock};
use lapwise::roofing::layout::{BoughtSheet, Course};
use lapwise::units::Length;

/// Patterns with more pieces than this are not searched again for fewer cuts.
const SMALL: usize = 5;

fn ensure(holds: bool, fault: &str) -> Result<(), String> {
    if holds { Ok(()) } else { Err(fault.to_owned()) }
}

/// Whether courses and columns cover the slope, and [`can_be_cut`].
pub(crate) fn can_be_built(slope: &Slope, stock: &Stock, cutting: &Cutting) -> Result<(), String> {
    let (first, last) = (cutting.courses.first().unwrap(), cutting.courses.last().unwrap());
    ensure(first.from == Length::ZERO && last.to == slope.length, "the courses reach from edge to edge")?;
    ensure(!last.top_is_lapped, "nothing lies over the top course")?;
    let inner: Vec<Length> = slope.lines.iter().skip(1).rev().skip(1).copied().collect();
    for pair in cutting.courses.windows(2) {
        ensure(pair[0].top_is_lapped && pair[0].to - pair[1].from == slope.end_lap, "the end lap is kept")?;
        let middle = pair[1].from + (slope.end_lap - slope.end_lap / 2);
        ensure(inner.contains(&middle), "every joint sits on a line")?;
    }
    let (left, right) = (cutting.columns.first().unwrap(), cutting.columns.last().unwrap());
    ensure(left.first_corrugation == 0 && right.to >= slope.width, "the columns reach from verge to verge")?;
    ensure(right.to - slope.width < stock.pitch, "the far verge overhangs by less than a corrugation")?;
    for pair in cutting.columns.windows(2) {
        let lap = pair[0].first_corrugation + pair[0].corrugations - pair[1].first_corrugation;
        ensure(lap == slope.side_lap, "the side lap is kept")?;
    }
    can_be_cut(stock, cutting)
}

/// Whether every cell is covered once, by a piece that fits, out of a sheet that really gives it.
pub(crate) fn can_be_cut(stock: &Stock, cutting: &Cutting) -> Result<(), String> {
    let mut cells = BTreeSet::new();
    for sheet in &cutting.plan.sheets {
        for piece in &sheet.pieces {
            ensure(cells.insert((piece.column, piece.course)), "no cell is covered twice")?;
            let course = &cutting.courses[piece.course];
            let hidden = if course.top_is_lapped { stock.max_extra_lap } else { Length::ZERO };
            let lengths = course.length()..=course.length() + hidden;
            ensure(lengths.contains(&piece.length), "a piece is as long as its course, or hides the rest")?;
            ensure(piece.length >= stock.min_piece, "no piece is too short")?;
            let needed = cutting.columns[piece.column].corrugations;
            let last = piece.column + 1 == cutting.columns.len();
            let wide_enough = piece.corrugations == needed
                || (last
                    && stock.extra_side_lap
                    && (needed..=stock.corrugations).contains(&piece.corrugations));
            ensure(wide_enough, "a piece is as wide as its column, or laps the rest")?;
        }
        fits(sheet, stock)?;
        if sheet.pieces.len() <= SMALL {
            let fewest = fewest_cuts(sheet, cutting, stock);
            ensure(
                fewest == sheet.cuts,
                &format!("sheet {} takes {fewest} cuts, not {}", sheet.number, sheet.cuts),
            )?;
        }
    }
    ensure(cells.len() == cutting.columns.len() * cutting.courses.len(), "every cell is covered")?;
    let cuts: usize = cutting.plan.sheets.iter().map(|sheet| sheet.cuts).sum();
    ensure(cuts == cutting.plan.cuts, "the cuts add up")
}

fn fits(sheet: &BoughtSheet, stock: &Stock) -> Result<(), String> {
    for (index, a) in sheet.pieces.iter().enumerate() {
        let inside = a.at >= Length::ZERO
            && a.at_corrugation >= 0
            && a.at + a.length <= stock.length
            && a.at_corrugation + a.corrugations <= stock.corrugations;
        let apart = sheet.pieces[..index].iter().all(|b| {
            a.at + a.length <= b.at
                || b.at + b.length <= a.at
                || a.at_corrugation + a.corrugations <= b.at_corrugation
                || b.at_corrugation + b.corrugations <= a.at_corrugation
        });
        if !inside || !apart {
            return Err(format!("sheet {}: a piece lies over another or over the edge", sheet.number));
        }
    }
    Ok(())
}

/// What a piece may measure: narrowest and widest, shortest and longest.
pub(crate) type Wanted = (i64, i64, i64, i64);

fn fewest_cuts(sheet: &BoughtSheet, cutting: &Cutting, stock: &Stock) -> usize {
    let wanted: Vec<Wanted> = sheet
        .pieces
        .iter()
        .map(|piece| {
            wanted(&cutting.courses[piece.course], cutting.columns[piece.column].corrugations, stock)
        })
        .collect();
    cuts_for(&wanted, stock).unwrap()
}

/// What the piece of a cell may measure.
pub(crate) fn wanted(course: &Course, needed: i64, stock: &Stock) -> Wanted {
    let low = course.length().um();
    let hidden = if course.top_is_lapped { stock.max_extra_lap.um() } else { 0 };
    (needed, if stock.extra_side_lap { stock.corrugations } else { needed }, low, low + hidden)
}

/// The fewest straight cuts that give these pieces, by trying for ever more cuts every cut at every place that
/// could matter; `None` where no number does: every piece then has its own end and side trimmed off.
pub(crate) fn cuts_for(wanted: &[Wanted], stock: &Stock) -> Option<usize> {
    let area = |(wide, _, long, _): &Wanted| wide * long;
    if wanted.iter().map(area).sum::<i64>() > stock.corrugations * stock.length.um() {
        return None;
    }
    let places = places(wanted, stock.length.um());
    let mut known = HashMap::new();
    (0..3 * wanted.len())
        .find(|cuts| can_cut(stock.corrugations, stock.length.um(), wanted, *cuts, &places, &mut known))
}

/// Distances from either end of a part that are sums of shortest or longest pieces.
fn places(wanted: &[Wanted], length: i64) -> BTreeSet<i64> {
    let mut sums = BTreeSet::from([0]);
    for (_, _, low, high) in wanted {
        let with: Vec<i64> =
            sums.iter().flat_map(|sum| [sum + low, sum + high]).filter(|sum| *sum < length).collect();
        sums.extend(with);
    }
    sums.remove(&0);
    sums
}

type Known = HashMap<(i64, i64, Vec<Wanted>, usize), bool>;

/// Whether a part gives the wanted pieces in so many cuts.
fn can_cut(
    width: i64,
    length: i64,
    wanted: &[Wanted],
    cuts: usize,
    places: &BTreeSet<i64>,
    known: &mut Known,
) -> bool {
    let fits = |(w0, w1, l0, l1): &Wanted| (*w0..=*w1).contains(&width) && (*l0..=*l1).contains(&length);
    match wanted {
        [] => return true,
        [one] if fits(one) => return true,
        _ => {}
    }
    if cuts == 0 || wanted.len() > cuts + 1 {
        return false;
    }
    let key = (width, length, wanted.to_vec(), cuts);
    if let Some(answer) = known.get(&key) {
        return *answer;
    }
    let mut parts: BTreeSet<(i64, i64, i64, i64)> = BTreeSet::new();
    for &at in places.iter().filter(|at| **at < length) {
        parts.insert((width, at, width, length - at));
        parts.insert((width, length - at, width, at));
    }
    parts.extend((1..width).map(|at| (at, length, width - at, length)));
    let answer = parts.into_iter().any(|(w1, l1, w2, l2)| {
        (0..1_usize << wanted.len()).any(|choice| {
            let side = |chosen: usize| -> Vec<Wanted> {
                let of = wanted.iter().enumerate().filter(|(index, _)| (choice >> index) & 1 == chosen);
                of.map(|(_, piece)| *piece).collect()
            };
            let (first, second) = (side(1), side(0));
            (0..cuts).any(|spent| {
                can_cut(w1, l1, &first, spent, places, known)
                    && can_cut(w2, l2, &second, cuts - 1 - spent, places, known)
            })
        })
    });
    known.insert(key, answer);
    answer
}
