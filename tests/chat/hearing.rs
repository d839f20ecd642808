//! The ears, stage by stage: every line of `tests/hearing/*.toml` is one case. To add a case, add a line.

#![expect(clippy::unwrap_used, clippy::wildcard_enum_match_arm, reason = "a test fails by panicking")]
#![allow(dead_code, reason = "the stages serve the hands, too")]

use crate::stages;
use crate::talking;

use std::fs;

use lapwise::conversation::ears::clauses::{Mood, Time};
use lapwise::conversation::ears::figures::{Kind, Link};
use lapwise::conversation::ears::{Interpretation, View, interpret};
use lapwise::conversation::session::Open;
use lapwise::roofing::roof::{FactKey, FactValue};
use stages::{chat_at, facts_of, roof};
use talking::{Chat, content, guide};

fn cases(name: &str) -> toml::Table {
    fs::read_to_string(format!("tests/hearing/{name}.toml")).unwrap().parse().unwrap()
}

fn texts(value: &toml::Value) -> Vec<String> {
    value.as_array().unwrap().iter().map(|one| one.as_str().unwrap().to_owned()).collect()
}

fn heard(chat: &Chat, text: &str) -> Interpretation {
    interpret(&View { guide: &guide(), session: &chat.session }, text)
}

#[test]
fn figures_stand_where_they_stand_and_are_of_their_kind() {
    let mut wrong = Vec::new();
    for (text, expected) in cases("figures") {
        let message = guide().ears.hear(&text);
        let found: Vec<String> = message
            .figures
            .iter()
            .map(|figure| {
                let kind = match figure.kind {
                    Kind::Length => "length",
                    Kind::Angle => "angle",
                    Kind::Temperature => "temperature",
                    Kind::Speed => "speed",
                    Kind::Time => "time",
                    Kind::Count => "count",
                    Kind::Money => "money",
                    Kind::Mass => "mass",
                    Kind::Bare => "bare",
                };
                let link = match figure.link {
                    Some(Link::By) => " (by)",
                    Some(Link::And) => " (and)",
                    Some(Link::Comma) => " (comma)",
                    Some(Link::To) => " (to)",
                    Some(Link::Or) => " (or)",
                    None => "",
                };
                format!("{kind}: {}{link}", figure.text)
            })
            .collect();
        if found != texts(&expected) {
            wrong.push(format!("{text}: {found:?}"));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn every_clause_does_what_it_does() {
    let mut wrong = Vec::new();
    for (text, expected) in cases("clauses") {
        let message = guide().ears.hear(&text);
        let found: Vec<String> = message
            .clauses
            .iter()
            .map(|clause| {
                let mood = match clause.mood {
                    Mood::States => "states",
                    Mood::Asks => "asks",
                    Mood::Supposes => "supposes",
                    Mood::Reports => "reports",
                };
                let flags = [
                    (clause.others, " others"),
                    (clause.time == Time::Past, " past"),
                    (clause.time == Time::Planned, " planned"),
                    (clause.conditional, " if"),
                    (clause.hedged && text.contains("probably"), " unsure"),
                ];
                let flags: String = flags.iter().filter(|(holds, _)| *holds).map(|(_, flag)| *flag).collect();
                format!("{mood}{flags}")
            })
            .collect();
        if found != texts(&expected) {
            wrong.push(format!("{text}: {found:?}"));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn agreement_is_heard_in_every_everyday_way() {
    let cases = cases("agreement");
    let chat = chat_at("review", &roof("A"), None);
    let mut wrong = Vec::new();
    for (key, expected) in [("yes", Some(true)), ("no", Some(false)), ("neither", None)] {
        for text in texts(&cases[key]) {
            let found = heard(&chat, &text).yes_or_no();
            if found != expected {
                wrong.push(format!("{text}: {found:?}"));
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn only_a_plain_safe_answer_passes() {
    let cases = cases("safety");
    let mut wrong = Vec::new();
    for group in cases["group"].as_array().unwrap() {
        let fact = FactKey::from_key(group["asks"].as_str().unwrap()).unwrap();
        let mut known = roof("B");
        if fact == FactKey::AsbestosTest {
            let _ = known.set(FactKey::CoveringNow, FactValue::Choice("grey_cement_sheets".to_owned()));
        }
        for (key, passes) in [("safe", true), ("ask", false)] {
            for text in texts(&group[key]) {
                let mut chat = chat_at("asking", &known, Some(fact.key()));
                chat.say(&content(&text));
                let choice = chat.session.facts().choice(fact);
                if matches!(choice, Some("none" | "sound" | "tested_clear")) != passes {
                    wrong.push(format!("{}: {text}: {choice:?}", fact.key()));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

fn said(fact: FactKey, value: &FactValue) -> String {
    let value = match value {
        FactValue::Length(length) => format!("{}", (length.value.mm() * 10.0).round() / 10.0),
        FactValue::Angle(angle) => format!("{}", (angle.value.deg() * 10.0).round() / 10.0),
        FactValue::Choice(id) => id.clone(),
        FactValue::Count(count) => count.to_string(),
        FactValue::Words(words) => words.as_str().to_owned(),
    };
    format!("{}={value}", fact.key())
}

#[test]
fn what_is_said_is_taken_or_put_back_and_nothing_else_is() {
    let cases = cases("remarks");
    let mut wrong = Vec::new();
    for case in cases["remark"].as_array().unwrap() {
        let text = |key: &str| case.get(key).and_then(toml::Value::as_str).unwrap_or_default();
        let known = roof(text("roof"));
        let asks = Some(text("asks")).filter(|asks| !asks.is_empty());
        let mut chat = chat_at(text("stage"), &known, asks);
        let before = chat.session.facts().clone();
        chat.say(&content(text("says")));
        let facts = chat.session.facts().iter();
        let mut taken: Vec<String> = facts
            .filter(|(fact, value)| before.get(*fact) != Some(*value))
            .map(|(fact, value)| said(fact, value))
            .collect();
        let proposed =
            chat.session.progress().proposal().map(|change| change.answers.clone()).unwrap_or_default();
        let offered = match chat.session.open() {
            Open::Pick(offers) => offers.iter().flat_map(|offer| offer.answers.clone()).collect(),
            _ => Vec::new(),
        };
        let mut put_back: Vec<String> =
            proposed.iter().chain(&offered).map(|(fact, value)| said(*fact, value)).collect();
        taken.sort();
        put_back.sort();
        let wanted = |key: &str| {
            let mut wanted = case.get(key).map(texts).unwrap_or_default();
            wanted.sort();
            wanted
        };
        if (taken.clone(), put_back.clone()) != (wanted("gives"), wanted("put_back")) {
            wrong.push(format!("{}: took {taken:?}, put back {put_back:?}", text("says")));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
    let _ = facts_of([]);
}
