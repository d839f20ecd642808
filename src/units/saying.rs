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
/// a rule's boundary may lie between, and it is said as finely as it takes: `14.04°`.
pub fn say_angle(angle: Angle) -> String {
    let microdeg = angle.microdeg();
    let to = |places: u32| {
        let step = 10_i64.pow(6 - places);
        let parts = (microdeg + step / 2).div_euclid(step);
        (decimal(parts, places), parts * step)
    };
    let is_whole = |said: i64| said % 1_000_000 == 0;
    let fine = (1..=6).map(to).find(|(_, said)| !is_whole(*said) || is_whole(microdeg));
    format!("{}°", fine.map_or_else(|| to(6).0, |(text, _)| text))
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{Currency, Doubt};

    #[test]
    fn lengths_are_said_as_a_tape_shows_them() {
        let cases = [
            (2_400_000, "2 400 mm", "2.4 m", "7 ft 10½ in"),
            (610_000, "610 mm", "610 mm", "2 ft"),
            (2_590_800, "2 591 mm", "2.591 m", "8 ft 6 in"),
            (2_603_500, "2 604 mm", "2.604 m", "8 ft 6½ in"),
            (9_525, "9.5 mm", "9.5 mm", "⅜ in"),
            (12_000, "12 mm", "12 mm", "½ in"),
            (4_763, "5 mm", "5 mm", "3/16 in"),
            (304_800, "305 mm", "305 mm", "1 ft"),
            (1_000_000, "1 000 mm", "1 m", "3 ft 3⅜ in"),
            (12_345_000, "12 345 mm", "12.345 m", "40 ft 6 in"),
            (0, "0 mm", "0 mm", "0 in"),
        ];
        for (um, mm, m, feet) in cases {
            let length = Length::from_um(um);
            let said = [UsualUnit::Mm, UsualUnit::M, UsualUnit::FtIn].map(|usual| say_length(length, usual));
            assert_eq!(said, [mm, m, feet]);
        }
    }

    #[test]
    fn a_tape_of_feet_carries_into_the_next_foot() {
        assert_eq!(say_length(Length::from_um(304_799), UsualUnit::FtIn), "1 ft");
    }

    #[test]
    fn angles_never_pass_for_a_whole_degree_they_are_not() {
        let said = [22_000_000, 22_500_000, 14_036_243, 14_960_000, 14_999_999, 18_434_949]
            .map(|microdeg| say_angle(Angle::from_microdeg(microdeg)));
        assert_eq!(said, ["22°", "22.5°", "14.04°", "14.96°", "14.999999°", "18.4°"]);
    }

    #[test]
    fn readings_are_said_as_they_were_written() {
        let said =
            |amount, unit| say_reading(&Reading { amount, doubt: Doubt::Stated, unit, assumed: false });
        let length = |mm| Amount::Length(Length::from_mm(mm));
        let slope = |tan| Amount::Angle(Angle::from_tan(tan).expect("a slope"));
        assert_eq!(said(length(15_000), WrittenUnit::Cm), "1500 cm");
        assert_eq!(said(length(15_000), WrittenUnit::M), "15 m");
        assert_eq!(said(length(2_400), WrittenUnit::Mm), "2 400 mm");
        assert_eq!(said(slope(0.25), WrittenUnit::Ratio), "1 in 4");
        assert_eq!(said(slope(5.0 / 12.0), WrittenUnit::Ratio), "5 in 12");
        assert_eq!(said(slope(0.3), WrittenUnit::Percent), "30%");
    }

    #[test]
    fn areas_masses_money_and_counts() {
        let area = Length::from_mm(2_400).by(Length::from_mm(1_800));
        assert_eq!(say_area(area, UsualUnit::Mm), "4.32 m²");
        assert_eq!(say_area(area, UsualUnit::FtIn), "46.5 ft²");
        assert_eq!(say_mass(Mass::from_g(850)), "850 g");
        assert_eq!(say_mass(Mass::from_g(12_460)), "12.5 kg");
        let money = |code, amount| Money { amount, currency: Currency::from_code(code).expect("a code") };
        assert_eq!(say_money(money("GBP", Decimal::new(125, 1))), "£12.50");
        assert_eq!(say_money(money("GBP", Decimal::new(-1_250_005, 3))), "-£1,250.01");
        assert_eq!(say_money(money("SEK", Decimal::new(1_250, 0))), "SEK 1,250.00");
        assert_eq!(say_count(1_250), "1,250");
        assert_eq!(say_count(48), "48");
    }
}
