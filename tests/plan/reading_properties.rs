//! What holds for every text and every length, checked on many of them.

use lapwise::units::reading::{Amount, Context, Reading, Verdict, WrittenUnit, read};
use lapwise::units::saying::{on_a_tape, say_angle, say_length, say_reading};
use lapwise::units::{Angle, Doubt, Length, Quantity, UsualUnit};
use proptest::prelude::*;

const QUANTITIES: [Quantity; 13] = [
    Quantity::Length,
    Quantity::Width,
    Quantity::SlopeLength,
    Quantity::Height,
    Quantity::Rise,
    Quantity::DeckThickness,
    Quantity::Spacing,
    Quantity::Overhang,
    Quantity::SheetLength,
    Quantity::SheetWidth,
    Quantity::CorrugationHeight,
    Quantity::TimberSize,
    Quantity::Pitch,
];

const USUAL: [UsualUnit; 3] = [UsualUnit::Mm, UsualUnit::M, UsualUnit::FtIn];

fn quantity() -> impl Strategy<Value = Quantity> {
    prop::sample::select(QUANTITIES.to_vec())
}

fn usual() -> impl Strategy<Value = Option<UsualUnit>> {
    prop::option::of(prop::sample::select(USUAL.to_vec()))
}

/// Pieces of real answers, parted by spaces.
const PIECES: &str = "2.4 2,400 2400 8 6 ½ 3/8 1:4 m mm cm ft in ' \" '' ° % by x and to or - + no wait sorry not a \
    half quarter two point four hundred thousand twenty about just under and a bit phone rise run over per foot \
    metres degrees between twice times minus ± sheds kg , . ; = ( 🤷 \u{200f} 99999999999999999999 0 000 1/0 0/0";

/// Pieces put together in any order, some of them stuck together.
fn muddle() -> impl Strategy<Value = String> {
    let pieces: Vec<&str> = PIECES.split(' ').filter(|piece| !piece.is_empty()).collect();
    prop::collection::vec((prop::sample::select(pieces), prop::sample::select(vec!["", " "])), 0..14)
        .prop_map(|parts| parts.into_iter().flat_map(|(piece, gap)| [piece, gap]).collect())
}

/// What every verdict keeps to, whatever the text.
fn check_sound(text: &str, quantity: Quantity, usual: Option<UsualUnit>) -> Result<(), TestCaseError> {
    let readings = match read(text, &Context { quantity, usual, boundaries: &[] }) {
        Verdict::Value(reading) => vec![reading],
        Verdict::Values(readings) => {
            prop_assert!(readings.len() > 1, "several are at least two: {text:?}");
            readings
        }
        Verdict::Ambiguous { readings, .. } => {
            prop_assert!(!readings.is_empty(), "a question needs readings to offer: {text:?}");
            readings
        }
        Verdict::Reject { .. } => Vec::new(),
    };
    for reading in readings {
        let believable = match reading.amount {
            Amount::Length(length) => length >= Length::ZERO && length <= Length::from_mm(20_000),
            Amount::Angle(angle) => angle >= Angle::ZERO && angle <= Angle::from_deg(60),
        };
        prop_assert!(believable, "{text:?} gave {reading:?}");
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 50_000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_text_is_answered(text in any::<String>(), quantity in quantity(), usual in usual()) {
        check_sound(&text, quantity, usual)?;
    }

    #[test]
    fn any_muddle_is_answered(text in muddle(), quantity in quantity(), usual in usual()) {
        check_sound(&text, quantity, usual)?;
    }
}

/// A length in the band of a quantity, as a tape of those units shows it.
fn on_tape() -> impl Strategy<Value = (Quantity, UsualUnit, Length)> {
    (quantity(), prop::sample::select(USUAL.to_vec()), 0.0..1.0_f64).prop_filter_map(
        "a pitch is no length",
        |(quantity, usual, share)| {
            let (low, high) = quantity.length_band()?;
            let length = on_a_tape(low + (high - low).scale(share), usual);
            (low <= length && length <= high).then_some((quantity, usual, length))
        },
    )
}

fn value(text: &str, quantity: Quantity, usual: Option<UsualUnit>) -> Option<Reading> {
    match read(text, &Context { quantity, usual, boundaries: &[] }) {
        Verdict::Value(reading) => Some(reading),
        Verdict::Values(_) | Verdict::Ambiguous { .. } | Verdict::Reject { .. } => None,
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 5_000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn what_is_said_is_read_back((quantity, usual, length) in on_tape()) {
        let text = say_length(length, usual);
        let read = value(&text, quantity, Some(usual)).map(|reading| reading.amount);
        prop_assert_eq!(read, Some(Amount::Length(length)), "{}", text);
    }

    #[test]
    fn a_written_unit_wins_over_the_usual((quantity, said_in, length) in on_tape(), usual in usual()) {
        let text = say_length(length, said_in);
        let read = value(&text, quantity, usual);
        prop_assert_eq!(read.map(|reading| (reading.amount, reading.assumed)), Some((Amount::Length(length), false)));
    }

    #[test]
    fn a_correction_leaves_nothing_of_what_was_before(
        (quantity, usual, length) in on_tape(),
        earlier in 0..30_000_u32,
        marker in prop::sample::select(vec!["no wait", "sorry", "I mean", "scratch that", "make that", "no"]),
    ) {
        let text = say_length(length, usual);
        let corrected = format!("{earlier}mm {marker} {text}");
        let again = format!("{earlier}mm {marker} {earlier}mm {marker} {text}");
        prop_assert_eq!(value(&corrected, quantity, Some(usual)), value(&text, quantity, Some(usual)));
        prop_assert_eq!(value(&again, quantity, Some(usual)), value(&text, quantity, Some(usual)));
    }

    #[test]
    fn a_reading_said_in_its_own_unit_is_read_back(mm in 800..20_000_i64) {
        for unit in [WrittenUnit::Mm, WrittenUnit::Cm, WrittenUnit::M] {
            let amount = Amount::Length(Length::from_mm(mm));
            let text = say_reading(&Reading { amount, doubt: Doubt::Stated, unit, assumed: false });
            prop_assert_eq!(value(&text, Quantity::Length, None).map(|reading| reading.amount), Some(amount));
        }
    }

    #[test]
    fn a_said_angle_is_read_back(tenths in 0..=600_i64) {
        let angle = Angle::from_microdeg(tenths * 100_000);
        let read = value(&say_angle(angle), Quantity::Pitch, None);
        prop_assert_eq!(read.map(|reading| reading.amount), Some(Amount::Angle(angle)));
    }

    #[test]
    fn a_slope_as_a_ratio_is_its_arc_tangent(rise in 1..40_u32, run in 40..200_u32) {
        let read = value(&format!("{rise} in {run}"), Quantity::Pitch, None);
        let expected = Angle::from_tan(f64::from(rise) / f64::from(run)).map(Amount::Angle);
        prop_assert_eq!(read.map(|reading| reading.amount), expected);
    }
}

#[test]
fn text_far_too_long_is_refused_at_once() {
    let started = std::time::Instant::now();
    for piece in ["9", "2.4m ", "one ", "'", "-", "1/", "\u{1F937}", "not 2 ", "half a "] {
        let text = piece.repeat(100_000 / piece.chars().count());
        assert!(value(&text, Quantity::Length, None).is_none());
        let just_short: String = text.chars().take(2_000).collect();
        let _ = read(&just_short, &Context { quantity: Quantity::Length, usual: None, boundaries: &[] });
    }
    assert!(started.elapsed() < std::time::Duration::from_secs(2), "reading took {:?}", started.elapsed());
}
