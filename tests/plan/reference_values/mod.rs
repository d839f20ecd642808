//! Published values, each with its source and how it was come by, against what the product makes of the same inputs. No
//! sum is done here: the product's own functions are called, by the value's quantity and the names of its inputs.
//!
//! `tests/references/reference-values.json` holds them; more may be put in. A value from memory is never held against
//! the product. What the product does not compute is counted and named, and of the values that came with the house each
//! such one stands in [`NOT_COMPUTED`]: nothing is passed over in silence.

#![expect(clippy::expect_used, clippy::panic, clippy::indexing_slicing, reason = "helpers of tests")]
#![allow(clippy::print_stdout, reason = "says what it compared")]

mod damp;
mod geometry;
mod opinion;
mod practice;
mod snow;
mod timber;
mod water;
mod wind;

use std::collections::{BTreeMap, BTreeSet};
use std::fs;

use lapwise::units::{Angle, Length, Speed, Temperature};
use serde_json::Value;

/// Values that came with the house of what the product does not work out, and why it has no need to.
const NOT_COMPUTED: &[(&str, &str)] = &[
    ("THER-021", "flow of heat in two dimensions"),
    ("GEOM-026", "hips and valleys are no part of any form yet"),
    ("GEOM-028", "hips and valleys"),
    ("GEOM-030", "hips and valleys"),
    ("GEOM-031", "hips and valleys"),
    ("GEOM-035", "hips and valleys"),
    ("GEOM-036", "hips and valleys"),
    ("SAFE-010", "a law, no figure"),
    ("SAFE-013", "a statistic, and a dated one"),
    ("SAFE-018", "asbestos is handed to those who may remove it"),
    ("SAFE-021", "asbestos is handed on"),
    ("SAFE-025", "planning law of one country"),
    ("SAFE-026", "planning law of one country"),
    ("CODE-003", "a covering that is not sold here"),
    ("CODE-015", "a covering that is not sold here"),
    ("CODE-016", "a covering that is not sold here"),
    ("CODE-018", "valleys"),
    ("CODE-020", "flashings are bought ready made"),
    ("CODE-021", "a cricket is a roof of its own"),
    ("CODE-023", "ice barriers"),
    ("CODE-025", "what a standard does not say"),
];

/// What the product makes of one case.
#[derive(Default)]
struct Found {
    /// By the path of the expected value: empty for a lone number, `reactions.0` in a list.
    values: Vec<(String, f64)>,
    /// Expected values that the product was told, in its user's words, and gave another of the case's for.
    told: Vec<&'static str>,
}

impl Found {
    fn of(values: impl IntoIterator<Item = (&'static str, f64)>) -> Self {
        let values = values.into_iter().map(|(name, value)| (name.to_owned(), value)).collect();
        Self { values, told: Vec::new() }
    }

    fn one(value: f64) -> Self {
        Self::of([("", value)])
    }

    fn list(name: &str, values: impl IntoIterator<Item = f64>) -> Vec<(String, f64)> {
        let dot = if name.is_empty() { "" } else { "." };
        values.into_iter().enumerate().map(|(at, value)| (format!("{name}{dot}{at}"), value)).collect()
    }
}

fn number(value: &Value, name: &str) -> f64 {
    value[name].as_f64().unwrap_or_else(|| panic!("no {name} in {value}"))
}

fn text<'a>(value: &'a Value, name: &str) -> &'a str {
    value[name].as_str().unwrap_or_else(|| panic!("no {name} in {value}"))
}

fn metres(value: f64) -> Length {
    Length::from_mm_f64(value * 1_000.0).expect("a length")
}

fn mm(value: f64) -> Length {
    Length::from_mm_f64(value).expect("a length")
}

fn degrees(value: f64) -> Angle {
    Angle::from_deg_f64(value).expect("an angle")
}

fn celsius(value: f64) -> Temperature {
    Temperature::from_celsius_f64(value).expect("a temperature")
}

fn speed(value: f64) -> Speed {
    Speed::from_m_per_s_f64(value).expect("a speed")
}

/// Every number in a text, in its order.
fn numbers(text: &str) -> Vec<f64> {
    let parts = text.split(|one: char| !one.is_ascii_digit() && one != '.');
    parts.filter_map(|part| part.trim_matches('.').parse().ok()).collect()
}

/// How far a value may be off, as the file writes it: a share, or in the value's own unit. "0.5 % (deflection 1 %)" and
/// "ISO 0.01 C; libraries within 0.15 C" have another one for some names.
fn tolerance(case: &Value, name: &str, expected: f64) -> f64 {
    let written = case["tolerance"].as_str().unwrap_or_default();
    let other = ["defl", "psychrolib", "CoolProp"].iter().any(|start| name.starts_with(start));
    let plain = |part: &str| -> Option<(f64, bool)> {
        let first = part.split_whitespace().position(|word| word.parse::<f64>().is_ok())?;
        let words: Vec<&str> = part.split_whitespace().collect();
        let percent = words.get(first + 1).is_some_and(|word| word.starts_with('%'));
        Some((words[first].parse().ok()?, percent))
    };
    let parts: Vec<(f64, bool)> = written.split([';', '(']).filter_map(plain).collect();
    let chosen = if other { parts.last() } else { parts.first() };
    match chosen {
        Some((share, true)) => expected.abs() * share / 100.0 + 1e-12,
        Some((off, false)) => off + 1e-9,
        // "exact"
        None => 1e-9,
    }
}

/// Whether a printed figure is this value, cut off where the print ends: 0.569 is printed 0.56 by some.
fn cut_off(case: &Value, value: f64, expected: f64) -> bool {
    let printed = expected.to_string();
    let digits = printed.split_once('.').map_or(0, |(_, after)| after.len());
    if digits < 2 {
        return false;
    }
    let scale = 10_f64.powi(i32::try_from(digits).expect("few digits"));
    let relative = case["tolerance"].as_str().is_some_and(|written| written.contains('%'));
    case["flag"] == "READ" && relative && ((value * scale).trunc() / scale - expected).abs() < 1e-9
}

/// The numbers of what is expected, each by its path. A truth is 1 or 0; texts and gaps are no numbers.
fn expected(value: &Value, path: &str, into: &mut Vec<(String, f64)>) {
    let below = |name: &str| if path.is_empty() { name.to_owned() } else { format!("{path}.{name}") };
    match value {
        Value::Number(number) => into.push((path.to_owned(), number.as_f64().expect("a number"))),
        Value::Bool(truth) => into.push((path.to_owned(), f64::from(u8::from(*truth)))),
        Value::Array(all) => {
            for (at, one) in all.iter().enumerate() {
                expected(one, &below(&at.to_string()), into);
            }
        }
        Value::Object(all) => {
            for (name, one) in all {
                expected(one, &below(name), into);
            }
        }
        Value::Null | Value::String(_) => {}
    }
}

/// What differs between a case and what the product makes of it.
fn differences(case: &Value, found: &Found) -> Vec<String> {
    let (id, source) = (&case["id"], &case["source"]);
    let mut wanted = Vec::new();
    expected(&case["expected"], "", &mut wanted);
    let mut wrong = Vec::new();
    for (name, value) in &found.values {
        let Some((_, expected)) = wanted.iter().find(|(wanted, _)| wanted == name) else {
            wrong.push(format!("{id} expects no {name}"));
            continue;
        };
        let off = (value - expected).abs();
        let met = off <= tolerance(case, name, *expected) || cut_off(case, *value, *expected);
        if !met {
            wrong.push(format!("{id} {name}: {value}, expected {expected} ({source})"));
        }
    }
    for (name, _) in &wanted {
        let met = found.values.iter().any(|(found, _)| found == name) || found.told.contains(&name.as_str());
        if !met {
            wrong.push(format!("{id}: nothing was compared with its {name}"));
        }
    }
    wrong
}

/// What the product makes of a case; `None` where it computes no such quantity.
fn found(case: &Value) -> Option<Found> {
    match case["topic"].as_str()?.split(' ').next()? {
        "1" => wind::found(case),
        "2" => snow::found(case),
        "3" => timber::found(case),
        "4" => damp::found(case),
        "5" => water::found(case),
        "6" => geometry::found(case),
        _ => None,
    }
}

fn cases() -> Vec<Value> {
    let text = fs::read_to_string("tests/references/reference-values.json").expect("the reference values");
    serde_json::from_str(&text).expect("the file is JSON")
}

#[derive(Default)]
struct Counted {
    met: usize,
    unknown: usize,
    memory: usize,
}

/// What a case asks: its quantity, and the country whose formula it is.
fn kind(case: &Value) -> String {
    let country = case["inputs"]["country"].as_str().unwrap_or_default();
    format!("{} {country}", text(case, "quantity"))
}

#[test]
fn reference_values() {
    let (mut wrong, mut seen) = (Vec::new(), BTreeSet::new());
    let mut counts: BTreeMap<String, Counted> = BTreeMap::new();
    let (mut unknown, mut kinds) = (Vec::new(), BTreeSet::new());
    for case in cases() {
        let (id, topic) = (text(&case, "id").to_owned(), text(&case, "topic").to_owned());
        assert!(seen.insert(id.clone()), "{id} stands twice");
        let count = counts.entry(topic).or_default();
        if case["flag"] == "MEMORY" {
            count.memory += 1;
            continue;
        }
        let (computed, said) = (found(&case), practice::met(&case));
        wrong.extend(computed.iter().flat_map(|found| differences(&case, found)));
        if said == Some(false) {
            wrong.push(format!("{id}: expected {} ({})", case["expected"], case["source"]));
        }
        if computed.is_some() || said.is_some() {
            count.met += 1;
            kinds.insert(kind(&case));
        } else {
            count.unknown += 1;
            unknown.push((id, kind(&case)));
        }
    }
    for (topic, Counted { met, unknown, memory }) in &counts {
        println!("{topic}: {met} checked, {unknown} not computed, {memory} from memory and not held");
    }
    for (id, kind) in &unknown {
        println!("not computed: {id} {kind}");
    }
    assert!(wrong.is_empty(), "{} of {} differ:\n{}", wrong.len(), seen.len(), wrong.join("\n"));
    // Of what came with the house, exactly the named ones are not computed.
    let silent: BTreeSet<&str> = unknown.iter().map(|(id, _)| id.as_str()).collect();
    let named: BTreeSet<&str> = NOT_COMPUTED.iter().map(|(id, _)| *id).collect();
    let missed: Vec<_> = named.difference(&silent).collect();
    assert!(missed.is_empty(), "computed or gone, take them off the list: {missed:?}");
    // What is computed of one is computed of all that ask the same.
    let passed_over: Vec<_> = unknown.iter().filter(|(_, kind)| kinds.contains(kind)).collect();
    assert!(passed_over.is_empty(), "passed over: {passed_over:?}");
    let met: usize = counts.values().map(|count| count.met).sum();
    assert!(met >= 136, "only {met} values were compared");
}

#[test]
fn the_comparison_can_fail() {
    let case = serde_json::json!({
        "id": "X", "tolerance": "0.5 % (deflection 1 %)", "flag": "READ",
        "expected": { "M": 0.56, "defl_max_mm": 4.0, "reactions": [1.0, 2.0], "ok": true },
    });
    let with = |moment: f64, sag: f64, right: f64| Found {
        values: [
            ("M", moment),
            ("defl_max_mm", sag),
            ("reactions.0", 1.0),
            ("reactions.1", right),
            ("ok", 1.0),
        ]
        .map(|(name, value)| (name.to_owned(), value))
        .to_vec(),
        told: Vec::new(),
    };
    assert_eq!(differences(&case, &with(0.569, 4.03, 2.009)), Vec::<String>::new());
    assert_eq!(differences(&case, &with(0.573, 4.05, 2.02)).len(), 3);
    assert_eq!(differences(&case, &Found::of([("M", 0.56)])).len(), 4);
    assert_eq!(differences(&case, &Found::of([("N", 0.56)])).len(), 6);
}
