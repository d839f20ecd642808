//! The order of work, step by step, with this roof's figures in it.

use super::{Plan, SlopePlan};
use crate::roofing::catalogue::EdgeUse;
use crate::roofing::facts::choices::CoveringNow;
use crate::roofing::layout::SupportPlan;
use crate::roofing::note::{Arg, Note, ranges};
use crate::roofing::roof::{Face, FactKey, Hand};
use crate::roofing::rules::Phase;
use crate::units::Length;

/// One step of the work, with what to mind before it.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// What to do.
    pub note: Note,
    /// What to mind first.
    pub cautions: Vec<Note>,
}

/// The steps in the order they are done. The first carries every caution that belongs to the work.
pub fn work_order(plan: &Plan) -> Vec<Step> {
    let mut notes = vec![Note::new("step-get-ready"), Note::new("step-inspect")];
    notes.extend(strip(plan));
    for (index, slope) in plan.slopes.iter().enumerate() {
        if plan.slopes.len() > 1 {
            notes.push(Note::new(match Face::at(index) {
                Face::Front => "step-front-slope",
                Face::Back => "step-back-slope",
            }));
        }
        notes.extend(carry(plan, slope));
        notes.extend(has(plan, EdgeUse::EavesFiller, index).then(|| Note::new("step-eaves-filler")));
        notes.extend(square(plan, slope));
        notes.extend(offcuts(plan, index).into_iter().map(|(note, _)| note));
        notes.extend(lay(slope));
        notes.extend(has(plan, EdgeUse::WallSide, index).then(|| Note::new("step-wall-side")));
        notes.extend(has(plan, EdgeUse::WallTop, index).then(|| Note::new("step-wall-top")));
        notes.extend(has(plan, EdgeUse::Verge, index).then(|| Note::new("step-verge")));
        notes.extend(has(plan, EdgeUse::TopEdge, index).then(|| Note::new("step-top-edge")));
    }
    if let Some(ridge) = plan.edges.iter().find(|run| run.edge == EdgeUse::Ridge) {
        notes.push(Note::new("step-ridge").with("pieces", Arg::Count(ridge.pieces)).length("lap", ridge.lap));
    }
    if plan.finials > 0 {
        notes.push(Note::new("step-finials").with("finials", Arg::Count(plan.finials)));
    }
    notes.push(Note::new("step-last-look"));
    let mut steps: Vec<Step> = notes.into_iter().map(|note| Step { note, cautions: Vec::new() }).collect();
    if let Some(first) = steps.first_mut() {
        let cautions = plan.cautions.iter().filter(|caution| caution.phase == Phase::Work);
        first.cautions = cautions.map(|caution| caution.note.clone()).collect();
    }
    steps
}

fn has(plan: &Plan, edge: EdgeUse, slope: usize) -> bool {
    plan.edges.iter().any(|run| run.edge == edge && run.slope == slope)
}

/// What becomes of the old covering.
pub(in crate::roofing) fn strip(plan: &Plan) -> Option<Note> {
    match plan.facts.chosen(FactKey::CoveringNow)? {
        CoveringNow::Nothing => None,
        CoveringNow::Felt => Some(Note::new("step-keep-or-strip-felt")),
        CoveringNow::BitumenSheets
        | CoveringNow::MetalSheets
        | CoveringNow::TilesOrSlates
        | CoveringNow::PlasticOrGlass
        | CoveringNow::GreyCementSheets
        | CoveringNow::NotSure => Some(Note::new("step-strip")),
    }
}

fn carry(plan: &Plan, slope: &SlopePlan) -> Vec<Note> {
    let heights = Arg::Lengths(slope.lines.iter().map(|line| line.y).collect());
    match &slope.support {
        SupportPlan::Purlins => vec![Note::new("step-purlins").with("lines", heights)],
        SupportPlan::PurlinsOverDeck { screw_length, .. } => {
            let insulated = plan.site.insulation;
            let underlay = insulated.then(|| Note::new("step-underlay"));
            let purlins =
                Note::new("step-purlins-over-deck").with("lines", heights).size("screw", *screw_length);
            let boards = insulated.then(|| Note::new("step-insulation"));
            underlay.into_iter().chain([purlins]).chain(boards).collect()
        }
        SupportPlan::ExistingDeck { .. } => vec![Note::new("step-mark-lines").with("lines", heights)],
        SupportPlan::NewFullDeck { .. } => vec![
            Note::new("step-fit-deck").with("boards", Arg::Count(slope.deck_boards)),
            Note::new("step-mark-lines").with("lines", heights),
        ],
    }
}

/// The largest 3-4-5 triangle in whole hundreds of millimetres that fits this slope's lower corner.
pub(in crate::roofing) fn square(plan: &Plan, slope: &SlopePlan) -> Option<Note> {
    let (length, rafter_length) = (plan.site.length.value, slope.rafter_length);
    let part = |along: i64, up: i64| (length / along).min(rafter_length / up);
    let (along, up) = if part(4, 3) >= part(3, 4) { (4, 3) } else { (3, 4) };
    let unit = Length::from_mm(100);
    let unit = unit * part(along, up).div_floor(unit);
    let note = Note::new("step-square").length("along", unit * along).length("up", unit * up);
    (unit > Length::ZERO).then(|| note.length("diagonal", unit * 5))
}

/// What a slope keeps for the other and what it gets from it: each with the sheets the pieces come out of.
pub(in crate::roofing) fn offcuts(plan: &Plan, index: usize) -> Vec<(Note, Vec<usize>)> {
    let mut notes = Vec::new();
    for (message, slope) in [("step-keep-offcuts", index + 1), ("step-use-offcuts", index)] {
        let offcuts = plan.offcuts_for(slope);
        let mut sheets: Vec<usize> = offcuts.iter().map(|(sheet, _, _)| *sheet).collect();
        sheets.dedup();
        let note = Note::new(message)
            .count("pieces", offcuts.len())
            .count("from", sheets.len())
            .text("sheets", ranges(&sheets));
        notes.extend((!sheets.is_empty()).then_some((note, sheets)));
    }
    notes
}

fn lay(slope: &SlopePlan) -> Vec<Note> {
    let start = match slope.start_from {
        Hand::Left => "hand-left",
        Hand::Right => "hand-right",
    };
    let past = slope.verge_overhang;
    let message = if past > Length::ZERO { "step-first-sheet" } else { "step-first-sheet-at-a-wall" };
    let first = Note::new(message).word("start", start).length("eaves_overhang", slope.eaves_overhang);
    let mut notes = vec![if past > Length::ZERO { first.length("verge_overhang", past) } else { first }];
    for (index, course) in slope.courses.iter().enumerate() {
        let number = index + 1;
        let message = if number == 1 { "step-first-course" } else { "step-next-course" };
        notes.push(
            Note::new(message)
                .count("course", number)
                .count("sheets", slope.columns_of(index).len())
                .length("length", course.length())
                .length("from", course.from)
                .length("end_lap", slope.end_lap)
                .with("side_lap", Arg::Count(slope.side_lap)),
        );
    }
    notes.push(Note::new("step-nail").size("nail", slope.nail_length).count("nails", slope.fixings.len()));
    notes
}
