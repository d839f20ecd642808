//! From what the stages found to acts: the last stage, and the only one that looks at what is open.

mod agreement;
mod both;
mod changes;
mod doubtful;
mod gap;
pub(super) mod matching;
mod measured;
mod own_words;
mod picked;

use self::agreement::agrees_to_all;
use self::changes::changes;
use self::doubtful::doubtful;
use self::gap::gap_and_timber;
use self::matching::{Claimant, are_linked, claims};
use self::measured::{called_otherwise, measured, only_the_open_one};
use self::own_words::in_own_words;
use self::picked::{differing, picked};
use super::choices::choices;
use super::clauses::Mood;
use super::figures::Kind;
use super::lexicon::{Hit, Tag};
use super::readings::is_measurement;
use super::{Act, Given, Heard, Interpretation, Loose, Message, Order, Sure, View, orders};
use crate::conversation::session::Open;
use crate::roofing::roof::FactKey;

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
        opens_with: opens_with(&message),
        all_right: says_all_right(&message),
        asbestos: message.has(Tag::Asbestos) && !denies_asbestos(&message),
        points_at: points_at(&message),
        ..Interpretation::default()
    };
    let agreed = says_only(Tag::Agrees) || agrees_to_all(view, &message);
    // "Correct" alone asks for no correction.
    if agreed && matches!(said.order, Some(Order::Change(_))) {
        said.order = None;
    }
    // At the review a yes is of what was shown, and starts no work.
    if agreed && *view.session.open() == Open::Review {
        said.job = None;
    }
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

/// The yes or the no that a message opens with, small words aside.
fn opens_with(message: &Message<'_>) -> Option<bool> {
    let starts = |tag: Tag, at: usize| message.hits.iter().any(|hit| hit.start == at && hit.is(tag));
    let mut at = 0;
    loop {
        match (starts(Tag::PlainYes, at), starts(Tag::PlainNo, at)) {
            (true, false) => return Some(true),
            (false, true) => return Some(false),
            _ => {}
        }
        let small = message.hits.iter().filter(|hit| hit.start == at && hit.is(Tag::Filler));
        at = small.map(|hit| hit.end).max().filter(|end| *end > at)?;
    }
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

fn answer(message: &Message<'_>, given: Given, sure: Sure, evidence: &[String]) -> Heard {
    Heard { given: Some(given), evidence: evidence.to_vec(), sure, ..whole(message, Act::Answer) }
}

fn unclear(message: &Message<'_>, act: Act, sure: Sure) -> Heard {
    Heard { sure, ..whole(message, act) }
}

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
    if let Some(heard) = gap_and_timber(view, message) {
        return vec![heard];
    }
    if let Some(heard) = only_the_open_one(view, message, &claimed, &chosen) {
        return heard;
    }
    let (mut found, mut used) = changes(view, message, &claimed);
    used.extend(called_otherwise(message));
    let (one_of_several, alike) = doubtful(view, message, &claimed);
    if !alike.iter().any(|index| used.contains(index)) {
        used.extend(alike);
        found.extend(one_of_several);
    }
    let of_both = |one: &super::choices::Chosen| {
        let shape = matches!(one.fact, FactKey::Form | FactKey::SlopesEqual);
        shape && found.iter().any(|heard| heard.clause == one.clause && heard.act == Act::Relative)
    };
    let chosen: Vec<_> = chosen.into_iter().filter(|one| !of_both(one)).collect();
    found.extend(measured(view, message, &claimed, &used));
    // The sizes of a sheet of the list name that sheet.
    let listed = |one: &super::choices::Chosen| one.fact == FactKey::Sheet && one.is_listed(view);
    if chosen.iter().any(listed) {
        let of_sheet = [FactKey::SheetLength, FactKey::SheetWidth];
        found.retain(|heard| heard.given.as_ref().is_none_or(|given| !of_sheet.contains(&given.fact)));
    }
    let taken: Vec<FactKey> =
        found.iter().filter_map(|heard| heard.given.as_ref()).map(|given| given.fact).collect();
    found.extend(picked(view, message, &chosen, &taken, &found));
    differing(view, &mut found);
    // What was said as it is known already is no news beside anything else.
    let known = |heard: &Heard| {
        heard.act == Act::Correct
            && heard
                .given
                .as_ref()
                .is_some_and(|given| view.session.facts().get(given.fact) == Some(&given.value))
    };
    found.retain(|heard| !(heard.sure == Sure::Unsure && known(heard)));
    let asks = message.clauses.iter().any(|clause| clause.mood == Mood::Asks);
    if asks || !found.iter().all(known) {
        found.retain(|heard| !known(heard));
    }
    found
}
