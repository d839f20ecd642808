//! Roofs of every size and form that drawings must bear, in the gardens of Fennick Green.

use lapwise::roofing::plan::{Handbook, Plan, plan};
use lapwise::roofing::roof::FactKey;
use lapwise::roofing::rules::{Effect, Limit, Requirement, Rule};
use lapwise::units::Length;

use crate::common::Answers;

fn slope(length: i64, up: i64, pitch: f64) -> Answers {
    let shed = Answers::shed().choose(FactKey::Sheet, "fennick-sheet-2000");
    shed.length(FactKey::Length, length).length(FactKey::SlopeLength, up).angle(FactKey::Pitch, pitch)
}

fn two(length: i64, front: (i64, f64), back: (i64, f64)) -> Answers {
    slope(length, front.0, front.1)
        .choose(FactKey::Form, "two_slopes")
        .choose(FactKey::SlopesEqual, "no")
        .without(FactKey::WallTop)
        .length(FactKey::SlopeLengthBack, back.0)
        .angle(FactKey::PitchBack, back.1)
}

/// Every roof's plan, with a name for its files.
pub(crate) fn all(book: &Handbook) -> Vec<(&'static str, Plan)> {
    use FactKey::{Insulation, WallSide, WallTop, WindFrom};
    let roofs = vec![
        ("shed", slope(2_400, 1_800, 25.0).on_deck(12)),
        ("tiny", slope(800, 800, 15.0)),
        ("vast", slope(20_000, 10_000, 10.0).choose(WindFrom, "left")),
        ("barn", two(20_000, (5_800, 15.0), (5_800, 15.0)).choose(WindFrom, "left")),
        ("long-slope", slope(3_000, 10_000, 12.0).choose(WindFrom, "left")),
        ("unequal", two(4_200, (2_600, 20.0), (1_700, 35.0)).on_deck(18)),
        ("shared", two(4_200, (1_200, 22.0), (2_400, 22.0))),
        ("lean-to", slope(3_600, 2_100, 12.0).choose(WallTop, "yes").choose(WallSide, "left")),
        ("one-sheet", slope(900, 1_500, 30.0).choose(WallSide, "right")),
        ("steep", two(3_000, (3_200, 50.0), (3_200, 50.0)).on_deck(12).choose(Insulation, "yes")),
        ("narrow", slope(800, 9_900, 15.0)),
        (
            "between-walls",
            slope(2_000, 1_900, 12.0).choose(WallTop, "yes").choose(WallSide, "both").on_deck(18),
        ),
        ("low", slope(20_000, 800, 6.0).on_deck(18)),
        ("flat-deck", slope(5_300, 4_100, 7.0).choose(WindFrom, "left").on_deck(22)),
    ];
    let mut plans: Vec<(&str, Plan)> =
        roofs.into_iter().map(|(name, answers)| (name, planned(&answers, book))).collect();
    let many = planned(&slope(3_000, 10_000, 12.0), &with_purlins_this_close(book, 169));
    assert_eq!(many.slopes[0].lines.len(), 61);
    plans.push(("many-purlins", many));
    let mut staggering = book.clone();
    staggering.catalogue.sheets.iter_mut().for_each(|sheet| sheet.stagger = true);
    let staggered = planned(&slope(5_300, 5_100, 18.0), &staggering);
    assert!(!staggered.slopes[0].staggered.is_empty());
    plans.push(("staggered", staggered));
    plans
}

fn planned(answers: &Answers, book: &Handbook) -> Plan {
    plan(&answers.0, book).unwrap_or_else(|why| panic!("no plan: {why:?}"))
}

/// A book that asks for far more purlins than any sheet needs.
fn with_purlins_this_close(book: &Handbook, spacing: i64) -> Handbook {
    let mut book = book.clone();
    let limit = Limit::Length(Length::from_mm(spacing));
    let rule = book.rules.rules.first().cloned().unwrap();
    let then = vec![Effect::Require(Requirement::MaxPurlinSpacing, limit)];
    let message = "rule-caution-step-on-nothing-fragile".to_owned();
    book.rules.rules.push(Rule { id: "very-close".to_owned(), when: Vec::new(), then, message, ..rule });
    book
}
