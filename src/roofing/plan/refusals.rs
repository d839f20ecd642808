//! Why there is no plan: safety rules that stop it, and roofs that cannot be covered as described; and a wish that a plan
//! does not grant.

use super::bearing::deck_refusals;
use super::{Caution, Fault, Finding, FindingKind, Handbook, Refusal, SlopePlan, Unplanned};
use crate::roofing::layout::SupportPlan;
use crate::roofing::note::Note;
use crate::roofing::requirements::hear;
use crate::roofing::roof::{
    Contradiction, FactKey, FactValue, Facts, Site, covering, known_deck, known_pitches,
};
use crate::roofing::rules::{Condition, evaluate};

/// The source of what the catalogue alone decides.
pub(super) const CATALOGUE: &str = "catalogue";

/// Safety rules that stop the plan on what is known so far, whatever else is missing.
pub fn stops(facts: &Facts, book: &Handbook) -> Vec<Refusal> {
    let outcome = evaluate(&book.rules, covering(facts, book).map(|covering| covering.id.as_str()), facts);
    let stops = outcome.stops.iter().filter_map(|(id, handover)| Some((book.rules.rule(id)?, *handover)));
    stops
        .map(|(rule, handover)| Refusal {
            id: rule.id.clone(),
            note: rule.note(facts),
            facts: rule.when.iter().map(Condition::fact).collect(),
            handover: Some(handover),
            source: rule.source.clone(),
        })
        .collect()
}

/// What is said again wherever it matters, because it rests on what the person told and not on what could be seen:
/// a line that was cleared, a roof that was tested, timber that was repaired.
pub fn trusted(facts: &Facts, book: &Handbook) -> Vec<Caution> {
    let outcome = evaluate(&book.rules, covering(facts, book).map(|covering| covering.id.as_str()), facts);
    let cautions = outcome.cautions.iter().filter_map(|(id, phase)| Some((book.rules.rule(id)?, *phase)));
    let trusted = cautions.filter(|(rule, _)| rule.again.is_some());
    trusted.map(|(rule, phase)| Caution::by_rule(rule, phase, facts)).collect()
}

/// What refuses the roof on what is known so far, so that nobody answers ten questions for nothing.
pub fn refusals(facts: &Facts, book: &Handbook) -> Vec<Refusal> {
    let covering = covering(facts, book).map(|covering| covering.id.as_str());
    let mut refusals: Vec<Refusal> = Vec::new();
    for pitch in known_pitches(facts) {
        let mut slope_facts = facts.clone();
        slope_facts.set(FactKey::Pitch, FactValue::Angle(pitch));
        let heard = hear(&slope_facts, covering, book);
        let thin = known_deck(facts).map(|deck| deck_refusals(deck, &heard, book)).unwrap_or_default();
        for refusal in heard.refused(&slope_facts, book).into_iter().chain(thin) {
            if !refusals.contains(&refusal) {
                refusals.push(refusal);
            }
        }
    }
    refusals
}

impl Refusal {
    /// Two measurements that cannot both be right: blocked until one of them changes.
    pub(super) fn disagree(contradiction: Contradiction, book: &Handbook) -> Self {
        Self {
            id: "measurements-disagree".to_owned(),
            note: contradiction.note,
            facts: contradiction.facts,
            handover: None,
            source: book.rules.agree.source.clone(),
        }
    }

    /// The catalogue has nothing that would do.
    pub(super) fn no_item(id: &str, note: Note) -> Self {
        Self { id: id.to_owned(), note, facts: Vec::new(), handover: None, source: CATALOGUE.to_owned() }
    }
}

impl From<Refusal> for Unplanned {
    fn from(refusal: Refusal) -> Self {
        Self::Refused(vec![refusal])
    }
}

impl From<Fault> for Unplanned {
    fn from(fault: Fault) -> Self {
        Self::Fault(fault)
    }
}

/// Says so where insulation was wanted and the plan has no place for it: boards lie only between purlins over a deck.
pub(super) fn not_insulated(site: &Site, slopes: &[SlopePlan]) -> Option<Finding> {
    let bare = slopes.iter().find(|slope| !slope.takes_insulation())?;
    let message = match bare.support {
        SupportPlan::ExistingDeck { .. } | SupportPlan::NewFullDeck { .. } => {
            "advice-insulation-not-on-a-deck"
        }
        SupportPlan::Purlins | SupportPlan::PurlinsOverDeck { .. } => "advice-insulation-not-over-rafters",
    };
    site.insulation.then(|| Finding {
        id: "insulation-not-planned".to_owned(),
        kind: FindingKind::Advice,
        slope: None,
        note: Note::new(message),
        requirement: None,
        reasons: Vec::new(),
        source: "common-practice".to_owned(),
    })
}
