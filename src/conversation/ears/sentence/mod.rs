//! A message as it stands: its figures and its clauses.

pub mod clauses;
pub mod figures;
