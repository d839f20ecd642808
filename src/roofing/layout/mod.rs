//! Where everything goes: what carries the sheets, the lines they are fixed on, courses, columns and cuts.

pub mod cutting;
mod edges;
mod lines;
mod timber;
mod types;
mod ways;

pub use edges::pieces_along;
pub use lines::{LineRule, space_lines};
pub use timber::{bought_lengths, cut_purlins};
pub use types::{BoughtSheet, Column, Course, CutPlan, Line, LineKind, Piece, PurlinPiece, SupportPlan};
pub use ways::{Rise, Way};
