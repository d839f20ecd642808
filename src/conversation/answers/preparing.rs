//! What to get ready: nails, tools, people and time.

use super::Roof;
use super::laying::own_nail;
use crate::roofing::note::{Arg, Note};
use crate::roofing::rules::Requirement;
use crate::roofing::work::{steps, takes};

pub(super) fn nails(roof: &Roof<'_>) -> Vec<Note> {
    let own = roof.each_slope(|slope| vec![own_nail(roof, slope)]);
    let bite = roof.length(Requirement::NailBiteMin).zip(roof.length(Requirement::NailBiteMax));
    let rule =
        bite.map(|(least, most)| Note::new("answer-nail-size").size("least", least).size("most", most));
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
    let takes: Vec<_> = steps(plan).iter().filter_map(|step| takes(step, paces)).collect();
    let minutes: i64 = takes.iter().map(|takes| takes.minutes).sum();
    let hands = takes.iter().map(|takes| takes.hands).max().unwrap_or(1);
    let note = Note::new("answer-time-needed").with("hours", Arg::Count((minutes + 59).div_euclid(60)));
    vec![note.count("steps", takes.len()).with("hands", Arg::Count(hands))]
}
