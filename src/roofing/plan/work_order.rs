//! Single steps of the work that follow from the plan as a whole.

use super::closing::edge_word;
use super::{Plan, SlopePlan};
use crate::roofing::catalogue::EdgeUse;
use crate::roofing::facts::choices::CoveringNow;
use crate::roofing::note::{Arg, Note, ranges};
use crate::roofing::roof::FactKey;
use crate::roofing::rules::{Limit, Requirement};
use crate::units::Length;

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

/// Where a piece closes the top: it is offered up before the line under it is fixed, for only the piece itself shows how
/// far it reaches.
pub(in crate::roofing) fn offered_up(plan: &Plan, slope: &SlopePlan, step: Note) -> Note {
    let top = |edge| matches!(edge, EdgeUse::Ridge | EdgeUse::TopEdge | EdgeUse::WallTop);
    let run = plan.edges.iter().find(|run| top(run.edge));
    let least = slope.requirements.deciding(Requirement::NailEdgeDistance).map(|one| one.limit);
    let (Some(run), Some(Limit::Length(least))) = (run, least) else { return step };
    let message =
        if slope.purlin_timber.is_some() { "step-and-offer-up" } else { "step-and-offer-up-to-a-deck" };
    Note::new(message)
        .with("step", Arg::Note(Box::new(step)))
        .word("edge", format!("edge-{}", edge_word(run.edge)))
        .size("least", least)
}
