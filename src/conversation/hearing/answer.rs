//! One text read as the answer to one question.

use std::sync::LazyLock;

use regex::Regex;

use crate::conversation::Guide;
use crate::conversation::event::Offer;
use crate::conversation::hearing::{Heard, shows_units};
use crate::conversation::script::Question;
use crate::conversation::session::Session;
use crate::roofing::note::{Arg, Note};
use crate::roofing::roof::{FactKey, FactKind, FactValue};
use crate::roofing::rules::{Condition, Effect, Limit, Requirement};
use crate::units::reading::{Amount, Boundary, Context, Reading, Verdict, WrittenUnit, read};
use crate::units::{Angle, Length, Measured, Quantity, UsualUnit};

/// What one text says to one question.
#[derive(Clone, Debug, PartialEq)]
pub enum Reply {
    /// This.
    Value(Heard),
    /// Two values of the question's kind.
    Two(Heard, Heard),
    /// Something believable, but not clear which.
    Offer {
        /// Why it is not clear.
        why: Note,
        /// The readings.
        options: Vec<Offer>,
    },
    /// A figure was meant, but it will not do, and why.
    Unreadable(Note),
    /// Nothing to this question.
    Silent,
}

/// Reads a text as the answer to a question.
pub fn read_answer(guide: &Guide<'_>, session: &Session, question: &Question, text: &str) -> Reply {
    match question.fact.kind() {
        FactKind::Quantity(quantity) => read_quantity(guide, session, question.fact, quantity, text),
        FactKind::Choice(_) => read_choice(question, text),
        FactKind::Count(low, high) => read_count(question.fact, low, high, text),
        FactKind::Sheet => read_sheet(guide, question.fact, text),
    }
}

fn read_quantity(
    guide: &Guide<'_>,
    session: &Session,
    fact: FactKey,
    quantity: Quantity,
    text: &str,
) -> Reply {
    let boundaries = boundaries(guide, fact);
    let context = Context { quantity, usual: session.usual(), boundaries: &boundaries };
    let heard = |reading: &Reading| Heard {
        fact,
        value: value_of(reading),
        assumed: reading.assumed,
        shows: shown_units(quantity, reading),
    };
    match read(text, &context) {
        Verdict::Value(reading) => Reply::Value(heard(&reading)),
        Verdict::Values(readings) => match readings.as_slice() {
            [first, second] => Reply::Two(heard(first), heard(second)),
            _ => Reply::Unreadable(Note::new("reading-too-many")),
        },
        Verdict::Ambiguous { why, readings } => {
            let options = readings
                .iter()
                .map(|reading| Offer {
                    answers: vec![(fact, value_of(reading))],
                    unit: Some(reading.unit.symbol().to_owned()),
                })
                .collect();
            Reply::Offer { why: why.note(), options }
        }
        Verdict::Reject { why } => Reply::Unreadable(why.note()),
    }
}

fn value_of(reading: &Reading) -> FactValue {
    match reading.amount {
        Amount::Length(value) => FactValue::Length(Measured { value, doubt: reading.doubt }),
        Amount::Angle(value) => FactValue::Angle(Measured { value, doubt: reading.doubt }),
    }
}

fn shown_units(quantity: Quantity, reading: &Reading) -> Option<UsualUnit> {
    if reading.assumed || !shows_units(quantity) {
        return None;
    }
    match reading.unit {
        WrittenUnit::Mm => Some(UsualUnit::Mm),
        WrittenUnit::Cm | WrittenUnit::M => Some(UsualUnit::M),
        WrittenUnit::Ft | WrittenUnit::In | WrittenUnit::FtIn => Some(UsualUnit::FtIn),
        _ => None,
    }
}

/// Where the rules change their mind about a fact: a reading must not be guessed across such a place.
fn boundaries<'a>(guide: &Guide<'a>, fact: FactKey) -> Vec<Boundary<'a>> {
    let mut found = Vec::new();
    for rule in &guide.handbook.rules.rules {
        for condition in rule.when.iter().filter(|condition| condition.fact() == fact) {
            let edges: Vec<Amount> = match condition {
                Condition::Angle { from, to, .. } => {
                    from.iter().chain(to).copied().filter(|angle| *angle > Angle::ZERO).map(Amount::Angle).collect()
                }
                Condition::Length { from, to, .. } => {
                    from.iter().chain(to).copied().filter(|length| *length > Length::ZERO).map(Amount::Length).collect()
                }
                Condition::OneOf { .. } | Condition::NoneOf { .. } => Vec::new(),
            };
            found.extend(edges.into_iter().map(|amount| Boundary { amount, rule: rule.id.as_str() }));
        }
        if fact == FactKey::DeckThickness {
            found.extend(rule.then.iter().filter_map(|effect| match effect {
                Effect::Require(Requirement::MinDeckThickness, Limit::Length(length)) => {
                    Some(Boundary { amount: Amount::Length(*length), rule: rule.id.as_str() })
                }
                Effect::Require(..)
                | Effect::Advise
                | Effect::Caution(_)
                | Effect::Refuse
                | Effect::Stop(_) => None,
            }));
        }
    }
    found
}

/// The whole message is a choice's id, or one choice's words and no other's match it.
fn read_choice(question: &Question, text: &str) -> Reply {
    let text = text.trim();
    let plain = text.trim_end_matches(['.', '!']).to_lowercase();
    let exact = question.choices.iter().find(|choice| choice.id == plain || choice.id.replace('_', " ") == plain);
    let matching: Vec<&str> = match exact {
        Some(choice) => vec![choice.id.as_str()],
        None => question
            .choices
            .iter()
            .filter(|choice| choice.words.iter().any(|words| words.is_match(text)))
            .map(|choice| choice.id.as_str())
            .collect(),
    };
    match matching.as_slice() {
        [] => Reply::Silent,
        [id] => Reply::Value(chosen(question.fact, id)),
        several => Reply::Offer {
            why: Note::new("offer-which-choice"),
            options: several
                .iter()
                .map(|id| Offer { answers: vec![(question.fact, FactValue::Choice((*id).to_owned()))], unit: None })
                .collect(),
        },
    }
}

fn chosen(fact: FactKey, id: &str) -> Heard {
    Heard { fact, value: FactValue::Choice(id.to_owned()), assumed: false, shows: None }
}

static WHOLE_NUMBER: LazyLock<Option<Regex>> = LazyLock::new(|| Regex::new(r"\d+").ok());

fn read_count(fact: FactKey, low: i64, high: i64, text: &str) -> Reply {
    let words = crate::units::reading::whole_number_words(text);
    let digits = WHOLE_NUMBER.as_ref().map_or_else(Vec::new, |number| {
        number.find_iter(text).filter_map(|hit| hit.as_str().parse::<i64>().ok()).collect()
    });
    match (digits.as_slice(), words) {
        ([count], _) | ([], Some(count)) if (low..=high).contains(&count) => {
            Reply::Value(Heard { fact, value: FactValue::Count(count), assumed: false, shows: None })
        }
        ([], None) => Reply::Silent,
        _ => Reply::Unreadable(
            Note::new("reading-count-band").with("low", Arg::Count(low)).with("high", Arg::Count(high)),
        ),
    }
}

static OWN_SHEET: LazyLock<Option<Regex>> =
    LazyLock::new(|| Regex::new(r"(?i)\b(own|label|other|another|different|my sheets?|bought|got some|have some)\b").ok());
static FIRST_SHEET: LazyLock<Option<Regex>> =
    LazyLock::new(|| Regex::new(r"(?i)\b(demo|yours?|standard|any|first|that one|whatever|default)\b|^(yes|ok|okay)\b").ok());

fn read_sheet(guide: &Guide<'_>, fact: FactKey, text: &str) -> Reply {
    let typed = text.trim().to_lowercase();
    let sheets = &guide.handbook.catalogue.sheets;
    if let Some(sheet) =
        sheets.iter().find(|sheet| sheet.item.id == typed || sheet.item.name.to_lowercase() == typed)
    {
        return Reply::Value(chosen(fact, &sheet.item.id));
    }
    if OWN_SHEET.as_ref().is_some_and(|own| own.is_match(&typed)) {
        return Reply::Value(chosen(fact, "label"));
    }
    match sheets.first() {
        Some(sheet) if FIRST_SHEET.as_ref().is_some_and(|first| first.is_match(&typed)) => {
            Reply::Value(chosen(fact, &sheet.item.id))
        }
        _ => Reply::Silent,
    }
}
