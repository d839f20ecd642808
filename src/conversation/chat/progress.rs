//! How far the work is: what was done, counted and spoilt, whether it rests, and what is proposed.

use std::collections::{BTreeMap, BTreeSet};

use crate::conversation::event::Change;
use crate::roofing::layout::cutting::Part;
use crate::roofing::rules::Layer;
use crate::roofing::work::{Goods, StepKey, StepKind, Stop, Tally};

/// The work on one roof, as far as it was told. It knows no plan, so that no plan can lose it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Progress {
    begun: bool,
    done: BTreeSet<StepKey>,
    tallies: BTreeMap<Goods, Tally>,
    spoilt: i64,
    kept: Vec<Part>,
    off: Vec<StepKey>,
    rests: Option<Stop>,
    proposal: Option<Change>,
}

impl Progress {
    /// Whether the work was begun.
    pub fn begun(&self) -> bool {
        self.begun
    }

    /// The steps that are done.
    pub fn done(&self) -> &BTreeSet<StepKey> {
        &self.done
    }

    /// The person's last count of each kind of goods.
    pub fn tallies(&self) -> &BTreeMap<Goods, Tally> {
        &self.tallies
    }

    /// Sheets that were spoilt.
    pub fn spoilt(&self) -> i64 {
        self.spoilt
    }

    /// Parts of spoilt sheets that can still be used.
    pub fn kept(&self) -> &[Part] {
        &self.kept
    }

    /// What a change left on the roof that must come off, or be put right, before the work goes on.
    pub fn off(&self) -> &[StepKey] {
        &self.off
    }

    /// Why the work rests, where it does.
    pub fn rests(&self) -> Option<Stop> {
        self.rests
    }

    /// The change that awaits a yes.
    pub fn proposal(&self) -> Option<&Change> {
        self.proposal.as_ref()
    }

    pub(in crate::conversation) fn begin(&mut self) {
        self.begun = true;
        self.rests = None;
    }

    pub(in crate::conversation) fn tick(&mut self, step: StepKey) {
        self.rests = None;
        // Whoever builds on has taken off what had to come off.
        self.off.clear();
        self.done.insert(step);
    }

    pub(in crate::conversation) fn count(&mut self, tallies: &[(Goods, Tally)]) {
        self.tallies.extend(tallies.iter().copied());
    }

    pub(in crate::conversation) fn pause(&mut self, stop: Stop) {
        self.rests = Some(stop);
    }

    pub(in crate::conversation) fn propose(&mut self, change: Change) {
        self.proposal = Some(change);
    }

    pub(in crate::conversation) fn take_proposal(&mut self) -> Option<Change> {
        self.proposal.take()
    }

    pub(in crate::conversation) fn taken_off(&mut self) {
        self.rests = None;
        self.off.clear();
    }

    pub(in crate::conversation) fn change(&mut self, change: &Change, undone: &[StepKey]) {
        self.spoilt = self.spoilt.saturating_add(change.spoilt);
        self.kept.extend(change.kept.iter().copied());
        self.unbuild(undone);
    }

    pub(in crate::conversation) fn unbuild(&mut self, undone: &[StepKey]) {
        for step in undone {
            if self.done.remove(step) && stays_on_the_roof(step.kind) {
                self.off.push(step.clone());
            }
        }
    }
}

/// Whether such a step leaves something on the roof that can come off again.
const fn stays_on_the_roof(kind: StepKind) -> bool {
    !matches!(kind.layer(), Layer::Apart)
        && !matches!(kind, StepKind::DeckRepair | StepKind::Lines | StepKind::Laps)
}
