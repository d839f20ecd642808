//! Measurements as people type them: read and written down while the reader was mended, and so open; they show that
//! nothing gets worse, and judge nothing.

use lapwise::conversation::ears::readings::boundaries_of;
use lapwise::export::reading::verdict_json;
use lapwise::units::reading::{Context, read};
use lapwise::units::{Quantity, UsualUnit};
use serde_json::Value;

use crate::table::Part;
use crate::talking::guide;

const CASES: &str = include_str!("open/measurements.jsonl");

/// Judges every measurement of the open list.
pub(crate) fn measurements(part: &mut Part) {
    for line in CASES.lines().filter(|line| !line.is_empty()) {
        let case: Value = serde_json::from_str(line).unwrap();
        let quantity = quantity(case["ask"].as_str().unwrap());
        let usual = match case["default_unit"].as_str() {
            Some("ft-in") => Some(UsualUnit::FtIn),
            Some("m") => Some(UsualUnit::M),
            Some("mm") => Some(UsualUnit::Mm),
            _ => None,
        };
        let boundaries = boundaries_of(guide().handbook, quantity);
        let context = Context { quantity, usual, boundaries: &boundaries };
        let text = case["text"].as_str().unwrap();
        let found = verdict_json(&read(text, &context), |why| why.message().to_owned());
        let also = case["also_ok"].as_array().into_iter().flatten();
        let right =
            std::iter::once(&case["expect"]).chain(also).any(|wanted| is_as(quantity, wanted, &found));
        let value = matches!(found["verdict"].as_str(), Some("value" | "values"));
        part.count("measurements (open): right", right);
        part.count("measurements (open): not silently wrong", right || !value);
        if !right {
            part.fail(format!(
                "measurement {}: “{text}” wanted {}, read {found}",
                case["ask"], case["expect"]
            ));
        }
    }
}

fn quantity(name: &str) -> Quantity {
    match name {
        "length" => Quantity::Length,
        "width" => Quantity::Width,
        "slope_length" => Quantity::SlopeLength,
        "height" => Quantity::Height,
        "deck_thickness" => Quantity::DeckThickness,
        "purlin_spacing" => Quantity::Spacing,
        "overhang" => Quantity::Overhang,
        "pitch" => Quantity::Pitch,
        other => panic!("no quantity is called {other}"),
    }
}

/// Whether a verdict is the wanted one, to a tape and an inclinometer.
fn is_as(quantity: Quantity, wanted: &Value, found: &Value) -> bool {
    let verdict = found["verdict"].as_str().unwrap_or_default();
    if wanted["ambiguous"] == true {
        return verdict == "ambiguous";
    }
    if wanted["reject"] == true {
        return verdict == "reject";
    }
    let fine = matches!(quantity, Quantity::DeckThickness | Quantity::Overhang);
    [("mm", if fine { 0.5 } else { 1.0 }), ("deg", 0.1)].into_iter().any(|(unit, most)| {
        let near = |wanted: &Value, found: &Value| match (wanted.as_f64(), found[unit].as_f64()) {
            (Some(wanted), Some(found)) => (wanted - found).abs() <= most,
            _ => false,
        };
        match (wanted[unit].as_array(), found["values"].as_array()) {
            (Some(wanted), Some(found)) => {
                wanted.len() == found.len()
                    && wanted.iter().zip(found).all(|(wanted, found)| near(wanted, found))
            }
            (None, None) => verdict == "value" && near(&wanted[unit], found),
            _ => false,
        }
    })
}
