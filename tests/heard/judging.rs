//! One message worked, and what came of it.

use lapwise::conversation::deciding::answer_of;
use lapwise::conversation::event::{Answer, Event};
use lapwise::message::{Content, Say};
use lapwise::roofing::roof::{FactKey, Facts};

use crate::hands::{Danger, Remark, Safety};
use crate::stages::{alike, chat_at, facts_of, roof};
use crate::table::Part;
use crate::talking::Chat;

/// What one message did.
pub(crate) struct Outcome {
    pub(crate) says: Vec<Say>,
    /// Facts that are other than before: stored, whatever was said.
    pub(crate) stored: Vec<Answer>,
    /// Facts that were put to the person as a question.
    pub(crate) asked: Vec<Answer>,
    /// Whether they were only worked out, because the person supposed them.
    pub(crate) supposed: bool,
}

/// Types one message into a chat.
pub(crate) fn type_into(chat: &mut Chat, text: &str) -> Outcome {
    let before = chat.session.facts().clone();
    let (events, says) = chat.say(&Content::Text(text.to_owned()));
    let stored = news(&before, chat.session.facts());
    let asked = events
        .iter()
        .flat_map(|event| match event {
            Event::Proposed(change) => change.answers.clone(),
            Event::Offered(offers) => offers.iter().flat_map(|offer| offer.answers.clone()).collect(),
            // A danger that is asked about asks for the fact that it stands for.
            Event::Wondered(kind) => answer_of(*kind).into_iter().collect(),
            _ => Vec::new(),
        })
        .collect();
    let supposed = says.iter().any(|say| say.text.contains("That was only worked out"));
    Outcome { says, stored, asked, supposed }
}

fn news(before: &Facts, after: &Facts) -> Vec<Answer> {
    after
        .iter()
        .filter(|(fact, value)| before.get(*fact) != Some(*value) && *fact != FactKey::AsbestosSuspicion)
        .map(|(fact, value)| (fact, value.clone()))
        .collect()
}

/// What was typed and what was said back, for the list of what went wrong.
fn report(typed: &str, outcome: &Outcome) -> String {
    let said: Vec<String> =
        outcome.says.iter().map(|say| format!("[{}] {}", say.id, say.text.replace('\n', " "))).collect();
    let stored: Vec<&str> = outcome.stored.iter().map(|(fact, _)| fact.key()).collect();
    let asked: Vec<&str> = outcome.asked.iter().map(|(fact, _)| fact.key()).collect();
    let said: String = said.join(" // ").chars().take(260).collect();
    format!("“{typed}” stored {stored:?} asked {asked:?} -> {said}")
}

/// A remark: was a fact changed that was not said, was what was said heard?
pub(crate) fn remark(part: &mut Part, hand: &str, remark: &Remark) {
    let known = roof(&remark.roof);
    let mut chat = chat_at(&remark.stage, &known, remark.asks.as_deref());
    let outcome = type_into(&mut chat, &remark.says);
    let wanted = facts_of(&remark.changes);
    let open = remark.asks.as_deref().filter(|_| remark.stage == "asking").and_then(FactKey::from_key);
    // What was said again as it was is no change.
    let news: Vec<_> = wanted
        .iter()
        .filter(|(fact, value)| {
            Some(*fact) == open || known.get(*fact).is_none_or(|known| !alike(known, value))
        })
        .collect();
    let is_wanted = |(fact, value): &Answer| {
        wanted.iter().any(|(other, wanted)| *fact == other && alike(value, wanted))
            || known.get(*fact).is_some_and(|known| alike(known, value))
    };
    let may_store = matches!(remark.stage.as_str(), "asking" | "review");
    // Whoever reads a label uses the sheet it is on; and what stops the plan stops it at once (see DEVELOPERS.md).
    let own_sheet =
        |answer: &Answer| answer.0 == FactKey::Sheet && wanted.get(FactKey::SheetLength).is_some();
    let stops = |answer: &Answer| answer.0.is_safety() && is_wanted(answer);
    let silent = outcome.stored.iter().any(|answer| !is_wanted(answer) && !own_sheet(answer))
        || (!may_store && !outcome.stored.iter().all(stops));
    let has =
        |answers: &[Answer], fact: FactKey, value| answers.iter().any(|(f, v)| *f == fact && alike(v, value));
    let heard = news.iter().all(|(fact, value)| {
        ((may_store || fact.is_safety()) && has(&outcome.stored, *fact, value))
            || has(&outcome.asked, *fact, value)
    });
    let vain = news.is_empty() && !outcome.asked.is_empty() && !outcome.supposed && !remark.unsure;
    // Where a good listener would ask back, a question about nothing stored is right too.
    let asked_back = remark.unsure && outcome.stored.is_empty();
    let right = !silent && (heard || asked_back) && !vain;
    part.count("remarks", right);
    part.count("remarks: nothing stored that was not said", !silent);
    if news.is_empty() {
        part.count("remarks: talk that changes nothing is let be", !silent && !vain);
    } else {
        part.count("remarks: what was said is heard", heard || asked_back);
    }
    if !right {
        let what = if silent {
            "SILENT"
        } else if vain {
            "in vain"
        } else {
            "missed"
        };
        let wanted: Vec<&str> = news.iter().map(|(fact, _)| fact.key()).collect();
        part.fail(format!(
            "{hand} remark {what} ({}{}) wanted {wanted:?}: {}",
            remark.stage,
            remark.asks.as_ref().map(|asks| format!(" {asks}")).unwrap_or_default(),
            report(&remark.says, &outcome)
        ));
    }
}

/// A danger, or what only sounds like one.
pub(crate) fn danger(part: &mut Part, hand: &str, danger: &Danger) {
    let mut chat = chat_at(&danger.stage, &roof("B"), Some("timber_spacing"));
    let outcome = type_into(&mut chat, &danger.says);
    let state = chat.state();
    let stopped = state["stopped"].is_string()
        || chat.session.progress().rests().is_some()
        || outcome.says.iter().any(|say| say.id.starts_with("answer-injury") || say.id.starts_with("stop"));
    let asked = outcome.says.iter().any(|say| say.id.starts_with("danger-ask"));
    if danger.is == "danger" {
        part.count("dangers: stopped or asked about", stopped || asked);
        if !(stopped || asked) {
            part.fail(format!("{hand} danger missed: {}", report(&danger.says, &outcome)));
        }
    } else {
        part.count("look-alikes: job not stopped", !stopped);
        part.count("look-alikes: not even asked about", !stopped && !asked);
        if stopped || asked {
            let how = if stopped { "STOPPED" } else { "asked" };
            part.fail(format!("{hand} look-alike {how}: {}", report(&danger.says, &outcome)));
        }
    }
}

/// An answer to one of the three questions of safety.
pub(crate) fn safety(part: &mut Part, hand: &str, safety: &Safety) {
    let mut known = roof("B");
    if safety.asks == "asbestos_test" {
        let grey = facts_of([(&"covering_now".to_owned(), &toml::Value::from("grey_cement_sheets"))]);
        for (fact, value) in grey.iter() {
            let _ = known.set(fact, value.clone());
        }
    }
    let mut chat = chat_at("asking", &known, Some(&safety.asks));
    let outcome = type_into(&mut chat, &safety.says);
    let fact = FactKey::from_key(&safety.asks).unwrap();
    let safe = matches!(chat.session.facts().choice(fact), Some("none" | "sound" | "tested_clear"));
    match safety.verdict.as_str() {
        "safe" => part.count("safety: plain safe answers passed at once", safe),
        "ask" => part.count("safety: hedged answers put back", !safe),
        _ => part.count("safety: unsafe answers not passed", !safe),
    }
    if safe != (safety.verdict == "safe") {
        part.fail(format!(
            "{hand} safety {} ({}): {}",
            safety.verdict,
            safety.asks,
            report(&safety.says, &outcome)
        ));
    }
}
