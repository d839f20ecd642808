//! What a plan is made of.

use std::sync::Arc;

use crate::roofing::catalogue::Catalogue;
use crate::roofing::checks::{Check, Finds, Roof, look_over, sayings};
use crate::roofing::facts::Facts;
use crate::roofing::findings::{Caution, Fault, Finding, Refusal};
use crate::roofing::handbook::Made;
use crate::roofing::laid::{EdgeRun, SlopePlan};
use crate::roofing::layout::{Piece, fold_beyond};
use crate::roofing::materials::{Materials, Picking};
use crate::roofing::note::Note;
use crate::roofing::roof::{Missing, Site};
use crate::roofing::rules::{RuleBook, StepKind};
use crate::units::Length;

/// Everything in a plan.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanParts {
    /// The facts it was made from.
    pub facts: Facts,
    /// The roof they describe.
    pub site: Site,
    /// The front slope, then the back one.
    pub slopes: Vec<SlopePlan>,
    /// Pieces along the edges.
    pub edges: Vec<EdgeRun>,
    /// Finials.
    pub finials: i64,
    /// Where the back slope gets offcuts of the front one.
    pub sharing: Option<Sharing>,
    /// What to buy.
    pub materials: Materials,
    /// What to mind.
    pub cautions: Vec<Caution>,
    /// What was found, with reasons.
    pub findings: Vec<Finding>,
    /// The catalogue's version.
    pub catalogue: String,
    /// Whether the catalogue is the invented demo range.
    pub demo: bool,
    /// By what and when it was made.
    pub made: Made,
    /// What could be bought then: a plan that is kept still knows its goods.
    pub goods: Arc<Catalogue>,
}

impl PlanParts {
    /// Every check of the laid roof, by what these rules go by.
    pub fn checks(&self, rules: &RuleBook) -> Vec<Check> {
        let (facts, site, slopes) = (&self.facts, &self.site, self.slopes.as_slice());
        look_over(&Roof { facts, site, slopes, rules, goods: &self.goods })
    }

    /// What the checks of strength say that do not find all fine: it is said with the plan.
    pub fn unsettled(&self, rules: &RuleBook) -> Vec<Note> {
        let told = |check: &Check| check.finds != Finds::Fine && check.kind.is_of_strength();
        sayings(self.checks(rules).iter().filter(|check| told(check)))
    }

    /// What is said again at a step of this kind, because it rests on what the person told.
    pub fn said_again_at(&self, kind: StepKind) -> impl Iterator<Item = &Note> {
        let again = self.cautions.iter().filter_map(|caution| caution.again.as_ref());
        again.filter(move |again| again.steps.contains(&kind)).map(|again| &again.note)
    }

    /// What is written on the pieces of one course of a slope, in the order of laying.
    pub fn marks(&self, slope: usize, course: usize) -> Vec<String> {
        let own = self.slopes.get(slope).into_iter().flat_map(|slope| &slope.cuts.sheets);
        let own = own.flat_map(|sheet| sheet.pieces.iter().zip(sheet.labels()));
        let kept = self.offcuts_for(slope).into_iter().map(|(_, label, piece)| (piece, label));
        let all = own.chain(kept).filter(|(piece, _)| piece.course == course);
        let mut marks: Vec<(usize, String)> = all.map(|(piece, label)| (piece.column, label)).collect();
        marks.sort_unstable();
        marks.into_iter().map(|(_, label)| label).collect()
    }

    /// How the lines of its list are named to whoever picks them.
    pub fn picking(&self) -> Picking<'_> {
        Picking { site: &self.site, slopes: &self.slopes, goods: &self.goods }
    }

    /// How high the tops of the corrugations lie above rafters or boards, square to the slope.
    pub fn crown(&self, slope: &SlopePlan) -> Length {
        let timber =
            self.goods.timbers.iter().find(|timber| slope.purlin_timber.as_ref() == Some(&timber.item.id));
        let seat = timber.map_or(Length::ZERO, |timber| timber.depth);
        seat + self.site.sheet.corrugation_height + self.site.sheet.thickness
    }

    /// How far beyond the end of a slope's rafters the fold of the piece along the top stands, up the slope.
    pub fn fold_beyond(&self, index: usize) -> Length {
        let seen =
            |at: usize| Some((self.site.slopes.get(at)?.pitch.value, self.crown(self.slopes.get(at)?)));
        let Some((pitch, crown)) = seen(index) else { return Length::ZERO };
        let other = (0..self.slopes.len()).find(|other| *other != index).and_then(seen);
        fold_beyond(pitch, crown, other)
    }

    /// The pieces of a slope that are cut from the other one's sheets, each with that sheet's number and its label.
    pub fn offcuts_for(&self, slope: usize) -> Vec<(usize, String, &Piece)> {
        let front = slope.checked_sub(1).and_then(|front| self.slopes.get(front));
        let sheets = front.into_iter().flat_map(|front| &front.cuts.sheets);
        let offcuts = sheets.flat_map(|sheet| {
            let labelled = sheet.labels().zip(sheet.all_pieces()).skip(sheet.pieces.len());
            labelled.map(|(label, piece)| (sheet.number, label, piece))
        });
        offcuts.collect()
    }
}

/// What two slopes save by sharing offcuts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sharing {
    /// The sheets it would take with each slope cut by itself.
    pub alone: usize,
    /// No way needs fewer sheets than this for the whole roof.
    pub at_least: usize,
}

/// Why there is no plan.
#[derive(Clone, Debug, PartialEq)]
pub enum Unplanned {
    /// These facts must be asked for first.
    Missing(Missing),
    /// The roof is refused as described: at least one reason, stops first.
    Refused(Vec<Refusal>),
    /// A check failed: the fault is ours.
    Fault(Fault),
}
