//! That "not sure" about safety never passes for a safe answer.

use super::ScriptRead;
use crate::book::fault::Faults;
use crate::book::rules::bands::stops_on;
use crate::conversation::script::Unsure;
use crate::roofing::roof::FactKey;
use crate::roofing::rules::{Condition, Rule, RuleBook};

/// Notes every safety question whose "not sure" stands for an answer that no rule stops at.
pub(in crate::book) fn check(read: &ScriptRead<'_>, rules: &RuleBook, faults: &mut Faults) {
    for (question, place) in read.script.questions.iter().zip(&read.places) {
        let fact = question.fact;
        let unsafe_answer = match &question.unsure {
            Unsure::Answer(answer) if fact.is_safety() => {
                // Where no rule hears the fact at all, that is the fault, and named elsewhere.
                let heard = rules.rules.iter().any(|rule| stops_on(rule, fact));
                let stopped = rules.rules.iter().any(|rule| stops_at(rule, fact, answer));
                (heard && !stopped).then_some(answer)
            }
            Unsure::Answer(_) | Unsure::AskInstead(_) | Unsure::Assume(_) | Unsure::FindOut => None,
        };
        if let Some(answer) = unsafe_answer {
            let what = format!(
                "\"not sure\" about `{}` would count as `{answer}`, which no rule stops at: \
                 a safety answer is never assumed.",
                fact.key()
            );
            faults.at(*place, what);
        }
    }
}

/// Whether a rule can stop the plan at this answer.
fn stops_at(rule: &Rule, fact: FactKey, answer: &str) -> bool {
    stops_on(rule, fact)
        && rule.when.iter().any(|condition| match condition {
            Condition::OneOf { fact: asked, any } => *asked == fact && any.iter().any(|id| id == answer),
            Condition::NoneOf { fact: asked, any } => *asked == fact && any.iter().all(|id| id != answer),
            Condition::Told { fact: asked, known } => *asked == fact && !known,
            Condition::Angle { .. } | Condition::Length { .. } => false,
        })
}
