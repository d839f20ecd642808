//! What holds for the cutting of any slope.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "a fault fails the test")]

use lapwise::roofing::layout::cutting::{
    Budget, CannotLay, Cutting, Slope, Stock, columns, cut, cut_courses, cut_together, free_courses,
    sheets_lower_bound, sheets_lower_bound_together,
};
use lapwise::roofing::layout::{BoughtSheet, Course};
use lapwise::units::Length;
use proptest::prelude::*;

use crate::cutting as support;

fn mm(value: i64) -> Length {
    Length::from_mm(value)
}

prop_compose! {
    fn stock(most: i64)(
        corrugations in 3..=most,
        pitch in 60..150_i64,
        length in 1_000..3_000_i64,
        min_piece in 150..400_i64,
        extra in prop_oneof![Just(0), 0..300_i64],
        extra_side_lap: bool,
    ) -> Stock {
        Stock {
            corrugations,
            pitch: mm(pitch),
            length: mm(length),
            min_piece: mm(min_piece),
            max_extra_lap: mm(extra),
            extra_side_lap,
        }
    }
}

prop_compose! {
    /// A slope with lines no further apart than a sheet reaches.
    fn slope(width: i64, length: i64)(
        width in 300..width,
        length in 800..length,
        gap in 250..800_i64,
        end_lap in 100..301_i64,
        side_lap in 1..=2_i64,
    ) -> Slope {
        let gaps = ((length - 100) / gap).max(1);
        let lines = (0..=gaps).map(|line| mm(50 + line * (length - 100) / gaps)).collect();
        Slope { width: mm(width), length: mm(length), lines, end_lap: mm(end_lap), side_lap }
    }
}

fn upside_down(slope: &Slope) -> Slope {
    let lines = slope.lines.iter().rev().map(|line| slope.length - *line).collect();
    Slope { lines, ..slope.clone() }
}

fn counts(cutting: &Cutting) -> (usize, usize) {
    (cutting.plan.sheets.len(), cutting.plan.cuts)
}

/// The fewest sheets, then cuts, for these courses: every way to share single pieces out over sheets.
fn by_trying_all(courses: &[Course], widths: &[i64], stock: &Stock) -> (usize, usize) {
    let pieces: Vec<support::Wanted> = widths
        .iter()
        .flat_map(|width| courses.iter().map(|course| support::wanted(course, *width, stock)))
        .collect();
    let one_sheet: Vec<Option<usize>> = (0..1_usize << pieces.len())
        .map(|chosen| {
            let some: Vec<_> =
                (0..pieces.len()).filter(|at| (chosen >> at) & 1 == 1).map(|at| pieces[at]).collect();
            support::cuts_for(&some, stock)
        })
        .collect();
    let mut best = vec![(0, 0)];
    for all in 1..one_sheet.len() {
        let first = 1 << all.trailing_zeros();
        let parts = (1..=all).filter(|part| part & !all == 0 && part & first != 0);
        let ways = parts.filter_map(|part| {
            let (sheets, cuts): (usize, usize) = best[all & !part];
            Some((sheets + 1, cuts + one_sheet[part]?))
        });
        let least = ways.min().unwrap();
        best.push(least);
    }
    *best.last().unwrap()
}

proptest! {
    #[test]
    fn a_cutting_can_be_built(slope in slope(9_000, 6_000), stock in stock(14)) {
        let Ok(cutting) = cut(&slope, &stock, Budget::ROOF) else { return Ok(()) };
        support::can_be_built(&slope, &stock, &cutting).map_err(TestCaseError::fail)?;
        prop_assert!(cutting.plan.cuts_proven);
        prop_assert_eq!(cutting.plan.sheets_at_least, cutting.plan.sheets.len());
    }

    #[test]
    fn no_choice_of_joints_beats_the_bound(slope in slope(9_000, 6_000), stock in stock(14)) {
        let Ok(cutting) = cut(&slope, &stock, Budget::ROOF) else { return Ok(()) };
        let bound = sheets_lower_bound(slope.width, slope.length, slope.end_lap, slope.side_lap, &stock);
        let free = (slope.length - slope.end_lap).div_ceil(stock.length - slope.end_lap);
        if i64::try_from(cutting.courses.len()) == Ok(free.max(1)) {
            prop_assert!(cutting.plan.sheets.len() >= bound.unwrap());
        }
    }

    #[test]
    fn joints_free_to_move_reach_the_bound(slope in slope(9_000, 6_000), stock in stock(14)) {
        let Ok(courses) = free_courses(slope.length, slope.end_lap, &stock) else { return Ok(()) };
        let cutting = cut_courses(slope.width, slope.side_lap, &[courses], &stock, Budget::ROOF).unwrap();
        let bound = sheets_lower_bound(slope.width, slope.length, slope.end_lap, slope.side_lap, &stock);
        prop_assert_eq!(Ok(cutting.plan.sheets.len()), bound);
    }

    #[test]
    fn a_roof_upside_down_takes_as_much(slope in slope(9_000, 6_000), mut stock in stock(14)) {
        // With nothing hidden under a lap the top course is a course like any other.
        stock.max_extra_lap = Length::ZERO;
        let (one, other) = (cut(&slope, &stock, Budget::ROOF), cut(&upside_down(&slope), &stock, Budget::ROOF));
        prop_assert_eq!(one.map(|cutting| counts(&cutting)), other.map(|cutting| counts(&cutting)));
    }

    #[test]
    fn a_search_cut_short_still_gives_a_plan(
        slope in slope(9_000, 6_000), stock in stock(14), steps in prop_oneof![0..2_000_u64, 0..200_000_u64],
    ) {
        let Ok(short) = cut(&slope, &stock, Budget { steps }) else { return Ok(()) };
        let whole = cut(&slope, &stock, Budget::ROOF).unwrap();
        support::can_be_built(&slope, &stock, &short).map_err(TestCaseError::fail)?;
        prop_assert!(short.plan.sheets_at_least <= whole.plan.sheets.len());
        prop_assert!(counts(&short) >= counts(&whole));
        prop_assert!(!short.plan.cuts_proven || counts(&short) == counts(&whole));
    }

    #[test]
    fn nothing_is_missed_on_small_slopes(slope in slope(900, 3_000), stock in stock(5)) {
        let Ok(cutting) = cut(&slope, &stock, Budget::ROOF) else { return Ok(()) };
        let across = columns(slope.width, &stock, slope.side_lap).unwrap();
        let widths: Vec<i64> = across.each().iter().map(|column| column.corrugations).collect();
        prop_assume!(widths.len() * cutting.courses.len() <= 6);
        let settled = cut_courses(
            slope.width, slope.side_lap, std::slice::from_ref(&cutting.courses), &stock, Budget::ROOF,
        );
        prop_assert_eq!(settled.map(|settled| counts(&settled)), Ok(counts(&cutting)));
        prop_assert_eq!(by_trying_all(&cutting.courses, &widths, &stock), counts(&cutting));
    }
}

/// Two slopes in the same columns, each in the courses it would have alone.
fn pair(front: &Slope, back: &Slope, stock: &Stock) -> Option<(Slope, [Vec<Course>; 2], usize)> {
    let back = Slope { width: front.width, side_lap: front.side_lap, ..back.clone() };
    let cut = [cut(front, stock, Budget::ROOF).ok()?, cut(&back, stock, Budget::ROOF).ok()?];
    let alone = cut.iter().map(|cutting| cutting.plan.sheets.len()).sum();
    Some((back, cut.map(|cutting| cutting.courses), alone))
}

proptest! {
    #[test]
    fn slopes_that_share_offcuts_never_take_more(
        front in slope(9_000, 3_000), back in slope(9_000, 3_000), stock in stock(14),
    ) {
        let Some((back, courses, alone)) = pair(&front, &back, &stock) else { return Ok(()) };
        let (way, front_courses) = (courses.concat(), courses[0].len());
        let cut = |fewer_than| {
            let way = std::slice::from_ref(&way);
            cut_together(front.width, front.side_lap, way, &stock, Budget::ROOF, fewer_than)
        };
        let cutting = cut(alone + 1).unwrap();
        support::can_be_cut(&stock, &cutting).map_err(TestCaseError::fail)?;
        let sheets = &cutting.plan.sheets;
        prop_assert_eq!(cut(alone), if sheets.len() < alone { Ok(cutting.clone()) } else { Err(CannotLay::NothingSaved) });
        let lengths = [(front.length, front.end_lap), (back.length, back.end_lap)];
        let bound = sheets_lower_bound_together(front.width, &lengths, front.side_lap, &stock).unwrap();
        prop_assert!(bound <= sheets.len());
        // The front slope is laid first: no sheet is begun for the back one before all of the front one's.
        let begun_for_front = |sheet: &BoughtSheet| sheet.pieces.iter().any(|piece| piece.course < front_courses);
        prop_assert!(sheets.iter().is_sorted_by_key(|sheet| !begun_for_front(sheet)));
    }

    #[test]
    fn nothing_is_missed_on_two_small_slopes(
        front in slope(900, 2_000), back in slope(900, 2_000), stock in stock(5),
    ) {
        let Some((_, courses, alone)) = pair(&front, &back, &stock) else { return Ok(()) };
        let way = courses.concat();
        let across = columns(front.width, &stock, front.side_lap).unwrap();
        let widths: Vec<i64> = across.each().iter().map(|column| column.corrugations).collect();
        prop_assume!(widths.len() * way.len() <= 8);
        let cutting =
            cut_together(front.width, front.side_lap, std::slice::from_ref(&way), &stock, Budget::ROOF, alone + 1);
        prop_assert_eq!(by_trying_all(&way, &widths, &stock), counts(&cutting.unwrap()));
    }
}

#[test]
fn a_slope_without_a_line_in_reach_cannot_be_laid() {
    let stock = Stock {
        corrugations: 10,
        pitch: mm(95),
        length: mm(2_000),
        min_piece: mm(300),
        max_extra_lap: Length::ZERO,
        extra_side_lap: true,
    };
    let lines = vec![mm(50), mm(2_200), mm(3_950)];
    let slope = Slope { width: mm(3_000), length: mm(4_000), lines, end_lap: mm(170), side_lap: 1 };
    assert_eq!(cut(&slope, &stock, Budget::ROOF), Err(CannotLay::NoJointsFit));
    let lapped_away = Slope { side_lap: 10, ..slope };
    assert_eq!(cut(&lapped_away, &stock, Budget::ROOF), Err(CannotLay::NoSuchSheet));
}
