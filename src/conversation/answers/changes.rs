//! What is different since the last change.

use super::Roof;
use super::buying::named;
use crate::roofing::note::{Arg, Note};
use crate::roofing::plan::{difference, plan};
use crate::roofing::roof::{FactKey, FactValue};

/// Each fact that is not what it was, then what that made of the plan.
pub(super) fn since(roof: &Roof<'_>) -> Vec<Note> {
    // Before there was a plan, nothing of one can have changed.
    let before = roof.before.and_then(|before| Some((before, plan(before, roof.book).ok()?)));
    let Some((before, was)) = before else { return vec![Note::new("answer-what-changed")] };
    let facts = FactKey::ALL.iter().filter_map(|fact| {
        let (was, is) = (before.get(*fact), roof.facts.get(*fact));
        (was != is).then(|| changed(roof, *fact, was, is)).flatten()
    });
    let mut notes: Vec<Note> = facts.collect();
    if let Some(is) = roof.plan {
        let follows = difference(&was, is).notes(was.slopes.len().max(is.slopes.len()));
        let none = follows.is_empty().then(|| Note::new("answer-what-changed-same-list"));
        notes.extend(follows.into_iter().chain(none));
    }
    notes
}

fn changed(roof: &Roof<'_>, fact: FactKey, was: Option<&FactValue>, is: Option<&FactValue>) -> Option<Note> {
    let name = format!("fact-{}", dashed(fact));
    let now = say(roof, fact, is?);
    Some(match was {
        Some(was) => Note::new("answer-what-changed-fact")
            .word("fact", name)
            .with("before", say(roof, fact, was))
            .with("after", now),
        None => Note::new("answer-what-changed-new").word("fact", name).with("after", now),
    })
}

fn say(roof: &Roof<'_>, fact: FactKey, value: &FactValue) -> Arg {
    match value {
        FactValue::Length(length) if fact.is_of_goods() => Arg::Size(length.value),
        FactValue::Length(length) => Arg::Length(length.value),
        FactValue::Angle(angle) => Arg::Angle(angle.value),
        FactValue::Count(count) => Arg::Count(*count),
        FactValue::Words(words) => Arg::Text(words.as_str().to_owned()),
        FactValue::Choice(id) if fact == FactKey::Sheet => {
            let sheet = roof.book.catalogue.sheets.iter().find(|sheet| sheet.item.id == *id);
            named(sheet.map_or("", |sheet| sheet.item.name.as_str()))
        }
        FactValue::Choice(id) => Arg::Word(format!("choice-{}-{id}", dashed(fact))),
    }
}

fn dashed(fact: FactKey) -> String {
    fact.key().replace('_', "-")
}
