//! Published values, each with its source and how it was come by, against what the product makes of the same roof: what
//! it reads, what it works out, what it plans, what it says. No sum is done here.
//!
//! `tests/references/geometry.json` and `practice.json` hold them; every case must be understood and met, and one from
//! memory is never a hard test. What the product does not work out (wind and snow loads, strength of timber, warmth and
//! damp, gutters beyond the rain that falls, hips and valleys) has no reference here yet. The proven optima of the cuts
//! stand beside, in `layout_optima.rs`.

#![expect(clippy::expect_used, clippy::panic, clippy::indexing_slicing, reason = "helpers of tests")]

use crate::common::{Answers, deg, shipped};

use lapwise::book::Book;
use lapwise::export::ask::{Asking, ask_json};
use lapwise::roofing::plan::{plan, stops};
use lapwise::roofing::roof::{FactKey, FactValue, Site};
use lapwise::roofing::rules::Figure;
use lapwise::roofing::work::taper;
use lapwise::units::reading::{Amount, Context, Reading, Verdict, read};
use lapwise::units::{Angle, Length, Measured, Quantity, UsualUnit};
use serde_json::{Value, json};

fn cases(text: &str) -> Vec<Value> {
    let cases: Vec<Value> = serde_json::from_str(text).expect("the file is JSON");
    cases.into_iter().filter(|case| case["flag"] != "MEMORY").collect()
}

/// The value of a tolerance as the file writes it: a plain number in the case's unit.
fn tolerance(case: &Value) -> f64 {
    let text = case["tolerance"].as_str();
    text.and_then(|text| text.parse().ok()).unwrap_or_else(|| panic!("tolerance of {case}"))
}

fn number(value: &Value, name: &str) -> f64 {
    value[name].as_f64().unwrap_or_else(|| panic!("no {name} in {value}"))
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

fn metres(value: f64) -> Length {
    Length::from_mm_f64(value * 1_000.0).expect("a length")
}

fn inches(value: f64) -> Length {
    Length::from_inches_f64(value).expect("a length")
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

/// What the product makes of a case, by the names of the expected values.
fn computed(case: &Value) -> Vec<(&'static str, f64)> {
    let (inputs, expected) = (&case["inputs"], &case["expected"]);
    match case["quantity"].as_str().unwrap_or_default() {
        "pitch conversions" | "flat-roof fall" => {
            // Said in each of its ways, it is one and the same slope.
            let said = |name: &str, before: &str, after: &str| {
                ("deg", slope(&format!("{before}{}{after}", expected[name])).deg())
            };
            let (_, up) = surveyed(&pitched(one_slope(metres(1.0)), deg(number(expected, "deg"))));
            vec![
                said("deg", "", " degrees"),
                said("ratio_1_in", "1 in ", ""),
                said("x_in_12", "", " in 12"),
                said("percent", "", " %"),
                ("slope_factor", up.mm() / 1_000.0),
            ]
        }
        "common rafter length per foot of run" => {
            let shed = one_slope(inches(number(inputs, "run_in")));
            let shed = measured(shed, FactKey::Rise, inches(number(inputs, "rise_in_per_ft")));
            vec![("", surveyed(&shed).1.mm() / inches(1.0).mm())]
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
            vec![("inches", up.mm() / inches(1.0).mm())]
        }
        "common and hip length" => {
            // Hips are no part of any form yet.
            let span = inches(12.0 * 12.0 + 7.0) * 2;
            let (_, up) = surveyed(&pitched(two_slopes(span), slope("6 in 12")));
            vec![("common_ft", up.mm() / inches(12.0).mm())]
        }
        "slope length" => {
            let span = metres(number(inputs, "run_m")) * 2;
            let pitch = slope(&format!("{} degrees", inputs["pitch_deg"]));
            let (pitch, up) = surveyed(&pitched(two_slopes(span), pitch));
            vec![("rise_m", (span / 2).rise_over(pitch).mm() / 1_000.0), ("slope_m", up.mm() / 1_000.0)]
        }
        "pitch from site measurements" => {
            let of = |name: &str| metres(number(&inputs["measured"], name));
            let rise = of("ridge_height_m") - of("eaves_height_m");
            let (pitch, up) = surveyed(&measured(two_slopes(of("width_m")), FactKey::Rise, rise));
            vec![("pitch_deg", pitch.deg()), ("slope_m", up.mm() / 1_000.0)]
        }
        "taper angle" => {
            let (length, up, by) = (metres(3.0), metres(2.6), metres(0.04));
            let shed = measured(measured(Answers::shed(), FactKey::Length, length), FactKey::SlopeLength, up);
            let shed = measured(shed, FactKey::DiagonalA, (length + by).hypot(up));
            let shed = measured(shed, FactKey::DiagonalB, (length - by).hypot(up));
            let plan = plan(&shed.0, &shipped()).expect("a plan");
            vec![("", taper(&plan, 0).expect("it leans").angle.deg())]
        }
        other => panic!("no test knows what to do with {other:?}"),
    }
}

#[test]
fn geometry() {
    let mut met = 0;
    for case in cases(include_str!("../references/geometry.json")) {
        let (id, source) = (&case["id"], &case["source"]);
        for (name, value) in computed(&case) {
            let expected = if name.is_empty() { &case["expected"] } else { &case["expected"][name] };
            let expected = expected.as_f64().unwrap_or_else(|| panic!("{id} expects no {name}"));
            let off = (value - expected).abs();
            assert!(off <= tolerance(&case), "{id} {name}: {value}, expected {expected} ({source})");
            met += 1;
        }
    }
    assert!(met >= 60, "only {met} values were compared");
}

/// What the shipped book answers to a question, for a roof.
fn answer(book: &Book, roof: &Answers, says: &str) -> String {
    let asking = Asking {
        understander: book.topics.understander(),
        asks: &book.asks,
        handbook: &book.handbook,
        words: &book.words,
        language: "en",
        unit: UsualUnit::M,
    };
    ask_json(&asking, &roof.0, says)["text"].as_str().expect("an answer").to_owned()
}

#[test]
fn practice() {
    let book = Book::shipped();
    let figure = |figure: Figure| book.handbook.rules.practice(figure).expect("a figure of the book");
    let shed = Answers::shed().choose(FactKey::Sheet, "fennick-sheet-2000");
    let cautions = |roof: &Answers| -> String {
        let planned = plan(&roof.0, &book.handbook).expect("a plan");
        let said = planned.cautions.iter().map(|one| book.words.say("en", &one.note, UsualUnit::M));
        said.collect::<Vec<_>>().join("\n")
    };
    for case in cases(include_str!("../references/practice.json")) {
        let (id, expected) = (case["id"].as_str().expect("an id"), &case["expected"]);
        let met = match id {
            // Out at the foot by one in so many is at most a degree from the published slope.
            "SAFE-001" => {
                let up = Length::from_mm(figure(Figure::LadderOneIn).count());
                let leans = Angle::from_rise_run(up, Length::from_mm(1)).expect("an angle");
                (leans.deg() - expected.as_f64().expect("degrees")).abs() < 1.0
            }
            "SAFE-005" => {
                let least = inches(12.0) * expected.as_i64().expect("feet");
                figure(Figure::LadderOverEdge).length() >= least
                    && answer(&book, &shed, "how long a ladder do i need").contains("1 m above")
            }
            "SAFE-011" => cautions(&shed)
                .contains("Treat every roof as fragile until somebody competent has said it is not"),
            "SAFE-015" => {
                let most = figure(Figure::WindMost).speed();
                let off = Length::from_um(most.um_per_second()).mm() / 1_000.0 - number(expected, "m_s");
                json!(most.mph()) == expected["mph"]
                    && off.abs() < 0.05
                    && cautions(&shed).contains(&format!("{} mph", expected["mph"]))
                    && answer(&book, &shed, "how much wind is too much")
                        .contains(&format!("{} mph", expected["mph"]))
            }
            "SAFE-020" => {
                let old = Answers::shed().choose(FactKey::CoveringNow, "grey_cement_sheets");
                let stops = stops(&old.0, &book.handbook);
                let said = stops.iter().map(|stop| book.words.say("en", &stop.note, UsualUnit::M));
                said.collect::<String>().contains("fitted before 2000")
            }
            "SAFE-023" => cautions(&shed).contains("Do not work alone"),
            "DRAI-001" => {
                // 100 m² exactly: so many litres a second on each square metre are a minute's in sixtieths.
                let barn = shed.clone().length(FactKey::Length, 20_000).length(FactKey::SlopeLength, 5_000);
                let said = answer(&book, &barn, "what size of gutter do i need");
                assert_eq!(
                    case["inputs"]["rainfall_mm_h"],
                    json!(figure(Figure::Cloudburst).length().round_mm())
                );
                said.contains("125 litres") || said.contains("126 litres")
            }
            other => panic!("no test knows what to do with {other:?}"),
        };
        assert!(met, "{id}: expected {expected} ({})", case["source"]);
    }
}
