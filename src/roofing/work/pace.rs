//! How long a step takes, how many people it wants, and the caution that belongs to it: working figures.

use super::{StepKind, WorkStep};

/// The working figures of one kind of step, from the adviser's book.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pace {
    /// The kind.
    pub step: StepKind,
    /// People it wants.
    pub hands: i64,
    /// Minutes whatever the amount.
    pub minutes: i64,
    /// Seconds more for each of its [`WorkStep::amount`].
    pub seconds_each: i64,
    /// The sentence that says what to mind, where there is one.
    pub caution: Option<String>,
    /// Where the figures are from, by source id.
    pub source: String,
}

/// How long one step takes and how many people it wants.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Takes {
    /// Minutes, in whole fives.
    pub minutes: i64,
    /// People.
    pub hands: i64,
}

/// Hours that steps take together, the last one begun counted whole.
pub fn hours<'a>(steps: impl IntoIterator<Item = &'a WorkStep>, paces: &[Pace]) -> i64 {
    let minutes: i64 =
        steps.into_iter().filter_map(|step| takes(step, paces)).map(|takes| takes.minutes).sum();
    (minutes + 59).div_euclid(60)
}

/// What a step takes; `None` where the book has no figures for its kind.
pub fn takes(step: &WorkStep, paces: &[Pace]) -> Option<Takes> {
    let pace = paces.iter().find(|pace| pace.step == step.key.kind)?;
    let seconds = pace.minutes * 60 + pace.seconds_each * step.amount;
    // Nobody plans a day by the minute, and a figure from memory is no better than this.
    Some(Takes { minutes: (seconds + 299).div_euclid(300).max(1) * 5, hands: pace.hands })
}
