//! Requirements and what contributed to them, as JSON.

use serde_json::{Value, json};

use super::facts::{fact_json, tidy};
use crate::roofing::plan::Handbook;
use crate::roofing::rules::{Contribution, Limit, Support};

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
pub(super) fn contribution_json(contribution: &Contribution, handbook: &Handbook) -> Value {
    let facts = contribution.facts.iter().map(|(key, value)| {
        let json = serde_json::to_value(fact_json(value)).unwrap_or(Value::Null);
        (key.key().to_owned(), tidy(json))
    });
    let rule = handbook.rules.rule(&contribution.rule);
    let source = rule.and_then(|rule| handbook.rules.source(&rule.source));
    json!({
        "rule": contribution.rule,
        "value": limit_json(contribution.limit),
        "facts": Value::Object(facts.collect()),
        "source": source.map(|source| source.title.clone()),
        "since": rule.map(|rule| rule.since.clone()),
    })
}
