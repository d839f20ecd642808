//! Facts as others read and write them: the chat's JSON, and the site file.
//!
//! A length is `{"mm": 2400}`, an angle `{"deg": 22.5}`, either with `"doubt": "about"` where the person was not
//! sure; a choice is its id, a count its number, what is told in words those words. A site file may write measurements as a person would:
//! `"8ft 6"`, `"1 in 3"`, or a bare number of millimetres or degrees.

use serde::{Deserialize, Serialize};

use crate::roofing::facts::{Detail, FactKey, FactKind, FactValue, Facts, Words};
use crate::units::reading::{Amount, Context, Reading, Verdict, read};
use crate::units::{Angle, Doubt, Length, Measured, Quantity};

/// A measured value in JSON or TOML.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct MeasuredJson {
    /// A length in millimetres.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mm: Option<f64>,
    /// An angle in degrees.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub deg: Option<f64>,
    /// How sure the person was; absent is quite sure.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub doubt: Option<DoubtJson>,
}

/// How sure a person was.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum DoubtJson {
    /// "about"
    About,
    /// "just under"
    JustUnder,
    /// "just over"
    JustOver,
    /// read off a phone
    ByPhone,
}

/// The value of one fact in JSON or TOML.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(untagged)]
pub enum FactJson {
    /// A measurement with its unit.
    Measured(MeasuredJson),
    /// A count; or, in a site file, a bare measurement in millimetres or degrees.
    Number(f64),
    /// A choice's id; or, in a site file, a measurement as a person writes it.
    Text(String),
    /// In a site file, yes or no.
    Flag(bool),
}

/// What is wrong with one entry of a site.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum FactFault {
    /// No fact has that name.
    #[error("`{0}` is not a fact; `lapwise schema` lists them")]
    UnknownFact(String),
    /// The value cannot be read.
    #[error("`{key}` cannot be {value}: {expected}")]
    Value {
        /// The fact.
        key: String,
        /// What was written.
        value: String,
        /// What would do.
        expected: String,
    },
}

impl DoubtJson {
    const fn from_doubt(doubt: Doubt) -> Option<Self> {
        match doubt {
            Doubt::Stated => None,
            Doubt::About => Some(Self::About),
            Doubt::JustUnder => Some(Self::JustUnder),
            Doubt::JustOver => Some(Self::JustOver),
            Doubt::ByPhone => Some(Self::ByPhone),
        }
    }

    const fn into_doubt(doubt: Option<Self>) -> Doubt {
        match doubt {
            None => Doubt::Stated,
            Some(Self::About) => Doubt::About,
            Some(Self::JustUnder) => Doubt::JustUnder,
            Some(Self::JustOver) => Doubt::JustOver,
            Some(Self::ByPhone) => Doubt::ByPhone,
        }
    }
}

/// One fact as JSON.
pub fn fact_json(value: &FactValue) -> FactJson {
    match value {
        FactValue::Length(length) => FactJson::Measured(MeasuredJson {
            mm: Some(length.value.mm()),
            deg: None,
            doubt: DoubtJson::from_doubt(length.doubt),
        }),
        FactValue::Angle(angle) => FactJson::Measured(MeasuredJson {
            mm: None,
            deg: Some(angle.value.deg()),
            doubt: DoubtJson::from_doubt(angle.doubt),
        }),
        FactValue::Choice(id) => FactJson::Text(id.clone()),
        FactValue::Words(words) => FactJson::Text(words.as_str().to_owned()),
        // Counts are small: an i32 always holds one, and f64 holds every i32.
        FactValue::Count(count) => FactJson::Number(f64::from(i32::try_from(*count).unwrap_or(i32::MAX))),
    }
}

/// All facts as a JSON object, in the order they are asked; whole numbers are written without a fraction.
pub fn facts_json(facts: &Facts) -> serde_json::Value {
    let entries = facts.iter().map(|(key, value)| {
        let json = serde_json::to_value(fact_json(value)).unwrap_or(serde_json::Value::Null);
        (key.key().to_owned(), tidy(json))
    });
    serde_json::Value::Object(entries.collect())
}

/// Writes 2400.0 as 2400, in a whole tree.
pub fn tidy(value: serde_json::Value) -> serde_json::Value {
    match value {
        serde_json::Value::Number(number) => {
            let whole = number.as_f64().and_then(|float| {
                let exact = number.is_f64() && libm::trunc(float).to_bits() == float.to_bits();
                if exact { format!("{float:.0}").parse::<i64>().ok() } else { None }
            });
            whole.map_or(serde_json::Value::Number(number), serde_json::Value::from)
        }
        serde_json::Value::Array(items) => serde_json::Value::Array(items.into_iter().map(tidy).collect()),
        serde_json::Value::Object(entries) => {
            serde_json::Value::Object(entries.into_iter().map(|(key, value)| (key, tidy(value))).collect())
        }
        plain @ (serde_json::Value::Null | serde_json::Value::Bool(_) | serde_json::Value::String(_)) => {
            plain
        }
    }
}

/// Reads the entries of a site; every fault is reported, not only the first.
pub fn facts_from<'a>(
    entries: impl IntoIterator<Item = (&'a str, FactJson)>,
) -> Result<Facts, Vec<FactFault>> {
    let mut facts = Facts::default();
    let mut faults = Vec::new();
    for (key, json) in entries {
        match fact_from(key, &json) {
            Ok((fact, value)) => {
                if !facts.set(fact, value) {
                    faults.push(unfit(key, &json, fact.kind()));
                }
            }
            Err(fault) => faults.push(fault),
        }
    }
    if faults.is_empty() { Ok(facts) } else { Err(faults) }
}

fn fact_from(key: &str, json: &FactJson) -> Result<(FactKey, FactValue), FactFault> {
    let fact = FactKey::from_key(key).ok_or_else(|| FactFault::UnknownFact(key.to_owned()))?;
    let value = match (fact.kind(), json) {
        (FactKind::Quantity(quantity), json) => quantity_from(quantity, json),
        (FactKind::Choice(_) | FactKind::Sheet, FactJson::Text(id)) => Some(FactValue::Choice(id.clone())),
        (FactKind::Words(detail), FactJson::Text(text)) => words_from(detail, text),
        (FactKind::Choice(_), FactJson::Flag(flag)) => {
            Some(FactValue::Choice(if *flag { "yes" } else { "no" }.to_owned()))
        }
        (FactKind::Count(..), FactJson::Number(number)) => {
            format!("{number:.0}").parse().ok().map(FactValue::Count)
        }
        _ => None,
    };
    value.map(|value| (fact, value)).ok_or_else(|| unfit(key, json, fact.kind()))
}

/// Words as they are told, or the choice that stands for them; never a choice that would pass for words.
fn words_from(detail: Detail, text: &str) -> Option<FactValue> {
    let id = text.trim().to_lowercase().replace(' ', "_");
    if id == Detail::NOT_SURE {
        return detail.choices().contains(&Detail::NOT_SURE).then_some(FactValue::Choice(id));
    }
    Words::new(text).map(FactValue::Words)
}

fn quantity_from(quantity: Quantity, json: &FactJson) -> Option<FactValue> {
    let text = match json {
        FactJson::Measured(measured) => return measured_from(quantity, measured),
        FactJson::Number(number) if quantity.length_band().is_some() => format!("{number} mm"),
        FactJson::Number(number) => format!("{number} degrees"),
        FactJson::Text(text) => text.clone(),
        FactJson::Flag(_) => return None,
    };
    match read(&text, &Context { quantity, usual: None, boundaries: &[] }) {
        Verdict::Value(Reading { amount: Amount::Length(value), doubt, .. }) => {
            Some(FactValue::Length(Measured { value, doubt }))
        }
        Verdict::Value(Reading { amount: Amount::Angle(value), doubt, .. }) => {
            Some(FactValue::Angle(Measured { value, doubt }))
        }
        Verdict::Values(_) | Verdict::Ambiguous { .. } | Verdict::Reject { .. } => None,
    }
}

/// The believable band holds for a site file as it does for a chat.
fn measured_from(quantity: Quantity, measured: &MeasuredJson) -> Option<FactValue> {
    let doubt = DoubtJson::into_doubt(measured.doubt);
    match (quantity.length_band(), measured.mm, measured.deg) {
        (Some((low, high)), Some(mm), None) => {
            let value = Length::from_mm_f64(mm).filter(|value| (low..=high).contains(value))?;
            Some(FactValue::Length(Measured { value, doubt }))
        }
        (None, None, Some(deg)) => {
            let (low, high) = Quantity::pitch_band();
            let value = Angle::from_deg_f64(deg).filter(|value| (low..=high).contains(value))?;
            Some(FactValue::Angle(Measured { value, doubt }))
        }
        _ => None,
    }
}

/// So much of a value that does not fit is shown, in letters.
const LONGEST_ECHO: usize = 80;

fn unfit(key: &str, json: &FactJson, kind: FactKind) -> FactFault {
    let written = serde_json::to_string(json).unwrap_or_default();
    let mut value: String = written.chars().take(LONGEST_ECHO).collect();
    if value.len() < written.len() {
        value.push('…');
    }
    let expected = match kind {
        FactKind::Quantity(quantity) => match quantity.length_band() {
            Some((low, high)) => {
                format!(
                    "write a length from {} to {} mm, as 2400, \"2.4 m\" or \"8ft 6\"",
                    low.round_mm(),
                    high.round_mm()
                )
            }
            None => "write a slope from 0 to 60 degrees, as 22, \"22°\" or \"1 in 3\"".to_owned(),
        },
        FactKind::Choice(ids) => format!("write one of {}", ids.join(", ")),
        FactKind::Count(low, high) => format!("write a whole number from {low} to {high}"),
        FactKind::Words(Detail::Day) => told_in_words("say the day, with a figure, as \"3 November\""),
        FactKind::Words(Detail::Distance) => told_in_words("say how far, with a figure, as \"6 m\""),
        FactKind::Words(Detail::Account) => told_in_words("say who and when, or \"not_sure\""),
        FactKind::Sheet => "write the id of a sheet in the catalogue, or \"label\"".to_owned(),
    };
    FactFault::Value { key: key.to_owned(), value, expected }
}

fn told_in_words(how: &str) -> String {
    format!("{how}, in no more than {} letters", Words::MOST)
}
