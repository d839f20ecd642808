//! Where everything goes: what carries the sheets, the lines they are fixed on, courses, columns and cuts.

pub mod cutting;
mod types;

pub use types::{BoughtSheet, Column, Course, CutPlan, Line, LineKind, Piece, PurlinPiece, SupportPlan};
