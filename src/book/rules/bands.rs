//! Checks across rules: bands of one requirement must meet, and nothing that a plan needs may be missing.

use super::RulesRead;
use crate::book::fault::{Faults, Place};
use crate::roofing::catalogue::Covering;
use crate::roofing::roof::{FactKey, FactKind};
use crate::roofing::rules::{Condition, Effect, Limit, Requirement, Rule, RuleBook, Support};
use crate::units::{Angle, Length, Quantity};

/// A stretch of one fact, in micrometres or microdegrees: `from` included, `to` not.
#[derive(Clone, Copy)]
struct Band<'f> {
    from: i64,
    to: i64,
    place: Place<'f>,
}

/// Checks all rules for these coverings.
pub(in crate::book) fn check(
    read: &RulesRead<'_>,
    coverings: &[Covering],
    sheets: &[&str],
    faults: &mut Faults,
) {
    for covering in coverings {
        for requirement in Requirement::ALL.iter().filter(|requirement| covering.needs(**requirement)) {
            check_requirement(read, &covering.id, *requirement, faults);
        }
        let decked = Effect::Require(Requirement::Support, Limit::Support(Support::FullDeck));
        for (rule, place) in read.book.rules.iter().zip(&read.places) {
            if !covering.on_deck
                && rule.covering.as_ref() == Some(&covering.id)
                && rule.then.contains(&decked)
            {
                let what = format!(
                    "`{}` cannot lie on a deck (`on_deck = false`), so no rule may ask for one.",
                    covering.id
                );
                faults.at(*place, what);
            }
        }
    }
    for (rule, place) in read.book.rules.iter().zip(&read.places) {
        let unknown = |covering: &&str| coverings.iter().all(|known| known.id != **covering);
        if let Some(covering) = rule.covering.as_deref().filter(unknown) {
            let what = format!("there is no covering `{covering}`: check the spelling of `covering`.");
            faults.at(*place, what);
        }
    }
    for (rule, place) in read.book.rules.iter().zip(&read.places) {
        if let Some(sheet) = rule.sheet.as_deref().filter(|sheet| !sheets.contains(sheet)) {
            faults.at(*place, format!("there is no sheet `{sheet}` whose leaflet this could be from."));
        }
    }
    for fact in FactKey::ALL.iter().filter(|fact| fact.is_safety()) {
        if !read.book.rules.iter().any(|rule| stops_on(rule, *fact)) {
            let what = format!("no rule stops the plan for `{}`: a safety answer must be heard.", fact.key());
            faults.missing_from("rules", what);
        }
    }
}

/// Whether a rule stops the plan by what this fact is.
pub(in crate::book) fn stops_on(rule: &Rule, fact: FactKey) -> bool {
    let stops = rule.then.iter().any(|effect| matches!(effect, Effect::Stop(_)));
    stops && rule.when.iter().any(|condition| condition.fact() == fact)
}

fn check_requirement(read: &RulesRead<'_>, covering: &str, requirement: Requirement, faults: &mut Faults) {
    let speaks = |rule: &Rule| governs(rule, covering) && requires(rule, requirement, None);
    if !read.book.rules.iter().any(speaks) {
        let what = format!("no rule says `{}` for `{covering}`: add one.", requirement.key());
        faults.missing_from("rules", what);
    }
    for fact in FactKey::ALL {
        let mut bands: Vec<Band<'_>> = bands_of(read, *fact, speaks).collect();
        bands.sort_by_key(|band| band.from);
        let Some((lowest, highest)) = believable(*fact) else { continue };
        let (Some(first), Some(last)) = (bands.first(), bands.last()) else { continue };
        for (lower, upper) in bands.iter().zip(bands.iter().skip(1)) {
            if lower.to > upper.from {
                let what = overlap(requirement, *fact, upper.from.max(lower.from), lower.to.min(upper.to));
                faults.at(upper.place, what);
            } else if lower.to < upper.from {
                faults.at(upper.place, gap(requirement, *fact, lower.to, upper.from));
            }
        }
        let excused = excused(read, covering, requirement, *fact);
        let reached = excused.iter().find(|band| band.from <= lowest).map_or(lowest, |band| band.to);
        if first.from > reached {
            faults.at(first.place, gap(requirement, *fact, reached, first.from));
        }
        if last.to <= highest {
            faults.at(last.place, gap(requirement, *fact, last.to, highest));
        }
    }
}

/// Where nothing need be required: where the roof is refused, and purlins where there is a full deck.
///
/// Neighbouring stretches are joined, so that refused and decked slopes count as one.
fn excused<'f>(
    read: &RulesRead<'f>,
    covering: &str,
    requirement: Requirement,
    fact: FactKey,
) -> Vec<Band<'f>> {
    let full_deck = Limit::Support(Support::FullDeck);
    let mut bands: Vec<Band<'f>> = bands_of(read, fact, |rule| {
        let decked = requirement == Requirement::MaxPurlinSpacing
            && requires(rule, Requirement::Support, Some(full_deck));
        governs(rule, covering) && (decked || rule.then.contains(&Effect::Refuse))
    })
    .collect();
    bands.sort_by_key(|band| band.from);
    let mut joined: Vec<Band<'f>> = Vec::new();
    for band in bands {
        match joined.last_mut() {
            Some(last) if last.to >= band.from => last.to = last.to.max(band.to),
            Some(_) | None => joined.push(band),
        }
    }
    joined
}

/// Whether a rule is for every sheet of a covering: what a leaflet says of one only asks for more.
fn governs(rule: &Rule, covering: &str) -> bool {
    rule.sheet.is_none() && rule.covering.as_deref().is_none_or(|own| own == covering)
}

fn requires(rule: &Rule, wanted: Requirement, value: Option<Limit>) -> bool {
    rule.then.iter().any(|effect| match effect {
        Effect::Require(requirement, limit) => {
            *requirement == wanted && value.is_none_or(|value| value == *limit)
        }
        Effect::Check | Effect::Advise | Effect::Caution(_) | Effect::Refuse | Effect::Stop(_) => false,
    })
}

/// The bands of the chosen rules that look at this fact alone: a rule that looks further only tightens.
fn bands_of<'f>(
    read: &RulesRead<'f>,
    fact: FactKey,
    chosen: impl Fn(&Rule) -> bool,
) -> impl Iterator<Item = Band<'f>> {
    let rules = read.book.rules.iter().zip(&read.places);
    rules.filter(move |(rule, _)| chosen(rule)).filter_map(move |(rule, place)| {
        let [only] = rule.when.as_slice() else { return None };
        let (from, to) = ends(only)?;
        let (from, to) = (from.unwrap_or(i64::MIN), to.unwrap_or(i64::MAX));
        (only.fact() == fact).then_some(Band { from, to, place: *place })
    })
}

fn ends(condition: &Condition) -> Option<(Option<i64>, Option<i64>)> {
    match condition {
        Condition::Angle { from, to, .. } => Some((from.map(Angle::microdeg), to.map(Angle::microdeg))),
        Condition::Length { from, to, .. } => Some((from.map(Length::um), to.map(Length::um))),
        Condition::OneOf { .. } | Condition::NoneOf { .. } | Condition::Told { .. } => None,
    }
}

/// The sizes of a fact that are believed, in micrometres or microdegrees.
fn believable(fact: FactKey) -> Option<(i64, i64)> {
    match fact.kind() {
        FactKind::Quantity(quantity) => {
            let (flattest, steepest) = Quantity::pitch_band();
            let pitches = (flattest.microdeg(), steepest.microdeg());
            Some(quantity.length_band().map_or(pitches, |(low, high)| (low.um(), high.um())))
        }
        FactKind::Choice(_) | FactKind::Count(..) | FactKind::Sheet | FactKind::Words(_) => None,
    }
}

fn gap(requirement: Requirement, fact: FactKey, from: i64, to: i64) -> String {
    let stretch = stretch(fact, from, to);
    format!("no rule says `{}` for `{}` {stretch}: let the bands meet.", requirement.key(), fact.key())
}

fn overlap(requirement: Requirement, fact: FactKey, from: i64, to: i64) -> String {
    let stretch = stretch(fact, from, to);
    format!(
        "two rules say `{}` for `{}` {stretch}: let one end where the other begins.",
        requirement.key(),
        fact.key()
    )
}

/// From where to where, as far as there is an end.
fn stretch(fact: FactKey, from: i64, to: i64) -> String {
    match (from == i64::MIN, to == i64::MAX) {
        (true, true) => "whatever it is".to_owned(),
        (true, false) => format!("up to {}", size(fact, to)),
        (false, true) => format!("from {} on", size(fact, from)),
        (false, false) => format!("from {} up to {}", size(fact, from), size(fact, to)),
    }
}

fn size(fact: FactKey, value: i64) -> String {
    match fact.kind() {
        FactKind::Quantity(quantity) if quantity.length_band().is_none() => {
            Angle::from_microdeg(value).to_string()
        }
        FactKind::Quantity(_)
        | FactKind::Choice(_)
        | FactKind::Count(..)
        | FactKind::Sheet
        | FactKind::Words(_) => Length::from_um(value).to_string(),
    }
}

/// The pitches that are refused outright end here: the flattest a piece must fit.
pub(in crate::book) fn flattest(book: &RuleBook, covering: &str) -> i64 {
    let refused =
        book.rules.iter().filter(|rule| governs(rule, covering) && rule.then.contains(&Effect::Refuse));
    let ends = refused.filter_map(|rule| match rule.when.as_slice() {
        [Condition::Angle { fact: FactKey::Pitch, from: None, to: Some(to) }] => Some(to.microdeg()),
        _ => None,
    });
    ends.max().unwrap_or(0)
}
