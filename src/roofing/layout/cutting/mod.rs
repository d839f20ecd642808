//! How the pieces of one slope come out of the fewest bought sheets, with the fewest straight cuts.
//!
//! The order of the work: [`columns`] across the slope; joint sets up it (`joints`); for each set of course
//! lengths the ways to fill one sheet (`patterns`, whose cuts come from `guillotine`); the fewest sheets, then
//! the fewest cuts, over all of them (`search`, bounded by the linear programme in `simplex`); and every piece
//! to its cell (`assign`). All of it is whole numbers, and the limit is counted in steps, never by a clock:
//! the same slope gives the same plan on any machine.
//!
//! The rules of the game: corrugations run up the slope, so pieces are never turned; every cell (one column of
//! one course) is one piece; joints are the same in every column; a cut runs edge to edge through one piece
//! and counts one; sheets are not stacked for cutting; the saw takes nothing.

mod again;
mod assign;
mod bound;
mod columns;
mod guillotine;
mod joints;
mod kinds;
mod patterns;
mod search;
mod simplex;
mod solve;

pub use again::{Part, cut_pieces};
pub use bound::{free_courses, sheets_lower_bound, sheets_lower_bound_together};
pub use columns::{Columns, columns};

use self::joints::Ways;
use super::{Column, Course, CutPlan};
use crate::roofing::catalogue::Sheet;
use crate::units::Length;

/// The sheets' outline on one slope, overhangs included, and where a joint may be.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Slope {
    /// Along the eaves.
    pub width: Length,
    /// Up the slope.
    pub length: Length,
    /// Heights of all fixing lines above the sheets' lower edge, lowest first. Joints sit on any but the first
    /// and the last, the lap centred on the line.
    pub lines: Vec<Length>,
    /// How far one course laps the next.
    pub end_lap: Length,
    /// How many corrugations one column laps the next.
    pub side_lap: i64,
}

/// What the cutting needs to know of a bought sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stock {
    /// Corrugations across.
    pub corrugations: i64,
    /// Crown to crown.
    pub pitch: Length,
    /// Up the slope.
    pub length: Length,
    /// The shortest piece worth laying.
    pub min_piece: Length,
    /// How much too long a piece may be left where the extra is hidden under a lap.
    pub max_extra_lap: Length,
    /// Whether the last column may be wider than it needs and lap further, instead of being ripped.
    pub extra_side_lap: bool,
}

impl From<&Sheet> for Stock {
    fn from(sheet: &Sheet) -> Self {
        Self {
            corrugations: sheet.corrugations,
            pitch: sheet.corrugation_pitch,
            length: sheet.length,
            min_piece: sheet.min_piece,
            max_extra_lap: sheet.max_extra_lap,
            extra_side_lap: sheet.extra_side_lap,
        }
    }
}

/// How long to search for the optimum, in steps, so that the answer never depends on the machine.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Budget {
    /// A step is a few machine instructions: one column priced, one cut tree weighed.
    pub steps: u64,
}

impl Budget {
    /// About 200 ms on one 2020s core in a release build (measured by `tests/benches/cutting.rs`).
    pub const ROOF: Self = Self { steps: 4_000_000 };
}

/// Counts the steps that are left.
#[derive(Debug)]
pub(super) struct Meter {
    left: u64,
}

impl Meter {
    pub(super) fn new(steps: u64) -> Self {
        Self { left: steps }
    }

    /// Spends steps; `None` once there are none left.
    pub(super) fn spend(&mut self, steps: usize) -> Option<()> {
        self.left = self.left.checked_sub(u64::try_from(steps).unwrap_or(u64::MAX))?;
        Some(())
    }
}

/// How many courses may be laid.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Laps {
    /// The fewest courses that reach: good practice, every end lap is a place that can leak.
    Fewest,
    /// As many as save a sheet.
    Any,
}

/// A slope laid and cut. Measured from the sheets' lower left corner.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cutting {
    /// From the eaves up.
    pub courses: Vec<Course>,
    /// From the left, or from the end where laying starts.
    pub columns: Vec<Column>,
    /// What comes out of which sheet.
    pub plan: CutPlan,
}

/// Why a slope cannot be laid with this sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CannotLay {
    /// A size is not above zero, or a lap eats the whole sheet.
    NoSuchSheet,
    /// No choice of lines gives courses between the shortest piece and the sheet's length.
    NoJointsFit,
    /// It takes as many sheets as were to be saved.
    NothingSaved,
}

/// Lays the slope in the fewest courses, out of the fewest sheets, with the fewest cuts.
///
/// Among equals the lower joints are as high as they can be: whole sheets at the eaves, the trimmed ones at
/// the top.
///
/// # Errors
/// [`CannotLay`] where no plan exists; running out of budget is not an error but is said in the plan.
pub fn cut(slope: &Slope, stock: &Stock, budget: Budget) -> Result<Cutting, CannotLay> {
    cut_with(slope, stock, Laps::Fewest, budget)
}

/// As [`cut`], with a choice of how many courses.
///
/// # Errors
/// As [`cut`].
pub fn cut_with(slope: &Slope, stock: &Stock, laps: Laps, budget: Budget) -> Result<Cutting, CannotLay> {
    let columns = columns(slope.width, stock, slope.side_lap)?;
    // Half the steps find more ways than a roof with believable purlins has.
    let ways = joints::course_sets(slope, stock, laps, Meter::new(budget.steps / 2));
    solve::best(&ways, &columns, stock, budget, None)
}

/// As [`cut`], for courses that are settled already, in several ways: the best way is laid, the earlier of equals,
/// and proven among these ways only (see [`sheets_lower_bound`] for all).
///
/// # Errors
/// [`CannotLay::NoJointsFit`] where no way has all its courses between the shortest piece and the sheet.
pub fn cut_courses(
    width: Length,
    side_lap: i64,
    ways: &[Vec<Course>],
    stock: &Stock,
    budget: Budget,
) -> Result<Cutting, CannotLay> {
    let columns = columns(width, stock, side_lap)?;
    let ways = ways.iter().filter(|way| joints::can_lay(way, stock)).cloned().collect();
    solve::best(&Ways { ways, incomplete: None }, &columns, stock, budget, None)
}

/// As [`cut_courses`], for slopes of one roof that are laid in the same columns and share offcuts: each way holds
/// the courses of one slope and then those of the next, and pieces count their courses likewise.
///
/// # Errors
/// As [`cut_courses`]; and [`CannotLay::NothingSaved`] where no way with fewer than `alone` sheets was found.
pub fn cut_together(
    width: Length,
    side_lap: i64,
    ways: &[Vec<Course>],
    stock: &Stock,
    budget: Budget,
    alone: usize,
) -> Result<Cutting, CannotLay> {
    let columns = columns(width, stock, side_lap)?;
    let ways = Ways { ways: ways.to_vec(), incomplete: None };
    let cutting = solve::best(&ways, &columns, stock, budget, i64::try_from(alone).ok())?;
    if cutting.plan.sheets.len() < alone { Ok(cutting) } else { Err(CannotLay::NothingSaved) }
}
