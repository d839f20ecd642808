//! Where everything goes: what carries the sheets, the lines they are fixed on, courses, columns and cuts.

pub mod cutting;
mod edges;
mod lines;
mod stagger;
mod timber;
mod types;
mod ways;

pub use edges::{fold_beyond, pieces_along};
pub use lines::{LineRule, space_lines};
pub use stagger::{Staggered, cut_staggered};
pub use timber::{Sawing, bought_lengths, cut_purlins};
pub use types::{BoughtSheet, Column, Course, CutPlan, Line, LineKind, Piece, PurlinPiece, SupportPlan};
pub use ways::{Rise, Way};
