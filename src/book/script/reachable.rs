//! Whether any answers lead to a question.

use super::ScriptRead;
use crate::book::fault::Faults;
use crate::conversation::script::{Guard, Question, Unsure};
use crate::roofing::roof::FactKey;

/// Notes every question that no answers lead to.
pub(super) fn check(read: &ScriptRead<'_>, faults: &mut Faults) {
    let questions = &read.script.questions;
    let mut reached: Vec<bool> = vec![false; questions.len()];
    loop {
        let filled: Vec<FactKey> = pairs(questions, &reached).map(|question| question.fact).collect();
        let next: Vec<bool> = questions
            .iter()
            .map(|question| {
                // A fact that nobody asks for may still be told: a question need not be led to.
                question.when.iter().all(|guard| can_hold(guard, &filled)) && !contradicts(&question.when)
            })
            .collect();
        if next == reached {
            break;
        }
        reached = next;
    }
    for ((question, place), reached) in questions.iter().zip(&read.places).zip(&reached) {
        if !reached {
            let what = format!(
                "no answers ever lead to `{}`: look at its `when` and at what asks for it.",
                question.id
            );
            faults.at(*place, what);
        }
        for fact in asked_instead(question) {
            if questions.iter().all(|other| other.fact != fact) {
                let what = format!("`{}` is asked instead, but no question fills it: add one.", fact.key());
                faults.at(*place, what);
            }
        }
    }
}

fn pairs<'q>(questions: &'q [Question], reached: &'q [bool]) -> impl Iterator<Item = &'q Question> {
    questions.iter().zip(reached).filter(|(_, reached)| **reached).map(|(question, _)| question)
}

fn asked_instead(question: &Question) -> Vec<FactKey> {
    match &question.unsure {
        Unsure::AskInstead(facts) => facts.clone(),
        Unsure::Answer(_) | Unsure::Assume(_) | Unsure::FindOut => Vec::new(),
    }
}

fn can_hold(guard: &Guard, filled: &[FactKey]) -> bool {
    match guard {
        Guard::OneOf(fact, any) => !any.is_empty() && filled.contains(fact),
        Guard::Known(fact) => filled.contains(fact),
        Guard::Unknown(_) => true,
    }
}

fn contradicts(guards: &[Guard]) -> bool {
    guards.iter().enumerate().any(|(index, guard)| {
        guards.iter().skip(index + 1).any(|other| match (guard, other) {
            (Guard::OneOf(a, some), Guard::OneOf(b, others)) => {
                a == b && some.iter().all(|id| !others.contains(id))
            }
            (Guard::Known(a) | Guard::OneOf(a, _), Guard::Unknown(b))
            | (Guard::Unknown(a), Guard::Known(b) | Guard::OneOf(b, _)) => a == b,
            (Guard::Known(_), Guard::Known(_) | Guard::OneOf(..))
            | (Guard::OneOf(..), Guard::Known(_))
            | (Guard::Unknown(_), Guard::Unknown(_)) => false,
        })
    })
}
