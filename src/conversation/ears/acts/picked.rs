//! What choices say. A safe answer passes only in its plain form.

use super::super::choices::{Chosen, is_pure};
use super::super::clauses::Standing;
use super::super::lexicon::{Aspect, Means, Tag};
use super::super::{Act, Given, Heard, Message, Sure, View};
use super::measured::has_leftovers;
use crate::roofing::note::Note;
use crate::roofing::roof::{FactKey, FactValue};

/// The facts that choices give. A safe answer passes only in its plain form.
pub(super) fn picked(
    view: &View<'_, '_>,
    message: &Message<'_>,
    chosen: &[Chosen],
    taken: &[FactKey],
    measured: &[Heard],
) -> Vec<Heard> {
    let open = view.question().map(|question| question.fact);
    let mut answered: Vec<usize> =
        measured.iter().filter(|heard| heard.sure == Sure::Sure).map(|heard| heard.clause).collect();
    answered.extend(
        chosen.iter().filter(|one| one.ids.len() == 1 && !one.fact.is_safety()).map(|one| one.clause),
    );
    answered.extend(chosen.iter().filter(|one| one.fact == FactKey::CoveringNow).map(|one| one.clause));
    let safe: Vec<FactKey> =
        chosen.iter().filter(|one| is_guarded(message, one)).map(|one| one.fact).collect();
    let mut found = Vec::new();
    for one in chosen.iter().filter(|one| !taken.contains(&one.fact)) {
        let act = match one.standing {
            Standing::Nothing => continue,
            Standing::Supposes => Act::WhatIf,
            Standing::Says | Standing::Perhaps if open == Some(one.fact) => Act::Answer,
            Standing::Says | Standing::Perhaps if view.session.facts().get(one.fact).is_some() => {
                Act::Correct
            }
            Standing::Says | Standing::Perhaps => Act::State,
        };
        if one.standing == Standing::Perhaps && act != Act::Answer {
            continue;
        }
        let clause = message.clauses.get(one.clause);
        let given = one.given();
        let sure = match (&given, is_guarded(message, one)) {
            (None, _) => Sure::OneOf { why: Note::new("offer-which-choice"), options: one.options() },
            (Some(_), true) if is_pure(view, message, one, (&answered, &safe)) => Sure::Sure,
            // A safe answer to what nobody asked is asked for in its turn.
            (Some(_), true) if act != Act::Answer => continue,
            (Some(_), true) => Sure::Unsure,
            (Some(_), false) if one.standing == Standing::Perhaps => Sure::Unsure,
            // What stops the plan stops it, sure or not; said in passing, or of nothing by name, it is asked about.
            (Some(_), false)
                if act != Act::Answer
                    && one.fact.is_safety()
                    && (clause.is_some_and(|clause| clause.hedged)
                        || (one.fact == FactKey::Structure && !names_what(message, one))) =>
            {
                Sure::Unsure
            }
            (Some(_), false)
                if act == Act::Correct
                    && !one.fact.is_safety()
                    && has_leftovers(message, one.clause)
                    && !puts_right(message) =>
            {
                // What a whole phrase tells is asked about; a word in passing is let be.
                if !is_told(message, one) {
                    continue;
                }
                Sure::Unsure
            }
            (Some(_), false) if act != Act::Answer && clause.is_some_and(|clause| clause.unknown > 0) => {
                Sure::Unsure
            }
            (Some(_), false) => Sure::Sure,
        };
        let tokens = clause.map_or(0..message.tokens.len(), |clause| clause.tokens.clone());
        found.push(Heard {
            act,
            given,
            span: message.bytes(&tokens),
            clause: one.clause,
            evidence: one.because.clone(),
            sure,
        });
    }
    found
}

/// Whether a message names what a choice is of, or tells it by a phrase of its own: "all cracked" may be said of
/// anything.
fn names_what(message: &Message<'_>, chosen: &Chosen) -> bool {
    message.hits.iter().any(|hit| match hit.means {
        Means::Names(fact, _) => *fact == chosen.fact,
        Means::Choice(fact, id, Aspect::Tells) => *fact == chosen.fact && chosen.ids.contains(id),
        _ => false,
    })
}

/// Whether a message says that something was wrong.
fn puts_right(message: &Message<'_>) -> bool {
    message.has(Tag::Corrects) || message.has(Tag::Instead) || message.has(Tag::Recorded)
}

/// Whether a choice is told by a phrase that can hardly mean anything else: "a wall all along the left hand side".
fn is_told(message: &Message<'_>, chosen: &Chosen) -> bool {
    /// A phrase of so many words tells by itself.
    const TELLING: usize = 4;
    message.hits.iter().any(|hit| {
        let own = matches!(hit.means, Means::Choice(fact, id, Aspect::Tells) if *fact == chosen.fact && chosen.ids.contains(id));
        own && hit.len() >= TELLING && message.clause_of(hit.start) == Some(chosen.clause)
    })
}

/// Whether a choice lets the plan go on where somebody could be hurt.
fn is_guarded(message: &Message<'_>, chosen: &Chosen) -> bool {
    let [id] = chosen.ids.as_slice() else { return false };
    chosen.fact.is_safety() && message.lexicon.is_guarded(chosen.fact, id)
}

/// "Front 20, back 25": two slopes, and not alike.
pub(super) fn differing(view: &View<'_, '_>, found: &mut Vec<Heard>) {
    let value = |fact: FactKey| {
        let given = found.iter().filter(|heard| heard.states_a_fact() && heard.sure == Sure::Sure);
        given
            .filter_map(|heard| heard.given.as_ref())
            .find(|given| given.fact == fact)
            .map(|given| given.value.clone())
    };
    let pairs = [(FactKey::Pitch, FactKey::PitchBack), (FactKey::SlopeLength, FactKey::SlopeLengthBack)];
    let facts = view.session.facts();
    let equal = facts.choice(FactKey::SlopesEqual) == Some("yes");
    let differ = pairs.into_iter().any(|(front, back)| {
        let known = facts.get(front).cloned().filter(|_| equal);
        match (value(front).or(known), value(back)) {
            (Some(front), Some(back)) => front != back,
            _ => false,
        }
    });
    let told = |fact: FactKey, found: &[Heard]| {
        found.iter().any(|heard| heard.given.as_ref().is_some_and(|given| given.fact == fact))
    };
    let single = facts.choice(FactKey::Form) == Some("single_slope");
    let sure = found.iter().rev().find(|heard| heard.states_a_fact() && heard.sure == Sure::Sure);
    let Some(last) = sure.cloned().filter(|_| differ && !single) else { return };
    for (fact, id) in [(FactKey::Form, "two_slopes"), (FactKey::SlopesEqual, "no")] {
        if facts.choice(fact) != Some(id) && (facts.get(fact).is_none() || equal) && !told(fact, found) {
            let given = Given::plain(fact, FactValue::Choice(id.to_owned()));
            found.push(Heard { act: Act::State, given: Some(given), ..last.clone() });
        }
    }
}
