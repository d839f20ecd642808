//! Measurements that cannot be right together, and the slip that explains each best.

#![expect(clippy::panic, reason = "helpers of tests")]

use crate::common;

use common::{Answers, deg, handbook, mm};
use lapwise::roofing::note::Arg;
use lapwise::roofing::roof::{Contradiction, FactKey, Slip, contradictions};
use lapwise::units::Doubt;

/// A shed of two equal slopes, 3 m across, at 25°: 1.5 m of run, 699 mm of rise, 1655 mm up the slope.
fn shed() -> Answers {
    Answers::shed()
        .choose(FactKey::Form, "two_slopes")
        .choose(FactKey::SlopesEqual, "yes")
        .length(FactKey::Span, 3_000)
        .length(FactKey::RafterOverhang, 0)
        .length(FactKey::SlopeLength, 1_655)
        .without(FactKey::Pitch)
}

fn found(answers: &Answers) -> Vec<Contradiction> {
    contradictions(&answers.0, &handbook())
}

fn slip(answers: &Answers) -> (Slip, FactKey, Arg) {
    let all = found(answers);
    let [first, ..] = all.as_slice() else { panic!("nothing contradicts") };
    first.slip.clone().unwrap_or_else(|| panic!("no slip explains {first:?}"))
}

fn length(length: i64) -> Arg {
    Arg::Length(mm(length))
}

#[test]
fn what_agrees_is_let_pass() {
    assert!(found(&shed().length(FactKey::Rise, 699)).is_empty());
    assert!(found(&shed().angle(FactKey::Pitch, 25.0)).is_empty());
    // A centimetre and a degree are within what a tape and a phone can tell apart.
    assert!(found(&shed().length(FactKey::Rise, 709).angle(FactKey::Pitch, 25.6)).is_empty());
    // Nobody spoke of an overhang: any believable one may explain it.
    assert!(
        found(
            &shed()
                .without(FactKey::RafterOverhang)
                .length(FactKey::SlopeLength, 1_800)
                .angle(FactKey::Pitch, 25.0)
        )
        .is_empty()
    );
}

#[test]
fn each_slip_is_found_out() {
    let angle = |degrees: f64| Arg::Angle(deg(degrees));
    let cases = [
        // 5 ft 5 in is 1.65 m; read as 5.43 m.
        (
            shed().length(FactKey::SlopeLength, 5_430).length(FactKey::Rise, 699),
            Slip::FeetAsMetres,
            FactKey::SlopeLength,
            length(1_655),
        ),
        (
            shed().length(FactKey::Span, 1_500).length(FactKey::Rise, 699),
            Slip::HalfForWhole,
            FactKey::Span,
            length(3_000),
        ),
        (
            shed().length(FactKey::Rise, 6_000).without(FactKey::Span).angle(FactKey::Pitch, 21.25),
            Slip::TenTimesTooBig,
            FactKey::Rise,
            length(600),
        ),
        (
            shed().length(FactKey::Rise, 70).without(FactKey::Span).angle(FactKey::Pitch, 25.0),
            Slip::TenTimesTooSmall,
            FactKey::Rise,
            length(700),
        ),
        (
            shed().length(FactKey::SlopeLength, 1_500).angle(FactKey::Pitch, 25.0),
            Slip::PlanForSlope,
            FactKey::SlopeLength,
            length(1_655),
        ),
        (shed().angle(FactKey::Pitch, 46.6), Slip::PercentAsDegrees, FactKey::Pitch, angle(25.0)),
    ];
    for (answers, expected, fact, corrected) in cases {
        let (slip, key, value) = slip(&answers);
        assert_eq!((slip, key), (expected, fact), "{:?}", found(&answers));
        match (value, corrected) {
            (Arg::Length(value), Arg::Length(expected)) => {
                assert!((value - expected).abs() <= mm(20), "{value}");
            }
            (Arg::Angle(value), Arg::Angle(expected)) => {
                assert!((value.deg() - expected.deg()).abs() < 0.2, "{value}");
            }
            other => panic!("{other:?}"),
        }
    }
}

#[test]
fn rise_and_run_may_have_changed_places() {
    let answers = Answers::shed()
        .angle(FactKey::Pitch, 58.0)
        .length(FactKey::SlopeLength, 2_000)
        .length(FactKey::Rise, 1_060);
    assert_eq!(slip(&answers).0, Slip::RiseRunSwapped);
}

#[test]
fn diagonals_and_sides_are_compared() {
    let square = Answers::shed().length(FactKey::DiagonalA, 3_000);
    assert!(found(&square.clone().length(FactKey::DiagonalB, 3_010)).is_empty());
    let skewed = found(&square.clone().length(FactKey::DiagonalB, 3_200));
    assert_eq!(skewed[0].facts[..2], [FactKey::DiagonalA, FactKey::DiagonalB]);
    let shorter = found(&square.length(FactKey::SlopeLength, 1_200));
    assert_eq!(shorter[0].facts, [FactKey::DiagonalA, FactKey::Length, FactKey::SlopeLength]);
}

#[test]
fn a_slope_that_leans_is_no_contradiction() {
    // 2400 by 1800, the top edge 60 to the right: √(2460² + 1800²) and √(2340² + 1800²).
    let leaning = Answers::shed().length(FactKey::DiagonalA, 3_048).length(FactKey::DiagonalB, 2_952);
    assert_eq!(found(&leaning), []);
}

#[test]
fn a_figure_in_doubt_contradicts_less() {
    let off = shed().angle(FactKey::Pitch, 27.4);
    assert!(!found(&off).is_empty());
    assert!(
        found(&off.clone().doubt(FactKey::Pitch, Doubt::About).doubt(FactKey::SlopeLength, Doubt::About))
            .is_empty()
    );
    assert!(
        found(&off.doubt(FactKey::Pitch, Doubt::JustUnder).doubt(FactKey::Span, Doubt::About)).is_empty()
    );
}

#[test]
fn what_nothing_explains_is_shown_without_a_guess() {
    let all = found(&shed().length(FactKey::SlopeLength, 2_000).length(FactKey::Rise, 699));
    assert_eq!(all[0].slip, None);
    assert_eq!(all[0].note.args["slip"], Arg::Text("none".to_owned()));
}

#[test]
fn a_slip_that_sets_everything_right_is_likelier_than_one_that_moves_the_trouble() {
    // Slope length in feet read as metres: against pitch and rise alone, a rise in metres read as feet would do.
    let answers =
        shed().angle(FactKey::Pitch, 25.0).length(FactKey::Rise, 699).length(FactKey::SlopeLength, 5_430);
    let all = found(&answers);
    assert!(all.len() > 1);
    for one in all {
        let slip = one.slip.map(|(slip, fact, _)| (slip, fact));
        assert_eq!(slip, Some((Slip::FeetAsMetres, FactKey::SlopeLength)));
    }
}
