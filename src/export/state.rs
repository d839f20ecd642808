//! Where a chat stands, as machines read it: what is asked, the facts, the plan, the job, and why it is stopped.

use serde_json::{Value, json};

use super::facts::facts_json;
use super::plan::plan_json;
use crate::conversation::Guide;
use crate::conversation::interview::{Standing, standing};
use crate::conversation::saying::Voice;
use crate::conversation::session::{Open, Session};
use crate::roofing::plan::Plan;
use crate::roofing::roof::{FactKey, Facts};
use crate::roofing::work::{Stop, steps};

/// `{"asks": fact or null, "facts": {…}, "proposed": {…} or null, "plan": {…} or null, "job": {…} or null,
/// "stopped": reason or null}`.
///
/// `proposed` are the facts that were put to the person as a question, and change nothing before a yes.
pub fn state_json(guide: &Guide<'_>, voice: &Voice<'_>, session: &Session) -> Value {
    let asks = session.open().fact().map(FactKey::key);
    let (plan, job, stopped) = match standing(guide, session) {
        Standing::Stopped(refusal, _) | Standing::Refused(refusal) => (None, None, Some(refusal.id)),
        Standing::Complete(plan) if session.planned() => {
            (Some(plan_json(&plan, guide.handbook, voice)), job_json(&plan, session), None)
        }
        Standing::Complete(_) | Standing::Ask(_) => (None, None, None),
        Standing::Faulty(fault) => (None, None, Some(fault)),
    };
    json!({
        "asks": asks,
        "facts": facts_json(session.facts()),
        "proposed": proposed(session).map(|facts| facts_json(&facts)),
        "plan": plan,
        "job": job,
        "stopped": stopped,
    })
}

/// How far the job is, once it is begun: the kind of the step in hand, how many of all are done, how many sheets were
/// spoilt, and why the work rests, where it does.
fn job_json(plan: &Plan, session: &Session) -> Option<Value> {
    let progress = session.progress();
    if !progress.begun() {
        return None;
    }
    let steps = steps(plan);
    let in_hand = steps.iter().find(|step| !progress.done().contains(&step.key));
    let step = in_hand.map(|step| step.key.kind.key());
    Some(json!({
        "step": if progress.off().is_empty() { step } else { Some("take-off") },
        "done": steps.iter().filter(|step| progress.done().contains(&step.key)).count(),
        "of": steps.len(),
        "spoilt": progress.spoilt(),
        "rests": progress.rests().map(Stop::key),
    }))
}

/// What would be other than it is, were the person to say yes.
fn proposed(session: &Session) -> Option<Facts> {
    let offered = match session.open() {
        Open::Pick(offers) => match offers.as_slice() {
            [only] => Some(only.answers.as_slice()),
            _ => None,
        },
        Open::Nothing
        | Open::Question(_)
        | Open::Review
        | Open::WhatToChange
        | Open::Restart
        | Open::Delete
        | Open::Share(_)
        | Open::Wonder(_)
        | Open::Hurt(_)
        | Open::Plan => None,
    };
    let answers = session.progress().proposal().map(|change| change.answers.as_slice()).or(offered)?;
    let mut facts = Facts::default();
    for (fact, value) in answers {
        let _ = facts.set(*fact, value.clone());
    }
    Some(facts)
}
