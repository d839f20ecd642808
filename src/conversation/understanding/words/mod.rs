//! From what was typed to words, clauses and the terms that a message is weighed by.

pub(super) mod endings;
pub(super) mod normalise;
pub(super) mod reading;
pub(super) mod terms;
