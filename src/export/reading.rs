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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::reading::{Context, read};
    use crate::units::{Quantity, UsualUnit};

    fn asked(quantity: Quantity, usual: Option<UsualUnit>, text: &str) -> String {
        let verdict = read(text, &Context { quantity, usual, boundaries: &[] });
        verdict_json(&verdict, |why| why.message().to_owned()).to_string()
    }

    #[test]
    fn each_verdict_has_its_shape() {
        let length = |text| asked(Quantity::Length, None, text);
        assert_eq!(length("2.4m"), r#"{"verdict":"value","mm":2400}"#);
        assert_eq!(length("8ft 6"), r#"{"verdict":"value","mm":2590.8}"#);
        assert_eq!(
            length("about 2.4"),
            r#"{"verdict":"value","mm":2400,"doubt":"about","assumed_unit":"m"}"#
        );
        assert_eq!(length("3.1 by 2.2 metres"), r#"{"verdict":"values","values":[{"mm":3100},{"mm":2200}]}"#);
        assert_eq!(
            length("2.4 to 2.6 m"),
            r#"{"verdict":"ambiguous","reason":"reading-range","why":"reading-range","readings":[{"mm":2400},{"mm":2600}]}"#
        );
        assert_eq!(
            length("22 degrees"),
            r#"{"verdict":"reject","reason":"reading-wants-length","why":"reading-wants-length"}"#
        );
        assert_eq!(asked(Quantity::Pitch, None, "1:4"), r#"{"verdict":"value","deg":14.04}"#);
        assert_eq!(
            asked(Quantity::Pitch, Some(UsualUnit::M), "12"),
            r#"{"verdict":"value","deg":12,"assumed_unit":"deg"}"#
        );
    }
}
