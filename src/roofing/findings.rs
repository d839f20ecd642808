//! What is found out on the way to a plan: findings with their reasons, cautions, refusals, and our own faults.

use std::ops::Deref;

use crate::roofing::facts::{FactKey, Facts};
use crate::roofing::note::Note;
use crate::roofing::rules::{Contribution, Effect, Handover, Phase, Requirement, Rule, RuleBook, StepKind};

/// How strongly a finding speaks.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum FindingKind {
    /// A requirement and its value.
    Requirement,
    /// A measurement in doubt took the stricter side of a rule.
    Doubt,
    /// Advice.
    Advice,
    /// A caution.
    Caution,
}

/// A contribution with what its rule says of it, so that a plan that is kept can still answer "why?".
#[derive(Clone, Debug, PartialEq)]
pub struct Reason {
    /// The rule, its value and the facts it looked at.
    pub contribution: Contribution,
    /// What the rule says, with these facts' figures.
    pub note: Note,
    /// Where the rule is from, as the adviser words it.
    pub source: String,
    /// The day its value was entered.
    pub since: String,
}

impl Deref for Reason {
    type Target = Contribution;
    fn deref(&self) -> &Contribution {
        &self.contribution
    }
}

impl Reason {
    /// A contribution with the words of its rule.
    pub fn of(contribution: &Contribution, facts: &Facts, book: &RuleBook) -> Option<Self> {
        let rule = book.rule(&contribution.rule)?;
        let mut seen = facts.clone();
        for (fact, value) in &contribution.facts {
            seen.set(*fact, value.clone());
        }
        let source = book.source(&rule.source);
        Some(Self {
            contribution: contribution.clone(),
            note: if rule.then.contains(&Effect::Check) {
                rule.note(&seen).with("limit", contribution.limit.arg())
            } else {
                rule.note(&seen)
            },
            source: source.map_or_else(|| rule.source.clone(), |source| source.title.clone()),
            since: rule.since.to_string(),
        })
    }
}

/// Something found out, with its reasons.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// Names it.
    pub id: String,
    /// How strongly it speaks.
    pub kind: FindingKind,
    /// The slope it is about, by index; `None` is the whole roof.
    pub slope: Option<usize>,
    /// What it says.
    pub note: Note,
    /// The requirement it settles, where it settles one.
    pub requirement: Option<Requirement>,
    /// The rules behind it, the deciding one first.
    pub reasons: Vec<Reason>,
    /// The source, by id.
    pub source: String,
}

/// A caution and when it is said.
#[derive(Clone, Debug, PartialEq)]
pub struct Caution {
    /// The rule it comes from.
    pub rule: String,
    /// When it is said.
    pub phase: Phase,
    /// What it says.
    pub note: Note,
    /// Where it is said once more, where it rests on what the person told.
    pub again: Option<SaidAgain>,
}

/// A caution in short, at the steps that it touches.
#[derive(Clone, Debug, PartialEq)]
pub struct SaidAgain {
    /// The kinds of step.
    pub steps: Vec<StepKind>,
    /// What it says there.
    pub note: Note,
}

impl Caution {
    /// The caution a rule makes of the facts.
    pub(in crate::roofing) fn by_rule(rule: &Rule, phase: Phase, facts: &Facts) -> Self {
        let again = rule.again.as_ref().zip(rule.note_again(facts));
        Self {
            rule: rule.id.clone(),
            phase,
            note: rule.note(facts),
            again: again.map(|(again, note)| SaidAgain { steps: again.steps.clone(), note }),
        }
    }
}

/// Why there is no plan, and what would make the roof acceptable or who to ask. A value, not an error.
#[derive(Clone, Debug, PartialEq)]
pub struct Refusal {
    /// Names the fault: `slope-too-flat`, `asbestos-suspected`.
    pub id: String,
    /// What it says, what would do, who to ask.
    pub note: Note,
    /// Facts whose change would lift it.
    pub facts: Vec<FactKey>,
    /// To whom the person is handed, where to anybody.
    pub handover: Option<Handover>,
    /// Where it is from, by source id.
    pub source: String,
}

/// One of our own mistakes: a plan that did not pass a check. Nobody sees such a plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// The check that failed.
    pub check: &'static str,
    /// Where, in figures, for the log.
    pub detail: String,
}
