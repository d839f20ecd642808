//! When a rule speaks: `when = [{ fact = "pitch", from_deg = 10, to_deg = 15 }]`.

use serde::Deserialize;
use toml::Spanned;

use super::RuleEntry;
use crate::book::document::Entry;
use crate::book::fault::{Faults, Place};
use crate::book::writing::{angle, choices_of, fact_named, length};
use crate::roofing::roof::{FactKey, FactKind};
use crate::roofing::rules::Condition;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ConditionEntry {
    fact: Spanned<String>,
    from_deg: Option<f64>,
    to_deg: Option<f64>,
    from_mm: Option<f64>,
    to_mm: Option<f64>,
    is: Option<Spanned<Vec<Spanned<String>>>>,
    is_not: Option<Spanned<Vec<Spanned<String>>>>,
    told: Option<bool>,
}

/// Reads one condition; `None`, with the fault noted, where it makes no sense.
pub(super) fn read(
    entry: &Entry<'_, RuleEntry>,
    part: &Spanned<ConditionEntry>,
    faults: &mut Faults,
) -> Option<Condition> {
    let written = part.get_ref();
    let place = entry.at(part);
    let name = written.fact.get_ref();
    let fact = fact_named(name, entry.at(&written.fact), faults)?;
    let in_deg = written.from_deg.is_some() || written.to_deg.is_some();
    let in_mm = written.from_mm.is_some() || written.to_mm.is_some();
    let in_words = written.is.is_some() || written.is_not.is_some() || written.told.is_some();
    match fact.kind() {
        FactKind::Quantity(quantity) if quantity.length_band().is_none() && in_deg && !in_mm && !in_words => {
            let mut end = |end: Option<f64>| end.map(|deg| angle(deg, place, faults));
            let (from, to) = (end(written.from_deg), end(written.to_deg));
            ordered(from, to, place, faults);
            Some(Condition::Angle { fact, from, to })
        }
        FactKind::Quantity(quantity) if quantity.length_band().is_some() && in_mm && !in_deg && !in_words => {
            let mut end = |end: Option<f64>| end.map(|mm| length(mm, place, faults));
            let (from, to) = (end(written.from_mm), end(written.to_mm));
            ordered(from, to, place, faults);
            Some(Condition::Length { fact, from, to })
        }
        FactKind::Words(_) if written.told.is_some() && written.is.is_none() && written.is_not.is_none() => {
            written.told.map(|known| Condition::Told { fact, known })
        }
        FactKind::Choice(ids) if in_words && written.told.is_none() && !in_deg && !in_mm => {
            if let (Some(_), Some(list)) = (&written.is, &written.is_not) {
                faults.at(entry.at(list), "write either `is` or `is_not`, not both.");
            }
            let is_not = written.is_not.as_ref().map(|list| (list, false));
            let (list, is) = written.is.as_ref().map(|list| (list, true)).or(is_not)?;
            let places = list.get_ref().iter().map(|id| (id.get_ref().as_str(), entry.at(id)));
            let any = choices_of(fact, ids, places, faults);
            Some(if is { Condition::OneOf { fact, any } } else { Condition::NoneOf { fact, any } })
        }
        FactKind::Quantity(_)
        | FactKind::Choice(_)
        | FactKind::Count(..)
        | FactKind::Sheet
        | FactKind::Words(_) => {
            faults.at(place, format!("`{name}` {}.", how_to_ask(fact)));
            None
        }
    }
}

/// How a rule may ask for a fact.
fn how_to_ask(fact: FactKey) -> String {
    match fact.kind() {
        FactKind::Quantity(quantity) if quantity.length_band().is_none() => {
            "is an angle: say `from_deg`, `to_deg` or both".to_owned()
        }
        FactKind::Quantity(_) => "is a length: say `from_mm`, `to_mm` or both".to_owned(),
        FactKind::Choice(ids) => {
            format!("is a choice: say `is = [\"…\"]` or `is_not = [\"…\"]` with {}", ids.join(", "))
        }
        FactKind::Words(_) => "is told in words: say `told = true` or `told = false`".to_owned(),
        FactKind::Count(..) | FactKind::Sheet => "cannot decide a rule".to_owned(),
    }
}

fn ordered<T: PartialOrd>(from: Option<T>, to: Option<T>, place: Place<'_>, faults: &mut Faults) {
    if let (Some(from), Some(to)) = (from, to)
        && from >= to
    {
        faults.at(place, "this band is empty: what it runs from must be less than what it runs to.");
    }
}
