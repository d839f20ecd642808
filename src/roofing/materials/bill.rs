//! What the take-off counts: the roof, laid out, and what is required of it.

use crate::roofing::catalogue::{AreaPiece, AreaUse, Catalogue};
use crate::roofing::laid::{EdgeRun, SlopePlan};
use crate::roofing::layout::pieces_along;
use crate::roofing::roof::Site;
use crate::roofing::rules::Requirements;

/// What is taken off.
#[derive(Clone, Copy, Debug)]
pub struct Bill<'a> {
    /// The roof.
    pub site: &'a Site,
    /// Its slopes, laid out.
    pub slopes: &'a [SlopePlan],
    /// Its edges.
    pub edges: &'a [EdgeRun],
    /// Its finials.
    pub finials: i64,
    /// What is required of the spares.
    pub requirements: &'a Requirements,
}

/// How many strips of a membrane lie one above the other on a slope.
pub(super) fn rows_of_membrane(piece: &AreaPiece, slope: &SlopePlan) -> i64 {
    pieces_along(slope.rafter_length, piece.width, piece.lap)
}

/// The same slope by slope, where insulation lies on it.
pub(super) fn rows_of_underlay(bill: &Bill, catalogue: &Catalogue) -> Vec<i64> {
    let Some(piece) = catalogue.areas.iter().find(|piece| piece.usage == AreaUse::Underlay) else {
        return Vec::new();
    };
    let rows = |slope: &SlopePlan| {
        if bill.site.insulation && slope.takes_insulation() { rows_of_membrane(piece, slope) } else { 0 }
    };
    bill.slopes.iter().map(rows).collect()
}
