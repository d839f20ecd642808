//! Whatever was measured more than one way is compared; what disagrees is shown, never averaged away.

use super::form::slopes_unequal;
use super::relations::{DIAGONALS, EVEN, Figures, LEANING, Relation, UNEVEN, arg};
use super::slips::{self, Slip};
use super::{FactKey, Facts};
use crate::roofing::facts::fact_word;
use crate::roofing::handbook::Handbook;
use crate::roofing::note::{Arg, Note};

/// Two ways of knowing one thing that cannot both be right.
#[derive(Clone, Debug, PartialEq)]
pub struct Contradiction {
    /// The facts that take part: changing one of them settles it.
    pub facts: Vec<FactKey>,
    /// What was measured and what the other facts make of it, with the likeliest slip in `slip`, `fact` and
    /// `corrected`.
    pub note: Note,
    /// The slip that would explain it best, the fact it happened to and what that fact would then be.
    pub slip: Option<(Slip, FactKey, Arg)>,
}

/// Everything in the facts that cannot be right together.
///
/// Two ways of measuring may differ by what the facts' own doubt allows and by the book's tolerance
/// ([`RuleBook::agree`](crate::roofing::rules::RuleBook::agree)).
pub fn contradictions(facts: &Facts, book: &Handbook) -> Vec<Contradiction> {
    let figures = Figures::of(facts, book);
    let by_form = if slopes_unequal(facts) { UNEVEN } else { EVEN };
    let whole = LEANING.iter().flat_map(|relation| relation.others.iter().chain([&relation.measured]));
    let leaning = whole.clone().all(|key| figures.by_fact.contains_key(key));
    let squareness = if leaning { LEANING } else { DIAGONALS };
    let relations: Vec<&Relation> = by_form.iter().chain(squareness).collect();
    let compared = relations.iter().map(|relation| compare(relation, &relations, facts, &figures, book));
    compared.flatten().collect()
}

fn compare(
    relation: &Relation,
    all: &[&Relation],
    known: &Facts,
    figures: &Figures,
    book: &Handbook,
) -> Option<Contradiction> {
    let apart = relation.apart(figures, book)?;
    if apart <= 0.0 {
        return None;
    }
    let given = arg(relation.measured, figures.by_fact.get(&relation.measured)?.said);
    let worked_out = arg(relation.measured, relation.worked_out(figures));
    let slip = slips::likeliest(relation, all, figures, book);
    let mut facts = vec![relation.measured];
    facts.extend(relation.others.iter().filter(|key| known.get(**key).is_some()));
    let note = Note::new(relation.message).with("given", given).with("worked_out", worked_out);
    let note = match &slip {
        None => note.text("slip", "none").text("fact", "").text("corrected", ""),
        Some((slip, fact, corrected)) => {
            note.text("slip", slip.key()).word("fact", fact_word(*fact)).with("corrected", corrected.clone())
        }
    };
    Some(Contradiction { facts, note, slip })
}
