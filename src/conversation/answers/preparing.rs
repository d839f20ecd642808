//! What to get ready: nails, tools, people and time.

use super::Roof;
use super::laying::own_nail;
use crate::roofing::note::{Arg, Note};
use crate::roofing::work::{hours, steps, takes};

pub(super) fn nails(roof: &Roof<'_>) -> Vec<Note> {
    let own = roof.each_slope(|slope| vec![own_nail(roof, slope)]);
    let rule = roof
        .nail_bite()
        .map(|(least, most)| Note::new("answer-nail-size").size("least", least).size("most", most));
    own.into_iter().chain(rule).chain([Note::new("answer-nail-size-instead")]).collect()
}

pub(super) fn tools(roof: &Roof<'_>) -> Vec<Note> {
    let catalogue = &roof.book.catalogue;
    let list = |ids: &[String]| Arg::Notes(ids.iter().map(|id| Note::new(id.as_str())).collect());
    vec![
        Note::new("answer-tools-needed").with("tools", list(&catalogue.tools)),
        Note::new("answer-tools-needed-wear").with("wear", list(&catalogue.protective)),
    ]
}

pub(super) fn time(roof: &Roof<'_>) -> Vec<Note> {
    let Some(plan) = roof.plan else { return vec![Note::new("answer-time-needed-general")] };
    let paces = &roof.book.rules.paces;
    let steps = steps(plan);
    let hands = steps.iter().filter_map(|step| takes(step, paces)).map(|takes| takes.hands).max();
    let note = Note::new("answer-time-needed").with("hours", Arg::Count(hours(&steps, paces)));
    vec![note.count("steps", steps.len()).with("hands", Arg::Count(hands.unwrap_or(1)))]
}
