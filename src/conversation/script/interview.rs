//! What comes next: a stop, the next question, a contradiction, the review, or the plan.
//!
//! Goal-directed: the plan says which facts it lacks, the script says how to ask for each and in which order.

use crate::conversation::Guide;
use crate::conversation::script::{Question, Unsure};
use crate::conversation::session::Session;
use crate::roofing::plan::{self, Plan, Refusal, Unplanned};
use crate::roofing::roof::{FactKey, Facts, covering};

/// Where a chat stands.
#[derive(Clone, Debug)]
pub enum Standing<'a> {
    /// Somebody could get hurt: no plan until this is settled, by way of this question.
    Stopped(Refusal, Option<&'a Question>),
    /// As things are there can be no plan, and what would change that.
    Refused(Refusal),
    /// This is to be asked.
    Ask(&'a Question),
    /// Everything is known.
    Complete(Box<Plan>),
    /// Our own fault: the plan did not pass its checks.
    Faulty(String),
}

/// Where this chat stands.
pub fn standing<'a>(guide: &Guide<'a>, session: &Session) -> Standing<'a> {
    standing_by(guide, session, |facts| planned(guide, session, facts))
}

/// The plan that the work goes by although another book or planner runs by now: nothing changes on a roof that is
/// being built until the person has accepted it.
pub(in crate::conversation) fn stands_by<'a>(guide: &Guide<'a>, session: &Session) -> Option<&'a Plan> {
    let made = session.made()?;
    let outlived = session.progress().begun() && made.by != guide.handbook.version;
    guide.earlier.filter(|earlier| outlived && earlier.made.is_same_plan(made))
}

/// The plan of these facts: the one that the work goes by, else one by the book in force.
pub(in crate::conversation) fn planned(
    guide: &Guide<'_>,
    session: &Session,
    facts: &Facts,
) -> Result<Plan, Unplanned> {
    match stands_by(guide, session) {
        Some(earlier) if earlier.facts == *facts => Ok(earlier.clone()),
        Some(_) | None => plan::plan_on(guide.today, facts, guide.handbook),
    }
}

/// The same, with the plan made by whoever may have made it before.
pub(in crate::conversation) fn standing_by<'a>(
    guide: &Guide<'a>,
    session: &Session,
    plan: impl FnOnce(&Facts) -> Result<Plan, Unplanned>,
) -> Standing<'a> {
    let facts = session.facts();
    if let Some(stop) = plan::stops(facts, guide.handbook).into_iter().next() {
        let question = settles(guide, &stop);
        return Standing::Stopped(stop, question);
    }
    // A new book's refusal does not take away the plan that somebody builds by; a stop of it does.
    let builds_on = stands_by(guide, session).is_some_and(|earlier| earlier.facts == *facts);
    if let Some(refusal) = plan::refusals(facts, guide.handbook).into_iter().next().filter(|_| !builds_on) {
        return Standing::Refused(refusal);
    }
    let outcome = plan(facts);
    let lacking: &[FactKey] = match &outcome {
        Err(Unplanned::Missing(lacking)) => &lacking.0,
        Ok(_) | Err(Unplanned::Refused(_) | Unplanned::Fault(_)) => &[],
    };
    if let Some(question) = next_question(guide, session, lacking) {
        return Standing::Ask(question);
    }
    match outcome {
        Ok(plan) => Standing::Complete(Box::new(plan)),
        Err(Unplanned::Refused(refusals)) => match refusals.into_iter().next() {
            Some(refusal) => Standing::Refused(refusal),
            None => Standing::Faulty("refused without a reason".to_owned()),
        },
        Err(Unplanned::Fault(fault)) => Standing::Faulty(format!("{}: {}", fault.check, fault.detail)),
        Err(Unplanned::Missing(missing)) => {
            let last_resort = missing.0.iter().find_map(|fact| question_for(guide, *fact));
            last_resort
                .map_or_else(|| Standing::Faulty(format!("no question for {missing:?}")), Standing::Ask)
        }
    }
}

/// The question that can lift a stop: the last of its facts that has one.
fn settles<'a>(guide: &Guide<'a>, stop: &Refusal) -> Option<&'a Question> {
    stop.facts.iter().rev().find_map(|fact| question_for(guide, *fact))
}

/// The question for a fact.
pub fn question_for<'a>(guide: &Guide<'a>, fact: FactKey) -> Option<&'a Question> {
    guide.script.questions.iter().find(|question| question.fact == fact)
}

/// Facts that are asked because another question was passed over.
fn wanted_instead(guide: &Guide<'_>, session: &Session, lacking: &[FactKey]) -> Vec<FactKey> {
    let passed = guide.script.questions.iter().filter(|one| session.declined().contains(&one.fact));
    passed
        .filter_map(|question| match &question.unsure {
            // Once one of them is known, the others are lacking in place of what was passed over.
            Unsure::AskInstead(facts) => {
                let due = lacking.contains(&question.fact) || facts.iter().any(|fact| lacking.contains(fact));
                due.then_some(facts.iter().copied())
            }
            Unsure::Answer(_) | Unsure::Assume(_) | Unsure::FindOut => None,
        })
        .flatten()
        .collect()
}

/// The first question, in script order, that is still to be asked.
pub fn next_question<'a>(guide: &Guide<'a>, session: &Session, lacking: &[FactKey]) -> Option<&'a Question> {
    let instead = wanted_instead(guide, session, lacking);
    let open = |question: &&Question| {
        let unknown = session.facts().get(question.fact).is_none();
        let passed_over = session.declined().contains(&question.fact);
        unknown && !passed_over && is_due(question, session.facts(), lacking, &instead)
    };
    let next = guide.script.questions.iter().find(open)?;
    if depends_on_covering(next.fact, guide) && covering(session.facts(), guide.handbook).is_none() {
        let mut of_the_sheet = guide.script.questions.iter().filter(|one| one.fact == FactKey::Sheet);
        return of_the_sheet.find(open).or(Some(next));
    }
    Some(next)
}

/// Whether what a fact means is for the covering to say, which must then be known first.
fn depends_on_covering(fact: FactKey, guide: &Guide<'_>) -> bool {
    let mut rules = guide.handbook.rules.rules.iter().filter(|rule| rule.covering.is_some());
    rules.any(|rule| rule.when.iter().any(|condition| condition.fact() == fact))
        || matches!(fact, FactKey::DeckThickness | FactKey::Insulation)
}

fn is_due(question: &Question, facts: &Facts, lacking: &[FactKey], instead: &[FactKey]) -> bool {
    if instead.contains(&question.fact) {
        return true;
    }
    if question.only_instead || !question.when.iter().all(|guard| guard.holds(facts)) {
        return false;
    }
    // What follows from other facts, or does not matter for this roof, is not lacking.
    question.asked_besides || lacking.contains(&question.fact)
}
