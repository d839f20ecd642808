//! What follows from a change half-way: what stands, what is redone, what comes off first, what to buy.

use std::collections::BTreeSet;

use super::{Goods, StepKey, StepKind, Use, WorkStep, steps};
use crate::roofing::plan::{Difference, Plan, difference};

/// What a change does to the work that is done.
#[derive(Clone, Debug, PartialEq)]
pub struct Consequence {
    /// Done, and still just as the new plan wants it.
    pub stands: Vec<StepKey>,
    /// Done, and not as the new plan wants it: taken off or put right.
    pub redo: Vec<StepKey>,
    /// Done as the new plan wants it, but it comes off first, to get at what is below it.
    pub lift: Vec<StepKey>,
    /// What was used in work that is undone, and is not worth using again.
    pub lost: Vec<Use>,
    /// How the plans differ.
    pub difference: Difference,
}

/// Works out what the later plan does to what was done by the earlier one.
pub fn consequence(before: &Plan, after: &Plan, done: &BTreeSet<StepKey>) -> Consequence {
    let (old, new) = (steps(before), steps(after));
    let wanted: BTreeSet<&StepKey> = new.iter().map(|step| &step.key).collect();
    // What an even earlier plan wanted was dealt with when that plan was changed.
    let done_now: Vec<&WorkStep> = old.iter().filter(|step| done.contains(&step.key)).collect();
    let redo: Vec<StepKey> =
        done_now.iter().map(|step| &step.key).filter(|key| !wanted.contains(key)).cloned().collect();
    let built_before: BTreeSet<&StepKey> = old.iter().map(|step| &step.key).collect();
    let news: Vec<&StepKey> =
        new.iter().map(|step| &step.key).filter(|key| !built_before.contains(key)).collect();
    let lift = lift(&done_now, &news, &redo, done);
    let gone: BTreeSet<&StepKey> = redo.iter().chain(&lift).collect();
    let stands = done_now.iter().map(|step| &step.key).filter(|key| wanted.contains(key));
    Consequence {
        stands: stands.filter(|key| !gone.contains(key)).cloned().collect(),
        lost: lost(&done_now, &new, &gone),
        difference: difference(before, after),
        redo,
        lift,
    }
}

/// What lies on something that changes: all of a slope's covering where what carries it does, else whatever laps
/// or holds down a course that is laid again.
fn lift(
    done_now: &[&WorkStep],
    news: &[&StepKey],
    redo: &[StepKey],
    done: &BTreeSet<StepKey>,
) -> Vec<StepKey> {
    let mut lifted = Vec::new();
    for step in done_now {
        let key = &step.key;
        if redo.contains(key) {
            continue;
        }
        // Timbers and lines lie on a deck or a membrane.
        let base = |other: &StepKey| {
            other.slope == key.slope && matches!(other.kind, StepKind::Deck | StepKind::Underlay)
        };
        let on_base = key.is_below_sheets() && !base(key) && key.kind != StepKind::DeckRepair;
        if on_base && (redo.iter().any(base) || news.iter().any(|other| base(other))) {
            lifted.push(key.clone());
        }
        if !key.is_covering() {
            continue;
        }
        let to_build = |other: &StepKey| other.is_below_sheets() && !done.contains(other);
        let here = |slope: usize| key.slope == slope || key.kind == StepKind::Ridge;
        let below_changes = redo.iter().any(|other| here(other.slope) && other.is_below_sheets())
            || news.iter().any(|other| here(other.slope) && to_build(other));
        let sheet_moves = redo.iter().any(|other| here(other.slope) && lies_on(key, other));
        if below_changes || sheet_moves {
            lifted.push(key.clone());
        }
    }
    lifted
}

/// Whether a step lies on another that is redone.
fn lies_on(upper: &StepKey, lower: &StepKey) -> bool {
    let course = |key: &StepKey| key.figures.first().copied().unwrap_or(0);
    let nailed_there = |height: i64| match lower.figures.as_slice() {
        [_, from, to, ..] => (*from..=*to).contains(&height),
        _ => false,
    };
    match lower.kind {
        StepKind::FirstSheet => true,
        StepKind::Course => match upper.kind {
            StepKind::Course => course(upper) > course(lower),
            StepKind::Laps => course(upper) >= course(lower),
            StepKind::Nails => nailed_there(course(upper)),
            StepKind::WallSide
            | StepKind::WallTop
            | StepKind::Verge
            | StepKind::TopEdge
            | StepKind::Ridge
            | StepKind::Finials => true,
            StepKind::GetReady
            | StepKind::Inspect
            | StepKind::Strip
            | StepKind::DeckRepair
            | StepKind::Deck
            | StepKind::Underlay
            | StepKind::Purlin
            | StepKind::Lines
            | StepKind::Insulation
            | StepKind::EavesFiller
            | StepKind::Square
            | StepKind::Taper
            | StepKind::Offcuts
            | StepKind::Cut
            | StepKind::FirstSheet
            | StepKind::LastLook => false,
        },
        StepKind::GetReady
        | StepKind::Inspect
        | StepKind::Strip
        | StepKind::DeckRepair
        | StepKind::Deck
        | StepKind::Underlay
        | StepKind::Purlin
        | StepKind::Lines
        | StepKind::Insulation
        | StepKind::EavesFiller
        | StepKind::Square
        | StepKind::Taper
        | StepKind::Offcuts
        | StepKind::Cut
        | StepKind::Laps
        | StepKind::Nails
        | StepKind::WallSide
        | StepKind::WallTop
        | StepKind::Verge
        | StepKind::TopEdge
        | StepKind::Ridge
        | StepKind::Finials
        | StepKind::LastLook => false,
    }
}

/// Nails and screws that come out, and sheets of courses whose pieces become longer or wider.
fn lost(done_now: &[&WorkStep], new: &[WorkStep], gone: &BTreeSet<&StepKey>) -> Vec<Use> {
    let mut lost = Vec::new();
    for goods in [Goods::Sheets, Goods::Nails, Goods::SheetScrews] {
        let spent = done_now.iter().filter(|step| gone.contains(&step.key) && spends(goods, step, new));
        let uses = spent.flat_map(|step| &step.uses).filter(|one| one.goods == goods);
        let count: i64 = uses.map(|one| one.count).sum();
        if count > 0 {
            lost.push(Use { goods, count });
        }
    }
    lost
}

fn spends(goods: Goods, step: &WorkStep, new: &[WorkStep]) -> bool {
    if goods != Goods::Sheets {
        return true;
    }
    // A piece that is to be no longer is cut down and used again.
    let length = |key: &StepKey| match (key.kind, key.figures.as_slice()) {
        (StepKind::FirstSheet, [from, to, ..]) | (StepKind::Course, [_, from, to, ..]) => to - from,
        _ => 0,
    };
    let same = |other: &&WorkStep| {
        let number =
            |key: &StepKey| if key.kind == StepKind::Course { key.figures.first().copied() } else { None };
        other.key.kind == step.key.kind
            && other.key.slope == step.key.slope
            && number(&other.key) == number(&step.key)
    };
    new.iter().find(same).is_none_or(|other| length(&other.key) > length(&step.key))
}
