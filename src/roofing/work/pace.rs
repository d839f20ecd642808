//! How long the steps of a plan take, by the paces of the book.

use super::WorkStep;
use crate::roofing::rules::Pace;

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
