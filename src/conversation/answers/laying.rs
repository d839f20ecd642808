//! Laps, nails, sheets, and what is bought.

use super::Roof;
use super::buying::{lines, named, sheets_of};
use super::figures::{Band, say_bands};
use crate::roofing::materials::MaterialLine;
use crate::roofing::note::{Arg, Note};
use crate::roofing::plan::SlopePlan;
use crate::roofing::roof::Hand;
use crate::roofing::rules::{Limit, Requirement};

pub(super) fn end_lap(roof: &Roof<'_>) -> Vec<Note> {
    let own = roof.each_slope(|slope| {
        let one =
            if slope.courses.len() > 1 { "answer-end-lap-size" } else { "answer-end-lap-size-one-course" };
        vec![Note::new(one).length("lap", slope.end_lap)]
    });
    or_general(own, "answer-end-lap-size-general", &roof.bands(Requirement::EndLap))
}

pub(super) fn end_lap_more(roof: &Roof<'_>) -> Vec<Note> {
    with_bands("answer-end-lap-size-more", roof, Requirement::EndLap)
}

pub(super) fn side_lap(roof: &Roof<'_>) -> Vec<Note> {
    let own = roof.each_slope(|slope| {
        vec![Note::new("answer-side-lap-count").with("count", Arg::Count(slope.side_lap))]
    });
    let bands = side_lap_bands(roof);
    if own.is_empty() {
        [Note::new("answer-side-lap-count-general")].into_iter().chain(bands).collect()
    } else {
        own
    }
}

pub(super) fn side_lap_more(roof: &Roof<'_>) -> Vec<Note> {
    let bands = if roof.plan.is_some() { side_lap_bands(roof) } else { Vec::new() };
    [Note::new("answer-side-lap-count-more")].into_iter().chain(bands).collect()
}

/// Bands that ask for the same are said as one.
fn side_lap_bands(roof: &Roof<'_>) -> Vec<Note> {
    let mut merged: Vec<Band> = Vec::new();
    for band in roof.bands(Requirement::SideLap) {
        match merged.last_mut() {
            Some(above) if above.limit == band.limit && above.from == band.to => above.from = band.from,
            Some(_) | None => merged.push(band),
        }
    }
    let say = |band: &Band| {
        let Limit::Count(count) = band.limit else { return None };
        let note = Note::new(if band.to.is_some() {
            "answer-side-lap-count-between"
        } else {
            "answer-side-lap-count-from"
        });
        let note = note.with("from", Arg::Angle(band.from?)).with("count", Arg::Count(count));
        Some(band.to.map_or(note.clone(), |to| note.with("to", Arg::Angle(to))))
    };
    merged.iter().filter_map(say).collect()
}

pub(super) fn nails_between(roof: &Roof<'_>) -> Vec<Note> {
    let every = roof.count(Requirement::FixIntermediate);
    let pattern =
        every.map(|every| Note::new("answer-nail-pattern-intermediate").with("every", Arg::Count(every)));
    let own = roof.each_slope(|slope| own_nails(roof, slope));
    pattern.into_iter().chain([Note::new("answer-nail-crown")]).chain(own).collect()
}

/// The nail of a slope, and the longer one where it has two.
pub(super) fn own_nails(roof: &Roof<'_>, slope: &SlopePlan) -> Vec<Note> {
    let named = |message: &str, id: &str, length, bite| {
        let nail = roof.book.catalogue.fasteners.iter().find(|fastener| fastener.item.id == id);
        let name = nail.map_or(id, |fastener| fastener.item.name.as_str());
        Note::new(message).text("nail", name).size("length", length).size("bite", bite)
    };
    let message = "answer-nail-pattern-intermediate-nail";
    let nail = named(message, &slope.nail, slope.nail_length, slope.nail_bite);
    let long = slope.long_nail.as_ref();
    let long = long.map(|long| named("answer-nail-long", &long.nail, long.length, long.bite));
    [nail].into_iter().chain(long).collect()
}

pub(super) fn nails_more(roof: &Roof<'_>) -> Vec<Note> {
    let note = Note::new("answer-nail-pattern-intermediate-more");
    roof.nail_bite().map(|(least, most)| note.size("least", least).size("most", most)).into_iter().collect()
}

pub(super) fn nails_at_eaves(roof: &Roof<'_>) -> Vec<Note> {
    let every = roof.count(Requirement::FixEaves);
    let pattern = every.map(|every| Note::new("answer-nail-pattern-eaves").with("every", Arg::Count(every)));
    let lowest = roof.each_slope(|slope| {
        let line = slope.lines.first();
        line.map(|line| Note::new("answer-nail-pattern-eaves-line").length("height", line.y))
            .into_iter()
            .collect()
    });
    pattern.into_iter().chain([Note::new("answer-nail-crown")]).chain(lowest).collect()
}

pub(super) fn start(roof: &Roof<'_>) -> Vec<Note> {
    let by_wind = roof.plan.is_some_and(|plan| plan.site.wind_from.is_some());
    let one = if by_wind { "answer-which-end-to-start" } else { "answer-which-end-to-start-any" };
    let own = roof.each_slope(|slope| vec![Note::new(one).word("hand", hand(slope.start_from))]);
    if own.is_empty() { vec![Note::new("answer-which-end-to-start-general")] } else { own }
}

pub(super) const fn hand(hand: Hand) -> &'static str {
    match hand {
        Hand::Left => "hand-left",
        Hand::Right => "hand-right",
    }
}

pub(super) fn cutting(roof: &Roof<'_>) -> Vec<Note> {
    let count = roof.plan.map(|plan| plan.slopes.iter().map(|slope| slope.cuts.cuts).sum::<usize>());
    let own = count.map(|cuts| Note::new("answer-sheet-cutting-how-count").count("cuts", cuts));
    [Note::new("answer-sheet-cutting-how")].into_iter().chain(own).collect()
}

pub(super) fn split(roof: &Roof<'_>) -> Vec<Note> {
    [Note::new("answer-sheet-split")]
        .into_iter()
        .chain(least_piece(roof, "answer-sheet-split-piece"))
        .collect()
}

pub(super) fn offcuts(roof: &Roof<'_>) -> Vec<Note> {
    let own = least_piece(roof, "answer-leftover-offcuts-piece");
    [Note::new("answer-leftover-offcuts")].into_iter().chain(own).collect()
}

fn least_piece(roof: &Roof<'_>, message: &str) -> Option<Note> {
    roof.plan.map(|plan| Note::new(message).length("least", plan.site.sheet.min_piece))
}

pub(super) fn one_short(roof: &Roof<'_>) -> Vec<Note> {
    let own = roof.plan.and_then(|plan| {
        let sheets = sheets_of(plan);
        let cover = plan.site.sheet.cover_width(plan.slopes.first()?.side_lap);
        let note = Note::new("answer-extra-sheet-needed").count("sheets", sheets);
        Some(note.length("cover", cover).length("width", plan.site.sheet.width))
    });
    vec![own.unwrap_or_else(|| Note::new("answer-extra-sheet-needed-general"))]
}

pub(super) fn spares(roof: &Roof<'_>) -> Vec<Note> {
    let count = roof.count(Requirement::SpareSheets);
    let rule = count.map(|count| Note::new("answer-how-many-spare").with("count", Arg::Count(count)));
    rule.into_iter().chain(lines(roof).filter(|line| line.spare > 0).map(say_spare)).collect()
}

fn say_spare(line: &MaterialLine) -> Note {
    Note::new("answer-how-many-spare-line")
        .with("name", named(&line.name))
        .with("needed", Arg::Count(line.needed))
        .with("left", Arg::Count(line.left_over))
}

fn or_general(own: Vec<Note>, general: &str, bands: &[Band]) -> Vec<Note> {
    if own.is_empty() { [Note::new(general)].into_iter().chain(say_bands(bands)).collect() } else { own }
}

/// The bands are said under "more" where the person's own figure came first.
fn with_bands(more: &str, roof: &Roof<'_>, requirement: Requirement) -> Vec<Note> {
    let bands = if roof.plan.is_some() { say_bands(&roof.bands(requirement)) } else { Vec::new() };
    [Note::new(more)].into_iter().chain(bands).collect()
}
