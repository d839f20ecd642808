//! Which rules speak for one slope, and what they come to.

use std::collections::BTreeMap;

use super::{Condition, Effect, Handover, Limit, Phase, Requirement, Rule, RuleBook};
use crate::roofing::facts::{FactKey, FactValue, Facts};

/// One rule's (or one check's) say on one requirement.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Contribution {
    /// The id of the rule.
    pub rule: String,
    /// What it asks for.
    pub limit: Limit,
    /// The facts it looked at.
    pub facts: Vec<(FactKey, FactValue)>,
}

/// Every requirement with every contribution to it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Requirements(BTreeMap<Requirement, Vec<Contribution>>);

impl Requirements {
    /// Adds a contribution; the strictest decides, whatever the order.
    pub fn tighten(&mut self, requirement: Requirement, contribution: Contribution) {
        let all = self.0.entry(requirement).or_default();
        if !all.contains(&contribution) {
            all.push(contribution);
        }
    }

    /// Adds every contribution of another set.
    pub fn merge(&mut self, other: &Self) {
        for (requirement, contributions) in &other.0 {
            for contribution in contributions {
                self.tighten(*requirement, contribution.clone());
            }
        }
    }

    /// The contribution that decides: the strictest, the first of equals.
    pub fn deciding(&self, requirement: Requirement) -> Option<&Contribution> {
        self.0.get(&requirement)?.iter().reduce(|best, next| {
            if requirement.strictness(next.limit, best.limit).is_gt() { next } else { best }
        })
    }

    /// Every contribution to a requirement.
    pub fn contributions(&self, requirement: Requirement) -> &[Contribution] {
        self.0.get(&requirement).map_or(&[], Vec::as_slice)
    }

    /// Every requirement that something was said of, with the value that decides.
    pub fn iter(&self) -> impl Iterator<Item = (Requirement, &Contribution)> {
        self.0.keys().filter_map(|requirement| Some((*requirement, self.deciding(*requirement)?)))
    }
}

/// What the rules come to for one slope.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Outcome {
    /// What is required.
    pub requirements: Requirements,
    /// Ids of the rules that advise.
    pub advice: Vec<String>,
    /// Ids of the rules that caution, and when.
    pub cautions: Vec<(String, Phase)>,
    /// Ids of the rules that refuse.
    pub refusals: Vec<String>,
    /// Ids of the rules that stop the plan, and to whom the person is handed.
    pub stops: Vec<(String, Handover)>,
}

/// Hears every rule of `covering` against the facts as they stand for one slope.
pub fn evaluate(book: &RuleBook, covering: Option<&str>, facts: &Facts) -> Outcome {
    let mut outcome = Outcome::default();
    for rule in &book.rules {
        if rule.governs(covering, facts) && rule.when.iter().all(|condition| holds(condition, facts)) {
            apply(rule, facts, &mut outcome);
        }
    }
    outcome
}

fn apply(rule: &Rule, facts: &Facts, outcome: &mut Outcome) {
    for effect in &rule.then {
        match effect {
            Effect::Require(requirement, limit) => {
                let contribution =
                    Contribution { rule: rule.id.clone(), limit: *limit, facts: looked_at(rule, facts) };
                outcome.requirements.tighten(*requirement, contribution);
            }
            // The check itself speaks, once it has looked.
            Effect::Check => {}
            Effect::Advise => outcome.advice.push(rule.id.clone()),
            Effect::Caution(phase) => outcome.cautions.push((rule.id.clone(), *phase)),
            Effect::Refuse => outcome.refusals.push(rule.id.clone()),
            Effect::Stop(handover) => outcome.stops.push((rule.id.clone(), *handover)),
        }
    }
}

fn looked_at(rule: &Rule, facts: &Facts) -> Vec<(FactKey, FactValue)> {
    let keys = rule.when.iter().map(Condition::fact);
    keys.filter_map(|key| Some((key, facts.get(key)?.clone()))).collect()
}

/// A condition on an unknown fact does not hold: a rule never speaks on a guess. Only [`Condition::NoneOf`], and
/// [`Condition::Told`] of what is not known, hold there: a stop stays until somebody has said what lifts it.
fn holds(condition: &Condition, facts: &Facts) -> bool {
    match condition {
        Condition::Angle { fact, from, to } => {
            facts.angle(*fact).is_some_and(|angle| within(angle.value, *from, *to))
        }
        Condition::Length { fact, from, to } => {
            facts.length(*fact).is_some_and(|length| within(length.value, *from, *to))
        }
        Condition::OneOf { fact, any } => {
            facts.choice(*fact).is_some_and(|choice| any.iter().any(|id| id == choice))
        }
        Condition::NoneOf { fact, any } => {
            facts.choice(*fact).is_none_or(|choice| any.iter().all(|id| id != choice))
        }
        Condition::Told { fact, known } => facts.words(*fact).is_some() == *known,
    }
}

fn within<T: PartialOrd + Copy>(value: T, from: Option<T>, to: Option<T>) -> bool {
    from.is_none_or(|from| value >= from) && to.is_none_or(|to| value < to)
}
