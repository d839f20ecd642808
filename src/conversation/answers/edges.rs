//! Ridge, verge, eaves, wall, and sheets that let light in.

use super::Roof;
use super::id;
use crate::conversation::understanding::TopicId;
use crate::roofing::catalogue::EdgeUse;
use crate::roofing::note::{Arg, Note};
use crate::roofing::plan::EdgeRun;
use crate::roofing::rules::Requirement;

pub(super) fn ridge(roof: &Roof<'_>) -> Vec<Note> {
    let every = roof.count(Requirement::FixRidge);
    let rule = every.map(|every| Note::new("answer-ridge-fit").with("every", Arg::Count(every)));
    let own = roof.plan.map(|_| {
        let run = runs(roof, &[EdgeUse::Ridge]).next();
        run.map_or_else(
            || Note::new("answer-ridge-fit-none"),
            |run| pieces("answer-ridge-fit-pieces", run.pieces).length("lap", run.lap),
        )
    });
    rule.into_iter().chain(own).collect()
}

pub(super) fn verge(roof: &Roof<'_>) -> Vec<Note> {
    // The plan's own overhang is nothing where that end meets a wall: the requirement speaks of free ends.
    let overhang = roof.length(Requirement::VergeOverhang);
    let rule = overhang.map(|overhang| Note::new("answer-verge-finish").length("overhang", overhang));
    let count: i64 = runs(roof, &[EdgeUse::Verge]).map(|run| run.pieces).sum();
    let bought = (count > 0).then(|| pieces("answer-verge-finish-pieces", count));
    rule.into_iter().chain(bought).collect()
}

pub(super) fn eaves(roof: &Roof<'_>) -> Vec<Note> {
    overhang(TopicId::EavesOverhang, roof)
}

pub(super) fn gutter(roof: &Roof<'_>) -> Vec<Note> {
    overhang(TopicId::Gutter, roof)
}

/// How far the sheets pass the eaves, said of the eaves or of the gutter.
fn overhang(topic: TopicId, roof: &Roof<'_>) -> Vec<Note> {
    let own = roof.each_slope(|slope| vec![Note::new(id(topic)).length("overhang", slope.eaves_overhang)]);
    let general = roof.length(Requirement::EavesOverhang).filter(|_| own.is_empty());
    let general = general.map(|overhang| Note::new(id(topic)).length("overhang", overhang));
    own.into_iter().chain(general).collect()
}

pub(super) fn birds(roof: &Roof<'_>) -> Vec<Note> {
    let fillers: i64 = runs(roof, &[EdgeUse::EavesFiller]).map(|run| run.pieces).sum();
    let own = (fillers > 0).then(|| pieces("answer-birds-and-vermin-yours", fillers));
    [Note::new("answer-birds-and-vermin"), Note::new("answer-birds-and-vermin-close")]
        .into_iter()
        .chain(own)
        .collect()
}

pub(super) fn wall(roof: &Roof<'_>) -> Vec<Note> {
    let own = runs(roof, &[EdgeUse::WallTop, EdgeUse::WallSide]).map(|run| {
        let top = run.edge == EdgeUse::WallTop;
        let message = if top { "answer-wall-abutment-top" } else { "answer-wall-abutment-side" };
        pieces(message, run.pieces).length("lap", run.lap)
    });
    [Note::new("answer-wall-abutment")].into_iter().chain(own).collect()
}

pub(super) fn rooflight(roof: &Roof<'_>) -> Vec<Note> {
    let own = roof.each_slope(|slope| {
        let note = Note::new("answer-rooflight").length("lap", slope.end_lap);
        vec![note.with("count", Arg::Count(slope.side_lap))]
    });
    if own.is_empty() { vec![Note::new("answer-rooflight-general")] } else { own }
}

fn pieces(message: &str, count: i64) -> Note {
    Note::new(message).with("pieces", Arg::Count(count))
}

fn runs<'a>(roof: &Roof<'a>, edges: &'a [EdgeUse]) -> impl Iterator<Item = &'a EdgeRun> + use<'a> {
    let all = roof.plan.into_iter().flat_map(|plan| &plan.edges);
    all.filter(move |run| edges.contains(&run.edge))
}
