//! The nailing pattern: every fixing is a point on the roof, so that a drawing and a count cannot disagree.

mod layers;
mod nails;
mod pattern;

pub use layers::{Above, Layers};
pub use nails::{
    Bite, choose_deck_screw, choose_nail, choose_purlin_screw, choose_sheet_screw, deck_screw_band,
};
pub use pattern::{Crowns, Every, Seat, nail};

use crate::roofing::layout::LineKind;
use crate::units::Length;

/// One nail or screw through a sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Fixing {
    /// Along the eaves, from the left-hand barge board.
    pub x: Length,
    /// Up the slope, from the eaves edge.
    pub y: Length,
    /// The line it stands on.
    pub line: LineKind,
    /// Whether it also holds a ridge, top edge or wall piece.
    pub through_edge_piece: bool,
}
