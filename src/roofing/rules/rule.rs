//! A rule as the adviser writes it, read and checked.

use super::{Based, Basis, Figure, Limit, Pace, Practice, Requirement, StepKind, Weather};
use crate::roofing::facts::{FactKey, FactValue, Facts};
use crate::roofing::note::{Arg, Note};
use crate::units::{Angle, Day, Length};

/// A document that rules and figures are taken from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Source {
    /// The id rules refer to.
    pub id: String,
    /// What it is, as the adviser words it.
    pub title: String,
    /// Its edition or date, where it has one.
    pub edition: Option<String>,
}

/// When a rule speaks. Every condition of a rule must hold.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Condition {
    /// An angle lies in `from` (included) up to `to` (not included); `None` is open.
    Angle {
        /// The fact looked at.
        fact: FactKey,
        /// The lowest angle that counts.
        from: Option<Angle>,
        /// The first angle that no longer counts.
        to: Option<Angle>,
    },
    /// A length lies in `from` (included) up to `to` (not included); `None` is open.
    Length {
        /// The fact looked at.
        fact: FactKey,
        /// The lowest length that counts.
        from: Option<Length>,
        /// The first length that no longer counts.
        to: Option<Length>,
    },
    /// A choice is one of these.
    OneOf {
        /// The fact looked at.
        fact: FactKey,
        /// The ids that count.
        any: Vec<String>,
    },
    /// A choice is none of these, or is not known yet: what nobody has said cannot lift a rule.
    NoneOf {
        /// The fact looked at.
        fact: FactKey,
        /// The ids that lift it.
        any: Vec<String>,
    },
    /// The person's own words about it are known, or are not.
    Told {
        /// The fact looked at.
        fact: FactKey,
        /// Whether they are to be known.
        known: bool,
    },
}

/// To whom a person is handed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Handover {
    /// The emergency services.
    Emergency,
    /// A licensed or certified professional.
    LicensedPro,
    /// The adviser who runs the bot.
    Adviser,
}

/// When a caution is said.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Phase {
    /// With the plan.
    Plan,
    /// Before the order of work, and with the plan.
    Work,
}

/// What a rule does.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Effect {
    /// Tightens a requirement.
    Require(Requirement, Limit),
    /// Advises something.
    Advise,
    /// Cautions.
    Caution(Phase),
    /// Says what a check of strength asks for, with the figure that the check finds.
    Check,
    /// Refuses the plan and says what would do.
    Refuse,
    /// Stops the plan until a competent person has cleared it.
    Stop(Handover),
}

/// Where a caution that rests on what the person told is said once more: in the review, and at these steps.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Again {
    /// The kinds of step that it touches.
    pub steps: Vec<StepKind>,
    /// The message that says it there, shorter.
    pub message: String,
}

/// One rule.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Rule {
    /// Names what it is about, `slope-10-to-15`.
    pub id: String,
    /// The covering it is for; `None` is every covering.
    pub covering: Option<String>,
    /// The sheet whose own leaflet it is from, by id: it speaks for that sheet alone, and only ever asks for more.
    pub sheet: Option<String>,
    /// When it speaks.
    pub when: Vec<Condition>,
    /// What it does.
    pub then: Vec<Effect>,
    /// The message that explains it, in `dialogs/words/`.
    pub message: String,
    /// Where else a caution is said, and in which shorter words.
    pub again: Option<Again>,
    /// Where it is from.
    pub source: String,
    /// The day its values were entered, `2026-11-25`.
    pub since: Day,
}

/// What each kind of doubt is worth.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DoubtBand {
    /// Of an angle.
    pub angle: Angle,
    /// Of a length, per thousand.
    pub length_per_mille: i64,
    /// The rule that says so.
    pub source: String,
}

/// All rules and what they cite.
#[derive(Clone, Debug, PartialEq)]
pub struct RuleBook {
    /// Every rule, in file order.
    pub rules: Vec<Rule>,
    /// Every source, in file order.
    pub sources: Vec<Source>,
    /// What "about", "just under" and "just over" are worth.
    pub about: DoubtBand,
    /// What a phone's inclinometer is worth.
    pub by_phone: DoubtBand,
    /// How far two ways of measuring one thing may differ before they contradict each other.
    pub agree: DoubtBand,
    /// How long each kind of step takes, and what to mind in it.
    pub paces: Vec<Pace>,
    /// Figures of good practice, one of each kind.
    pub practices: Vec<Practice>,
    /// What the checks of strength go by, one of each kind; empty in a book without checks.
    pub bases: Vec<Based>,
    /// The weather of each region.
    pub regions: Vec<Weather>,
}

impl Condition {
    fn range(&self) -> Option<(Option<Arg>, Option<Arg>)> {
        match self {
            Self::Angle { from, to, .. } => Some((from.map(Arg::Angle), to.map(Arg::Angle))),
            Self::Length { from, to, .. } => Some((from.map(Arg::Length), to.map(Arg::Length))),
            Self::OneOf { .. } | Self::NoneOf { .. } | Self::Told { .. } => None,
        }
    }

    /// The fact a condition looks at.
    pub const fn fact(&self) -> FactKey {
        match self {
            Self::Angle { fact, .. }
            | Self::Length { fact, .. }
            | Self::OneOf { fact, .. }
            | Self::NoneOf { fact, .. }
            | Self::Told { fact, .. } => *fact,
        }
    }
}

impl Rule {
    /// What the rule says, filled with its own figures, so that a changed figure changes the sentence.
    ///
    /// Each requirement it sets goes by [`Requirement::name`], the ends of its first range by `from` and `to`,
    /// and each measured fact it looks at, and each told in the person's own words, where known, by [`FactKey::key`].
    pub fn note(&self, facts: &Facts) -> Note {
        self.fill(&self.message, facts)
    }

    /// What a caution says at the steps that it touches, filled in the same way.
    pub fn note_again(&self, facts: &Facts) -> Option<Note> {
        self.again.as_ref().map(|again| self.fill(&again.message, facts))
    }

    fn fill(&self, message: &str, facts: &Facts) -> Note {
        let own = self.own_figures().fold(Note::new(message), |note, (name, figure)| note.with(name, figure));
        self.when.iter().map(Condition::fact).fold(own, |note, fact| match facts.get(fact) {
            Some(FactValue::Length(length)) if fact.is_of_goods() => note.size(fact.key(), length.value),
            Some(FactValue::Length(length)) => note.length(fact.key(), length.value),
            Some(FactValue::Angle(angle)) => note.with(fact.key(), Arg::Angle(angle.value)),
            Some(FactValue::Count(count)) => note.with(fact.key(), Arg::Count(*count)),
            Some(FactValue::Words(words)) => note.text(fact.key(), words.as_str()),
            Some(FactValue::Choice(_)) | None => note,
        })
    }

    /// Whether it is for this covering and the sheet that was chosen.
    pub fn governs(&self, covering: Option<&str>, facts: &Facts) -> bool {
        let of_covering = self.covering.is_none() || self.covering.as_deref() == covering;
        of_covering && (self.sheet.is_none() || self.sheet.as_deref() == facts.choice(FactKey::Sheet))
    }

    /// The answer by which alone the rule stops the plan, where there is one.
    pub fn stopping_answer(&self) -> Option<(FactKey, FactValue)> {
        let stops = self.then.iter().any(|effect| matches!(effect, Effect::Stop(_)));
        match self.when.as_slice() {
            [Condition::OneOf { fact, any }] if stops => {
                Some((*fact, FactValue::Choice(any.first()?.clone())))
            }
            _ => None,
        }
    }

    /// The names of the figures that [`Rule::note`] always has.
    pub fn figures(&self) -> Vec<&'static str> {
        let is_told = |condition: &&Condition| matches!(condition, Condition::Told { known: true, .. });
        let given = self.when.iter().filter(|condition| condition.range().is_some() || is_told(condition));
        let facts = given.map(|condition| condition.fact().key());
        let found = self.then.contains(&Effect::Check).then_some("limit");
        self.own_figures().map(|(name, _)| name).chain(facts).chain(found).collect()
    }

    fn own_figures(&self) -> impl Iterator<Item = (&'static str, Arg)> {
        let range = self.when.iter().find_map(Condition::range);
        let (from, to) = range.unwrap_or((None, None));
        let ends = from.map(|from| ("from", from)).into_iter().chain(to.map(|to| ("to", to)));
        ends.chain(self.then.iter().filter_map(|effect| match effect {
            Effect::Require(requirement, Limit::Length(length)) => Some((
                requirement.name(),
                if requirement.is_of_goods() { Arg::Size(*length) } else { Arg::Length(*length) },
            )),
            Effect::Require(requirement, Limit::Count(count)) => {
                Some((requirement.name(), Arg::Count(*count)))
            }
            // What a check finds is filled in where it is said.
            Effect::Require(_, Limit::Support(_))
            | Effect::Check
            | Effect::Advise
            | Effect::Caution(_)
            | Effect::Refuse
            | Effect::Stop(_) => None,
        }))
    }
}

impl RuleBook {
    /// A figure of good practice.
    pub fn practice(&self, figure: Figure) -> Option<&Practice> {
        self.practices.iter().find(|practice| practice.figure == figure)
    }

    /// A figure that the checks go by.
    pub fn basis(&self, basis: Basis) -> Option<f64> {
        self.bases.iter().find(|based| based.basis == basis).map(|based| based.value)
    }

    /// The weather of a region, by its id.
    pub fn weather(&self, region: &str) -> Option<&Weather> {
        self.regions.iter().find(|weather| weather.region == region)
    }

    /// The rule of that id.
    pub fn rule(&self, id: &str) -> Option<&Rule> {
        self.rules.iter().find(|rule| rule.id == id)
    }

    /// The source of that id.
    pub fn source(&self, id: &str) -> Option<&Source> {
        self.sources.iter().find(|source| source.id == id)
    }
}
