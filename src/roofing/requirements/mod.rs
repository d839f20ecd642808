//! What the rules say of one slope, every measurement in doubt heard at all it may be.
//!
//! Requirements only tighten, so merging what is heard across a doubt takes the strict side by itself. What is
//! left to do is to notice where the other side would have been easier, and to say what to measure again.

use std::collections::BTreeSet;

use crate::roofing::facts::{FactKey, FactValue, Facts, fact_word};
use crate::roofing::findings::{Caution, Fault, Finding, FindingKind, Reason, Refusal};
use crate::roofing::handbook::Handbook;
use crate::roofing::note::{Arg, Note};
use crate::roofing::rules::{
    Condition, Contribution, Limit, Outcome, Phase, Requirement, Requirements, Rule, Support, evaluate,
};
use crate::units::{Angle, Doubt, Length, Measured};

/// What the rules come to for one slope.
#[derive(Clone, Debug, Default)]
pub(in crate::roofing) struct Heard {
    /// The facts they were heard for.
    facts: Facts,
    /// Every contribution, at every value a doubt allows.
    pub(in crate::roofing) requirements: Requirements,
    /// Rules that advise.
    pub(in crate::roofing) advice: Vec<String>,
    /// Rules that caution.
    pub(in crate::roofing) cautions: Vec<(String, Phase)>,
    /// Rules that refuse, and whether they do so only within a doubt.
    pub(in crate::roofing) refusals: Vec<(String, bool)>,
    /// Requirements that would be easier at another value within the doubt: the easiest value.
    pub(in crate::roofing) doubts: Vec<(Requirement, Limit, Vec<FactKey>)>,
}

/// Hears every rule for a slope whose pitch stands in `facts`.
pub(in crate::roofing) fn hear(facts: &Facts, covering: Option<&str>, book: &Handbook) -> Heard {
    let outcomes: Vec<Outcome> =
        possibilities(facts, book).iter().map(|one| evaluate(&book.rules, covering, one)).collect();
    let mut heard = Heard { facts: facts.clone(), ..Heard::default() };
    for outcome in &outcomes {
        for requirement in Requirement::ALL {
            for contribution in outcome.requirements.contributions(*requirement) {
                heard.requirements.tighten(*requirement, as_said(contribution, facts));
            }
        }
        add_new(&mut heard.advice, &outcome.advice);
        add_new(&mut heard.cautions, &outcome.cautions);
    }
    let refusing: Vec<&String> = outcomes.iter().flat_map(|outcome| &outcome.refusals).collect();
    for rule in refusing {
        let everywhere = outcomes.iter().all(|outcome| outcome.refusals.contains(rule));
        add_new(&mut heard.refusals, &[(rule.clone(), !everywhere)]);
    }
    heard.doubts = doubts(&heard.requirements, &outcomes, facts, book);
    heard
}

fn add_new<T: Clone + PartialEq>(to: &mut Vec<T>, from: &[T]) {
    for one in from {
        if !to.contains(one) {
            to.push(one.clone());
        }
    }
}

/// A contribution shows the figures as the person gave them, whichever end of a doubt it was heard at.
fn as_said(contribution: &Contribution, facts: &Facts) -> Contribution {
    let looked_at = contribution.facts.iter();
    let said = looked_at.map(|(key, value)| (*key, facts.get(*key).unwrap_or(value).clone())).collect();
    Contribution { facts: said, ..contribution.clone() }
}

/// Every set of facts the doubts allow, as far as a rule could tell them apart; the facts as said come first.
fn possibilities(facts: &Facts, book: &Handbook) -> Vec<Facts> {
    let conditions = || book.rules.rules.iter().flat_map(|rule| &rule.when);
    let looked_at: BTreeSet<FactKey> = conditions().map(Condition::fact).collect();
    let mut all = vec![facts.clone()];
    for key in looked_at {
        let values: Vec<FactValue> = match facts.get(key) {
            Some(FactValue::Angle(angle)) if angle.doubt != Doubt::Stated => {
                let (low, high) = book.rules.angle_band(*angle);
                let edges = conditions().flat_map(|condition| angle_edges(condition, key));
                let inside = edges.filter(|edge| low < *edge && *edge < high);
                let values = [angle.value, low, high].into_iter().chain(inside);
                values.map(|value| FactValue::Angle(Measured { value, doubt: angle.doubt })).collect()
            }
            Some(FactValue::Length(length)) if length.doubt != Doubt::Stated => {
                let (low, high) = book.rules.length_band(*length);
                let edges = conditions().flat_map(|condition| length_edges(condition, key));
                let inside = edges.filter(|edge| low < *edge && *edge < high);
                let values = [length.value, low, high].into_iter().chain(inside);
                values.map(|value| FactValue::Length(Measured { value, doubt: length.doubt })).collect()
            }
            _ => continue,
        };
        all = all.iter().flat_map(|one| values.iter().map(|value| with(one, key, value))).collect();
    }
    all
}

fn with(facts: &Facts, key: FactKey, value: &FactValue) -> Facts {
    let mut other = facts.clone();
    other.set(key, value.clone());
    other
}

fn angle_edges(condition: &Condition, key: FactKey) -> Vec<Angle> {
    if let Condition::Angle { fact, from, to } = condition
        && *fact == key
    {
        return from.iter().chain(to).copied().collect();
    }
    Vec::new()
}

fn length_edges(condition: &Condition, key: FactKey) -> Vec<Length> {
    if let Condition::Length { fact, from, to } = condition
        && *fact == key
    {
        return from.iter().chain(to).copied().collect();
    }
    Vec::new()
}

fn doubts(
    merged: &Requirements,
    outcomes: &[Outcome],
    facts: &Facts,
    book: &Handbook,
) -> Vec<(Requirement, Limit, Vec<FactKey>)> {
    let mut doubts = Vec::new();
    for (requirement, deciding) in merged.iter() {
        let heard = outcomes.iter().filter_map(|one| one.requirements.deciding(requirement));
        let easiest = heard
            .map(|one| one.limit)
            .reduce(|best, next| if requirement.strictness(next, best).is_lt() { next } else { best });
        if let Some(easiest) = easiest.filter(|easiest| *easiest != deciding.limit) {
            let keys = book.rules.rule(&deciding.rule).map(|rule| doubtful(rule, facts)).unwrap_or_default();
            doubts.push((requirement, easiest, keys));
        }
    }
    doubts
}

/// The facts a rule looks at that are in doubt.
fn doubtful(rule: &Rule, facts: &Facts) -> Vec<FactKey> {
    let keys = rule.when.iter().map(Condition::fact);
    keys.filter(|key| match facts.get(*key) {
        Some(FactValue::Length(length)) => length.doubt != Doubt::Stated,
        Some(FactValue::Angle(angle)) => angle.doubt != Doubt::Stated,
        Some(FactValue::Choice(_) | FactValue::Count(_) | FactValue::Words(_)) | None => false,
    })
    .collect()
}

impl Heard {
    /// The length a requirement comes to.
    pub(in crate::roofing) fn length(&self, requirement: Requirement) -> Result<Length, Fault> {
        match self.requirements.deciding(requirement).map(|decides| decides.limit) {
            Some(Limit::Length(length)) => Ok(length),
            Some(Limit::Count(_) | Limit::Support(_)) | None => Err(silent(requirement)),
        }
    }

    /// The whole number a requirement comes to.
    pub(in crate::roofing) fn count(&self, requirement: Requirement) -> Result<i64, Fault> {
        match self.requirements.deciding(requirement).map(|decides| decides.limit) {
            Some(Limit::Count(count)) => Ok(count),
            Some(Limit::Length(_) | Limit::Support(_)) | None => Err(silent(requirement)),
        }
    }

    /// The kind of support that is required.
    pub(in crate::roofing) fn support(&self) -> Result<Support, Fault> {
        match self.requirements.deciding(Requirement::Support).map(|decides| decides.limit) {
            Some(Limit::Support(support)) => Ok(support),
            Some(Limit::Length(_) | Limit::Count(_)) | None => Err(silent(Requirement::Support)),
        }
    }

    /// The source behind a requirement's deciding rule.
    pub(in crate::roofing) fn source(&self, requirement: Requirement, book: &Handbook) -> String {
        let rule = self.requirements.deciding(requirement).and_then(|one| book.rules.rule(&one.rule));
        rule.map(|rule| rule.source.clone()).unwrap_or_default()
    }

    /// Every finding the rules alone lead to.
    pub(in crate::roofing) fn findings(&self, slope: usize, facts: &Facts, book: &Handbook) -> Vec<Finding> {
        let slope = Some(slope);
        let mut findings = Vec::new();
        for (requirement, deciding) in self.requirements.iter() {
            let Some(rule) = book.rules.rule(&deciding.rule) else { continue };
            findings.push(Finding {
                id: requirement.key().to_owned(),
                kind: FindingKind::Requirement,
                slope,
                note: rule.note(facts).with("limit", limit_arg(deciding.limit)),
                requirement: Some(requirement),
                reasons: self.reasons(requirement, book),
                source: rule.source.clone(),
            });
        }
        for (requirement, easier, keys) in &self.doubts {
            let Some(taken) = self.requirements.deciding(*requirement) else { continue };
            let measure = keys.first().map_or(String::new(), |key| fact_word(*key));
            findings.push(Finding {
                id: format!("doubt-{}", requirement.key()),
                kind: FindingKind::Doubt,
                slope,
                note: Note::new("doubt-takes-the-strict-side")
                    .word("requirement", requirement_word(*requirement))
                    .word("fact", measure)
                    .with("limit", limit_arg(taken.limit))
                    .with("easier", limit_arg(*easier)),
                requirement: Some(*requirement),
                reasons: self.reasons(*requirement, book),
                source: self.source(*requirement, book),
            });
        }
        let advising = self.advice.iter().filter_map(|id| book.rules.rule(id));
        findings.extend(advising.map(|rule| Finding {
            id: rule.id.clone(),
            kind: FindingKind::Advice,
            slope,
            note: rule.note(facts),
            requirement: None,
            reasons: Vec::new(),
            source: rule.source.clone(),
        }));
        findings
    }

    /// What to measure again where a requirement would be easier at another value within a doubt.
    pub(in crate::roofing) fn measure_again(
        &self,
        requirement: Requirement,
        book: &Handbook,
    ) -> Option<Refusal> {
        let (_, _, keys) = self.doubts.iter().find(|(doubtful, ..)| *doubtful == requirement)?;
        Some(measure_again(keys, self.source(requirement, book)))
    }

    /// Every rule's say on a requirement, the deciding one first.
    pub(in crate::roofing) fn reasons(&self, requirement: Requirement, book: &Handbook) -> Vec<Reason> {
        let said = self.requirements.contributions(requirement).iter();
        let mut reasons: Vec<Reason> =
            said.filter_map(|one| Reason::of(one, &self.facts, &book.rules)).collect();
        // A stable sort: of equally strict rules the first in the book stays the deciding one.
        reasons.sort_by(|a, b| requirement.strictness(b.limit, a.limit));
        reasons
    }

    /// Adds the cautions that are not there yet.
    pub(in crate::roofing) fn caution(&self, cautions: &mut Vec<Caution>, facts: &Facts, book: &Handbook) {
        for (id, phase) in &self.cautions {
            let Some(rule) = book.rules.rule(id) else { continue };
            add_new(cautions, &[Caution::by_rule(rule, *phase, facts)]);
        }
    }

    /// The refusals the rules lead to.
    pub(in crate::roofing) fn refused(&self, facts: &Facts, book: &Handbook) -> Vec<Refusal> {
        let refusing =
            self.refusals.iter().filter_map(|(id, in_doubt)| Some((book.rules.rule(id)?, *in_doubt)));
        refusing.flat_map(|(rule, in_doubt)| refusals_of(rule, in_doubt, facts)).collect()
    }
}

/// What every slope has alike is said once, of the whole roof.
pub(in crate::roofing) fn of_the_whole_roof(findings: &[Finding], slopes: usize) -> Vec<Finding> {
    let whole: Vec<Finding> = findings.iter().map(|one| Finding { slope: None, ..one.clone() }).collect();
    let mut all: Vec<Finding> = Vec::new();
    for (finding, of_the_roof) in findings.iter().zip(&whole) {
        let alike = || findings.iter().zip(&whole).filter(|(_, other)| *other == of_the_roof);
        let everywhere = (0..slopes).all(|slope| alike().any(|(one, _)| one.slope == Some(slope)));
        add_new(&mut all, std::slice::from_ref(if everywhere { of_the_roof } else { finding }));
    }
    all
}

fn silent(requirement: Requirement) -> Fault {
    Fault { check: "requirement-has-a-rule", detail: requirement.key().to_owned() }
}

/// A refusal, and what to measure again where it holds only within a doubt.
fn refusals_of(rule: &Rule, in_doubt: bool, facts: &Facts) -> Vec<Refusal> {
    let (id, source) = (rule.id.clone(), rule.source.clone());
    if !in_doubt {
        let facts_of = rule.when.iter().map(Condition::fact).collect();
        return vec![Refusal { id, note: rule.note(facts), facts: facts_of, handover: None, source }];
    }
    let again = doubtful(rule, facts);
    let measure_again = measure_again(&again, source.clone());
    let refusal = Refusal { id, note: rule.note(facts), facts: again, handover: None, source };
    vec![refusal, measure_again]
}

/// Beside a refusal that may not hold: which facts to measure again.
fn measure_again(facts: &[FactKey], source: String) -> Refusal {
    let fact = facts.first().map_or(String::new(), |key| fact_word(*key));
    let note = Note::new("refused-in-doubt").word("fact", fact);
    Refusal { id: "measure-again".to_owned(), note, facts: facts.to_vec(), handover: None, source }
}

/// The message that names a requirement: `requirement-end-lap`.
pub fn requirement_word(requirement: Requirement) -> String {
    format!("requirement-{}", requirement.name().replace('_', "-"))
}

/// A limit as a figure of a note.
pub fn limit_arg(limit: Limit) -> Arg {
    limit.arg()
}
