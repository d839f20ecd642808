//! The order of work, step by step, with this roof's figures in it.

use super::closing::edge_word;
use super::{Plan, SlopePlan};
use crate::roofing::catalogue::EdgeUse;
use crate::roofing::facts::choices::CoveringNow;
use crate::roofing::layout::SupportPlan;
use crate::roofing::note::{Arg, Note, ranges};
use crate::roofing::roof::{Face, FactKey, Hand};
use crate::roofing::rules::{Limit, Phase, Requirement, StepKind};
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

/// The steps in the order they are done. The first carries every caution that belongs to the work.
pub fn work_order(plan: &Plan) -> Vec<Step> {
    use StepKind as K;
    let mut notes = vec![of(K::GetReady, "step-get-ready"), of(K::Inspect, "step-inspect")];
    notes.extend(strip(plan).map(|note| (Some(K::Strip), note)));
    for (index, slope) in plan.slopes.iter().enumerate() {
        if plan.slopes.len() > 1 {
            // It only says which slope comes now.
            let message = match Face::at(index) {
                Face::Front => "step-front-slope",
                Face::Back => "step-back-slope",
            };
            notes.push((None, Note::new(message)));
        }
        let edge = |edge, kind, message| has(plan, edge, index).then(|| of(kind, message));
        notes.extend(carry(plan, slope));
        notes.extend(edge(EdgeUse::EavesFiller, K::EavesFiller, "step-eaves-filler"));
        notes.extend(square(plan, slope).map(|note| (Some(K::Square), note)));
        notes.extend(offcuts(plan, index).into_iter().map(|(note, _)| (Some(K::Offcuts), note)));
        notes.extend(lay(slope));
        notes.extend(edge(EdgeUse::WallSide, K::WallSide, "step-wall-side"));
        notes.extend(edge(EdgeUse::WallTop, K::WallTop, "step-wall-top"));
        notes.extend(edge(EdgeUse::Verge, K::Verge, "step-verge"));
        notes.extend(edge(EdgeUse::TopEdge, K::TopEdge, "step-top-edge"));
    }
    if let Some(ridge) = plan.edges.iter().find(|run| run.edge == EdgeUse::Ridge) {
        let note = Note::new("step-ridge").with("pieces", Arg::Count(ridge.pieces)).length("lap", ridge.lap);
        notes.push((Some(K::Ridge), note));
    }
    if plan.finials > 0 {
        let note = Note::new("step-finials").with("finials", Arg::Count(plan.finials));
        notes.push((Some(K::Finials), note));
    }
    notes.push(of(K::LastLook, "step-last-look"));
    let again = |kind: Option<StepKind>| {
        kind.map(|kind| plan.said_again_at(kind).cloned().collect()).unwrap_or_default()
    };
    let steps = notes.into_iter();
    let mut steps: Vec<Step> =
        steps.map(|(kind, note)| Step { note, cautions: Vec::new(), again: again(kind) }).collect();
    if let Some(first) = steps.first_mut() {
        let cautions = plan.cautions.iter().filter(|caution| caution.phase == Phase::Work);
        first.cautions = cautions.map(|caution| caution.note.clone()).collect();
    }
    steps
}

/// A sentence with the kind of step that it tells.
type Told = (Option<StepKind>, Note);

fn of(kind: StepKind, message: &str) -> Told {
    (Some(kind), Note::new(message))
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

fn carry(plan: &Plan, slope: &SlopePlan) -> Vec<Told> {
    use StepKind as K;
    let heights = Arg::Lengths(slope.lines.iter().map(|line| line.y).collect());
    let offered_up = |step| offered_up(plan, slope, step);
    match &slope.support {
        SupportPlan::Purlins => {
            vec![(Some(K::Purlin), offered_up(Note::new("step-purlins").with("lines", heights)))]
        }
        SupportPlan::PurlinsOverDeck { screw_length, .. } => {
            let insulated = plan.site.insulation;
            let underlay = insulated.then(|| of(K::Underlay, "step-underlay"));
            let purlins =
                Note::new("step-purlins-over-deck").with("lines", heights).size("screw", *screw_length);
            let boards = insulated.then(|| of(K::Insulation, "step-insulation"));
            underlay.into_iter().chain([(Some(K::Purlin), offered_up(purlins))]).chain(boards).collect()
        }
        SupportPlan::ExistingDeck { .. } => {
            vec![(Some(K::Lines), offered_up(Note::new("step-mark-lines").with("lines", heights)))]
        }
        SupportPlan::NewFullDeck { .. } => {
            let deck = Note::new("step-fit-deck").with("boards", Arg::Count(slope.deck_boards));
            let lines = offered_up(Note::new("step-mark-lines").with("lines", heights));
            vec![(Some(K::Deck), deck), (Some(K::Lines), lines)]
        }
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

fn lay(slope: &SlopePlan) -> Vec<Told> {
    let start = match slope.start_from {
        Hand::Left => "hand-left",
        Hand::Right => "hand-right",
    };
    let past = slope.verge_overhang;
    let message = if past > Length::ZERO { "step-first-sheet" } else { "step-first-sheet-at-a-wall" };
    let first = Note::new(message).word("start", start).length("eaves_overhang", slope.eaves_overhang);
    let first = if past > Length::ZERO { first.length("verge_overhang", past) } else { first };
    let mut notes = vec![(Some(StepKind::FirstSheet), first)];
    for (index, course) in slope.courses.iter().enumerate() {
        let number = index + 1;
        let message = if number == 1 { "step-first-course" } else { "step-next-course" };
        let note = Note::new(message)
            .count("course", number)
            .count("sheets", slope.columns_of(index).len())
            .length("length", course.length())
            .length("from", course.from)
            .length("end_lap", slope.end_lap)
            .with("side_lap", Arg::Count(slope.side_lap));
        notes.push((Some(StepKind::Course), note));
    }
    let all = slope.fixings.len();
    let nails = |message| Note::new(message).size("nail", slope.nail_length).count("nails", all);
    let nails = match &slope.long_nail {
        None => nails("step-nail"),
        Some(long) => {
            let longer = slope.long_nails();
            let two = nails("step-nail-two").count("short", all - longer).count("long", longer);
            two.size("longer", long.length)
        }
    };
    notes.push((Some(StepKind::Nails), nails));
    notes
}

/// Where a piece closes the top: it is offered up before the line under it is fixed, for only the piece itself shows how
/// far it reaches.
pub(in crate::roofing) fn offered_up(plan: &Plan, slope: &SlopePlan, step: Note) -> Note {
    let top = |edge| matches!(edge, EdgeUse::Ridge | EdgeUse::TopEdge | EdgeUse::WallTop);
    let run = plan.edges.iter().find(|run| top(run.edge));
    let least = slope.requirements.deciding(Requirement::NailEdgeDistance).map(|one| one.limit);
    let (Some(run), Some(Limit::Length(least))) = (run, least) else { return step };
    Note::new("step-and-offer-up")
        .with("step", Arg::Note(Box::new(step)))
        .word("edge", format!("edge-{}", edge_word(run.edge)))
        .size("least", least)
}
