//! Figures of which one at most is the true one: "between 12 and 20", "9, 12 or 18", "north of 10, south of 20". They
//! are put back as a question, and never taken.

use super::super::clauses::{Standing, standing};
use super::super::figures::{Figure, Link};
use super::super::lexicon::Tag;
use super::super::readings::{Reply, measure};
use super::super::{Act, Heard, Message, Sure, View};
use super::matching::{Claimant, Claimed};
use super::{answer, unclear};
use crate::conversation::event::Offer;
use crate::roofing::note::Note;
use crate::roofing::roof::FactKey;

/// The facts that are one of several figures, and all the figures that this uses up.
pub(super) fn doubtful(
    view: &View<'_, '_>,
    message: &Message<'_>,
    claimed: &[Claimed],
) -> (Vec<Heard>, Vec<usize>) {
    let (mut found, mut used) = (Vec::new(), Vec::new());
    let open = view.question().map(|question| question.fact);
    for group in groups(message, claimed) {
        let fact = group.clone().find_map(|index| match claimed.get(index).map(|one| &one.by) {
            Some(Some(Claimant::Fact(fact, _))) => Some(Some(*fact)),
            Some(Some(Claimant::Thing)) => Some(None),
            Some(None) | None => None,
        });
        let Some(fact) = fact.unwrap_or(open) else {
            used.extend(group);
            continue;
        };
        let says = message.figures.get(group.start).and_then(|figure| {
            let clause = message.clause_of(figure.tokens.start)?;
            Some(standing(message.clauses.get(clause)?))
        });
        let values: Vec<Heard> = group
            .clone()
            .filter_map(|index| {
                match measure(view.guide, view.session.usual(), fact, &message.figures.get(index)?.text) {
                    Reply::Value(given) => Some(answer(message, given, Sure::Sure, &[])),
                    Reply::Two(..) | Reply::Offer { .. } | Reply::Unreadable(_) | Reply::Silent => None,
                }
            })
            .collect();
        if values.is_empty() {
            continue;
        }
        used.extend(group);
        let may_be = matches!(says, Some(Standing::Says | Standing::Perhaps));
        if may_be && (open == Some(fact) || says == Some(Standing::Says)) {
            found.push(one_of(view, message, fact, &values));
        }
    }
    (found, used)
}

fn one_of(view: &View<'_, '_>, message: &Message<'_>, fact: FactKey, values: &[Heard]) -> Heard {
    let act = match (view.question(), view.session.facts().get(fact)) {
        (Some(question), _) if question.fact == fact => Act::Answer,
        (_, Some(_)) => Act::Correct,
        (_, None) => Act::State,
    };
    let given = values.iter().filter_map(|heard| heard.given.as_ref());
    let options = given
        .map(|given| Offer { answers: vec![(fact, given.value.clone())], unit: given.written })
        .collect();
    unclear(message, act, Sure::OneOf { why: Note::new("reading-range"), options })
}

/// Figures that stand for one another: joined by "or" or "to", three in a row that nothing tells apart, or bounds.
fn groups(message: &Message<'_>, claimed: &[Claimed]) -> Vec<std::ops::Range<usize>> {
    let mut found: Vec<std::ops::Range<usize>> = Vec::new();
    let mut start = 0;
    while start < message.figures.len() {
        let mut end = start + 1;
        while end < message.figures.len() && goes_with(message, claimed, start, end) {
            end += 1;
        }
        let range = end - start > 1
            && (end - start > 2
                || message.figures.get(start + 1).is_some_and(|second| is_range(message, start, second)));
        if range {
            found.push(start..end);
        }
        start = end;
    }
    found
}

/// Whether a figure goes on a row of figures that nothing tells apart.
fn goes_with(message: &Message<'_>, claimed: &[Claimed], start: usize, next: usize) -> bool {
    let (Some(first), Some(figure)) = (message.figures.get(start), message.figures.get(next)) else {
        return false;
    };
    let of = |index: usize| match claimed.get(index).map(|one| &one.by) {
        Some(Some(Claimant::Fact(fact, _))) => Some(*fact),
        _ => None,
    };
    let told_apart = matches!((of(start), of(next)), (Some(one), Some(other)) if one != other);
    let both_bound = is_bound(message, first) && is_bound(message, figure);
    let row = matches!(figure.link, Some(Link::Or | Link::To | Link::Comma))
        || (figure.link == Some(Link::And) && (next - start > 1 || opens_range(message, first)));
    first.kind.measures() && figure.kind.measures() && !told_apart && (row || both_bound)
}

fn is_range(message: &Message<'_>, start: usize, second: &Figure) -> bool {
    let first = message.figures.get(start);
    matches!(second.link, Some(Link::Or | Link::To))
        || first.is_some_and(|first| opens_range(message, first) || is_bound(message, first))
}

/// "Between" stands right before it.
fn opens_range(message: &Message<'_>, figure: &Figure) -> bool {
    message.hits.iter().any(|hit| hit.is(Tag::OpensRange) && hit.end == figure.tokens.start)
}

/// Whether a figure is only a bound of the true one: "at least 3 m", "8 foot something".
pub(super) fn is_bound(message: &Message<'_>, figure: &Figure) -> bool {
    let beside = |at: usize, end: usize| end == figure.tokens.start || at == figure.tokens.end;
    message.hits.iter().any(|hit| hit.is(Tag::Bounds) && beside(hit.start, hit.end))
}
