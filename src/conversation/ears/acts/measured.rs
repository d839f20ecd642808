//! What figures say: of the open question, and of any other.

use std::borrow::Cow;

use super::super::choices::Chosen;
use super::super::clauses::{Standing, standing};
use super::super::figures::{Figure, Kind, Link};
use super::super::lexicon::{Aspect, Hit, Means, Tag};
use super::super::normal::Token;
use super::super::readings::{Reply, fits, measure};
use super::super::{Act, Given, Heard, Message, Sure, View};
use super::doubtful::is_bound;
use super::matching::{Claimant, Claimed, Named};
use super::{answer, unclear};
use crate::conversation::event::Offer;
use crate::conversation::interview::question_for;
use crate::conversation::script::Question;
use crate::roofing::note::Note;
use crate::roofing::roof::{FactKey, FactKind, FactValue};
use crate::units::{Doubt, Length, Measured};

/// A message that only measures what is asked for is read whole: "2.4, no wait, 2.6".
pub(super) fn only_the_open_one(
    view: &View<'_, '_>,
    message: &Message<'_>,
    claimed: &[Claimed],
    chosen: &[Chosen],
) -> Option<Vec<Heard>> {
    let question = view.question()?;
    if !matches!(question.fact.kind(), FactKind::Quantity(_) | FactKind::Count(..)) || !chosen.is_empty() {
        return None;
    }
    let all_say = message.clauses.iter().all(|clause| standing(clause) == Standing::Says);
    let marked = message.clauses.last().is_some_and(|clause| clause.marked && !clause.others);
    let only_marked = marked && message.clauses.len() == 1 && !opens_as_question(message);
    let others = claimed.iter().any(|one| match &one.by {
        Some(Claimant::Fact(fact, named)) => {
            let angle = |fact: FactKey| matches!(fact.kind(), FactKind::Quantity(quantity) if quantity.length_band().is_none());
            *fact != question.fact && (*named > Named::Unit || !angle(question.fact))
        }
        Some(Claimant::Thing) => true,
        None => false,
    });
    if let Some(climb) = between_heights(view, message, question).filter(|_| all_say) {
        return Some(vec![answer(message, climb, Sure::Sure, &[])]);
    }
    let mut reply = measure(view.guide, view.session.usual(), question.fact, &settled_text(message));
    // "1.6 m, and the back one is the same to the millimetre": one figure is one value.
    if let (Reply::Two(..), [only]) = (&reply, message.figures.as_slice()) {
        reply = measure(view.guide, view.session.usual(), question.fact, &only.text);
    }
    // "45 up and 220 along": the climb and the run of a slope, or two lengths.
    let as_slope = others && all_say && question.fact == FactKey::Pitch && is_rise_over_run(&reply, message);
    let foreign = message.figures.iter().any(|figure| !figure.kind.measures() && figure.kind != Kind::Count);
    let says_number = !message.figures.is_empty() || is_all_around_number(message);
    if !(all_say || only_marked) || (others && !as_slope) || foreign || !says_number || counts_things(message)
    {
        return None;
    }
    let gap = question.fact == FactKey::TimberSpacing && message.has(Tag::ClearGap);
    let bounds = message.figures.iter().filter(|figure| is_bound(message, figure)).count();
    if bounds > 1 {
        return None;
    }
    let doubted = only_marked
        || as_slope
        || gap
        || bounds > 0
        || unknown_before(message)
        || message.has(Tag::Distrusts);
    let sure = if doubted { Sure::Unsure } else { Sure::Sure };
    // "My phone shows 25, my eye shows 25."
    if let Some(given) = said_again(view, message, question) {
        return Some(vec![answer(message, given, sure, &[])]);
    }
    Some(match reply {
        Reply::Value(given) => vec![answer(message, given, sure, &[])],
        Reply::Two(first, second) => two(view, message, question, first, second),
        Reply::Offer { why, options } => vec![unclear(message, Act::Answer, Sure::OneOf { why, options })],
        Reply::Unreadable(why) => vec![unclear(message, Act::Answer, Sure::Unreadable(why))],
        Reply::Silent => return None,
    })
}

/// The value that every one of several figures has.
fn said_again(view: &View<'_, '_>, message: &Message<'_>, question: &Question) -> Option<Given> {
    let value = |figure: &Figure| match measure(view.guide, view.session.usual(), question.fact, &figure.text)
    {
        Reply::Value(given) => Some(given),
        Reply::Two(..) | Reply::Offer { .. } | Reply::Unreadable(_) | Reply::Silent => None,
    };
    let (first, others) = message.figures.split_first().filter(|(_, others)| !others.is_empty())?;
    let first = value(first)?;
    others.iter().all(|other| value(other).is_some_and(|other| other.value == first.value)).then_some(first)
}

/// The figures that a later "call it" sets aside.
pub(super) fn called_otherwise(message: &Message<'_>) -> std::ops::Range<usize> {
    let last = (0..message.figures.len()).rev().find(|index| is_called(message, *index)).unwrap_or_default();
    let alike = |index: usize| {
        let (a, b) = (message.figures.get(index), message.figures.get(last));
        matches!((a, b), (Some(a), Some(b)) if a.kind == b.kind || b.kind == Kind::Bare || a.kind == Kind::Bare)
    };
    if (0..last).all(alike) { 0..last } else { 0..0 }
}

/// Whether a figure is the one that holds in the end: "call it 3100", "6. No, I tell a lie, 8".
fn is_called(message: &Message<'_>, index: usize) -> bool {
    let Some(figure) = message.figures.get(index) else { return false };
    let before = index.checked_sub(1).and_then(|before| message.figures.get(before));
    let from = before.map_or(0, |before| before.tokens.end);
    message.hits.iter().any(|hit| {
        hit.is(Tag::CallIt)
            && hit.start >= from
            && hit.end <= figure.tokens.start
            && (before.is_some() || hit.end == figure.tokens.start)
    })
}

/// The text that holds in the end: "ten foot and a thumb, call it 3100"; without a unit, it has that of the one before.
fn settled_text<'m>(message: &'m Message<'_>) -> Cow<'m, str> {
    let last = message.figures.len().checked_sub(1).filter(|last| *last > 0 && is_called(message, *last));
    if let Some((last, before)) =
        last.and_then(|last| message.figures.get(last).zip(message.figures.get(last - 1)))
    {
        let unit = before.unit();
        let by_word =
            before.text.split_whitespace().next_back().filter(|_| unit.is_empty()).unwrap_or_default();
        return match (last.kind, before.kind) {
            (Kind::Bare, Kind::Length) => Cow::Owned(format!("{} {unit}{by_word}", last.text)),
            _ => Cow::Borrowed(last.text.as_str()),
        };
    }
    match message.figures.as_slice() {
        [only] if only.kind == Kind::Angle => Cow::Borrowed(only.text.as_str()),
        _ => Cow::Borrowed(message.text),
    }
}

fn opens_as_question(message: &Message<'_>) -> bool {
    message.has(Tag::AsksAnywhere) || message.hits.iter().any(|hit| hit.is(Tag::Asks) && hit.start == 0)
}

/// Whether a word nobody knows stands before the first figure: it may have made a question of it.
fn unknown_before(message: &Message<'_>) -> bool {
    let first = message.figures.first().map_or(message.tokens.len(), |figure| figure.tokens.start);
    message.tokens.iter().take(first).any(|token| !token.known)
}

fn is_rise_over_run(reply: &Reply, message: &Message<'_>) -> bool {
    use crate::units::reading::WrittenUnit;
    let far = |figure: &Figure| figure.kind == Kind::Bare;
    matches!(reply, Reply::Value(given) if given.written == Some(WrittenUnit::Ratio))
        && message.figures.iter().all(far)
}

/// "The long one" and "one rooflight" measure nothing: without a digit or a unit, a number word must stand alone.
fn counts_things(message: &Message<'_>) -> bool {
    let digits = message.text.contains(|c: char| c.is_ascii_digit());
    let units = message.figures.iter().any(|figure| matches!(figure.kind, Kind::Length | Kind::Angle));
    if digits || units {
        return false;
    }
    message.has(Tag::Points) || !is_all_around_number(message)
}

fn is_all_around_number(message: &Message<'_>) -> bool {
    message.tokens.iter().enumerate().filter(|(_, token)| token.is_word()).all(|(at, token)| {
        crate::units::reading::part_of(&token.word).is_some()
            || message.hits.iter().any(|hit| {
                let around = hit.is(Tag::AroundNumber)
                    || hit.is(Tag::Roughly)
                    || hit.is(Tag::Filler)
                    || hit.is(Tag::Corrects)
                    || matches!(hit.means, Means::Names(..));
                around && hit.start <= at && at < hit.end
            })
    })
}

/// "7 ft at the front and 6 ft at the back": the slope climbs from the one height to the other.
fn between_heights(view: &View<'_, '_>, message: &Message<'_>, question: &Question) -> Option<Given> {
    let heights = message.hits.iter().filter(|hit| hit.is(Tag::HeightAt)).count();
    let asked = question.fact == FactKey::Rise || (question.fact == FactKey::Pitch && heights > 1);
    let rise = question_for(view.guide, FactKey::Rise).filter(|_| asked)?;
    let two = match message.figures.as_slice() {
        [a, b] if matches!((a.kind, b.kind), (Kind::Length | Kind::Bare, Kind::Length | Kind::Bare)) => {
            (a, b)
        }
        _ => return None,
    };
    if heights < 2
        && question.fact == FactKey::Rise
        && !matches!(two.1.link, Some(Link::And | Link::To | Link::Comma | Link::By))
    {
        return None;
    }
    let Reply::Two(first, second) = measure(view.guide, view.session.usual(), rise.fact, message.text) else {
        return None;
    };
    let (FactValue::Length(a), FactValue::Length(b)) = (&first.value, &second.value) else { return None };
    let value = Length::from_um(a.value.um() - b.value.um()).abs();
    let climb = FactValue::Length(Measured {
        value,
        doubt: if a.doubt == Doubt::Stated { b.doubt } else { a.doubt },
    });
    fits(view.guide, FactKey::Rise, &climb).then_some(Given { value: climb, ..first })
}

/// Two facts that are often said in one breath, and what the second may be.
const SECOND_OF_TWO: &[(FactKey, &[FactKey])] = &[
    (FactKey::Length, &[FactKey::SlopeLength, FactKey::Span]),
    (FactKey::SlopeLength, &[FactKey::SlopeLengthBack]),
    (FactKey::Pitch, &[FactKey::PitchBack]),
    (FactKey::SheetLength, &[FactKey::SheetWidth]),
    (FactKey::SheetWidth, &[FactKey::SheetCorrugations]),
    (FactKey::DiagonalA, &[FactKey::DiagonalB]),
    (FactKey::Span, &[FactKey::RafterOverhang]),
];

/// "3.1 by 2.2 metres": the first answers the open question; the second is one of a few things.
fn two(
    view: &View<'_, '_>,
    message: &Message<'_>,
    question: &Question,
    first: Given,
    second: Given,
) -> Vec<Heard> {
    let candidates = SECOND_OF_TWO.iter().find(|(fact, _)| *fact == question.fact).map(|(_, second)| *second);
    let open: Vec<FactKey> = candidates
        .unwrap_or_default()
        .iter()
        .copied()
        .filter(|fact| view.session.facts().get(*fact).is_none() && is_on_this_roof(view, *fact))
        .filter(|fact| fits(view.guide, *fact, &second.value))
        .collect();
    match open.as_slice() {
        [] => vec![answer(message, first, Sure::Sure, &[])],
        [fact] => vec![
            answer(message, first, Sure::Sure, &[]),
            Heard { act: Act::State, ..answer(message, Given { fact: *fact, ..second }, Sure::Sure, &[]) },
        ],
        several => {
            let options = several
                .iter()
                .map(|fact| Offer {
                    answers: vec![(first.fact, first.value.clone()), (*fact, second.value.clone())],
                    unit: None,
                })
                .collect();
            vec![unclear(message, Act::Answer, Sure::OneOf { why: Note::new("offer-which-way"), options })]
        }
    }
}

/// Whether a roof like this has that fact, as far as is known.
fn is_on_this_roof(view: &View<'_, '_>, fact: FactKey) -> bool {
    fact != FactKey::PitchBack || view.session.facts().choice(FactKey::SlopesEqual) == Some("no")
}

/// The facts that figures give.
pub(super) fn measured(
    view: &View<'_, '_>,
    message: &Message<'_>,
    claimed: &[Claimed],
    used: &[usize],
) -> Vec<Heard> {
    let mut found: Vec<Heard> = Vec::new();
    let open = view.question().map(|question| question.fact);
    for one in claimed.iter().filter(|one| !used.contains(&one.figure)) {
        let Some(figure) = message.figures.get(one.figure) else { continue };
        let Some(index) = message.clause_of(figure.tokens.start) else { continue };
        let Some(clause) = message.clauses.get(index) else { continue };
        let standing = standing(clause);
        let (fact, named, reply) = match &one.by {
            Some(Claimant::Fact(fact, named)) => (*fact, *named, one.reply.clone()),
            Some(Claimant::Thing) => continue,
            None => match unnamed(view, message, one.figure, &found, open) {
                Some((fact, reply)) => (fact, Named::Name, reply),
                None => continue,
            },
        };
        if found.iter().any(|heard| heard.given.as_ref().is_some_and(|given| given.fact == fact)) {
            continue;
        }
        let act = match standing {
            Standing::Nothing => continue,
            Standing::Supposes => Act::WhatIf,
            Standing::Says | Standing::Perhaps if open == Some(fact) => Act::Answer,
            Standing::Says | Standing::Perhaps if view.session.facts().get(fact).is_some() => Act::Correct,
            Standing::Says | Standing::Perhaps => Act::State,
        };
        // What may be, or is to be, changes nothing that is known by now.
        if standing == Standing::Perhaps && act != Act::Answer {
            continue;
        }
        let gap = fact == FactKey::TimberSpacing && message.has(Tag::ClearGap);
        let doubted = standing == Standing::Perhaps
            || gap
            || is_bound(message, figure)
            || message.has(Tag::Distrusts)
            || match (act, named) {
                (Act::Answer, _) => unknown_before(message),
                (_, Named::Name) => clause.unknown > 0,
                (_, Named::Size | Named::Unit) => clause.unknown > 0 || has_leftovers(message, index),
            };
        let (given, sure) = match reply {
            Reply::Value(given) => (Some(given), if doubted { Sure::Unsure } else { Sure::Sure }),
            Reply::Offer { why, options } => (None, Sure::OneOf { why, options }),
            Reply::Unreadable(why) => (None, Sure::Unreadable(why)),
            Reply::Two(..) | Reply::Silent => continue,
        };
        let span = message.bytes(&figure.tokens);
        found.push(Heard {
            act,
            given,
            span,
            clause: index,
            evidence: one.because.iter().cloned().collect(),
            sure,
        });
    }
    // A believable value beats a doubt elsewhere: the doubtful part is asked for again in its turn.
    if found.iter().any(|heard| heard.given.is_some()) {
        found.retain(|heard| heard.given.is_some() || heard.act == Act::Answer);
    }
    found
}

/// A figure that nothing claims answers what is open; the second of two, what is often said with the first.
fn unnamed(
    view: &View<'_, '_>,
    message: &Message<'_>,
    index: usize,
    found: &[Heard],
    open: Option<FactKey>,
) -> Option<(FactKey, Reply)> {
    let figure =
        message.figures.get(index).filter(|figure| figure.kind.measures() || figure.kind == Kind::Count)?;
    let usual = view.session.usual();
    let taken = |fact: FactKey| {
        found.iter().any(|heard| heard.given.as_ref().is_some_and(|given| given.fact == fact))
    };
    let before = found.last().and_then(|heard| heard.given.as_ref()).map(|given| given.fact);
    let linked = matches!(figure.link, Some(Link::By | Link::And));
    if let Some(before) = before.filter(|_| linked) {
        let seconds =
            SECOND_OF_TWO.iter().find(|(fact, _)| *fact == before).map_or(&[][..], |(_, seconds)| *seconds);
        let fitting = seconds.iter().copied().filter(|fact| !taken(*fact) && is_on_this_roof(view, *fact));
        let known = |fact: &FactKey| view.session.facts().get(*fact).is_some();
        let mut fitting = fitting.filter(|fact| !known(fact));
        if let (Some(fact), None) = (fitting.next(), fitting.next()) {
            return Some((fact, measure(view.guide, usual, fact, &figure.text)));
        }
    }
    let open = open.filter(|open| !taken(*open) && !counts_things(message))?;
    if figure.kind == Kind::Count && !matches!(open.kind(), FactKind::Count(..)) {
        return None;
    }
    match measure(view.guide, usual, open, &figure.text) {
        Reply::Silent => None,
        reply => Some((open, reply)),
    }
}

/// Whether a clause says more than its figure, the names of facts and small words: it may speak of something else.
pub(super) fn has_leftovers(message: &Message<'_>, index: usize) -> bool {
    let Some(clause) = message.clauses.get(index) else { return true };
    let figures: Vec<_> = message.figures.iter().map(|figure| figure.tokens.clone()).collect();
    clause.tokens.clone().any(|at| {
        let is_word = message.tokens.get(at).is_some_and(Token::is_word);
        let in_figure = figures.iter().any(|figure| figure.contains(&at));
        is_word
            && !in_figure
            && !message.hits.iter().any(|hit| hit.start <= at && at < hit.end && says_little(hit))
    })
}

fn says_little(hit: &Hit<'_>) -> bool {
    match hit.means {
        Means::Names(..) | Means::Choice(_, _, Aspect::Asked | Aspect::Tells) | Means::Compares(..) => true,
        Means::Tag(tag) => matches!(
            tag,
            Tag::Filler
                | Tag::Roughly
                | Tag::AroundNumber
                | Tag::Corrects
                | Tag::Mine
                | Tag::Joins
                | Tag::But
                | Tag::Back
                | Tag::Front
                | Tag::Both
                | Tag::HeightAt
                | Tag::Agrees
                | Tag::Refuses
                | Tag::Instead
                | Tag::Recorded
                | Tag::Over
        ),
        Means::Choice(..) | Means::Goods(_) | Means::AllDone(_) => false,
    }
}
