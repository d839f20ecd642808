//! One question to one roof, answered as JSON.
//!
//! `{"topics": [ids, best first], "text": "…", "handover": null | "licensed_pro" | "emergency" | "adviser",
//! "stopped": reason or null}`

use serde_json::{Value, json};

use crate::conversation::answers::{Answer, Reply, Roof, reply, talked_about};
use crate::conversation::ears::asked::Asks;
use crate::conversation::understanding::{TopicId, Understander, Understanding};
use crate::conversation::wording::Words;
use crate::roofing::note::Note;
use crate::roofing::plan::{Handbook, Unplanned, plan};
use crate::roofing::roof::Facts;
use crate::roofing::rules::Handover;
use crate::units::UsualUnit;

/// Who answers, in which words.
#[derive(Clone, Copy, Debug)]
pub struct Asking<'a> {
    /// The topics.
    pub understander: &'a Understander,
    /// How figures are put.
    pub asks: &'a Asks,
    /// The rules and the catalogue.
    pub handbook: &'a Handbook,
    /// The sentences.
    pub words: &'a Words,
    /// The language of the answer.
    pub language: &'a str,
    /// The units of the answer.
    pub unit: UsualUnit,
}

/// Answers `text` for the roof that `facts` describe.
pub fn ask_json(asking: &Asking<'_>, facts: &Facts, text: &str) -> Value {
    let understood = asking.understander.understand(text);
    let planned = plan(facts, asking.handbook);
    let (plan, refusals) = match &planned {
        Ok(plan) => (Some(plan), [].as_slice()),
        Err(Unplanned::Refused(refusals)) => (None, refusals.as_slice()),
        Err(Unplanned::Missing(_) | Unplanned::Fault(_)) => (None, [].as_slice()),
    };
    let topics = asking.understander.topics();
    let roof = Roof { book: asking.handbook, facts, plan, refusals, topics, before: None };
    let figures = asking.asks.hear(text, talked_about(&understood));
    let reply = reply(&understood, &figures, &roof);
    json!({
        "topics": topics_of(&reply, &understood),
        "text": asking.text(&reply),
        "handover": reply.handover.map(handover_key),
        "stopped": reply.stopped,
    })
}

/// What was asked about: a sure danger comes first, then a figure that was judged.
fn topics_of(reply: &Reply, understood: &Understanding) -> Vec<&'static str> {
    let danger = understood.danger.as_ref().filter(|danger| danger.sure).map(|danger| danger.kind.topic());
    let judged = reply.answers.first().filter(|_| reply.judged).map(|answer| answer.topic);
    let first: Vec<TopicId> =
        danger.into_iter().chain(judged.filter(|topic| Some(*topic) != danger)).collect();
    let heard = understood.topics.iter().map(|hit| hit.topic).filter(|topic| !first.contains(topic));
    first.iter().copied().chain(heard).map(TopicId::key).collect()
}

/// Every topic with how somebody may ask it.
pub fn topics_json(understander: &Understander) -> Value {
    let topics = understander.topics().iter();
    topics.map(|topic| json!({ "id": topic.id.key(), "example": topic.example })).collect()
}

impl Asking<'_> {
    fn text(&self, reply: &Reply) -> String {
        let mut paragraphs = vec![self.lines(&reply.opening)];
        let examples = self.understander.topics().iter().filter(|topic| reply.which.contains(&topic.id));
        paragraphs.push(examples.map(|topic| format!("• {}", topic.example)).collect::<Vec<_>>().join("\n"));
        paragraphs.extend(reply.answers.iter().flat_map(|answer| self.answer(answer)));
        paragraphs.retain(|paragraph| !paragraph.is_empty());
        paragraphs.join("\n\n")
    }

    fn answer(&self, answer: &Answer) -> [String; 2] {
        [self.lines(&answer.short), self.lines(&answer.more)]
    }

    fn lines(&self, notes: &[Note]) -> String {
        let said = notes.iter().map(|note| self.words.say(self.language, note, self.unit));
        said.map(|text| text.replace('\n', " ")).collect::<Vec<_>>().join("\n")
    }
}

const fn handover_key(handover: Handover) -> &'static str {
    match handover {
        Handover::Emergency => "emergency",
        Handover::LicensedPro => "licensed_pro",
        Handover::Adviser => "adviser",
    }
}
