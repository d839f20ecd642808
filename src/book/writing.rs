//! How single values are written in the book's files, and read.

use rust_decimal::Decimal;

use super::fault::{Faults, Place};
use crate::roofing::roof::FactKey;
use crate::units::{Angle, Currency, Length, Mass, Money};

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
pub(super) fn date(text: &str, place: Place<'_>, faults: &mut Faults) {
    if !is_date(text) {
        faults.at(place, format!("\"{text}\" is no date: write year, month and day as \"2026-11-25\"."));
    }
}

fn is_date(text: &str) -> bool {
    let parts: Vec<&str> = text.split('-').collect();
    let [year, month, day] = parts.as_slice() else { return false };
    let number = |part: &str, digits: usize| {
        let plain = part.len() == digits && part.bytes().all(|byte| byte.is_ascii_digit());
        if plain { part.parse::<u32>().ok() } else { None }
    };
    let (Some(year), Some(month), Some(day)) = (number(year, 4), number(month, 2), number(day, 2)) else {
        return false;
    };
    let leap = year.is_multiple_of(4) && !year.is_multiple_of(100) || year.is_multiple_of(400);
    let days = match month {
        1 | 3 | 5 | 7 | 8 | 10 | 12 => 31,
        4 | 6 | 9 | 11 => 30,
        2 if leap => 29,
        2 => 28,
        _ => return false,
    };
    (1..=days).contains(&day)
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

#[cfg(test)]
mod tests {
    use super::is_date;

    #[test]
    fn dates_are_real_days_written_in_full() {
        for good in ["2026-11-25", "2024-02-29", "2000-02-29", "2026-12-31"] {
            assert!(is_date(good), "{good}");
        }
        for bad in
            ["2026-13-01", "2026-02-29", "1900-02-29", "2026-4-5", "26-11-25", "25.11.2026", "2026-00-10", ""]
        {
            assert!(!is_date(bad), "{bad}");
        }
    }
}
