//! Saying quantities back, in the person's own units and to a precision that a tape can show.
//!
//! Numbers and unit symbols only: sentences stand in `dialogs/words/`. What is said here is read back as
//! the same size (`tests/reading_properties.rs`).

use rust_decimal::Decimal;

use super::num::round_i64;
use super::reading::{Amount, Reading, WrittenUnit};
use super::{Angle, Area, Length, Mass, Money, UsualUnit};

/// Sixteenths of an inch in a foot.
const SIXTEENTHS_IN_FOOT: i64 = 12 * 16;

/// A length as a tape shows it: `2 400 mm`, `2.4 m` (`610 mm` below a metre), `8 ft 6½ in`.
///
/// # Units
/// To the millimetre, half a millimetre below 100 mm; in feet and inches to the sixteenth of an inch.
pub fn say_length(length: Length, usual: UsualUnit) -> String {
    match usual {
        UsualUnit::M if length.abs().round_mm() >= 1_000 => {
            format!("{} m", decimal(length.round_mm(), 3))
        }
        UsualUnit::Mm | UsualUnit::M => say_millimetres(length),
        UsualUnit::FtIn => say_feet_and_inches(length),
    }
}

/// The length that [`say_length`] names: what is left of it on a tape.
pub fn on_a_tape(length: Length, usual: UsualUnit) -> Length {
    match usual {
        UsualUnit::Mm | UsualUnit::M if length.abs() < Length::from_mm(100) => {
            Length::from_um(half_millimetres(length).saturating_mul(500))
        }
        UsualUnit::Mm | UsualUnit::M => Length::from_mm(length.round_mm()),
        // A sixteenth is 1 587.5 µm: doubled to stay whole, then the nearest micrometre.
        UsualUnit::FtIn => Length::from_um((sixteenths(length).saturating_mul(3_175) + 1).div_euclid(2)),
    }
}

/// An amount in the person's units.
pub fn say_amount(amount: Amount, usual: UsualUnit) -> String {
    match amount {
        Amount::Length(length) => say_length(length, usual),
        Amount::Angle(angle) => say_angle(angle),
    }
}

/// A reading in the unit it was written in, or taken to be in: what a person recognises as their own figure.
pub fn say_reading(reading: &Reading) -> String {
    match (reading.amount, reading.unit) {
        (Amount::Length(length), unit) => say_in(length, unit),
        (Amount::Angle(angle), WrittenUnit::Ratio) => say_ratio(angle),
        (Amount::Angle(angle), WrittenUnit::Percent) => {
            format!("{}%", tenths(angle.tan() * 100.0))
        }
        (Amount::Angle(angle), _) => say_angle(angle),
    }
}

fn say_in(length: Length, unit: WrittenUnit) -> String {
    match unit {
        WrittenUnit::Cm => format!("{} cm", decimal((length.um() + 50).div_euclid(100), 2)),
        WrittenUnit::M => format!("{} m", decimal(length.round_mm(), 3)),
        WrittenUnit::Yd | WrittenUnit::Ft | WrittenUnit::FtIn => say_feet_and_inches(length),
        WrittenUnit::In => say_inches(sixteenths(length)),
        WrittenUnit::Mm | WrittenUnit::Deg | WrittenUnit::Ratio | WrittenUnit::Percent => {
            say_millimetres(length)
        }
    }
}

/// An angle to a tenth of a degree: `22°`, `22.5°`. Where that would pass for a whole degree which it is not,
/// to a hundredth: `14.04°`.
pub fn say_angle(angle: Angle) -> String {
    let microdeg = angle.microdeg();
    let tenth = (microdeg + 50_000).div_euclid(100_000);
    let passes_for_whole = tenth % 10 == 0 && microdeg % 1_000_000 != 0;
    if passes_for_whole {
        let hundredth = (microdeg + 5_000).div_euclid(10_000);
        return format!("{}°", decimal(hundredth, 2));
    }
    format!("{}°", decimal(tenth, 1))
}

/// A slope as `1 in 4`, or so many `in 12` where that is the rounder.
pub fn say_ratio(angle: Angle) -> String {
    let tan = angle.tan();
    let is_whole = |value: f64| (value - libm::round(value)).abs() < 0.000_1;
    if tan <= 0.0 {
        return say_angle(angle);
    }
    let (one_in, in_twelve) = (1.0 / tan, tan * 12.0);
    if is_whole(in_twelve) && !is_whole(one_in) {
        return format!("{} in 12", tenths(in_twelve));
    }
    format!("1 in {}", tenths(one_in))
}

/// An area: `4.32 m²`, or `46.5 ft²` for people of feet and inches.
pub fn say_area(area: Area, usual: UsualUnit) -> String {
    match usual {
        UsualUnit::Mm | UsualUnit::M => {
            let hundredths = i64::try_from(area.centi_m2()).unwrap_or(i64::MAX);
            format!("{} m²", decimal(hundredths, 2))
        }
        UsualUnit::FtIn => {
            // A square foot is 304 800² µm²; a tenth of it is a whole number.
            let tenth = 9_290_304_000_i128;
            let tenths = (area.um2() + tenth / 2).div_euclid(tenth);
            format!("{} ft²", decimal(i64::try_from(tenths).unwrap_or(i64::MAX), 1))
        }
    }
}

/// A mass: `850 g`, `12.5 kg`.
pub fn say_mass(mass: Mass) -> String {
    let grams = mass.g();
    if grams.abs() < 1_000 {
        return format!("{grams} g");
    }
    format!("{} kg", decimal((grams + 50).div_euclid(100), 1))
}

/// Money with its sign or code: `£1,250.00`, `SEK 1,250.00`.
pub fn say_money(money: Money) -> String {
    let rounded =
        money.amount.round_dp_with_strategy(2, rust_decimal::RoundingStrategy::MidpointAwayFromZero);
    let minus = if rounded < Decimal::ZERO { "-" } else { "" };
    let text = format!("{:.2}", rounded.abs());
    let (whole, pence) = text.split_once('.').unwrap_or((&text, "00"));
    let sign = match money.currency.code() {
        "GBP" => "£".to_owned(),
        "EUR" => "€".to_owned(),
        "USD" => "$".to_owned(),
        code => format!("{code} "),
    };
    format!("{minus}{sign}{}.{pence}", grouped(whole, ','))
}

/// A number of things: `48`, `1,250`.
pub fn say_count(count: i64) -> String {
    let minus = if count < 0 { "-" } else { "" };
    format!("{minus}{}", grouped(&count.unsigned_abs().to_string(), ','))
}

fn say_millimetres(length: Length) -> String {
    if length.abs() < Length::from_mm(100) {
        let halves = half_millimetres(length);
        return format!("{} mm", decimal(halves.saturating_mul(5), 1));
    }
    let mm = length.round_mm();
    let minus = if mm < 0 { "-" } else { "" };
    format!("{minus}{} mm", grouped(&mm.unsigned_abs().to_string(), ' '))
}

const fn half_millimetres(length: Length) -> i64 {
    (length.um() + 250).div_euclid(500)
}

/// The nearest sixteenth of an inch: 15 875 tenths of a micrometre.
const fn sixteenths(length: Length) -> i64 {
    (length.um().saturating_mul(20) + 15_875).div_euclid(31_750)
}

fn say_feet_and_inches(length: Length) -> String {
    let all = sixteenths(length);
    let minus = if all < 0 { "-" } else { "" };
    let all = all.saturating_abs();
    let (feet, rest) = (all / SIXTEENTHS_IN_FOOT, all % SIXTEENTHS_IN_FOOT);
    match (feet, rest) {
        (0, rest) => format!("{minus}{}", say_inches(rest)),
        (feet, 0) => format!("{minus}{feet} ft"),
        (feet, rest) => format!("{minus}{feet} ft {}", say_inches(rest)),
    }
}

/// Inches and sixteenths, the fraction in its lowest terms.
fn say_inches(all: i64) -> String {
    let (whole, parts) = (all / 16, all % 16);
    let fraction = match parts {
        0 => return format!("{whole} in"),
        2 => "⅛".to_owned(),
        4 => "¼".to_owned(),
        6 => "⅜".to_owned(),
        8 => "½".to_owned(),
        10 => "⅝".to_owned(),
        12 => "¾".to_owned(),
        14 => "⅞".to_owned(),
        odd => format!("{odd}/16"),
    };
    match (whole, parts % 2) {
        (0, _) => format!("{fraction} in"),
        (whole, 0) => format!("{whole}{fraction} in"),
        (whole, _) => format!("{whole} {fraction} in"),
    }
}

/// A number of tenths, hundredths or thousandths without idle zeros: `2.4`.
fn decimal(parts: i64, places: u32) -> String {
    Decimal::new(parts, places).normalize().to_string()
}

/// A measured number to a tenth, without an idle zero.
fn tenths(value: f64) -> String {
    round_i64(value * 10.0).map_or_else(|| "0".to_owned(), |parts| decimal(parts, 1))
}

/// Digits in groups of three.
fn grouped(digits: &str, mark: char) -> String {
    let mut text = String::with_capacity(digits.len() + digits.len() / 3);
    for (place, digit) in digits.chars().enumerate() {
        if place > 0 && (digits.len() - place).is_multiple_of(3) {
            text.push(mark);
        }
        text.push(digit);
    }
    text
}
