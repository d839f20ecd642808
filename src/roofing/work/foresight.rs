//! What the person counted, against the plan: what is left, what will run short.

use super::goods::{Goods, bought};
use super::step::{StepKey, WorkStep};
use crate::roofing::plan::Plan;

/// What the person counted, and where the work stood then.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Tally {
    /// How many they said.
    pub count: i64,
    /// Whether so many are left, not used.
    pub left: bool,
    /// How many the steps done by then use, by the plan of then.
    pub finished: i64,
    /// How many that plan uses up to the end of the step then in hand.
    pub planned: i64,
}

impl Tally {
    /// A count of now.
    pub fn now(
        goods: Goods,
        count: i64,
        left: bool,
        steps: &[WorkStep],
        done: impl Fn(&StepKey) -> bool,
    ) -> Self {
        let finished = planned_for(goods, steps, &done);
        let planned = finished + in_hand(goods, steps, done);
        Self { count, left, finished, planned }
    }
}

/// How some goods stand against the plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Foresight {
    /// Used so far.
    pub used: i64,
    /// What the plan uses up to the end of the step in hand.
    pub planned: i64,
    /// Still there.
    pub left: i64,
    /// What the plan needs from here on.
    pub needed: i64,
    /// What it will likely need, if as many go to waste as up to now.
    pub likely: i64,
}

impl Foresight {
    /// How many are sure to be missing.
    pub fn short(&self) -> i64 {
        (self.needed - self.left).max(0)
    }

    /// How many are likely to be missing.
    pub fn likely_short(&self) -> i64 {
        (self.likely - self.left).max(0)
    }
}

/// How many the finished steps use by the plan.
pub fn planned_for(goods: Goods, steps: &[WorkStep], done: impl Fn(&StepKey) -> bool) -> i64 {
    steps.iter().filter(|step| done(&step.key)).map(|step| used_by(goods, step)).sum()
}

fn used_by(goods: Goods, step: &WorkStep) -> i64 {
    step.uses.iter().filter(|one| one.goods == goods).map(|one| one.count).sum()
}

fn in_hand(goods: Goods, steps: &[WorkStep], done: impl Fn(&StepKey) -> bool) -> i64 {
    steps.iter().find(|step| !done(&step.key)).map_or(0, |step| used_by(goods, step))
}

/// Compares a count with the plan.
///
/// What was used by then may be anything from what the finished steps need to what the step in hand needed besides.
/// What is beyond that went to waste, and the rest of the work is expected to waste as much in proportion. Steps
/// finished since have used what the plan says. `spoilt` pieces are gone without being built in.
pub fn foresee(
    goods: Goods,
    tally: Tally,
    spoilt: i64,
    plan: &Plan,
    steps: &[WorkStep],
    done: impl Fn(&StepKey) -> bool,
) -> Foresight {
    let total = planned_for(goods, steps, |_| true);
    let finished = planned_for(goods, steps, &done);
    let there = bought(goods, plan) - spoilt;
    let used_then = if tally.left { there - tally.count } else { tally.count }.max(0);
    let built_then = used_then.clamp(tally.finished.min(tally.planned), tally.planned);
    let waste = (used_then - tally.planned).max(0);
    let since = (finished - built_then).max(0);
    let left_then = if tally.left { tally.count } else { there - used_then };
    let built = built_then + since;
    let needed = (total - built).max(0);
    let wasted_too = if built > 0 { (needed * waste + built - 1).div_euclid(built) } else { 0 };
    Foresight {
        used: used_then + since,
        planned: finished + in_hand(goods, steps, done),
        left: (left_then - since).max(0),
        needed,
        likely: needed + wasted_too,
    }
}
