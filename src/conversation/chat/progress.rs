//! How far the work is: what was done, counted and spoilt, whether it rests, and what is proposed.

use std::collections::{BTreeMap, BTreeSet};

use crate::conversation::event::Change;
use crate::roofing::layout::cutting::Part;
use crate::roofing::work::{Goods, StepKey, Stop, Tally};

/// The work on one roof, as far as it was told. It knows no plan, so that no plan can lose it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Progress {
    begun: bool,
    done: BTreeSet<StepKey>,
    tallies: BTreeMap<Goods, Tally>,
    spoilt: i64,
    kept: Vec<Part>,
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

    pub(in crate::conversation) fn change(&mut self, change: &Change, undone: &[StepKey]) {
        self.spoilt = self.spoilt.saturating_add(change.spoilt);
        self.kept.extend(change.kept.iter().copied());
        for step in undone {
            self.done.remove(step);
        }
    }
}
