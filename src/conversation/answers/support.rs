//! What carries the sheets: deck, purlins, frame, slope.

use super::Roof;
use super::figures::{length_of, say_bands};
use crate::roofing::layout::SupportPlan;
use crate::roofing::note::{Arg, Note};
use crate::roofing::plan::SlopePlan;
use crate::roofing::roof::FactKey;
use crate::roofing::rules::{Limit, Requirement, Support};
use crate::units::Length;

pub(super) fn deck(roof: &Roof<'_>) -> Vec<Note> {
    let least = roof.length(Requirement::MinDeckThickness);
    let rule = bite(roof.deck_bite(), "answer-deck-too-thin")
        .zip(least)
        .map(|(note, least)| note.size("least", least));
    let own = roof.each_slope(|slope| [own_deck(slope), vec![nail(slope)]].concat());
    own.into_iter().chain(rule).collect()
}

fn own_deck(slope: &SlopePlan) -> Vec<Note> {
    match &slope.support {
        SupportPlan::Purlins => vec![Note::new("answer-deck-too-thin-no-deck")],
        SupportPlan::PurlinsOverDeck { deck, screw_length, .. } => vec![
            Note::new("answer-deck-too-thin-over").size("deck", *deck),
            Note::new("answer-deck-too-thin-screw").size("screw", *screw_length),
        ],
        SupportPlan::ExistingDeck { deck } => {
            vec![Note::new("answer-deck-too-thin-holds").size("deck", *deck).size("bite", slope.least_bite())]
        }
        SupportPlan::NewFullDeck { thickness, .. } => {
            vec![Note::new("answer-deck-too-thin-new-deck").size("deck", *thickness)]
        }
    }
}

pub(super) fn points(roof: &Roof<'_>) -> Vec<Note> {
    let own = roof.each_slope(|slope| [nail(slope)].into_iter().chain(own_deck(slope)).collect());
    // Before there is a plan, what is asked about is a deck.
    let band = if roof.plan.is_some() { roof.nail_bite() } else { roof.deck_bite() };
    bite(band, "answer-nails-poking-through").into_iter().chain(own).collect()
}

fn nail(slope: &SlopePlan) -> Note {
    let note = Note::new("answer-nails-poking-through-nail").size("length", slope.nail_length);
    note.size("bite", slope.least_bite())
}

/// How much timber a nail wants.
fn bite(band: Option<(Length, Length)>, message: &str) -> Option<Note> {
    let (least, most) = band?;
    Some(Note::new(message).size("bite_least", least).size("bite_most", most))
}

pub(super) fn purlins(roof: &Roof<'_>) -> Vec<Note> {
    let own = roof.each_slope(|slope| match slope.support {
        SupportPlan::Purlins | SupportPlan::PurlinsOverDeck { .. } => {
            let spacing = length_of(slope, Requirement::MaxPurlinSpacing);
            let rule =
                spacing.map(|spacing| Note::new("answer-purlin-spacing-why").length("spacing", spacing));
            let heights = slope.lines.iter().map(|line| line.y).collect();
            let lines = Note::new("answer-purlin-spacing-why-lines").count("count", slope.lines.len());
            rule.into_iter().chain([lines.with("lines", Arg::Lengths(heights))]).collect()
        }
        SupportPlan::ExistingDeck { .. } | SupportPlan::NewFullDeck { .. } => {
            let spacing = slope.max_line_gap();
            let note =
                spacing.map(|spacing| Note::new("answer-purlin-spacing-why-deck").length("spacing", spacing));
            note.into_iter().collect()
        }
    });
    if own.is_empty() {
        [Note::new("answer-purlin-spacing-why-general")].into_iter().chain(purlin_bands(roof)).collect()
    } else {
        own
    }
}

pub(super) fn purlins_more(roof: &Roof<'_>) -> Vec<Note> {
    let bands = if roof.plan.is_some() { purlin_bands(roof) } else { Vec::new() };
    [Note::new("answer-purlin-spacing-why-more")].into_iter().chain(bands).collect()
}

fn purlin_bands(roof: &Roof<'_>) -> Vec<Note> {
    let decks = roof.bands(Requirement::Support).into_iter().filter_map(|band| {
        let full = band.limit == Limit::Support(Support::FullDeck);
        let (from, to) = (band.from.filter(|_| full)?, band.to?);
        Some(
            Note::new("answer-purlin-spacing-why-band-deck")
                .with("from", Arg::Angle(from))
                .with("to", Arg::Angle(to)),
        )
    });
    say_bands(&roof.bands(Requirement::MaxPurlinSpacing)).into_iter().chain(decks).collect()
}

pub(super) fn weight(roof: &Roof<'_>) -> Vec<Note> {
    let own = roof.plan.map(|plan| {
        let materials = &plan.materials;
        Note::new("answer-weight-limits-mass")
            .with("mass", Arg::Mass(materials.covering_mass))
            .with("each", Arg::Mass(materials.mass_per_m2))
    });
    [Note::new("answer-weight-limits")].into_iter().chain(own).collect()
}

pub(super) fn solar(roof: &Roof<'_>) -> Vec<Note> {
    let own = roof.plan.map(|plan| {
        Note::new("answer-solar-panels-yours").with("each", Arg::Mass(plan.materials.mass_per_m2))
    });
    [Note::new("answer-solar-panels")].into_iter().chain(own).collect()
}

pub(super) fn pitch(roof: &Roof<'_>) -> Vec<Note> {
    let Some(least) = roof.least_pitch() else { return Vec::new() };
    let rule = Note::new("answer-unsuitable-pitch").with("least", Arg::Angle(least));
    let own = roof.facts.angle(FactKey::Pitch).map(|pitch| {
        let flat = pitch.value < least;
        let one = if flat { "answer-unsuitable-pitch-yours-flat" } else { "answer-unsuitable-pitch-yours" };
        Note::new(one).with("pitch", Arg::Angle(pitch.value))
    });
    // "The sheets will do" is only said of a roof that was planned: another rule may refuse it.
    let own = own.filter(|note| roof.plan.is_some() || note.message.ends_with("flat"));
    [rule].into_iter().chain(own).collect()
}

pub(super) fn square(roof: &Roof<'_>) -> Vec<Note> {
    let diagonals = roof.facts.length(FactKey::DiagonalA).zip(roof.facts.length(FactKey::DiagonalB));
    let own = diagonals
        .map(|(a, b)| Note::new("answer-out-of-square-yours").length("a", a.value).length("b", b.value));
    [Note::new("answer-out-of-square")].into_iter().chain(own).collect()
}

pub(super) fn insulation(roof: &Roof<'_>) -> Vec<Note> {
    let own = roof.plan.map(|plan| {
        Note::new(match (plan.site.insulation, plan.slopes.iter().all(SlopePlan::takes_insulation)) {
            (false, _) => "answer-insulation-between-purlins-none",
            (true, true) => "answer-insulation-between-purlins-yours",
            (true, false) => "answer-insulation-between-purlins-unplanned",
        })
    });
    [Note::new("answer-insulation-between-purlins")].into_iter().chain(own).collect()
}
