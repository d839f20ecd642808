//! Topic 6: what the product reads and surveys of a roof's shape.

use crate::common::{Answers, deg, shipped};

use lapwise::roofing::plan::plan;
use lapwise::roofing::roof::{FactKey, FactValue, Site};
use lapwise::roofing::work::taper;
use lapwise::units::reading::{Amount, Context, Reading, Verdict, read};
use lapwise::units::{Angle, Length, Measured, Quantity};
use serde_json::Value;

use super::{Found, metres, number, numbers, text};

fn inches(value: f64) -> Length {
    Length::from_inches_f64(value).expect("a length")
}

/// How the chat reads a slope: one reading, or several that are offered.
fn slopes(text: &str) -> Vec<Angle> {
    let context = Context { quantity: Quantity::Pitch, usual: None, boundaries: &[] };
    let angle = |reading: Reading| match reading.amount {
        Amount::Angle(angle) => angle,
        Amount::Length(_) => panic!("{text} is no slope"),
    };
    match read(text, &context) {
        Verdict::Value(reading) => vec![angle(reading)],
        Verdict::Ambiguous { readings, .. } => readings.into_iter().map(angle).collect(),
        other @ (Verdict::Values(_) | Verdict::Reject { .. }) => panic!("{text}: {other:?}"),
    }
}

fn slope(text: &str) -> Angle {
    let read = slopes(text);
    assert_eq!(read.len(), 1, "{text} is read in one way");
    read[0]
}

/// A building of two equal slopes without overhangs, so wide.
fn two_slopes(span: Length) -> Answers {
    let shed = Answers::shed().choose(FactKey::Form, "two_slopes").choose(FactKey::SlopesEqual, "yes");
    let shed = shed.without(FactKey::Pitch).without(FactKey::SlopeLength).length(FactKey::RafterOverhang, 0);
    measured(shed, FactKey::Span, span)
}

/// One slope over a building so wide.
fn one_slope(span: Length) -> Answers {
    measured(two_slopes(span).choose(FactKey::Form, "single_slope"), FactKey::Span, span)
}

fn measured(mut answers: Answers, fact: FactKey, length: Length) -> Answers {
    assert!(answers.0.set(fact, FactValue::Length(Measured::stated(length))), "{}", fact.key());
    answers
}

fn pitched(mut answers: Answers, pitch: Angle) -> Answers {
    assert!(answers.0.set(FactKey::Pitch, FactValue::Angle(Measured::stated(pitch))));
    answers
}

/// Pitch and length up the slope, as the survey of these answers makes them.
fn surveyed(answers: &Answers) -> (Angle, Length) {
    let site = Site::from_facts(&answers.0, &shipped()).unwrap_or_else(|why| panic!("{why:?}"));
    let slope = site.slopes[0];
    (slope.pitch.value, slope.rafter_length.value)
}

/// What the product makes of a case; `None` of a quantity that it does not compute.
pub(super) fn found(case: &Value) -> Option<Found> {
    let (inputs, expected) = (&case["inputs"], &case["expected"]);
    Some(match case["quantity"].as_str().unwrap_or_default() {
        "pitch conversions" | "flat-roof fall" => {
            // Said in each of its ways, it is one and the same slope.
            let said = |name: &str, before: &str, after: &str| {
                ("deg", slope(&format!("{before}{}{after}", expected[name])).deg())
            };
            let (_, up) = surveyed(&pitched(one_slope(metres(1.0)), deg(number(expected, "deg"))));
            let mut found = Found::of([
                said("deg", "", " degrees"),
                said("ratio_1_in", "1 in ", ""),
                said("x_in_12", "", " in 12"),
                said("percent", "", " %"),
                ("slope_factor", up.mm() / 1_000.0),
            ]);
            found.told.extend(["ratio_1_in", "x_in_12", "percent"]);
            found
        }
        "common rafter length per foot of run" => {
            let shed = one_slope(inches(number(inputs, "run_in")));
            let shed = measured(shed, FactKey::Rise, inches(number(inputs, "rise_in_per_ft")));
            Found::one(surveyed(&shed).1.mm() / inches(1.0).mm())
        }
        "rafter length from 'fraction' pitch" => {
            let said = match number(inputs, "carpenters_pitch") {
                0.25 => "quarter pitch",
                0.5 => "half pitch",
                _ => "1/3 pitch",
            };
            // Half the span is the run; the first reading that is offered is the carpenters'.
            let span = inches(number(inputs, "run_ft") * 12.0) * 2;
            let (_, up) = surveyed(&pitched(two_slopes(span), slopes(said)[0]));
            Found::of([("inches", up.mm() / inches(1.0).mm())])
        }
        "common and hip length" => {
            // Hips are no part of any form yet.
            let [feet, over] = numbers(text(inputs, "common_run"))[..] else { panic!("no run in {case}") };
            let span = inches(feet * 12.0 + over) * 2;
            let (_, up) = surveyed(&pitched(two_slopes(span), slope("6 in 12")));
            let mut found = Found::of([("common_ft", up.mm() / inches(12.0).mm())]);
            found.told.push("hip_ft");
            found
        }
        "slope length" => {
            let span = metres(number(inputs, "run_m")) * 2;
            let pitch = slope(&format!("{} degrees", inputs["pitch_deg"]));
            let (pitch, up) = surveyed(&pitched(two_slopes(span), pitch));
            Found::of([
                ("rise_m", (span / 2).rise_over(pitch).mm() / 1_000.0),
                ("slope_m", up.mm() / 1_000.0),
            ])
        }
        "pitch from site measurements" => {
            let of = |name: &str| metres(number(&inputs["measured"], name));
            let rise = of("ridge_height_m") - of("eaves_height_m");
            let (pitch, up) = surveyed(&measured(two_slopes(of("width_m")), FactKey::Rise, rise));
            Found::of([("pitch_deg", pitch.deg()), ("slope_m", up.mm() / 1_000.0)])
        }
        "taper angle" => {
            let (length, up, by) = (metres(3.0), metres(2.6), metres(0.04));
            let shed = measured(measured(Answers::shed(), FactKey::Length, length), FactKey::SlopeLength, up);
            let shed = measured(shed, FactKey::DiagonalA, (length + by).hypot(up));
            let shed = measured(shed, FactKey::DiagonalB, (length - by).hypot(up));
            let plan = plan(&shed.0, &shipped()).expect("a plan");
            Found::one(taper(&plan, 0).expect("it leans").angle.deg())
        }
        _ => return None,
    })
}
