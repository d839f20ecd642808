//! Requirements and what contributed to them, as JSON.

use serde_json::{Value, json};

use super::facts::{fact_json, tidy};
use crate::roofing::findings::Reason;
use crate::roofing::rules::{Limit, Support};

/// A requirement's value: a number of millimetres, a count, or a kind of support.
pub(super) fn limit_json(limit: Limit) -> Value {
    match limit {
        Limit::Length(length) => tidy(json!(length.mm())),
        Limit::Count(count) => json!(count),
        Limit::Support(Support::Purlins) => json!("purlins"),
        Limit::Support(Support::FullDeck) => json!("full deck"),
    }
}

/// A rule's say: its id, its value, the facts it looked at, and its source.
pub(super) fn reason_json(reason: &Reason) -> Value {
    let facts = reason.facts.iter().map(|(key, value)| {
        let json = serde_json::to_value(fact_json(value)).unwrap_or(Value::Null);
        (key.key().to_owned(), tidy(json))
    });
    json!({
        "rule": reason.rule,
        "value": limit_json(reason.limit),
        "facts": Value::Object(facts.collect()),
        "source": reason.source,
        "since": reason.since,
    })
}
