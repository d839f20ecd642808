//! Worked values of roof geometry from books and tables, each with its source and how it was come by.
//!
//! `tests/references/geometry.json` holds them; every case must be understood and met, and one from memory is
//! never a hard test.

#![expect(clippy::expect_used, clippy::panic, reason = "helpers of tests")]

use lapwise::units::{Angle, Length};
use serde_json::Value;

fn cases() -> Vec<Value> {
    serde_json::from_str(include_str!("../references/geometry.json")).expect("the file is JSON")
}

/// The value of a tolerance as the file writes it: a plain number in the case's unit.
fn tolerance(case: &Value) -> f64 {
    case["tolerance"]
        .as_str()
        .and_then(|text| text.parse().ok())
        .unwrap_or_else(|| panic!("tolerance of {case}"))
}

fn number(value: &Value, name: &str) -> Option<f64> {
    value.get(name)?.as_f64()
}

/// What the library makes of a case's inputs, by the names of the expected values.
fn computed(case: &Value) -> Vec<(&'static str, f64)> {
    let inputs = &case["inputs"];
    let metres = |name: &str| number(inputs, name).and_then(|m| Length::from_mm_f64(m * 1_000.0));
    let inches = |length: Length| length.mm() / 25.4;
    let pitch = number(inputs, "pitch_deg").and_then(Angle::from_deg_f64);
    match case["quantity"].as_str().unwrap_or_default() {
        "pitch conversions" | "flat-roof fall" => {
            let twelfths = number(inputs, "pitch_x_in_12").map(|x| x / 12.0);
            let fall = inputs.get("ratio").map(|_| 1.0 / 40.0);
            let pitch = pitch.or_else(|| Angle::from_tan(twelfths.or(fall)?)).expect("a pitch");
            let metre = Length::from_mm(1_000);
            vec![
                ("deg", pitch.deg()),
                ("ratio_1_in", 1.0 / pitch.tan()),
                ("x_in_12", pitch.tan() * 12.0),
                ("percent", pitch.tan() * 100.0),
                ("slope_factor", metre.run_to_slope(pitch).mm() / 1_000.0),
            ]
        }
        "common rafter length per foot of run" => {
            let side = |name| number(inputs, name).and_then(Length::from_inches_f64).expect("inches");
            vec![("", inches(side("run_in").hypot(side("rise_in_per_ft"))))]
        }
        "rafter length from 'fraction' pitch" => {
            let run =
                number(inputs, "run_ft").and_then(|ft| Length::from_inches_f64(ft * 12.0)).expect("a run");
            let rise = run.scale(2.0 * number(inputs, "carpenters_pitch").expect("a pitch"));
            vec![("inches", inches(run.hypot(rise)))]
        }
        "slope length" => {
            let (run, pitch) = (metres("run_m").expect("a run"), pitch.expect("a pitch"));
            let (rise, slope) = (run.rise_over(pitch), run.run_to_slope(pitch));
            vec![("rise_m", rise.mm() / 1_000.0), ("slope_m", slope.mm() / 1_000.0)]
        }
        "pitch from site measurements" => {
            let measured = &inputs["measured"];
            let mm = |name| Length::from_mm_f64(number(measured, name).expect(name) * 1_000.0).expect(name);
            let (run, rise) = (mm("width_m") / 2, mm("ridge_height_m") - mm("eaves_height_m"));
            let pitch = Angle::from_rise_run(rise, run).expect("a pitch");
            let by_slope = Angle::from_rise_slope(rise, run.hypot(rise)).expect("a pitch");
            assert!((pitch.deg() - by_slope.deg()).abs() < 1e-4);
            vec![("pitch_deg", pitch.deg()), ("slope_m", run.hypot(rise).mm() / 1_000.0)]
        }
        other => panic!("no test knows what to do with {other:?}"),
    }
}

#[test]
fn geometry() {
    let mut met = 0;
    for case in cases() {
        if case["flag"] == "MEMORY" {
            continue;
        }
        let (id, source) = (&case["id"], &case["source"]);
        for (name, value) in computed(&case) {
            let expected = if name.is_empty() { &case["expected"] } else { &case["expected"][name] };
            let expected = expected.as_f64().unwrap_or_else(|| panic!("{id} expects no {name}"));
            let off = (value - expected).abs();
            assert!(off <= tolerance(&case), "{id} {name}: {value}, expected {expected} ({source})");
            met += 1;
        }
    }
    assert!(met >= 40, "only {met} values were compared");
}
