//! A verdict on a typed measurement, as `lapwise read` prints it.

use serde_json::{Map, Number, Value, json};

use crate::units::reading::{Amount, Reading, Verdict, Why, WrittenUnit};
use crate::units::{Angle, Doubt, Length};

/// The verdict as JSON; `why_text` puts a reason into words.
///
/// A length stands under `mm`, a slope under `deg`. `doubt` is there unless the figure was said plainly, and
/// `assumed_unit` where no unit was written.
pub fn verdict_json(verdict: &Verdict, why_text: impl Fn(&Why) -> String) -> Value {
    match verdict {
        Verdict::Value(reading) => {
            let mut object = Map::new();
            object.insert("verdict".to_owned(), json!("value"));
            object.extend(reading_json(reading));
            Value::Object(object)
        }
        Verdict::Values(readings) => json!({ "verdict": "values", "values": list(readings) }),
        Verdict::Ambiguous { why, readings } => json!({
            "verdict": "ambiguous",
            "reason": why.message(),
            "why": why_text(why),
            "readings": list(readings),
        }),
        Verdict::Reject { why } => json!({
            "verdict": "reject",
            "reason": why.message(),
            "why": why_text(why),
        }),
    }
}

fn list(readings: &[Reading]) -> Vec<Value> {
    readings.iter().map(|reading| Value::Object(reading_json(reading))).collect()
}

fn reading_json(reading: &Reading) -> Map<String, Value> {
    let mut object = Map::new();
    match reading.amount {
        Amount::Length(length) => object.insert("mm".to_owned(), millimetres(length)),
        Amount::Angle(angle) => object.insert("deg".to_owned(), degrees(angle, reading.unit)),
    };
    if let Some(doubt) = doubt_id(reading.doubt) {
        object.insert("doubt".to_owned(), json!(doubt));
    }
    if reading.assumed {
        object.insert("assumed_unit".to_owned(), json!(unit_id(reading.unit)));
    }
    object
}

/// A whole number where it is one, else to the micrometre.
fn millimetres(length: Length) -> Value {
    thousandths(length.um(), 1_000, length.mm())
}

/// Degrees as they were written; those worked out from a rise and a run to the hundredth.
fn degrees(angle: Angle, unit: WrittenUnit) -> Value {
    let microdeg = match unit {
        WrittenUnit::Ratio | WrittenUnit::Percent => (angle.microdeg() + 5_000).div_euclid(10_000) * 10_000,
        WrittenUnit::Deg
        | WrittenUnit::Mm
        | WrittenUnit::Cm
        | WrittenUnit::M
        | WrittenUnit::Yd
        | WrittenUnit::Ft
        | WrittenUnit::In
        | WrittenUnit::FtIn => angle.microdeg(),
    };
    thousandths(microdeg, 1_000_000, Angle::from_microdeg(microdeg).deg())
}

fn thousandths(parts: i64, in_one: i64, decimal: f64) -> Value {
    if parts % in_one == 0 {
        return json!(parts / in_one);
    }
    Number::from_f64(decimal).map_or(Value::Null, Value::Number)
}

const fn doubt_id(doubt: Doubt) -> Option<&'static str> {
    match doubt {
        Doubt::Stated => None,
        Doubt::About => Some("about"),
        Doubt::JustUnder => Some("just-under"),
        Doubt::JustOver => Some("just-over"),
        Doubt::ByPhone => Some("by-phone"),
    }
}

const fn unit_id(unit: WrittenUnit) -> &'static str {
    match unit {
        WrittenUnit::Mm => "mm",
        WrittenUnit::Cm => "cm",
        WrittenUnit::M => "m",
        WrittenUnit::Yd => "yd",
        WrittenUnit::Ft => "ft",
        WrittenUnit::In => "in",
        WrittenUnit::FtIn => "ft-in",
        WrittenUnit::Deg => "deg",
        WrittenUnit::Ratio => "in-12",
        WrittenUnit::Percent => "percent",
    }
}
