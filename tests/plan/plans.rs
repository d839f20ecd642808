//! Whole plans of roofs in Fennick Green, as text: every folder of `tests/plans/` holds a site and what is said of it.
//!
//! `UPDATE=1 cargo test --test plan plans` writes what is said anew; the difference is then read with a roofer's eye.
//! Every site file and every plan in JSON is held against the schemas that `lapwise schema` prints.

#![expect(clippy::expect_used, clippy::panic, reason = "helpers of tests")]

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;

use crate::goldens::{cases_of, hold};
use crate::guide::told;
use lapwise::book::Book;
use lapwise::conversation::saying::Voice;
use lapwise::drawing::document::{Block, Paper};
use lapwise::export::captions::Spoken;
use lapwise::export::pack::{self, PackOrder};
use lapwise::export::plan::plan_json;
use lapwise::export::schema::schemas;
use lapwise::export::site::read_site;
use lapwise::export::supplier::SupplierSheet;
use lapwise::roofing::plan::{Unplanned, plan};
use lapwise::roofing::rules::StepKind;
use lapwise::units::UsualUnit;
use serde_json::{Value, json};

static BOOK: LazyLock<Book> = LazyLock::new(Book::shipped);

fn voice() -> Voice<'static> {
    Voice { words: &BOOK.words, language: "en", units: UsualUnit::Mm }
}

/// The folders, by name.
fn cases() -> Vec<PathBuf> {
    cases_of("tests/plans", 14)
}

fn site(case: &Path) -> String {
    fs::read_to_string(case.join("site.toml")).expect("a site file")
}

/// What is said of a site, and its plan in JSON.
fn said(case: &Path) -> (String, Option<Value>) {
    let facts = read_site(&site(case)).unwrap_or_else(|faults| panic!("{}: {faults:?}", case.display()));
    match plan(&facts, &BOOK.handbook) {
        Ok(plan) => (told(&BOOK, &voice(), &plan) + "\n", Some(plan_json(&plan, &BOOK.handbook, &voice()))),
        Err(Unplanned::Refused(refusals)) => {
            let says: Vec<String> = refusals.iter().map(|refusal| voice().say(&refusal.note)).collect();
            (format!("Refused.\n\n{}\n", says.join("\n\n")), None)
        }
        Err(other) => panic!("{}: {other:?}", case.display()),
    }
}

#[test]
fn plans_say_what_they_said() {
    hold(cases().into_iter().map(|case| {
        let (now, _) = said(&case);
        (case, now)
    }));
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

/// What the person told of a line, a test, a repair stands wherever the work meets it, and nowhere else.
#[test]
fn what_was_made_safe_stands_wherever_it_matters() {
    let case = Path::new("tests/plans/bean-store-made-safe");
    let facts = read_site(&site(case)).expect("a site");
    let plan = plan(&facts, &BOOK.handbook).expect("a plan");
    let told = ["3 November", "6 m from the left-hand verge", "county laboratory, paper of 4 June"];
    let json = plan_json(&plan, &BOOK.handbook, &voice());
    let cautions = json["cautions"].as_array().expect("cautions");
    for words in told {
        let of_it = |one: &&Value| one["text"].as_str().is_some_and(|text| text.contains(words));
        let caution = cautions.iter().find(of_it).unwrap_or_else(|| panic!("{words}: {cautions:?}"));
        assert!(caution["steps"].as_array().is_some_and(|steps| steps.len() > 2), "{caution}");
    }
    let spoken = Spoken { words: &BOOK.words, language: "en", units: UsualUnit::Mm };
    let order = PackOrder {
        facts: &[],
        date: "2026-11-27",
        language: "en",
        paper: Paper::A4,
        rules: &BOOK.handbook.rules,
    };
    let paper = pack::document(&plan, &spoken, order);
    let list = |block: &Block| match block {
        Block::List(items) | Block::Steps(items) => items.clone(),
        Block::Heading(_)
        | Block::Subheading(_)
        | Block::Paragraph(_)
        | Block::Notice(_)
        | Block::Small(_)
        | Block::Facts(_)
        | Block::Table { .. }
        | Block::Picture(_)
        | Block::NewPage => Vec::new(),
    };
    let items: Vec<String> = paper.blocks.iter().flat_map(list).collect();
    for words in told {
        assert!(items.iter().filter(|item| item.contains(words)).count() >= 3, "{words}: {items:#?}");
    }
    // Every piece that is lifted past the line says so, in the order of work and on the job.
    let lifted =
        [StepKind::GetReady, StepKind::Strip, StepKind::FirstSheet, StepKind::Course, StepKind::Verge];
    for kind in lifted {
        let said: Vec<String> = plan.said_again_at(kind).map(|note| voice().say(note)).collect();
        assert!(said.iter().any(|said| said.contains("6 m from the left-hand verge")), "{kind:?}: {said:?}");
    }
    // A supplier has no business with it.
    let sheet = SupplierSheet::of_plan(&plan, "2026-11-27", &spoken);
    let sheet = format!("{}{}", sheet.csv(), sheet.json());
    assert!(told.iter().all(|words| !sheet.contains(words)), "{sheet}");
}

#[test]
fn a_detail_that_tells_nothing_is_a_fault_of_its_line() {
    for (line, because) in [
        ("lines_cleared_when = \"a while ago\"", "with a figure"),
        ("lines_cleared_when = \"not sure\"", "with a figure"),
        ("lines_cleared_when = \"6 m\"", "with a figure"),
        ("lines_distance = \"far enough\"", "with a figure"),
        ("lines_distance = \"not_sure\"", "with a figure"),
        ("lines_distance = 6", "with a figure"),
        ("repaired_by = \"?\"", "say who and when"),
    ] {
        let faults = read_site(&format!("covering_now = \"felt\"\n{line}\n")).expect_err(line);
        assert!(
            faults.iter().all(|fault| fault.line == 2 && fault.what.contains(because)),
            "{line}: {faults:?}"
        );
    }
    let long = format!("repaired_by = \"{}\"", "a".repeat(121));
    assert!(read_site(&long).is_err());
    assert!(read_site(&long.replacen("aa", "a", 1)).is_ok());
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
        json!({ "overhead_lines": "far" }),
        json!({ "lines_distance": 6 }),
        json!({ "repaired_by": "" }),
        json!([]),
    ] {
        assert!(!site_schema.is_valid(&wrong), "{wrong}");
    }
    let plan_schema = jsonschema::validator_for(&schemas["plan"]).expect("a schema");
    let (_, whole) = said(Path::new("tests/plans/allotment-shed"));
    let whole = whole.expect("a plan");
    let Value::Object(entries) = &whole else { panic!("an object") };
    for key in entries.keys().filter(|key| !["price", "day"].contains(&key.as_str())) {
        let mut lacking = entries.clone();
        lacking.remove(key);
        assert!(!plan_schema.is_valid(&Value::Object(lacking)), "a plan without `{key}` is none");
    }
}
