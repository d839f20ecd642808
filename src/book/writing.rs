//! How single values are written in the book's files, and read.

use rust_decimal::Decimal;

use super::fault::{Faults, Place};
use crate::roofing::roof::FactKey;
use crate::units::{Angle, Currency, Day, Length, Mass, Money};

/// A number of millimetres.
pub(super) fn length(mm: f64, place: Place<'_>, faults: &mut Faults) -> Length {
    Length::from_mm_f64(mm).unwrap_or_else(|| {
        faults.at(place, format!("{mm} is no number of millimetres."));
        Length::ZERO
    })
}

/// A number of degrees.
pub(super) fn angle(deg: f64, place: Place<'_>, faults: &mut Faults) -> Angle {
    Angle::from_deg_f64(deg).unwrap_or_else(|| {
        faults.at(place, format!("{deg} is no number of degrees."));
        Angle::ZERO
    })
}

/// A number of grams, zero or more.
pub(super) fn mass(grams: i64, place: Place<'_>, faults: &mut Faults) -> Mass {
    if grams < 0 {
        faults.at(place, format!("a mass of {grams} g is less than nothing: weigh it again."));
    }
    Mass::from_g(grams)
}

/// A price such as `"14.00"`, zero or more.
pub(super) fn price(text: &str, currency: Currency, place: Place<'_>, faults: &mut Faults) -> Option<Money> {
    let amount = text.parse::<Decimal>().ok().filter(|amount| !amount.is_sign_negative());
    if amount.is_none() {
        faults.at(place, format!("\"{text}\" is no price: write it as \"14.00\", without the currency."));
    }
    Some(Money { amount: amount?, currency })
}

/// Checks a date such as `2026-11-25`.
pub(super) fn date(text: &str, place: Place<'_>, faults: &mut Faults) -> Option<Day> {
    let day = Day::from_text(text);
    if day.is_none() {
        faults.at(place, format!("\"{text}\" is no date: write year, month and day as \"2026-11-25\"."));
    }
    day
}

/// The choices of a fact that are really its own; the others are noted.
pub(super) fn choices_of<'a, 'f>(
    fact: FactKey,
    ids: &[&str],
    written: impl Iterator<Item = (&'a str, Place<'f>)>,
    faults: &mut Faults,
) -> Vec<String> {
    let mut known = Vec::new();
    for (id, place) in written {
        if ids.contains(&id) {
            known.push(id.to_owned());
        } else {
            let what = format!("`{id}` is no choice of `{}`. It may be {}.", fact.key(), ids.join(", "));
            faults.at(place, what);
        }
    }
    known
}

/// The fact of that name; where there is none, that is noted with the one it may have been meant for.
pub(super) fn fact_named(name: &str, place: Place<'_>, faults: &mut Faults) -> Option<FactKey> {
    let fact = FactKey::from_key(name);
    if fact.is_none() {
        let known = FactKey::ALL.iter().map(|fact| fact.key());
        faults.at(place, format!("`{name}` is no fact. {}", meant(name, known)));
    }
    fact
}

/// A guess at what a misspelt word was meant for, or all that it may be.
pub(super) fn meant<'k>(word: &str, known: impl Iterator<Item = &'k str> + Clone) -> String {
    let near = known.clone().map(|known| (strsim::jaro_winkler(word, known), known));
    match near.max_by(|a, b| a.0.total_cmp(&b.0)) {
        Some((likeness, nearest)) if likeness >= 0.8 => format!("Did you mean `{nearest}`?"),
        Some(_) | None => format!("It may be {}.", known.collect::<Vec<_>>().join(", ")),
    }
}
