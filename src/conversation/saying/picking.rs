//! Something that can be read in several ways: offering the readings, and hearing which was meant.

use super::asking::{name_of, value_arg};
use super::{Button, Draft};
use crate::conversation::Guide;
use crate::conversation::event::Offer;
use crate::conversation::hearing::answer::units_shown;
use crate::conversation::interview::question_for;
use crate::roofing::note::{Arg, Note};
use crate::roofing::roof::{FactKey, FactKind, FactValue};
use crate::units::UsualUnit;
use crate::units::reading::{Amount, Reading, WrittenUnit};

/// The readings, to be picked from.
pub(in crate::conversation) fn offer(guide: &Guide<'_>, why: Note, offers: &[Offer]) -> Draft {
    let mut draft = Draft::of(why);
    draft.asks = true;
    for (index, offer) in offers.iter().enumerate() {
        if let Some((fact, value)) = offer.answers.last() {
            draft.buttons.push(Button::new(format!("pick-{}", index + 1), label(guide, offer, *fact, value)));
        }
    }
    draft
}

fn label(guide: &Guide<'_>, offer: &Offer, fact: FactKey, value: &FactValue) -> Note {
    if let Some(reading) = offer.unit.and_then(|unit| reading_in(value, unit)) {
        return Note::new("reading-as").with("value", Arg::Reading(reading));
    }
    if let Some(leans) = leans(offer) {
        return Note::new(leans);
    }
    let note = match (value, name_of(guide, fact)) {
        (FactValue::Choice(_) | FactValue::Words(_), _) | (_, None) => Note::new("reading-as"),
        (FactValue::Length(_) | FactValue::Angle(_) | FactValue::Count(_), Some(name)) => {
            Note::new("reading-of").word("fact", name)
        }
    };
    note.with("value", value_arg(guide, fact, value))
}

/// Which way a roof leans whose two diagonals are offered together, as its top edge is seen from the eaves.
fn leans(offer: &Offer) -> Option<&'static str> {
    match offer.answers.as_slice() {
        [(FactKey::DiagonalA, FactValue::Length(a)), (FactKey::DiagonalB, FactValue::Length(b))] => {
            Some(if a.value > b.value { "work-leans-right" } else { "work-leans-left" })
        }
        _ => None,
    }
}

fn reading_in(value: &FactValue, unit: WrittenUnit) -> Option<Reading> {
    let (amount, doubt) = match value {
        FactValue::Length(length) => (Amount::Length(length.value), length.doubt),
        FactValue::Angle(angle) => (Amount::Angle(angle.value), angle.doubt),
        FactValue::Choice(_) | FactValue::Count(_) | FactValue::Words(_) => return None,
    };
    Some(Reading { amount, doubt, unit, assumed: false })
}

/// Which reading a person means: by number, by its unit, or by words that name its fact or choice.
pub(in crate::conversation) fn pick(guide: &Guide<'_>, offers: &[Offer], text: &str) -> Option<Offer> {
    let typed = text.trim().trim_end_matches(['.', '!', '?']).to_lowercase();
    if let Ok(number) = typed.parse::<usize>()
        && number <= offers.len()
    {
        return offers.get(number.checked_sub(1)?).cloned();
    }
    let by_unit: Vec<&Offer> =
        offers.iter().filter(|offer| offer.unit.is_some_and(|unit| names_unit(unit, &typed))).collect();
    if let [one] = by_unit.as_slice() {
        return Some((*one).clone());
    }
    let by_words: Vec<&Offer> = offers.iter().filter(|offer| names_offer(guide, offer, &typed)).collect();
    match by_words.as_slice() {
        [one] => Some((*one).clone()),
        _ => None,
    }
}

/// A message that is nothing but a unit, or a word for one.
fn names_unit(unit: WrittenUnit, typed: &str) -> bool {
    let words: &[&str] = match unit {
        WrittenUnit::Mm => &["mm", "millimetre", "millimetres", "millimeters", "mil", "mils", "milli"],
        WrittenUnit::Cm => &["cm", "cms", "centimetre", "centimetres", "centimeters", "centi"],
        WrittenUnit::M => &["m", "metre", "metres", "meter", "meters", "metric"],
        WrittenUnit::Yd => &["yd", "yard", "yards"],
        WrittenUnit::Ft | WrittenUnit::FtIn => &["ft", "foot", "feet", "imperial"],
        WrittenUnit::In => &["in", "inch", "inches", "imperial"],
        WrittenUnit::Deg => &["°", "deg", "degree", "degrees"],
        WrittenUnit::Ratio => &["in 12", "in twelve", "12", "ratio", "rise"],
        WrittenUnit::Percent => &["%", "percent", "per cent"],
    };
    let bare = typed.trim_start_matches("in ").trim_start_matches("the ").trim();
    words.contains(&typed) || words.contains(&bare)
}

fn names_offer(guide: &Guide<'_>, offer: &Offer, typed: &str) -> bool {
    if let Some(leans) = leans(offer) {
        let right = typed.contains("right");
        return right != typed.contains("left") && right == (leans == "work-leans-right");
    }
    let Some((fact, value)) = offer.answers.last() else { return false };
    let Some(question) = question_for(guide, *fact) else { return false };
    match value {
        FactValue::Choice(id) => question.choices.iter().filter(|choice| choice.id == *id).any(|choice| {
            choice.id.replace('_', " ") == typed || choice.words.iter().any(|words| words.is_match(typed))
        }),
        FactValue::Length(_) | FactValue::Angle(_) | FactValue::Count(_) | FactValue::Words(_) => {
            offer.unit.is_none() && question.mentions.iter().any(|words| words.is_match(typed))
        }
    }
}

/// The units a picked reading shows the person to think in.
pub(in crate::conversation) fn units_of(fact: FactKey, unit: WrittenUnit) -> Option<UsualUnit> {
    match fact.kind() {
        FactKind::Quantity(quantity) => units_shown(quantity, unit),
        FactKind::Choice(_) | FactKind::Count(..) | FactKind::Sheet | FactKind::Words(_) => None,
    }
}
