//! The JSON Schemas of what goes in and what comes out.

use schemars::{JsonSchema, schema_for};
use serde_json::{Value, json};

use super::checks::ChecksJson;
use super::facts::FactJson;
use super::shape::PlanJson;
use crate::roofing::facts::{Detail, FactKey, FactKind, Words};

/// `{"site": …, "plan": …, "checks": …}`: a schema each, JSON Schema 2020-12.
pub fn schemas() -> Value {
    json!({ "site": site_schema(), "plan": of::<PlanJson>(), "checks": of::<ChecksJson>() })
}

fn of<T: JsonSchema>() -> Value {
    serde_json::to_value(schema_for!(T)).unwrap_or(Value::Null)
}

/// A site is an object with a property for each fact; which value each takes follows from the fact's kind.
fn site_schema() -> Value {
    let properties = FactKey::ALL.iter().map(|fact| (fact.key().to_owned(), fact_schema(*fact))).collect();
    json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Site",
        "description": "The facts of one roof.",
        "type": "object",
        "additionalProperties": false,
        "properties": Value::Object(properties),
        "$defs": { "fact": of::<FactJson>() },
    })
}

fn fact_schema(fact: FactKey) -> Value {
    match fact.kind() {
        FactKind::Choice(ids) => {
            // A site file may say true and false for yes and no.
            let flags = [("yes", true), ("no", false)].into_iter().filter(|(id, _)| ids.contains(id));
            let ids = ids.iter().map(|id| Value::from(*id));
            json!({ "enum": ids.chain(flags.map(|(_, flag)| Value::from(flag))).collect::<Vec<_>>() })
        }
        FactKind::Count(low, high) => json!({ "type": "integer", "minimum": low, "maximum": high }),
        FactKind::Words(detail) => words_schema(detail),
        FactKind::Sheet => {
            json!({ "type": "string", "description": "a sheet's id in the catalogue, or \"label\"" })
        }
        FactKind::Quantity(quantity) => {
            let (unit, low, high) = match quantity.length_band() {
                Some((low, high)) => ("mm", low.mm(), high.mm()),
                None => ("deg", 0.0, 60.0),
            };
            let doubt = json!({ "enum": ["about", "just_under", "just_over", "by_phone"] });
            json!({
                "description": format!("a number of {unit}, a text such as a person types, or a table"),
                "anyOf": [
                    { "type": "number", "minimum": low, "maximum": high },
                    { "type": "string" },
                    {
                        "type": "object",
                        "properties": { unit: { "type": "number", "minimum": low, "maximum": high }, "doubt": doubt },
                        "required": [unit],
                        "additionalProperties": false,
                    },
                ],
            })
        }
    }
}

fn words_schema(detail: Detail) -> Value {
    let tells = match detail {
        Detail::Day => "a day, with a figure in it: \"3 November\"",
        Detail::Distance => "how far, with a figure in it: \"6 m\"",
        Detail::Account => "who did it and when, or \"not_sure\"",
    };
    json!({ "type": "string", "description": tells, "minLength": 1, "maxLength": Words::MOST })
}
