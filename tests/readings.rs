//! Reads every line of `tests/readings/*.toml` and compares the verdict. To add a case, add a line.
//!
//! A file names what is asked (`as`), the person's usual unit if any (`usual`), the rules' boundaries if any
//! (`boundaries`), and maps each text to what is expected of it:
//!
//! - `"2400"`: a value in mm or degrees; `"2400 about"` with its doubt, `"2400 mm?"` with the unit assumed;
//! - `"3100 2200"`: values; `"? 3000 914.4 several-units"`: ambiguous, its readings and reason;
//! - `"! no-number"`: refused, and why.

use std::error::Error;
use std::path::Path;

use lapwise::export::reading::verdict_json;
use lapwise::units::reading::{Amount, Boundary, Context, Verdict, Why, read};
use lapwise::units::{Angle, Length, Quantity, UsualUnit};
use serde::Deserialize;
use serde_json::Value;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    group: Vec<Group>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Group {
    #[serde(rename = "as")]
    quantity: String,
    usual: Option<String>,
    #[serde(default)]
    boundaries: Vec<(f64, String)>,
    cases: toml::map::Map<String, toml::Value>,
}

fn quantity(name: &str) -> Result<Quantity, String> {
    Ok(match name {
        "length" => Quantity::Length,
        "width" => Quantity::Width,
        "slope_length" => Quantity::SlopeLength,
        "height" => Quantity::Height,
        "rise" => Quantity::Rise,
        "deck_thickness" => Quantity::DeckThickness,
        "spacing" => Quantity::Spacing,
        "overhang" => Quantity::Overhang,
        "sheet_length" => Quantity::SheetLength,
        "sheet_width" => Quantity::SheetWidth,
        "corrugation_height" => Quantity::CorrugationHeight,
        "timber_size" => Quantity::TimberSize,
        "pitch" => Quantity::Pitch,
        other => return Err(format!("no quantity is called {other}")),
    })
}

fn usual(name: &str) -> Result<UsualUnit, String> {
    Ok(match name {
        "mm" => UsualUnit::Mm,
        "m" => UsualUnit::M,
        "ft-in" => UsualUnit::FtIn,
        other => return Err(format!("no usual unit is called {other}")),
    })
}

/// The verdict in the short form of the case files.
fn short(verdict: &Verdict, with_unit: bool) -> String {
    let json = verdict_json(verdict, code);
    let text = |value: &Value, name: &str| value.get(name).and_then(Value::as_str).map(str::to_owned);
    let size = |value: &Value| {
        let size = value.get("mm").or_else(|| value.get("deg"));
        size.map_or_else(|| format!("no size in {value}"), Value::to_string)
    };
    let sizes = |name: &str| {
        let list = json.get(name).and_then(Value::as_array).map_or(&[][..], Vec::as_slice);
        list.iter().map(size).collect::<Vec<_>>().join(" ")
    };
    match verdict {
        Verdict::Value(_) => {
            let doubt = text(&json, "doubt").map(|doubt| format!(" {doubt}"));
            let unit = text(&json, "assumed_unit").filter(|_| with_unit).map(|unit| format!(" {unit}?"));
            format!("{}{}{}", size(&json), doubt.unwrap_or_default(), unit.unwrap_or_default())
        }
        Verdict::Values(_) => sizes("values"),
        Verdict::Ambiguous { why, .. } => format!("? {} {}", sizes("readings"), code(why)),
        Verdict::Reject { why } => format!("! {}", code(why)),
    }
}

/// The code of a reason, with the rule where one is named.
fn code(why: &Why) -> String {
    let code = why.message().trim_start_matches("reading-").to_owned();
    if let Why::RuleBoundary { rule, .. } = why { format!("{code} {rule}") } else { code }
}

/// The cases of a group whose verdict is another than expected.
fn wrong(group: &Group) -> Result<Vec<String>, Box<dyn Error>> {
    let quantity = quantity(&group.quantity)?;
    let usual = group.usual.as_deref().map(usual).transpose()?;
    let mut boundaries = Vec::new();
    for (at, rule) in &group.boundaries {
        let amount = if quantity == Quantity::Pitch {
            Angle::from_deg_f64(*at).map(Amount::Angle)
        } else {
            Length::from_mm_f64(*at).map(Amount::Length)
        };
        boundaries.push(Boundary { amount: amount.ok_or("a boundary is a number")?, rule });
    }
    let context = Context { quantity, usual, boundaries: &boundaries };
    let mut wrong = Vec::new();
    for (text, expected) in &group.cases {
        let expected = expected.as_str().ok_or("an expectation is a string")?;
        // The unit that was taken is compared only where the case names one.
        let found = short(&read(text, &context), expected.ends_with('?'));
        if found != expected {
            let asked = format!("{} ({usual:?})", group.quantity);
            wrong.push(format!("{asked} {text:?}\n  expected {expected}\n  found    {found}"));
        }
    }
    Ok(wrong)
}

fn check(path: &Path) -> datatest_stable::Result<()> {
    let file: File = toml::from_str(&std::fs::read_to_string(path)?)?;
    let mut all = Vec::new();
    for group in &file.group {
        all.extend(wrong(group)?);
    }
    if all.is_empty() { Ok(()) } else { Err(all.join("\n").into()) }
}

datatest_stable::harness! {
    { test = check, root = "tests/readings", pattern = r"\.toml$" },
}
