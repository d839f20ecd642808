//! How few sheets can do, before any search.

use super::joints::can_lay;
use super::kinds::{Blank, Kind};
use super::{CannotLay, Columns, Course, Stock, columns};
use crate::units::Length;

/// Stretched lengths are tried in so many classes.
const CLASSES: i64 = 8;

/// A proven lower bound on the sheets for these kinds.
///
/// # Proof
/// Take any sheet and any lane of it (a strip one narrow piece wide; whole-width pieces lie in every lane). The
/// pieces in a lane are end to end, so any function `f` of length with `f(x) + f(y) + … <= 1` whenever
/// `x + y + … <= sheet` (a dual feasible function) adds up to at most 1 along it, and averaged over the lanes a
/// sheet holds at most 1 = Σ f(full) + Σ f(narrow) / lanes. Two families: `f(x)` = ⌊(k+1)x⌋/k unless (k+1)x is
/// whole, then x (lengths in sheets); and x, but 1 above 1-s and 0 below s. Known from the bin packing
/// literature (Fekete and Schepers 2001, from memory); both are short to check by hand.
pub(super) fn sheets_for(kinds: &[Kind], blank: &Blank) -> i64 {
    let lanes = blank.lanes();
    let share = |scale: i64, value: &dyn Fn(i64) -> i64| {
        let all: i128 = kinds
            .iter()
            .map(|kind| {
                let weight = if kind.narrow { kind.demand } else { kind.demand * lanes };
                i128::from(weight) * i128::from(value(kind.low))
            })
            .sum();
        let one = i128::from(lanes) * i128::from(scale);
        i64::try_from(-(-all).div_euclid(one.max(1))).unwrap_or(i64::MAX)
    };
    let sheet = blank.length;
    let classes = (1..=CLASSES).map(|k| {
        share(k * (k + 1), &|x| {
            let stretched = (k + 1) * x;
            let whole = stretched.div_euclid(sheet);
            if stretched.rem_euclid(sheet) == 0 { whole * k } else { whole * (k + 1) }
        })
    });
    let shorts = kinds.iter().map(|kind| kind.low).filter(|low| 2 * low <= sheet).map(|short| {
        share(sheet, &|x| {
            if x > sheet - short {
                sheet
            } else if x < short {
                0
            } else {
                x
            }
        })
    });
    let plain = share(sheet, &|x| x);
    classes.chain(shorts).fold(plain, i64::max)
}

/// A lower bound from nothing but what the pieces of one column add up to.
pub(super) fn by_length(total: Length, columns: &Columns, stock: &Stock) -> i64 {
    let lanes = columns.lanes();
    let narrow = columns.count - columns.full();
    (total * (columns.full() * lanes + narrow)).div_ceil(stock.length * lanes)
}

/// The sheets that no choice of joint positions gets below, in the fewest courses any choice allows.
///
/// For the planner who is free to place the purlins: a plan with this many sheets is a proven minimum.
///
/// # Proof
/// Let the fewest courses be `c`, in sheets' lengths, and their pieces of one column add up to `t = length +
/// (c-1) lap`. As `c-1` courses do not reach, `t > c-1`. Then every piece is longer than `t - (c-1)` (the others
/// are at most 1 each); two pieces of at most ½ would leave `c-2` sheets for more than `c-2`, so at most one
/// course is short (`a <= ½`); and no other piece `l` shares its lane with the short one, for `a + l <= 1`
/// leaves `c-2` pieces for more than `c-2`. So whole-width long pieces take a sheet each, narrow long ones one
/// lane each, and only short ones share: ⌊1/a⌋ end to end, most for the least `a`. That least is the longer of
/// `t - (c-1)` and the shortest piece; if it is above ½, all are long. Where one course does, it is the only
/// piece and stands for the short one if it is at most ½.
pub fn sheets_lower_bound(
    width: Length,
    length: Length,
    end_lap: Length,
    side_lap: i64,
    stock: &Stock,
) -> Result<usize, CannotLay> {
    let columns = columns(width, stock, side_lap)?;
    let (courses, shortest) = fewest_courses(length, end_lap, stock)?;
    let together = stock.length.div_floor(shortest).max(1);
    usize::try_from(fewest(&columns, courses, together)).map_err(|_| CannotLay::NoSuchSheet)
}

/// The sheets that no choice of joint positions gets below where slopes in the same columns share offcuts. Each
/// slope is given by its length and its end lap.
///
/// # Proof
/// By what the pieces add up to; and by [`sheets_lower_bound`]'s proof at most one course of a slope is no longer
/// than half a sheet, while of the others no two share a lane.
pub fn sheets_lower_bound_together(
    width: Length,
    slopes: &[(Length, Length)],
    side_lap: i64,
    stock: &Stock,
) -> Result<usize, CannotLay> {
    let columns = columns(width, stock, side_lap)?;
    let (mut total, mut long) = (Length::ZERO, 0);
    for (length, end_lap) in slopes {
        let (courses, shortest) = fewest_courses(*length, *end_lap, stock)?;
        total += *length + *end_lap * (courses - 1);
        long += if shortest * 2 > stock.length { courses } else { courses - 1 };
    }
    let fewest = by_length(total, &columns, stock).max(by_length(stock.length * long, &columns, stock));
    usize::try_from(fewest).map_err(|_| CannotLay::NoSuchSheet)
}

/// The fewest courses where joints may be anywhere, and the shortest piece one of them can be.
fn fewest_courses(length: Length, end_lap: Length, stock: &Stock) -> Result<(i64, Length), CannotLay> {
    let gain = stock.length - end_lap;
    if gain <= Length::ZERO || length <= Length::ZERO {
        return Err(CannotLay::NoSuchSheet);
    }
    let courses = (length - end_lap).div_ceil(gain).max(1);
    let others = stock.length * (courses - 1) - end_lap * (courses - 1);
    Ok((courses, (length - others).max(stock.min_piece)))
}

/// Courses that reach [`sheets_lower_bound`], for the planner who is free to place the purlins: whole sheets
/// from the eaves up, the last before the top shortened if need be, and the shortest course at the top.
///
/// # Errors
/// [`CannotLay::NoJointsFit`] where that would make a piece shorter than it may be.
pub fn free_courses(length: Length, end_lap: Length, stock: &Stock) -> Result<Vec<Course>, CannotLay> {
    let (count, shortest) = fewest_courses(length, end_lap, stock)?;
    let top = length - shortest;
    let mut courses = Vec::new();
    let mut from = Length::ZERO;
    for _ in 1..count {
        let to = (from + stock.length).min(top + end_lap);
        courses.push(Course { from, to, top_is_lapped: true });
        from = to - end_lap;
    }
    courses.push(Course { from, to: length, top_is_lapped: false });
    if can_lay(&courses, stock) { Ok(courses) } else { Err(CannotLay::NoJointsFit) }
}

/// The sheets for one course whose pieces go `together` to a lane and others that fill theirs.
fn fewest(columns: &Columns, courses: i64, together: i64) -> i64 {
    let ceil = |count: i64, by: i64| (count + by - 1).div_euclid(by.max(1));
    let (full, lanes) = (columns.full(), columns.lanes());
    let narrow = columns.count - full;
    if together == 1 {
        return full * courses + ceil(narrow * courses, lanes);
    }
    let long = courses - 1;
    let ripped = ceil(narrow * long, lanes);
    // A lane left over beside the long narrow pieces takes the short narrow one; else it lies in a sheet of short
    // pieces, where it needs one band of the sheet.
    let spare_lane = narrow * long < ripped * lanes;
    let short = full + if spare_lane { 0 } else { narrow };
    full * long + ripped + ceil(short, together)
}
