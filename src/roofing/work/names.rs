//! What steps are called, from their keys alone: a step of an earlier plan still has its name.

use std::collections::BTreeMap;

use super::{StepKey, StepKind};
use crate::roofing::note::{Arg, Note};
use crate::roofing::roof::Face;
use crate::units::Length;

/// Names steps, those alike together, each slope for itself where there are two.
pub fn names<'a>(keys: impl IntoIterator<Item = &'a StepKey>, slopes: usize) -> Vec<Note> {
    let mut alike: BTreeMap<(usize, StepKind), Vec<&StepKey>> = BTreeMap::new();
    for key in keys {
        alike.entry((key.slope, key.kind)).or_default().push(key);
    }
    let named = alike.into_iter().map(|((slope, kind), keys)| {
        let name = name(kind, &keys);
        if slopes < 2 || !is_of_a_slope(kind) {
            return name;
        }
        let on = match Face::at(slope) {
            Face::Front => "work-on-front",
            Face::Back => "work-on-back",
        };
        Note::new(on).with("what", Arg::Note(Box::new(name)))
    });
    named.collect()
}

fn name(kind: StepKind, keys: &[&StepKey]) -> Note {
    let first = |key: &&StepKey| key.figures.first().copied();
    let note = Note::new(format!("work-name-{}", kind.key()));
    match kind {
        StepKind::Purlin | StepKind::Nails => {
            let heights = keys.iter().filter_map(first).map(Length::from_um).collect();
            note.with("lines", Arg::Lengths(heights)).count("count", keys.len())
        }
        StepKind::Course | StepKind::Laps => {
            let courses = keys.iter().filter_map(first);
            let each = courses.map(|course| Note::new("work-number").with("number", Arg::Count(course)));
            note.with("courses", Arg::Notes(each.collect())).count("count", keys.len())
        }
        StepKind::GetReady
        | StepKind::Inspect
        | StepKind::Strip
        | StepKind::DeckRepair
        | StepKind::Deck
        | StepKind::Underlay
        | StepKind::Lines
        | StepKind::Insulation
        | StepKind::EavesFiller
        | StepKind::Square
        | StepKind::Taper
        | StepKind::Offcuts
        | StepKind::Cut
        | StepKind::FirstSheet
        | StepKind::WallSide
        | StepKind::WallTop
        | StepKind::Verge
        | StepKind::TopEdge
        | StepKind::Ridge
        | StepKind::Finials
        | StepKind::LastLook => note,
    }
}

pub(super) const fn is_of_a_slope(kind: StepKind) -> bool {
    !matches!(
        kind,
        StepKind::GetReady
            | StepKind::Inspect
            | StepKind::Strip
            | StepKind::Ridge
            | StepKind::Finials
            | StepKind::LastLook
    )
}
