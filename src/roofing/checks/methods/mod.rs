//! Published methods as pure functions: snow, wind, timber, fastenings, water, damp and warmth, ladders.
//!
//! They know no plan, no facts and no book. Each names its standard and clause, in what unit and range it holds, and
//! what of it is from memory. No standard was at hand: values and clauses are as public worked examples and transcriptions
//! give them (`tests/references/reference-values.json` names each), the rest is marked. What a check makes of the results
//! stands in the folder above.

pub mod access;
pub mod asce;
pub mod damp;
pub mod holding;
pub mod snow;
pub mod timber;
pub mod water;
pub mod wind;
