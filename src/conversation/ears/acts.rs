//! From what the stages found to acts: the last stage, and the only one that looks at what is open.

use super::changes::changes;
use super::choices::{Chosen, choices, is_pure};
use super::clauses::Mood;
use super::figures::{Kind, Link};
use super::lexicon::{Aspect, Hit, Means, Tag};
use super::matching::{Claimant, Claimed, Named, Standing, are_linked, claims, standing};
use super::own_words::in_own_words;
use super::readings::{Reply, fits, is_measurement, measure};
use super::{Act, Given, Heard, Interpretation, Loose, Message, Order, Sure, View, orders};
use crate::conversation::event::Offer;
use crate::conversation::interview::question_for;
use crate::conversation::script::Question;
use crate::roofing::note::Note;
use crate::roofing::roof::{FactKey, FactKind, FactValue};
use crate::units::{Doubt, Length, Measured};

/// What a message says, by what is open and known.
pub fn interpret(view: &View<'_, '_>, text: &str) -> Interpretation {
    let message = view.guide.ears.hear(text);
    let everything = 0..message.tokens.len();
    let small = |hit: &Hit<'_>| hit.is(Tag::Filler);
    let says_only =
        |tag: Tag| message.has(tag) && message.covered(&everything, |hit| hit.is(tag) || small(hit));
    let mut said = Interpretation {
        promises: message.hits.iter().any(|hit| hit.is(Tag::Promises) && hit.start == 0)
            && !message.clauses.iter().any(|clause| clause.mood == Mood::Asks),
        order: orders::order(&message),
        job: orders::job(&message),
        surely: message.covered(&everything, |hit| hit.is(Tag::Surely) || small(hit))
            && message.has(Tag::Surely),
        all_right: says_all_right(&message),
        asbestos: message.has(Tag::Asbestos) && !denies_asbestos(&message),
        points_at: points_at(&message),
        ..Interpretation::default()
    };
    let agreed = says_only(Tag::Agrees);
    if agreed || says_only(Tag::Refuses) {
        let act = if agreed { Act::Agree } else { Act::Refuse };
        said.acts.push(whole(&message, act));
    }
    said.acts.extend(facts(view, &message));
    said.acts.sort_by_key(|heard| (heard.span.start, heard.act));
    let asking = message.clauses.iter().enumerate().filter(|(_, clause)| clause.mood == Mood::Asks);
    let answers =
        |index: usize| said.acts.iter().any(|heard| heard.clause == index && heard.act == Act::Answer);
    said.asks =
        !said.promises && said.yes_or_no().is_none() && (asking.clone().any(|(index, _)| !answers(index)));
    if matches!(said.order, Some(Order::Change(_))) && said.acts.iter().any(Heard::states_a_fact) {
        said.order = None;
    }
    said.loose = loose(&message, &said);
    if said.acts.is_empty() {
        let act = match (&said.order, &said.job, said.asks) {
            (Some(_), ..) => Act::Order,
            (None, Some(_), _) => Act::Progress,
            (None, None, true) => Act::Ask,
            (None, None, false) => Act::Remark,
        };
        said.acts.push(whole(&message, act));
    }
    said
}

fn whole(message: &Message<'_>, act: Act) -> Heard {
    let span = message.bytes(&(0..message.tokens.len()));
    Heard { act, given: None, span, clause: 0, evidence: Vec::new(), sure: Sure::Sure }
}

/// Whether nobody is hurt, and nothing else is said.
fn says_all_right(message: &Message<'_>) -> bool {
    let everything = 0..message.tokens.len();
    let passes = |hit: &Hit<'_>| hit.is(Tag::AllRight) || hit.is(Tag::Filler) || hit.is(Tag::Agrees);
    message.has(Tag::AllRight)
        && message.covered(&everything, passes)
        && !message.clauses.iter().any(|clause| clause.marked)
}

fn denies_asbestos(message: &Message<'_>) -> bool {
    let spoken = message.hits.iter().filter(|hit| hit.is(Tag::Asbestos));
    let denied = |hit: &Hit<'_>| {
        message.hits.iter().any(|no| no.is(Tag::NoAsbestos) && no.start <= hit.start && hit.end <= no.end)
    };
    spoken.clone().all(denied)
}

fn points_at(message: &Message<'_>) -> Option<usize> {
    let everything = 0..message.tokens.len();
    let tags = [(Tag::First, 0), (Tag::Second, 1), (Tag::Third, 2), (Tag::Last, usize::MAX)];
    let only = |tag: Tag| {
        message.has(tag)
            && message.covered(&everything, |hit| hit.is(tag) || hit.is(Tag::Filler) || hit.is(Tag::Agrees))
    };
    tags.into_iter().find(|(tag, _)| only(*tag)).map(|(_, place)| place)
}

fn loose(message: &Message<'_>, said: &Interpretation) -> Option<Loose> {
    if said.acts.iter().any(|heard| {
        heard.states_a_fact() && heard.given.as_ref().is_some_and(|given| given.written.is_some())
    }) {
        return None;
    }
    let measures = |index: usize| {
        message.figures.get(index).is_some_and(|figure| matches!(figure.kind, Kind::Length | Kind::Bare))
    };
    let pair = (1..message.figures.len())
        .any(|second| are_linked(message, second) && measures(second) && measures(second - 1));
    let other_units = message.figures.iter().any(|figure| !figure.kind.measures());
    if pair {
        Some(Loose::Sizes)
    } else if !other_units && !message.figures.is_empty() && is_measurement(message.text) {
        Some(Loose::Measurement)
    } else {
        None
    }
}

// ---- Facts ----

/// Everything a message says, or supposes, of the roof.
fn facts(view: &View<'_, '_>, message: &Message<'_>) -> Vec<Heard> {
    let usual = view.session.usual();
    if message.has(Tag::Ignores) {
        return Vec::new();
    }
    let open = view.question().map(|question| question.fact);
    let two_slopes = view.session.facts().choice(FactKey::Form) == Some("two_slopes");
    let claimed = claims(view.guide, usual, (open, two_slopes), message);
    let spaced: Vec<usize> = claimed
        .iter()
        .filter(|one| matches!(one.by, Some(Claimant::Fact(FactKey::TimberSpacing, _))))
        .filter_map(|one| message.clause_of(message.figures.get(one.figure)?.tokens.start))
        .collect();
    let chosen = choices(view, message, &spaced);
    if let Some(heard) = in_own_words(view, message, &chosen) {
        return vec![heard];
    }
    if let Some(heard) = only_the_open_one(view, message, &claimed, &chosen) {
        return heard;
    }
    let (mut found, mut used) = changes(view, message, &claimed);
    used.extend(called_otherwise(message));
    found.extend(measured(view, message, &claimed, &used));
    let taken: Vec<FactKey> =
        found.iter().filter_map(|heard| heard.given.as_ref()).map(|given| given.fact).collect();
    found.extend(picked(view, message, &chosen, &taken, &found));
    differing(view, &mut found);
    found
}

/// A message that only measures what is asked for is read whole: "2.4, no wait, 2.6".
fn only_the_open_one(
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
    let reply = measure(view.guide, view.session.usual(), question.fact, settled_text(message));
    // "45 up and 220 along": the climb and the run of a slope, or two lengths.
    let as_slope = others && all_say && question.fact == FactKey::Pitch && is_rise_over_run(&reply, message);
    let foreign = message.figures.iter().any(|figure| !figure.kind.measures() && figure.kind != Kind::Count);
    let says_number = !message.figures.is_empty() || is_all_around_number(message);
    if !(all_say || only_marked) || (others && !as_slope) || foreign || !says_number || counts_things(message)
    {
        return None;
    }
    let gap = question.fact == FactKey::TimberSpacing && message.has(Tag::ClearGap);
    let doubted = only_marked || as_slope || gap || unknown_before(message);
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
    let value = |figure: &super::figures::Figure| match measure(
        view.guide,
        view.session.usual(),
        question.fact,
        &figure.text,
    ) {
        Reply::Value(given) => Some(given),
        Reply::Two(..) | Reply::Offer { .. } | Reply::Unreadable(_) | Reply::Silent => None,
    };
    let (first, others) = message.figures.split_first().filter(|(_, others)| !others.is_empty())?;
    let first = value(first)?;
    others.iter().all(|other| value(other).is_some_and(|other| other.value == first.value)).then_some(first)
}

/// The figures that a later "call it" sets aside.
fn called_otherwise(message: &Message<'_>) -> std::ops::Range<usize> {
    let called = |figure: &super::figures::Figure| {
        message.hits.iter().any(|hit| hit.is(Tag::CallIt) && hit.end == figure.tokens.start)
    };
    let last = message.figures.iter().rposition(called).unwrap_or_default();
    let alike = |index: usize| {
        let (a, b) = (message.figures.get(index), message.figures.get(last));
        matches!((a, b), (Some(a), Some(b)) if a.kind == b.kind)
    };
    if (0..last).all(alike) { 0..last } else { 0..0 }
}

/// The text that holds in the end: "ten foot and a thumb, call it 3100".
fn settled_text<'m>(message: &'m Message<'_>) -> &'m str {
    let last = message.figures.last();
    let called = |figure: &&super::figures::Figure| {
        message.figures.len() > 1
            && message.hits.iter().any(|hit| hit.is(Tag::CallIt) && hit.end == figure.tokens.start)
    };
    let only = match message.figures.as_slice() {
        [only] if only.kind == Kind::Angle => Some(only),
        _ => None,
    };
    last.filter(called).or(only).map_or(message.text, |figure| figure.text.as_str())
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
    let far = |figure: &super::figures::Figure| figure.kind == Kind::Bare;
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

pub(super) fn answer(message: &Message<'_>, given: Given, sure: Sure, evidence: &[String]) -> Heard {
    Heard { given: Some(given), evidence: evidence.to_vec(), sure, ..whole(message, Act::Answer) }
}

pub(super) fn unclear(message: &Message<'_>, act: Act, sure: Sure) -> Heard {
    Heard { sure, ..whole(message, act) }
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
fn measured(view: &View<'_, '_>, message: &Message<'_>, claimed: &[Claimed], used: &[usize]) -> Vec<Heard> {
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
        let is_word = message.tokens.get(at).is_some_and(super::normal::Token::is_word);
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
                | Tag::Over
        ),
        Means::Choice(..) | Means::Goods(_) | Means::AllDone(_) => false,
    }
}

/// The facts that choices give. A safe answer passes only in its plain form.
fn picked(
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
            // What stops the plan stops it, sure or not; said in passing, it is asked about.
            (Some(_), false)
                if act != Act::Answer
                    && one.fact.is_safety()
                    && clause.is_some_and(|clause| clause.hedged) =>
            {
                Sure::Unsure
            }
            (Some(_), false)
                if act == Act::Correct
                    && !one.fact.is_safety()
                    && has_leftovers(message, one.clause)
                    && !puts_right(message) =>
            {
                continue;
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

/// Whether a message says that something was wrong.
fn puts_right(message: &Message<'_>) -> bool {
    message.has(Tag::Corrects) || message.has(Tag::Instead)
}

/// Whether a choice lets the plan go on where somebody could be hurt.
fn is_guarded(message: &Message<'_>, chosen: &Chosen) -> bool {
    let [id] = chosen.ids.as_slice() else { return false };
    chosen.fact.is_safety() && message.lexicon.is_guarded(chosen.fact, id)
}

/// "Front 20, back 25": two slopes, and not alike.
fn differing(view: &View<'_, '_>, found: &mut Vec<Heard>) {
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
    let Some(last) = found.last().cloned().filter(|_| differ && !single) else { return };
    for (fact, id) in [(FactKey::Form, "two_slopes"), (FactKey::SlopesEqual, "no")] {
        if facts.choice(fact) != Some(id) && (facts.get(fact).is_none() || equal) && !told(fact, found) {
            let given = Given::plain(fact, FactValue::Choice(id.to_owned()));
            found.push(Heard { act: Act::State, given: Some(given), ..last.clone() });
        }
    }
}
