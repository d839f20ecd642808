//! What to get ready: nails, tools, people and time.

use super::Roof;
use super::laying::own_nails;
use crate::roofing::note::{Arg, Note};
use crate::roofing::work::{hours, steps, takes};

pub(super) fn nails(roof: &Roof<'_>) -> Vec<Note> {
    let own = roof.each_slope(|slope| own_nails(roof, slope));
    let into = |on_deck: bool| {
        let (least, most) = if on_deck { roof.deck_bite() } else { roof.purlin_bite() }?;
        let note = Note::new("answer-nail-size").size("least", least).size("most", most);
        Some(note.with("on_deck", Arg::Count(i64::from(on_deck))))
    };
    // What it will be driven into is not known before there is a plan.
    let rules = match roof.plan {
        Some(_) => vec![into(roof.nails_into_deck())],
        None => vec![into(false), into(true)],
    };
    let rule = rules.into_iter().flatten();
    own.into_iter().chain(rule).chain([Note::new("answer-nail-size-instead")]).collect()
}

pub(super) fn screws(roof: &Roof<'_>) -> Vec<Note> {
    let own = roof.each_slope(|slope| own_nails(roof, slope));
    [Note::new("answer-screws-or-nails")].into_iter().chain(own).collect()
}

pub(super) fn wear(roof: &Roof<'_>) -> Vec<Note> {
    vec![protective(roof), Note::new("answer-what-to-wear")]
}

pub(super) fn tools(roof: &Roof<'_>) -> Vec<Note> {
    vec![Note::new("answer-tools-needed").with("tools", listed(&roof.book.catalogue.tools)), protective(roof)]
}

fn protective(roof: &Roof<'_>) -> Note {
    Note::new("answer-tools-needed-wear").with("wear", listed(&roof.book.catalogue.protective))
}

fn listed(ids: &[String]) -> Arg {
    Arg::Notes(ids.iter().map(|id| Note::new(id.as_str())).collect())
}

pub(super) fn time(roof: &Roof<'_>) -> Vec<Note> {
    let Some(plan) = roof.plan else { return vec![Note::new("answer-time-needed-general")] };
    let paces = &roof.book.rules.paces;
    let steps = steps(plan);
    let hands = steps.iter().filter_map(|step| takes(step, paces)).map(|takes| takes.hands).max();
    let note = Note::new("answer-time-needed").with("hours", Arg::Count(hours(&steps, paces)));
    vec![note.count("steps", steps.len()).with("hands", Arg::Count(hands.unwrap_or(1)))]
}
