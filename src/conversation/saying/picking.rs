//! Something that can be read in several ways: offering the readings, and hearing which was meant.

use super::asking::{name_of, value_arg};
use super::{Button, Draft};
use crate::conversation::Guide;
use crate::conversation::ears::Message;
use crate::conversation::ears::lexicon::{Aspect, Means, Tag};
use crate::conversation::ears::readings::units_shown;
use crate::conversation::event::Offer;
use crate::conversation::interview::question_for;
use crate::roofing::note::{Arg, Note};
use crate::roofing::roof::{FactKey, FactKind, FactValue};
use crate::units::UsualUnit;
use crate::units::reading::{Amount, Part, Reading, WrittenUnit, part_of};

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
    let message = guide.ears.hear(&typed);
    let by_unit: Vec<&Offer> =
        offers.iter().filter(|offer| offer.unit.is_some_and(|unit| names_unit(&message, unit))).collect();
    if let [one] = by_unit.as_slice() {
        return Some((*one).clone());
    }
    let by_words: Vec<&Offer> = offers.iter().filter(|offer| names_offer(guide, &message, offer)).collect();
    match by_words.as_slice() {
        [one] if offers.len() > 1 => Some((*one).clone()),
        _ => None,
    }
}

/// A message that is nothing but a unit, or a word for one.
fn names_unit(message: &Message<'_>, unit: WrittenUnit) -> bool {
    let says = |tag: Tag| {
        message.hits.iter().any(|hit| hit.is(tag) && hit.start == 0 && hit.end == message.tokens.len())
    };
    let alike =
        |named: WrittenUnit| named == unit || matches!((named, unit), (WrittenUnit::Ft, WrittenUnit::FtIn));
    let bare: Vec<&str> = message
        .tokens
        .iter()
        .map(|token| token.word.as_str())
        .filter(|word| word.len() > 3 || part_of(word).is_some() || sign_of(word).is_some())
        .collect();
    let by_name = match bare.as_slice() {
        [only] => {
            matches!(part_of(only), Some(Part::Unit(named)) if alike(named)) || sign_of(only) == Some(unit)
        }
        _ => false,
    };
    let imperial =
        says(Tag::Imperial) && matches!(unit, WrittenUnit::Ft | WrittenUnit::FtIn | WrittenUnit::In);
    let metric = says(Tag::Metric) && unit == WrittenUnit::M;
    by_name || imperial || metric || (says(Tag::Ratio) && unit == WrittenUnit::Ratio)
}

fn sign_of(word: &str) -> Option<WrittenUnit> {
    match word {
        "°" => Some(WrittenUnit::Deg),
        "%" => Some(WrittenUnit::Percent),
        _ => None,
    }
}

fn names_offer(guide: &Guide<'_>, message: &Message<'_>, offer: &Offer) -> bool {
    if let Some(leans) = leans(offer) {
        let right = message.has(Tag::RightHand);
        return right != message.has(Tag::LeftHand) && right == (leans == "work-leans-right");
    }
    let Some((fact, value)) = offer.answers.last() else { return false };
    let Some(question) = question_for(guide, *fact) else { return false };
    match value {
        FactValue::Choice(id) => {
            let typed = message.text;
            // A safe answer is picked by its number or its label alone: words that only sound like it are heard as ever.
            let guarded = fact.is_safety() && guide.ears.lexicon().is_guarded(*fact, id);
            let named = || {
                message.hits.iter().any(|hit| {
                    matches!(hit.means, Means::Choice(of, choice, Aspect::Asked | Aspect::Tells) if of == fact && choice == id)
                }) && !message.clauses.iter().any(|clause| !clause.is_plain())
            };
            let label = || {
                let label = Note::new(question.choice_message(id));
                guide.words.say(guide.language, &label, UsualUnit::M).to_lowercase() == typed
            };
            id.replace('_', " ") == typed || label() || (!guarded && named()) || question.id == typed
        }
        FactValue::Length(_) | FactValue::Angle(_) | FactValue::Count(_) | FactValue::Words(_) => {
            offer.unit.is_none()
                && message.figures.is_empty()
                && message.hits.iter().any(|hit| matches!(hit.means, Means::Names(of, _) if of == fact))
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
