//! A text read as the measurement or the count of one fact, by `units::reading`.

use super::Given;
use crate::conversation::Guide;
use crate::conversation::event::Offer;
use crate::roofing::note::{Arg, Note};
use crate::roofing::plan::Handbook;
use crate::roofing::roof::{FactKey, FactKind, FactValue};
use crate::roofing::rules::{Condition, Effect, Limit, Requirement};
use crate::units::reading::{
    Amount, Boundary, Context, Reading, Verdict, Why, WhyFigure, WrittenUnit, read, whole_number,
};
use crate::units::{Angle, Length, Measured, Quantity, UsualUnit};

/// What one text says of one fact.
#[derive(Clone, Debug, PartialEq)]
pub enum Reply {
    /// This.
    Value(Given),
    /// Two values of the fact's kind.
    Two(Given, Given),
    /// Something believable, but not clear which.
    Offer {
        /// Why it is not clear.
        why: Note,
        /// The readings.
        options: Vec<Offer>,
    },
    /// A figure was meant, but it will not do, and why.
    Unreadable(Note),
    /// Nothing of this fact.
    Silent,
}

/// Reads a text as a measured or counted fact; silent for what is one of a few.
pub fn measure(guide: &Guide<'_>, usual: Option<UsualUnit>, fact: FactKey, text: &str) -> Reply {
    match fact.kind() {
        FactKind::Quantity(quantity) => read_quantity(guide, usual, fact, quantity, text),
        FactKind::Count(low, high) => read_count(fact, low, high, text),
        FactKind::Choice(_) | FactKind::Sheet | FactKind::Words(_) => Reply::Silent,
    }
}

fn read_quantity(
    guide: &Guide<'_>,
    usual: Option<UsualUnit>,
    fact: FactKey,
    quantity: Quantity,
    text: &str,
) -> Reply {
    let boundaries = boundaries_of(guide.handbook, quantity);
    let context = Context { quantity, usual, boundaries: &boundaries };
    let given = |reading: &Reading| Given {
        fact,
        value: value_of(reading),
        // Nothing is nothing in any unit.
        assumed: reading.assumed && reading.amount != Amount::Length(Length::ZERO),
        written: Some(reading.unit),
        shows: shown_units(quantity, reading),
    };
    match read(text, &context) {
        Verdict::Value(reading) => Reply::Value(given(&reading)),
        Verdict::Values(readings) => match readings.as_slice() {
            [first, second] => Reply::Two(given(first), given(second)),
            _ => Reply::Unreadable(Note::new("reading-too-many")),
        },
        Verdict::Ambiguous { why, readings } => {
            let options = readings
                .iter()
                .map(|reading| Offer { answers: vec![(fact, value_of(reading))], unit: Some(reading.unit) })
                .collect();
            Reply::Offer { why: note_of(&why), options }
        }
        // Where there is no number at all, an example of an answer helps more than a word about numbers.
        Verdict::Reject { why: Why::NoNumber } => Reply::Silent,
        Verdict::Reject { why } => Reply::Unreadable(note_of(&why)),
    }
}

fn value_of(reading: &Reading) -> FactValue {
    match reading.amount {
        Amount::Length(value) => FactValue::Length(Measured { value, doubt: reading.doubt }),
        Amount::Angle(value) => FactValue::Angle(Measured { value, doubt: reading.doubt }),
    }
}

fn shown_units(quantity: Quantity, reading: &Reading) -> Option<UsualUnit> {
    if reading.assumed { None } else { units_shown(quantity, reading.unit) }
}

/// The units a person shows to think in, by measuring something large in this one.
pub fn units_shown(quantity: Quantity, unit: WrittenUnit) -> Option<UsualUnit> {
    if shows_units(quantity) { unit.usual() } else { None }
}

/// Whether a fact is one of the large lengths by which a person shows the units they think in.
const fn shows_units(quantity: Quantity) -> bool {
    match quantity {
        Quantity::Length
        | Quantity::Width
        | Quantity::SlopeLength
        | Quantity::Height
        | Quantity::Rise
        | Quantity::SheetLength
        | Quantity::SheetWidth => true,
        Quantity::DeckThickness
        | Quantity::Spacing
        | Quantity::Overhang
        | Quantity::CorrugationHeight
        | Quantity::TimberSize
        | Quantity::Pitch => false,
    }
}

/// Whether a measurement is believable for a fact.
pub fn fits(guide: &Guide<'_>, fact: FactKey, value: &FactValue) -> bool {
    let known = guide.script.questions.iter().any(|question| question.fact == fact);
    let FactKind::Quantity(quantity) = fact.kind() else { return false };
    let believable = match value {
        FactValue::Length(length) => {
            quantity.length_band().is_some_and(|(low, high)| (low..=high).contains(&length.value))
        }
        FactValue::Angle(angle) => {
            let (low, high) = Quantity::pitch_band();
            quantity == Quantity::Pitch && (low..=high).contains(&angle.value)
        }
        FactValue::Choice(_) | FactValue::Count(_) | FactValue::Words(_) => false,
    };
    known && believable
}

/// Whether a text is a measurement of something, whatever of.
pub fn is_measurement(text: &str) -> bool {
    let of = |quantity| {
        let context = Context { quantity, usual: None, boundaries: &[] };
        match read(text, &context) {
            Verdict::Value(reading) => !reading.assumed,
            Verdict::Values(_) => true,
            Verdict::Ambiguous { .. } | Verdict::Reject { .. } => false,
        }
    };
    let kinds =
        [Quantity::Length, Quantity::Spacing, Quantity::Overhang, Quantity::DeckThickness, Quantity::Pitch];
    kinds.into_iter().any(of)
}

/// The message that says why a figure could not simply be taken.
pub fn note_of(why: &Why) -> Note {
    let figures = why.figures().into_iter().map(|(name, figure)| {
        let arg = match figure {
            WhyFigure::Amount(Amount::Length(length)) => Arg::Length(length),
            WhyFigure::Amount(Amount::Angle(angle)) => Arg::Angle(angle),
            WhyFigure::Rule(rule) => Arg::Text(rule.to_owned()),
        };
        (name, arg)
    });
    figures.fold(Note::new(why.message()), |note, (name, arg)| note.with(name, arg))
}

/// Where the rules change their mind about a kind of measurement: a reading is not guessed across such a place.
pub fn boundaries_of(handbook: &Handbook, quantity: Quantity) -> Vec<Boundary<'_>> {
    let mut found = Vec::new();
    for rule in &handbook.rules.rules {
        let about = |fact: FactKey| fact.kind() == FactKind::Quantity(quantity);
        let edges = rule.when.iter().filter(|condition| about(condition.fact())).flat_map(edges_of);
        let thinnest =
            rule.then.iter().filter(|_| quantity == Quantity::DeckThickness).filter_map(thinnest_deck);
        found.extend(edges.chain(thinnest).map(|amount| Boundary { amount, rule: rule.id.as_str() }));
    }
    found
}

/// Both ends of a band, but for the ends of the world.
fn edges_of(condition: &Condition) -> Vec<Amount> {
    match condition {
        Condition::Angle { from, to, .. } => from
            .iter()
            .chain(to)
            .filter(|angle| **angle > Angle::ZERO)
            .map(|angle| Amount::Angle(*angle))
            .collect(),
        Condition::Length { from, to, .. } => from
            .iter()
            .chain(to)
            .filter(|length| **length > Length::ZERO)
            .map(|length| Amount::Length(*length))
            .collect(),
        Condition::OneOf { .. } | Condition::NoneOf { .. } | Condition::Told { .. } => Vec::new(),
    }
}

fn thinnest_deck(effect: &Effect) -> Option<Amount> {
    match effect {
        Effect::Require(Requirement::MinDeckThickness, Limit::Length(length)) => {
            Some(Amount::Length(*length))
        }
        Effect::Require(..)
        | Effect::Check
        | Effect::Advise
        | Effect::Caution(_)
        | Effect::Refuse
        | Effect::Stop(_) => None,
    }
}

/// The reader of measurements knows number words as well as digits: a count is read as so many millimetres.
fn read_count(fact: FactKey, low: i64, high: i64, text: &str) -> Reply {
    let context = Context { quantity: Quantity::DeckThickness, usual: Some(UsualUnit::Mm), boundaries: &[] };
    let counted = match read(text, &context) {
        // "2 waves" are no 2 cm.
        Verdict::Value(Reading { amount: Amount::Length(length), unit: WrittenUnit::Mm, .. })
            if length.is_whole_mm() =>
        {
            length.round_mm()
        }
        Verdict::Reject { why: Why::NoNumber } => return Reply::Silent,
        Verdict::Value(_) | Verdict::Values(_) | Verdict::Ambiguous { .. } | Verdict::Reject { .. } => {
            i64::MIN
        }
    };
    if (low..=high).contains(&counted) {
        Reply::Value(Given::plain(fact, FactValue::Count(counted)))
    } else {
        Reply::Unreadable(
            Note::new("reading-count-band").with("low", Arg::Count(low)).with("high", Arg::Count(high)),
        )
    }
}

/// A whole number in digits or in words.
pub fn count(text: &str) -> Option<i64> {
    let spaced: String = text.chars().filter(|c| !matches!(c, ' ' | ',')).collect();
    let digits = spaced.parse::<i64>().ok();
    digits.or_else(|| whole_number(text).map(i64::from)).filter(|number| *number <= 100_000)
}

/// A length, whatever of; the likeliest where the unit is left out.
pub fn length(quantity: Quantity, text: &str) -> Option<Length> {
    match read(text, &Context { quantity, usual: Some(UsualUnit::Mm), boundaries: &[] }) {
        Verdict::Value(reading) => length_of(&reading),
        Verdict::Ambiguous { readings, .. } | Verdict::Values(readings) => {
            readings.first().and_then(length_of)
        }
        Verdict::Reject { .. } => None,
    }
}

fn length_of(reading: &Reading) -> Option<Length> {
    match reading.amount {
        Amount::Length(length) => Some(length),
        Amount::Angle(_) => None,
    }
}
