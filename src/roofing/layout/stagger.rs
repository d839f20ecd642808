//! Staggered side joints: every second course starts with half a sheet.

use super::cutting::{Budget, CannotLay, Stock, cut_courses};
use super::{BoughtSheet, Column, Course, CutPlan};
use crate::units::Length;

/// How courses with staggered joints are cut: the columns of the first, third, … course, those of the second,
/// fourth, …, and what comes out of which sheet.
pub type Staggered = (Vec<Column>, Vec<Column>, CutPlan);

/// Cuts courses whose side joints stand apart from the next course's by half a sheet.
///
/// # Limits
/// Half sheets, the courses they start and the other courses are cut each by themselves, so that the number of
/// sheets is a good one, not a proven one; the bound that goes with it is by area.
///
/// # Errors
/// [`CannotLay`] where a course is no piece of the sheet.
pub fn cut_staggered(
    width: Length,
    side_lap: i64,
    courses: &[Course],
    stock: &Stock,
    budget: Budget,
) -> Result<Staggered, CannotLay> {
    let half = stock.corrugations / 2;
    let straight = every_second(courses, 0);
    let shifted = every_second(courses, 1);
    let step = half - side_lap;
    if step <= 0 || shifted.is_empty() || width <= stock.pitch * half {
        let cutting = cut_courses(width, side_lap, &[courses.to_vec()], stock, budget)?;
        return Ok((cutting.columns.clone(), cutting.columns, cutting.plan));
    }
    // A first sheet wider than its column would stand out at the verge.
    let ripped = Stock { extra_side_lap: false, ..*stock };
    let first = cut_courses(width, side_lap, &[straight], stock, budget)?;
    let halves = cut_courses(stock.pitch * half, side_lap, std::slice::from_ref(&shifted), &ripped, budget)?;
    let rest = cut_courses(width - stock.pitch * step, side_lap, &[shifted], stock, budget)?;
    let mut columns = halves.columns;
    columns.extend(rest.columns.iter().map(|column| Column {
        number: column.number + 1,
        first_corrugation: column.first_corrugation + step,
        from: column.from + stock.pitch * step,
        to: column.to + stock.pitch * step,
        ..*column
    }));
    let mut sheets = placed(first.plan.sheets, 0, 0);
    sheets.extend(placed(halves.plan.sheets, 1, 0));
    sheets.extend(placed(rest.plan.sheets, 1, 1));
    sheets.sort_by_key(|sheet| sheet.pieces.iter().map(|piece| (piece.course, piece.column)).min());
    for (sheet, number) in sheets.iter_mut().zip(1..) {
        sheet.number = number;
    }
    let cuts = first.plan.cuts + halves.plan.cuts + rest.plan.cuts;
    let sheets_at_least = by_area(width, courses, stock).min(sheets.len());
    Ok((first.columns, columns, CutPlan { sheets, cuts, sheets_at_least, cuts_proven: false }))
}

fn every_second(courses: &[Course], from: usize) -> Vec<Course> {
    courses.iter().skip(from).step_by(2).copied().collect()
}

/// Pieces of every second course from `course` on, `column` columns further.
fn placed(sheets: Vec<BoughtSheet>, course: usize, column: usize) -> Vec<BoughtSheet> {
    let mut sheets = sheets;
    for piece in sheets.iter_mut().flat_map(|sheet| &mut sheet.pieces) {
        piece.course = piece.course * 2 + course;
        piece.column += column;
    }
    sheets
}

/// No way needs fewer sheets than these have area.
fn by_area(width: Length, courses: &[Course], stock: &Stock) -> usize {
    let strip: Length = courses.iter().map(Course::length).sum();
    let strips = width.div_ceil(stock.pitch);
    let sheets = (strip * strips).div_ceil(stock.length * stock.corrugations);
    usize::try_from(sheets).unwrap_or_default()
}
