//! A message as it stands: its words and where they stand, its figures, its clauses.

pub mod clauses;
pub mod figures;
pub mod normal;
