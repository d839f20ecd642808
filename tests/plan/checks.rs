//! The checks of strength on whole roofs: every folder of `tests/checks/` holds a site and the page of its checks.
//!
//! `UPDATE=1 cargo test --test plan checks` writes the pages anew; the difference is then read with an engineer's eye.

#![expect(clippy::expect_used, clippy::panic, reason = "helpers of tests")]

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;

use crate::common::Answers;
use crate::goldens::{cases_of, hold};
use lapwise::book::Book;
use lapwise::conversation::saying::Voice;
use lapwise::export::checks::{checks_json, page};
use lapwise::export::schema::schemas;
use lapwise::export::site::read_site;
use lapwise::roofing::catalogue::Catalogue;
use lapwise::roofing::checks::{Check, CheckKind, Finds};
use lapwise::roofing::note::Note;
use lapwise::roofing::plan::{Handbook, Plan, Unplanned, plan};
use lapwise::roofing::roof::{FactKey, FactValue, Facts};
use lapwise::roofing::rules::Requirement;
use lapwise::units::{Length, UsualUnit};
use proptest::prelude::*;

static BOOK: LazyLock<Book> = LazyLock::new(Book::shipped);

fn say(note: &Note) -> String {
    Voice { words: &BOOK.words, language: "en", units: UsualUnit::Mm }.say(note)
}

fn cases() -> Vec<PathBuf> {
    cases_of("tests/checks", 8)
}

fn facts_of(case: &Path) -> Facts {
    let text = fs::read_to_string(case.join("site.toml")).expect("a site file");
    read_site(&text).unwrap_or_else(|faults| panic!("{}: {faults:?}", case.display()))
}

fn checks_of(case: &Path) -> Result<Vec<Check>, Vec<String>> {
    match plan(&facts_of(case), &BOOK.handbook) {
        Ok(plan) => Ok(plan.checks(&BOOK.handbook.rules)),
        Err(Unplanned::Refused(refusals)) => {
            Err(refusals.iter().map(|refusal| format!("{}: {}", refusal.id, say(&refusal.note))).collect())
        }
        Err(other) => panic!("{}: {other:?}", case.display()),
    }
}

#[test]
fn checks_say_what_they_said() {
    hold(cases().into_iter().map(|case| {
        let now = match checks_of(&case) {
            Ok(checks) => page(&checks, &say) + "\n",
            Err(refused) => format!("Refused.\n\n{}\n", refused.join("\n\n")),
        };
        (case, now)
    }));
}

#[test]
fn every_kind_of_check_speaks_and_fits_its_schema() {
    let schema = jsonschema::validator_for(&schemas()["checks"]).expect("a schema");
    let (mut kinds, mut ends) = (BTreeSet::new(), BTreeSet::new());
    for case in cases() {
        let Ok(checks) = checks_of(&case) else { continue };
        for check in &checks {
            kinds.insert(check.kind);
            ends.insert(check.finds);
            assert!(!check.says.is_empty() && !check.kind.unseen().is_empty(), "{check:?}");
            let words = check.steps.iter().map(|step| step.what).chain(check.kind.unseen().iter().copied());
            for id in words.chain([check.kind.title()]) {
                assert!(BOOK.words.has("en", id), "{id}");
            }
            for step in &check.steps {
                assert!(step.value.is_finite(), "{}: {step:?}", case.display());
            }
            if check.utilisation.is_some_and(|used| used > 1.0 + 1e-9) {
                assert_ne!(check.finds, Finds::Fine, "{}: {check:?}", case.display());
            }
        }
        let json = checks_json(&checks, &say);
        if let Err(error) = schema.validate(&json) {
            panic!("{}: {error} at {}", case.display(), error.instance_path());
        }
    }
    assert_eq!(kinds.into_iter().collect::<Vec<_>>(), CheckKind::ALL);
    assert_eq!(ends.len(), 3, "a roof that holds, one that needs more, one that is beyond");
}

/// The shed on rafters, its timber as far apart as that, with the book's own cautious weather.
fn on_rafters(spacing: i64) -> Answers {
    Answers::shed()
        .choose(FactKey::Sheet, "fennick-sheet-2000")
        .length(FactKey::Length, 4_800)
        .length(FactKey::TimberSpacing, spacing)
}

fn with_count(answers: Answers, fact: FactKey, count: i64) -> Facts {
    let mut facts = answers.0;
    assert!(facts.set(fact, FactValue::Count(count)));
    facts
}

/// The depth of the purlin that is planned; a refusal is deeper than any.
fn purlin(facts: &Facts, book: &Handbook) -> Length {
    match plan(facts, book) {
        Ok(plan) => depth_of(&plan, &book.catalogue),
        Err(Unplanned::Refused(refusals)) => {
            assert!(refusals.iter().any(|one| one.id == "purlins-too-far-apart"), "{refusals:?}");
            Length::from_mm(10_000)
        }
        Err(other) => panic!("{other:?}"),
    }
}

fn depth_of(plan: &Plan, goods: &Catalogue) -> Length {
    let named = plan.slopes.first().and_then(|slope| slope.purlin_timber.clone()).expect("purlins");
    goods.timbers.iter().find(|timber| timber.item.id == named).expect("a timber").depth
}

#[test]
fn rafters_far_apart_want_stouter_purlins_or_an_engineer() {
    let book = &BOOK.handbook;
    let depths: Vec<i64> =
        [600, 900, 1_200].iter().map(|mm| purlin(&on_rafters(*mm).0, book).round_mm()).collect();
    assert_eq!(depths.first(), Some(&38), "an ordinary shed keeps its timber");
    assert!(depths.is_sorted() && depths.last() > Some(&38), "{depths:?}");
    // "Why so stout?" is told by the check and its clause.
    let plan = plan(&on_rafters(1_200).0, book).expect("a plan");
    let finding = plan.findings.iter().find(|one| one.requirement == Some(Requirement::MinPurlinDepth));
    let reason = finding.and_then(|finding| finding.reasons.first()).expect("a reason");
    assert_eq!(reason.rule, "check-purlins");
    assert!(reason.source.contains("EN 1995-1-1"), "{}", reason.source);
    let said = say(&reason.note);
    assert!(said.contains("1 200 mm") && said.contains("1 kN"), "{said}");
}

#[test]
fn a_new_deck_is_as_thick_as_its_timbers_want() {
    let thick = |spacing| {
        let flat = on_rafters(spacing).angle(FactKey::Pitch, 7.0);
        match plan(&flat.0, &BOOK.handbook) {
            Ok(plan) => {
                let boards = |id: &str| id.starts_with("fennick-deck-") && !id.contains("screw");
                plan.materials.lines.iter().map(|line| line.item.clone()).find(|id| boards(id))
            }
            Err(Unplanned::Refused(refusals)) => refusals.first().map(|refusal| refusal.id.clone()),
            Err(other) => panic!("{other:?}"),
        }
    };
    assert_eq!(thick(600).as_deref(), Some("fennick-deck-18"));
    assert_eq!(thick(1_500).as_deref(), Some("deck-spans-too-far"));
}

/// How much of the purlins' screws is used; without end where the roof is refused, or nothing is known to hold.
fn screws_used(facts: &Facts) -> f64 {
    let Ok(plan) = plan(facts, &BOOK.handbook) else { return f64::INFINITY };
    let checks = plan.checks(&BOOK.handbook.rules);
    let found = checks.iter().find(|check| check.kind == CheckKind::PurlinScrews).expect("a check");
    found.utilisation.unwrap_or(f64::INFINITY)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, ..ProptestConfig::default() })]

    #[test]
    fn more_snow_never_wants_less_timber(a in 0_i64..4_000, b in 0_i64..4_000, spacing in 300_i64..1_500) {
        let (less, more) = (a.min(b), a.max(b));
        let of = |snow| purlin(&with_count(on_rafters(spacing), FactKey::SnowLoad, snow), &BOOK.handbook);
        prop_assert!(of(less) <= of(more));
    }

    #[test]
    fn wider_gaps_never_want_less_timber(a in 150_i64..1_500, b in 150_i64..1_500) {
        let of = |spacing| purlin(&on_rafters(spacing).0, &BOOK.handbook);
        prop_assert!(of(a.min(b)) <= of(a.max(b)));
    }

    #[test]
    fn weaker_wood_never_wants_less_timber(spacing in 300_i64..1_500, weaker in 0_usize..5) {
        let classes = ["C14", "C16", "C18", "C20", "C22"];
        let mut weak = BOOK.handbook.clone();
        for timber in &mut weak.catalogue.timbers {
            timber.class = classes.get(weaker).map(|class| (*class).to_owned());
        }
        let facts = on_rafters(spacing).0;
        prop_assert!(purlin(&facts, &BOOK.handbook) <= purlin(&facts, &weak));
    }

    #[test]
    fn more_wind_never_uses_less_of_what_holds(a in 10_i64..60, b in 10_i64..60) {
        let of = |wind| screws_used(&with_count(on_rafters(600), FactKey::WindSpeed, wind));
        let (less, more) = (of(a.min(b)), of(a.max(b)));
        prop_assert!(less <= more, "{less} {more}");
    }
}
