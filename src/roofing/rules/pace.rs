//! How long a step takes, how many people it wants, and the caution that belongs to it: working figures.

use super::StepKind;

/// The working figures of one kind of step, from the adviser's book.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pace {
    /// The kind.
    pub step: StepKind,
    /// People it wants.
    pub hands: i64,
    /// Minutes whatever the amount.
    pub minutes: i64,
    /// Seconds more for each of its amount.
    pub seconds_each: i64,
    /// The sentence that says what to mind, where there is one.
    pub caution: Option<String>,
    /// Where the figures are from, by source id.
    pub source: String,
}
