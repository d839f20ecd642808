//! Whole plans of roofs in Fennick Green, as text: every folder of `tests/plans/` holds a site and what is said of it.
//!
//! `UPDATE=1 cargo test --test plans` writes what is said anew; the difference is then read with a roofer's eye.
//! Every site file and every plan in JSON is held against the schemas that `lapwise schema` prints.

#![expect(clippy::expect_used, clippy::panic, reason = "helpers of tests")]

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;

use lapwise::book::Book;
use lapwise::conversation::Guide;
use lapwise::conversation::saying::{Voice, report};
use lapwise::export::plan::plan_json;
use lapwise::export::schema::schemas;
use lapwise::export::site::read_site;
use lapwise::roofing::plan::{Unplanned, plan};
use lapwise::units::UsualUnit;
use serde_json::{Value, json};

static BOOK: LazyLock<Book> = LazyLock::new(Book::shipped);

fn voice() -> Voice<'static> {
    Voice { words: &BOOK.words, language: "en", units: UsualUnit::Mm }
}

/// The folders, by name.
fn cases() -> Vec<PathBuf> {
    let entries = fs::read_dir("tests/plans").expect("the plans");
    let mut cases: Vec<PathBuf> = entries.map(|entry| entry.expect("a folder").path()).collect();
    cases.sort();
    assert!(cases.len() >= 12, "the walk found the plans");
    cases
}

fn site(case: &Path) -> String {
    fs::read_to_string(case.join("site.toml")).expect("a site file")
}

/// What is said of a site, and its plan in JSON.
fn said(case: &Path) -> (String, Option<Value>) {
    let facts = read_site(&site(case)).unwrap_or_else(|faults| panic!("{}: {faults:?}", case.display()));
    let guide = Guide {
        handbook: &BOOK.handbook,
        today: lapwise::units::Day::from_seconds(0),
        earlier: None,
        script: &BOOK.script,
        words: &BOOK.words,
        ears: BOOK.hearing.of("en"),
        topics: &BOOK.topics,
        asks: &BOOK.asks,
        link: None,
        language: "en",
        kept: "kept-on-this-computer",
        keep_days: None,
    };
    match plan(&facts, &BOOK.handbook) {
        Ok(plan) => {
            let says = report::whole(&guide, &plan);
            let says: Vec<String> = says.iter().map(|draft| voice().speak(draft, 0).text).collect();
            (says.join("\n\n") + "\n", Some(plan_json(&plan, &BOOK.handbook, &voice())))
        }
        Err(Unplanned::Refused(refusals)) => {
            let says: Vec<String> = refusals.iter().map(|refusal| voice().say(&refusal.note)).collect();
            (format!("Refused.\n\n{}\n", says.join("\n\n")), None)
        }
        Err(other) => panic!("{}: {other:?}", case.display()),
    }
}

#[test]
fn plans_say_what_they_said() {
    let mut changed = Vec::new();
    for case in cases() {
        let (now, _) = said(&case);
        let path = case.join("expected.txt");
        if std::env::var_os("UPDATE").is_some() {
            fs::write(&path, &now).expect("written");
        }
        let before = fs::read_to_string(&path).unwrap_or_default();
        let first = before.lines().zip(now.lines()).find(|(before, now)| before != now);
        if before != now {
            changed.push(format!("{}: {first:?}", path.display()));
        }
    }
    assert!(changed.is_empty(), "said otherwise now:\n{}", changed.join("\n"));
}

#[test]
fn sites_and_plans_fit_their_schemas() {
    let schemas = schemas();
    let site_schema = jsonschema::validator_for(&schemas["site"]).expect("a schema");
    let plan_schema = jsonschema::validator_for(&schemas["plan"]).expect("a schema");
    let mut plans = 0;
    for case in cases() {
        let written: toml::Table = toml::from_str(&site(&case)).expect("TOML");
        let written = serde_json::to_value(written).expect("JSON");
        if let Err(error) = site_schema.validate(&written) {
            panic!("{}: {error} at {}", case.display(), error.instance_path());
        }
        if let (_, Some(plan)) = said(&case) {
            plans += 1;
            if let Err(error) = plan_schema.validate(&plan) {
                panic!("{}: {error} at {}", case.display(), error.instance_path());
            }
        }
    }
    assert!(plans >= 11, "only {plans} plans");
}

#[test]
fn the_schemas_refuse_what_is_wrong() {
    let schemas = schemas();
    let site_schema = jsonschema::validator_for(&schemas["site"]).expect("a schema");
    for wrong in [
        json!({ "colour": "red" }),
        json!({ "pitch": 61 }),
        json!({ "pitch": { "mm": 22 } }),
        json!({ "length": 1 }),
        json!({ "length": { "mm": 2_400, "doubt": "perhaps" } }),
        json!({ "form": "three_slopes" }),
        json!({ "sheet_corrugations": 3 }),
        json!([]),
    ] {
        assert!(!site_schema.is_valid(&wrong), "{wrong}");
    }
    let plan_schema = jsonschema::validator_for(&schemas["plan"]).expect("a schema");
    let (_, whole) = said(Path::new("tests/plans/allotment-shed"));
    let whole = whole.expect("a plan");
    let Value::Object(entries) = &whole else { panic!("an object") };
    for key in entries.keys().filter(|key| *key != "price") {
        let mut lacking = entries.clone();
        lacking.remove(key);
        assert!(!plan_schema.is_valid(&Value::Object(lacking)), "a plan without `{key}` is none");
    }
}
