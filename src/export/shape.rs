//! The shape of a plan in JSON, from which its schema is generated.

use schemars::JsonSchema;
use serde::Serialize;

/// A whole plan.
#[derive(Serialize, JsonSchema)]
pub struct PlanJson {
    /// The front slope, then the back one.
    pub slopes: Vec<SlopeJson>,
    /// Runs of pieces along the edges.
    pub edges: Vec<EdgeJson>,
    /// Finials.
    pub finials: i64,
    /// What to buy.
    pub materials: Vec<MaterialJson>,
    /// Mass of everything that stays on the roof.
    pub covering_mass_kg: f64,
    /// Mass of the covering on one square metre.
    pub covering_kg_per_m2: f64,
    /// Area of the slopes.
    pub area_m2: f64,
    /// What everything costs, where the catalogue has every price.
    pub price: Option<MoneyJson>,
    /// The day the catalogue's prices are from.
    pub prices_from: String,
    /// What to mind.
    pub cautions: Vec<CautionJson>,
    /// What was found, each with its reasons and source.
    pub findings: Vec<FindingJson>,
    /// The catalogue's version.
    pub catalogue: String,
    /// Whether the catalogue is the invented demo range.
    pub demo: bool,
    /// The fingerprint of the rules and goods it was made by.
    pub book: String,
    /// The version of the planner that made it.
    pub planner: u32,
    /// The day it was made, where that was told.
    pub day: Option<String>,
    /// SHA-256 over the facts, the book's fingerprint and the planner's version: equal hashes are equal plans.
    pub input_hash: String,
}

/// One slope.
#[derive(Serialize, JsonSchema)]
pub struct SlopeJson {
    /// `purlins`, `purlins over deck`, `deck` (the one that is there) or `full deck` (to be fitted first).
    pub support: &'static str,
    /// Steepness.
    pub pitch_deg: f64,
    /// Centre to centre of purlins or nail lines, at most.
    pub max_purlin_spacing_mm: Option<f64>,
    /// How far an upper sheet covers the lower one.
    pub end_lap_mm: f64,
    /// Corrugations shared by neighbouring sheets.
    pub side_lap_corrugations: i64,
    /// Centre lines of the purlins, up the slope from the eaves edge; empty where a deck takes the nails.
    pub purlins_mm: Vec<f64>,
    /// The lines nails stand on: the purlins, or nail lines on a deck.
    pub fixing_lines: Vec<LineJson>,
    /// How far sheets pass the eaves edge.
    pub eaves_overhang_mm: f64,
    /// How far sheets pass the first barge board.
    pub verge_overhang_mm: f64,
    /// How far the last corrugation passes the far barge board.
    pub far_verge_overhang_mm: f64,
    /// `left` or `right`: where laying starts, seen facing the eaves.
    pub start_from: &'static str,
    /// Courses, lowest first.
    pub courses: Vec<CourseJson>,
    /// Columns, in laying order.
    pub columns: Vec<ColumnJson>,
    /// Bought sheets and the pieces cut from each.
    pub cuts: Vec<SheetJson>,
    /// Sheets to buy for this slope, spares not counted.
    pub sheets: usize,
    /// No way with this few courses needs fewer sheets than this; where slopes share offcuts, no way with as many
    /// sheets on the other slope.
    pub sheets_at_least: usize,
    /// Straight cuts in all.
    pub cut_count: usize,
    /// Whether no other way with as few sheets takes fewer cuts.
    pub cuts_proven: bool,
    /// Every nail.
    pub fixings: Vec<FixingJson>,
    /// The nail's catalogue id.
    pub nail: String,
    /// The nail's length.
    pub nail_length_mm: f64,
    /// How deep it bites at least, where most layers lie of those it goes through.
    pub nail_bite_mm: f64,
    /// The longer nail for end laps and under pieces, where one does not do for all.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub long_nail: Option<LongNailJson>,
    /// The purlins as they are cut, from the lowest line up and from left to right; empty without purlins.
    pub purlins: Vec<PurlinJson>,
}

/// A longer nail.
#[derive(Serialize, JsonSchema)]
pub struct LongNailJson {
    /// Its catalogue id.
    pub nail: String,
    /// Its length.
    pub length_mm: f64,
    /// How deep it bites at least.
    pub bite_mm: f64,
}

/// A piece of purlin.
#[derive(Serialize, JsonSchema)]
pub struct PurlinJson {
    /// The fixing line it lies on, from 1 at the eaves.
    pub line: usize,
    /// Left end.
    pub from_mm: f64,
    /// Right end.
    pub to_mm: f64,
    /// The number of the timber it is cut from, from 1: pieces with the same number share one.
    pub timber: usize,
    /// How long that timber is bought.
    pub timber_mm: f64,
}

/// A purlin or nail line.
#[derive(Serialize, JsonSchema)]
pub struct LineJson {
    /// Up the slope from the eaves edge.
    pub y_mm: f64,
    /// `eaves`, `end_lap`, `intermediate` or `top`.
    pub kind: &'static str,
}

/// A course.
#[derive(Serialize, JsonSchema)]
pub struct CourseJson {
    /// Lower edge.
    pub from_mm: f64,
    /// Upper edge.
    pub to_mm: f64,
    /// Length of its pieces.
    pub length_mm: f64,
    /// Whether its upper edge lies under the next course.
    pub top_is_lapped: bool,
}

/// A column.
#[derive(Serialize, JsonSchema)]
pub struct ColumnJson {
    /// In laying order, from 1.
    pub number: usize,
    /// Left edge.
    pub from_mm: f64,
    /// Right edge.
    pub to_mm: f64,
    /// The first of the roof's corrugations it covers, from the left, from 0.
    pub first_corrugation: i64,
    /// Corrugations wide.
    pub corrugations: i64,
}

/// A bought sheet.
#[derive(Serialize, JsonSchema)]
pub struct SheetJson {
    /// From 1, in laying order; where slopes share offcuts, the back slope's are numbered on from the front's.
    pub sheet: usize,
    /// Straight cuts it takes.
    pub cuts: usize,
    /// Its pieces on the slope it is listed under.
    pub pieces: Vec<PieceJson>,
    /// Pieces that the back slope gets of it, where slopes share offcuts; courses and columns are the back slope's.
    pub for_back_slope: Vec<PieceJson>,
}

/// A piece of a sheet.
#[derive(Serialize, JsonSchema)]
pub struct PieceJson {
    /// Course, from 1 at the eaves.
    pub course: usize,
    /// Column, from 1 in laying order.
    pub column: usize,
    /// Cut length.
    pub length_mm: f64,
    /// Cut width.
    pub corrugations: i64,
    /// Where it lies on the sheet, from its lower end.
    pub at_mm: f64,
    /// Where it lies on the sheet, corrugations from its left edge.
    pub at_corrugation: i64,
}

/// A nail.
#[derive(Serialize, JsonSchema)]
pub struct FixingJson {
    /// Along the eaves.
    pub x_mm: f64,
    /// Up the slope.
    pub y_mm: f64,
    /// The kind of line it stands on.
    pub line: &'static str,
}

/// A run along an edge.
#[derive(Serialize, JsonSchema)]
pub struct EdgeJson {
    /// The piece's catalogue id.
    pub piece: String,
    /// The slope, from 1.
    pub slope: usize,
    /// `left` or `right`, for ends.
    pub hand: Option<&'static str>,
    /// Length of the edge.
    pub run_mm: f64,
    /// Lap of one piece on the next.
    pub lap_mm: f64,
    /// Pieces.
    pub pieces: i64,
}

/// A line of the shopping list.
#[derive(Serialize, JsonSchema)]
pub struct MaterialJson {
    /// Catalogue id.
    pub item: String,
    /// Catalogue name; of a sheet known by its label alone, its sizes in words.
    pub name: String,
    /// What a counter must know beside the name, in words.
    pub details: Vec<String>,
    /// What for, in words.
    pub purpose: String,
    /// Length of a piece, where it is sold by length.
    pub length_mm: Option<f64>,
    /// How many the plan uses.
    pub needed: i64,
    /// How many more.
    pub spare: i64,
    /// The rule that sets the spares.
    pub spare_rule: Option<String>,
    /// In one pack.
    pub pack: i64,
    /// Packs to buy.
    pub packs: i64,
    /// Left over, spares included.
    pub left_over: i64,
    /// Lengths that timber is cut to: each with its number.
    pub cuts: Vec<CutJson>,
    /// Mass of what is bought.
    pub mass_kg: f64,
    /// Whether that was worked out from its size and never weighed.
    pub mass_by_size: bool,
    /// Price of what is bought.
    pub price: Option<MoneyJson>,
}

/// Lengths that timber is cut to.
#[derive(Serialize, JsonSchema)]
pub struct CutJson {
    /// How long.
    pub length_mm: f64,
    /// How many.
    pub pieces: i64,
}

/// An amount of money.
#[derive(Serialize, JsonSchema)]
pub struct MoneyJson {
    /// Exact decimal, as text.
    pub amount: String,
    /// ISO 4217.
    pub currency: String,
}

/// A caution.
#[derive(Serialize, JsonSchema)]
pub struct CautionJson {
    /// The rule it comes from.
    pub id: String,
    /// `plan` or `work`: when it is said first.
    pub phase: &'static str,
    /// In words.
    pub text: String,
    /// The kinds of step at which it is said again, where it rests on what the person told.
    pub steps: Vec<&'static str>,
}

/// A finding.
#[derive(Serialize, JsonSchema)]
pub struct FindingJson {
    /// Names it.
    pub id: String,
    /// `requirement`, `doubt`, `advice` or `caution`.
    pub kind: &'static str,
    /// The slope, from 1; none is the whole roof.
    pub slope: Option<usize>,
    /// In words.
    pub text: String,
    /// The requirement it settles.
    pub requirement: Option<&'static str>,
    /// The rules behind it, the deciding one first: each with its value, the facts it looked at and its source.
    pub reasons: Vec<serde_json::Value>,
    /// The source's title.
    pub source: String,
}
