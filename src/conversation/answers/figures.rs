//! Where the figures of answers come from: the plan where there is one, the rule book otherwise.

use crate::conversation::answers::Roof;
use crate::roofing::note::{Arg, Note};
use crate::roofing::plan::SlopePlan;
use crate::roofing::roof::{FactKey, covering, known_deck};
use crate::roofing::rules::{Condition, Effect, Limit, Requirement, Rule};
use crate::units::{Angle, Length};

/// A stretch of slopes and what a requirement is on it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Band {
    /// The flattest slope of it.
    pub(super) from: Option<Angle>,
    /// The first slope that is too steep for it.
    pub(super) to: Option<Angle>,
    /// What is required.
    pub(super) limit: Limit,
}

impl Roof<'_> {
    /// The rules that speak for the person's sheet; while several coverings may be meant, those for all of them.
    fn rules(&self) -> impl Iterator<Item = &Rule> {
        let covering = covering(self.facts, self.book).map(|covering| covering.id.as_str());
        self.book.rules.rules.iter().filter(move |rule| rule.governs(covering, self.facts))
    }

    /// What the slope bands ask for, the steepest first; what a leaflet asks of one sheet is no band.
    pub(super) fn bands(&self, requirement: Requirement) -> Vec<Band> {
        let mut bands: Vec<Band> = self
            .rules()
            .filter(|rule| rule.sheet.is_none())
            .filter_map(|rule| {
                let (from, to) = pitch_range(rule)?;
                let limit = required(rule, requirement)?;
                Some(Band { from, to, limit })
            })
            .collect();
        bands.sort_by_key(|band| std::cmp::Reverse(band.from));
        bands
    }

    /// The flattest slope that is not refused.
    pub(super) fn least_pitch(&self) -> Option<Angle> {
        let refusing = self.rules().filter(|rule| rule.then.contains(&Effect::Refuse));
        refusing.filter_map(|rule| pitch_range(rule)?.1).max()
    }

    /// A requirement that holds on every slope.
    pub(super) fn required(&self, requirement: Requirement) -> Option<Limit> {
        let decided = self.plan.and_then(|plan| plan.slopes.first()?.requirements.deciding(requirement));
        let everywhere = self.rules().filter(|rule| rule.when.is_empty());
        let mut limits = everywhere.filter_map(|rule| required(rule, requirement));
        decided.map(|contribution| contribution.limit).or_else(|| limits.next())
    }

    /// The same, where it is a length.
    pub(super) fn length(&self, requirement: Requirement) -> Option<Length> {
        as_length(self.required(requirement)?)
    }

    /// The least and the most that a nail may bite into a deck.
    pub(super) fn deck_bite(&self) -> Option<(Length, Length)> {
        self.length(Requirement::NailBiteMin).zip(self.length(Requirement::NailBiteMax))
    }

    /// The least and the most that a nail may bite into a purlin: of the plan's timber, or of the first there is.
    pub(super) fn purlin_bite(&self) -> Option<(Length, Length)> {
        let planned =
            self.plan.and_then(|plan| plan.slopes.iter().find_map(|slope| slope.purlin_timber.as_ref()));
        let timbers = &self.book.catalogue.timbers;
        let timber = planned.and_then(|id| timbers.iter().find(|timber| timber.item.id == *id));
        let depth = timber.or(timbers.first())?.depth;
        let most = depth - self.length(Requirement::NailPointCover)?;
        self.length(Requirement::PurlinNailBite).zip(Some(most))
    }

    /// Whether the sheets are, or will be, nailed into a deck.
    pub(super) fn nails_into_deck(&self) -> bool {
        match self.plan {
            Some(plan) => plan.slopes.iter().all(|slope| slope.purlin_timber.is_none()),
            None => known_deck(self.facts).is_some(),
        }
    }

    /// The least and the most that a nail may bite into what it is driven into.
    pub(super) fn nail_bite(&self) -> Option<(Length, Length)> {
        if self.nails_into_deck() { self.deck_bite() } else { self.purlin_bite() }
    }

    /// The same, where it is a count.
    pub(super) fn count(&self, requirement: Requirement) -> Option<i64> {
        as_count(self.required(requirement)?)
    }

    /// Says something of each slope; where there are two and they differ, with the slope's name before it.
    pub(super) fn each_slope(&self, say: impl Fn(&SlopePlan) -> Vec<Note>) -> Vec<Note> {
        let Some(plan) = self.plan else { return Vec::new() };
        let said: Vec<Vec<Note>> = plan.slopes.iter().map(say).collect();
        match said.as_slice() {
            [front, back] if front != back => {
                let headings = ["answer-slope-front", "answer-slope-back"];
                let named = headings.into_iter().zip([front, back]).filter(|(_, notes)| !notes.is_empty());
                named
                    .flat_map(|(name, notes)| [Note::new(name)].into_iter().chain(notes.iter().cloned()))
                    .collect()
            }
            [first, ..] => first.clone(),
            [] => Vec::new(),
        }
    }
}

/// A requirement of each slope, where it is a length.
pub(super) fn length_of(slope: &SlopePlan, requirement: Requirement) -> Option<Length> {
    as_length(slope.requirements.deciding(requirement)?.limit)
}

/// One line for each band, and one for what lies right on a boundary.
pub(super) fn say_bands(bands: &[Band]) -> Vec<Note> {
    let mut notes: Vec<Note> = bands.iter().filter_map(say_band).collect();
    let boundaries = bands.iter().take(bands.len().saturating_sub(1));
    let cases = boundaries.filter_map(|band| {
        let note = Note::new("answer-band-exactly").with("from", Arg::Angle(band.from?));
        Some(with_value(note, band.limit))
    });
    let cases: Vec<Note> = cases.collect();
    if !cases.is_empty() {
        notes.push(Note::new("answer-band-boundary").with("cases", Arg::Notes(cases)));
    }
    notes
}

fn say_band(band: &Band) -> Option<Note> {
    let from = Arg::Angle(band.from?);
    Some(match (band.to, band.limit) {
        (None, limit) => with_value(Note::new("answer-band-from").with("from", from), limit),
        (Some(to), limit) => {
            let note = Note::new("answer-band-between").with("from", from).with("to", Arg::Angle(to));
            with_value(note, limit)
        }
    })
}

fn with_value(note: Note, limit: Limit) -> Note {
    match limit {
        Limit::Length(length) => note.length("value", length),
        Limit::Count(count) => note.with("value", Arg::Count(count)),
        Limit::Support(_) => note,
    }
}

/// The range of slopes a rule speaks for, where the slope is all it looks at.
pub(super) fn pitch_range(rule: &Rule) -> Option<(Option<Angle>, Option<Angle>)> {
    match rule.when.as_slice() {
        [Condition::Angle { fact: FactKey::Pitch, from, to }] => Some((*from, *to)),
        _ => None,
    }
}

fn required(rule: &Rule, requirement: Requirement) -> Option<Limit> {
    rule.then.iter().find_map(|effect| match effect {
        Effect::Require(what, limit) if *what == requirement => Some(*limit),
        Effect::Require(..)
        | Effect::Check
        | Effect::Advise
        | Effect::Caution(_)
        | Effect::Refuse
        | Effect::Stop(_) => None,
    })
}

pub(super) const fn as_length(limit: Limit) -> Option<Length> {
    match limit {
        Limit::Length(length) => Some(length),
        Limit::Count(_) | Limit::Support(_) => None,
    }
}

pub(super) const fn as_count(limit: Limit) -> Option<i64> {
    match limit {
        Limit::Count(count) => Some(count),
        Limit::Length(_) | Limit::Support(_) => None,
    }
}
