//! The order of work on paper: the steps of the job, those told together that are done one after the other alike.

use super::{StepKind, WorkStep, steps};
use crate::roofing::layout::SupportPlan;
use crate::roofing::note::{Arg, Note};
use crate::roofing::plan::{Plan, offered_up};
use crate::roofing::roof::Face;
use crate::roofing::rules::Phase;
use crate::units::Length;

/// One step of the work, with what to mind before it.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// What to do.
    pub note: Note,
    /// What to mind first.
    pub cautions: Vec<Note>,
    /// What is said again at this very step, because it rests on what the person told.
    pub again: Vec<Note>,
}

impl Step {
    /// What to do, and after it what to mind at this very step.
    pub fn whole(&self) -> Note {
        let part = |note: &Note| Arg::Note(Box::new(note.clone()));
        self.again.iter().fold(self.note.clone(), |step, mind| {
            Note::new("step-minding").with("step", part(&step)).with("mind", part(mind))
        })
    }
}

/// The steps in the order they are done: those of the job, purlins of a slope and nail lines of a course together.
/// The first carries every caution that belongs to the work.
pub fn work_order(plan: &Plan) -> Vec<Step> {
    let all = steps(plan);
    let alike = |one: &WorkStep, other: &WorkStep| {
        one.key.kind == other.key.kind
            && one.key.slope == other.key.slope
            && matches!(one.key.kind, StepKind::Purlin | StepKind::Nails)
            // Of two nails each has a sentence of its own.
            && (one.key.kind == StepKind::Purlin || nail_of(one) == nail_of(other))
    };
    let mut told: Vec<Step> = Vec::new();
    let mut on = None;
    for together in all.chunk_by(alike) {
        let Some(first) = together.first() else { continue };
        let (kind, slope) = (first.key.kind, first.key.slope);
        if plan.slopes.len() > 1 && super::names::is_of_a_slope(kind) && on != Some(slope) {
            on = Some(slope);
            // It only says which slope comes now.
            let note = Note::new(match Face::at(slope) {
                Face::Front => "step-front-slope",
                Face::Back => "step-back-slope",
            });
            told.push(Step { note, cautions: Vec::new(), again: Vec::new() });
        }
        let note = if kind == StepKind::Purlin {
            purlins(plan, slope, together)
        } else if kind == StepKind::Nails {
            nails(together)
        } else {
            first.note.clone()
        };
        told.push(Step { note, cautions: Vec::new(), again: plan.said_again_at(kind).cloned().collect() });
    }
    if let Some(first) = told.first_mut() {
        let cautions = plan.cautions.iter().filter(|caution| caution.phase == Phase::Work);
        first.cautions = cautions.map(|caution| caution.note.clone()).collect();
    }
    told
}

/// The heights that steps stand at, each step's first figure.
fn heights(together: &[WorkStep]) -> Arg {
    let heights = together.iter().filter_map(|step| step.key.figures.first());
    Arg::Lengths(heights.map(|height| Length::from_um(*height)).collect())
}

fn amount(together: &[WorkStep]) -> Arg {
    Arg::Count(together.iter().map(|step| step.amount).sum())
}

fn purlins(plan: &Plan, slope: usize, together: &[WorkStep]) -> Note {
    let screw = plan.slopes.get(slope).and_then(|slope| match slope.support {
        SupportPlan::PurlinsOverDeck { screw_length, .. } => Some(screw_length),
        SupportPlan::Purlins | SupportPlan::ExistingDeck { .. } | SupportPlan::NewFullDeck { .. } => None,
    });
    let note = match screw {
        Some(screw) => Note::new("step-purlins-over-deck").size("screw", screw),
        None => Note::new("step-purlins"),
    };
    let note = note.with("lines", heights(together)).with("screws", amount(together));
    match plan.slopes.get(slope) {
        Some(slope) => offered_up(plan, slope, note),
        None => note,
    }
}

/// The nail of a step's line, its second figure.
fn nail_of(step: &WorkStep) -> Length {
    step.key.figures.get(1).map_or(Length::ZERO, |nail| Length::from_um(*nail))
}

fn nails(together: &[WorkStep]) -> Note {
    Note::new("step-nail")
        .with("lines", heights(together))
        .count("count", together.len())
        .with("nails", amount(together))
        .size("nail", together.first().map_or(Length::ZERO, nail_of))
}
