//! Changes of what was said before: by its value ("8, not 15"), by how much ("a foot more", "half that"), by
//! exchange ("the other way round").

use super::super::clauses::{Standing, standing};
use super::super::figures::{Figure, Kind};
use super::super::lexicon::{Hit, Means, Tag};
use super::super::readings::{Reply, fits, measure};
use super::super::{Act, Given, Heard, Message, Sure, View};
use super::both::{both, named_by_both};
use super::matching::{Claimant, Claimed};
use crate::conversation::event::Offer;
use crate::roofing::note::Note;
use crate::roofing::roof::{FactKey, FactKind, FactValue};
use crate::units::reading::WrittenUnit;
use crate::units::{Angle, Length, Measured};

/// The changes a message asks for, and the figures they use up.
pub(super) fn changes(
    view: &View<'_, '_>,
    message: &Message<'_>,
    claimed: &[Claimed],
) -> (Vec<Heard>, Vec<usize>) {
    if let Some(found) = by_value(view, message, claimed) {
        return found;
    }
    if let Some(found) = by_how_much(view, message, claimed) {
        return found;
    }
    if let Some(found) = both(view, message, claimed) {
        return found;
    }
    match exchange(view, message) {
        Some(found) => (vec![found], (0..message.figures.len()).collect()),
        None => (Vec::new(), Vec::new()),
    }
}

fn heard(
    message: &Message<'_>,
    act: Act,
    at: usize,
    given: Option<Given>,
    sure: Sure,
    evidence: &str,
) -> Heard {
    let clause = message.clause_of(at).unwrap_or(0);
    let tokens = message.clauses.get(clause).map_or(at..at + 1, |clause| clause.tokens.clone());
    Heard { act, given, span: message.bytes(&tokens), clause, evidence: vec![evidence.to_owned()], sure }
}

fn says(message: &Message<'_>, at: usize) -> bool {
    let clause = message.clause_of(at).and_then(|index| message.clauses.get(index));
    clause.is_some_and(|clause| standing(clause) == Standing::Says)
}

// ---- "8, not 15" ----

/// The facts that hold a figure; of those the one that was named.
fn holders_of(view: &View<'_, '_>, figure: &Figure, named: Option<FactKey>) -> Vec<FactKey> {
    let all = view.session.facts().iter().map(|(fact, _)| fact);
    let holders: Vec<FactKey> = all.filter(|fact| holds(view, *fact, figure)).collect();
    match named.filter(|named| holders.is_empty() || holders.contains(named)) {
        Some(named) => vec![named],
        None => holders,
    }
}

fn by_value(
    view: &View<'_, '_>,
    message: &Message<'_>,
    claimed: &[Claimed],
) -> Option<(Vec<Heard>, Vec<usize>)> {
    let denied_by = |figure: &Figure| {
        let before = |hit: &&Hit<'_>| {
            let denies = hit.is(Tag::Instead) || hit.is(Tag::Recorded);
            denies && hit.end <= figure.tokens.start && figure.tokens.start - hit.end <= 1
        };
        // "2.6 you wrote, and it is 2.86".
        let of_two = message.has(Tag::Front) && message.has(Tag::Back);
        let behind = |hit: &&Hit<'_>| hit.is(Tag::Recorded) && hit.start == figure.tokens.end && !of_two;
        let close = |hit: &&Hit<'_>| {
            (hit.end..figure.tokens.start).all(|at| {
                message.tokens.get(at).is_some_and(|token| token.word.len() <= 2 && token.is_word())
            })
        };
        message
            .hits
            .iter()
            .find(|hit| behind(hit) || (before(hit) && close(hit)))
            .map(|hit| hit.way.written.as_str())
    };
    // "15 is wrong, it's 8".
    let wrong_after = |figure: &Figure, other: &Figure| {
        let hit = message.hits.iter().find(|hit| {
            hit.is(Tag::Corrects)
                && hit.start >= figure.tokens.end
                && hit.start - figure.tokens.end <= 1
                && hit.end <= other.tokens.start
                && hit.len() > 1
        });
        hit.map(|hit| hit.way.written.as_str())
    };
    let (at_first, first, second) = pair(message, &denied_by)?;
    let (new, old, at, evidence) = match (denied_by(first), denied_by(second)) {
        (Some(way), None) => (second, first, at_first + 1, way),
        (None, Some(way)) => (first, second, at_first, way),
        // "400 no 600", of what is 600 so far.
        (None, None) => match no_between(message, first, second).filter(|_| is_held(view, second, first)) {
            Some(way) => (first, second, at_first, way),
            None => (second, first, at_first + 1, wrong_after(first, second)?),
        },
        (Some(_), Some(_)) => return None,
    };
    if !says(message, new.tokens.start) {
        return None;
    }
    let named = claimed.get(at).and_then(|one| match &one.by {
        Some(Claimant::Fact(fact, super::matching::Named::Name | super::matching::Named::Size)) => {
            Some(*fact)
        }
        Some(Claimant::Fact(..) | Claimant::Thing) | None => None,
    });
    let holders = holders_of(view, old, named);
    let usual = view.session.usual();
    let values: Vec<Given> =
        holders.iter().filter_map(|fact| value_like(view, *fact, new, old, usual)).collect();
    match values.as_slice() {
        [] => None,
        [only] => {
            let heard =
                heard(message, Act::Correct, new.tokens.start, Some(only.clone()), Sure::Sure, evidence);
            Some((vec![heard], vec![at_first, at_first + 1]))
        }
        several => {
            let options = several
                .iter()
                .map(|one| Offer { answers: vec![(one.fact, one.value.clone())], unit: None })
                .collect();
            let sure = Sure::OneOf { why: Note::new("which-did-you-mean"), options };
            let heard = heard(message, Act::Correct, new.tokens.start, None, sure, evidence);
            Some((vec![heard], vec![at_first, at_first + 1]))
        }
    }
}

/// The "no" that alone stands between two figures.
fn no_between<'m>(message: &'m Message<'_>, first: &Figure, second: &Figure) -> Option<&'m str> {
    let between = first.tokens.end..second.tokens.start;
    let no = message.hits.iter().find(|hit| hit.is(Tag::Denies) && hit.start == between.start)?;
    (between.len() == 1).then_some(no.way.written.as_str())
}

/// Whether a figure is what is known of something, and another is not.
fn is_held(view: &View<'_, '_>, held: &Figure, other: &Figure) -> bool {
    let any = |figure: &Figure| view.session.facts().iter().any(|(fact, _)| holds(view, fact, figure));
    any(held) && !any(other)
}

/// The two figures of which one is denied; of two alone, either.
fn pair<'m>(
    message: &'m Message<'_>,
    denied_by: &dyn Fn(&Figure) -> Option<&'m str>,
) -> Option<(usize, &'m Figure, &'m Figure)> {
    let pairs = message.figures.windows(2).enumerate();
    let two = |(at, pair): (usize, &'m [Figure])| match pair {
        [first, second] => Some((at, first, second)),
        _ => None,
    };
    let mut pairs = pairs.filter_map(two);
    if message.figures.len() == 2 {
        return pairs.next();
    }
    pairs.find(|(_, first, second)| denied_by(first).is_some() != denied_by(second).is_some())
}

/// The new figure as that fact, in the unit of the old one where it has none of its own.
fn value_like(
    view: &View<'_, '_>,
    fact: FactKey,
    new: &Figure,
    old: &Figure,
    usual: Option<crate::units::UsualUnit>,
) -> Option<Given> {
    let lent = |text: &str| {
        let unit: String = old.text.chars().skip_while(|c| !c.is_alphabetic()).collect();
        format!("{text} {unit}")
    };
    let text =
        if new.kind == Kind::Bare && old.kind != Kind::Bare { lent(&new.text) } else { new.text.clone() };
    if new.kind == Kind::Bare
        && old.kind == Kind::Bare
        && let Some(unit) = unit_of_holding(view, fact, old)
        && let Reply::Value(given) = measure(view.guide, usual, fact, &format!("{text} {unit}"))
    {
        return Some(given);
    }
    match measure(view.guide, usual, fact, &text) {
        Reply::Value(given) => Some(given),
        Reply::Two(..) | Reply::Offer { .. } | Reply::Unreadable(_) | Reply::Silent => None,
    }
}

/// Signs of units, as figures are read with.
const SIGNS: [&str; 7] = ["mm", "cm", "m", "'", "\"", "°", ": 12"];

/// The unit in which a fact holds a bare figure.
fn unit_of_holding(view: &View<'_, '_>, fact: FactKey, figure: &Figure) -> Option<&'static str> {
    let value = view.session.facts().get(fact)?;
    SIGNS.into_iter().find(|unit| {
        matches!(measure(view.guide, None, fact, &format!("{} {unit}", figure.text)), Reply::Value(given) if alike(&given.value, value))
    })
}

/// Whether a fact holds a figure's value.
fn holds(view: &View<'_, '_>, fact: FactKey, figure: &Figure) -> bool {
    let Some(value) = view.session.facts().get(fact) else { return false };
    match measure(view.guide, view.session.usual(), fact, &figure.text) {
        Reply::Value(given) if alike(&given.value, value) => true,
        Reply::Offer { options, .. }
            if options.iter().flat_map(|one| &one.answers).any(|(_, one)| alike(one, value)) =>
        {
            true
        }
        _ => figure.kind == Kind::Bare && unit_of_holding(view, fact, figure).is_some(),
    }
}

fn alike(one: &FactValue, other: &FactValue) -> bool {
    match (one, other) {
        (FactValue::Length(a), FactValue::Length(b)) => (a.value - b.value).abs() < Length::from_mm(1),
        (FactValue::Angle(a), FactValue::Angle(b)) => (a.value - b.value).microdeg().abs() < 60_000,
        (FactValue::Count(a), FactValue::Count(b)) => a == b,
        _ => false,
    }
}

// ---- "a foot more", "half that" ----

enum HowMuch<'f> {
    By(&'f Figure, bool),
    Half,
    Double,
}

fn by_how_much(
    view: &View<'_, '_>,
    message: &Message<'_>,
    claimed: &[Claimed],
) -> Option<(Vec<Heard>, Vec<usize>)> {
    let (how, compared, hit) = how_much(message)?;
    if !says(message, hit.start) {
        return None;
    }
    let figure = match how {
        HowMuch::By(figure, _) => Some(figure),
        HowMuch::Half | HowMuch::Double => None,
    };
    let angular = figure.map(|figure| figure.kind == Kind::Angle);
    let both: Vec<Heard> = named_by_both(view, message, angular)
        .into_iter()
        .filter_map(|fact| changed_by(view, message, (fact, &how), (figure, hit)))
        .collect();
    if both.len() == 2 {
        return Some((both, position(message, figure)));
    }
    let named = claimed.iter().find_map(|one| match &one.by {
        Some(Claimant::Fact(fact, super::matching::Named::Name)) => Some(*fact),
        _ => None,
    });
    let by_name = message.hits.iter().find_map(|hit| match hit.means {
        Means::Names(FactKey::Pitch, _) if angular == Some(false) => Some(FactKey::SlopeLength),
        Means::Names(fact, _) if is_measured(*fact) && view.session.facts().get(*fact).is_some() => {
            Some(*fact)
        }
        _ => None,
    });
    let recent = view
        .session
        .recent()
        .into_iter()
        .find(|fact| angular.is_none_or(|angular| is_angle(*fact) == angular) && is_measured(*fact));
    // Where nothing is named, the message must say nothing else.
    let alone = (0..message.clauses.len()).all(|clause| !super::measured::has_leftovers(message, clause));
    let fact = named.or(by_name).or(compared).or(recent.filter(|_| alone))?;
    if let Some(found) = back_from_front(view, message, (fact, &how), (figure, hit)) {
        return Some(found);
    }
    let heard = changed_by(view, message, (fact, &how), (figure, hit))?;
    Some((vec![heard], position(message, figure)))
}

/// One fact with so much more, or less.
fn changed_by(
    view: &View<'_, '_>,
    message: &Message<'_>,
    (fact, how): (FactKey, &HowMuch<'_>),
    (figure, hit): (Option<&Figure>, &Hit<'_>),
) -> Option<Heard> {
    let value = changed(view, fact, how)?;
    let given = Given { fact, value, assumed: false, written: figure.and_then(written), shows: None };
    let fitting = fits(view.guide, fact, &given.value);
    fitting.then(|| heard(message, Act::Relative, hit.start, Some(given), Sure::Unsure, &hit.way.written))
}

/// Which of the message's figures it is, where it is one.
fn position(message: &Message<'_>, figure: Option<&Figure>) -> Vec<usize> {
    message.figures.iter().position(|one| Some(one) == figure).into_iter().collect()
}

/// "The back one is a foot longer": than the front one, and so the two are not alike.
fn back_from_front(
    view: &View<'_, '_>,
    message: &Message<'_>,
    (fact, how): (FactKey, &HowMuch<'_>),
    (figure, hit): (Option<&Figure>, &Hit<'_>),
) -> Option<(Vec<Heard>, Vec<usize>)> {
    let (front, back) = match fact {
        FactKey::SlopeLength | FactKey::SlopeLengthBack | FactKey::Length => {
            (FactKey::SlopeLength, FactKey::SlopeLengthBack)
        }
        FactKey::Pitch | FactKey::PitchBack => (FactKey::Pitch, FactKey::PitchBack),
        _ => return None,
    };
    let clause = message.clause_of(hit.start);
    let of_back = message.hits.iter().any(|hit| hit.is(Tag::Back) && message.clause_of(hit.start) == clause);
    let facts = view.session.facts();
    if !of_back || facts.choice(FactKey::Form) != Some("two_slopes") || facts.get(back).is_some() {
        return None;
    }
    let value = changed(view, front, how)?;
    if !fits(view.guide, back, &value) {
        return None;
    }
    let given = Given { fact: back, value, assumed: false, written: figure.and_then(written), shows: None };
    let differ = Given::plain(FactKey::SlopesEqual, FactValue::Choice("no".to_owned()));
    let heard = [given, differ]
        .map(|given| heard(message, Act::Relative, hit.start, Some(given), Sure::Unsure, &hit.way.written));
    Some((heard.into(), position(message, figure)))
}

fn how_much<'m>(message: &'m Message<'_>) -> Option<(HowMuch<'m>, Option<FactKey>, &'m Hit<'m>)> {
    if let Some(hit) = message.hits.iter().find(|hit| hit.is(Tag::Halves)) {
        return Some((HowMuch::Half, None, hit));
    }
    if let Some(hit) = message.hits.iter().find(|hit| hit.is(Tag::Doubles)) {
        return Some((HowMuch::Double, None, hit));
    }
    message.figures.iter().find_map(|figure| {
        let around = |hit: &Hit<'_>| hit.start <= figure.tokens.start && figure.tokens.end <= hit.end;
        let beside = |hit: &&Hit<'_>| {
            hit.start == figure.tokens.end
                || hit.start == figure.tokens.start
                || around(hit)
                || (hit.end == figure.tokens.start && !is_than(message, figure))
        };
        let compares = message.hits.iter().filter(beside).find_map(|hit| match hit.means {
            Means::Compares(fact, more) => Some((HowMuch::By(figure, *more), Some(*fact), hit)),
            _ => None,
        });
        compares.or_else(|| {
            let hit =
                message.hits.iter().filter(beside).find(|hit| hit.is(Tag::More) || hit.is(Tag::Less))?;
            Some((HowMuch::By(figure, hit.is(Tag::More)), None, hit))
        })
    })
}

/// "Longer than 3 m" says nothing of by how much.
fn is_than(message: &Message<'_>, figure: &Figure) -> bool {
    let before = figure.tokens.start.checked_sub(1).and_then(|at| message.tokens.get(at));
    before.is_some() && message.hits.iter().any(|hit| hit.is(Tag::Than) && hit.end == figure.tokens.start)
}

fn is_angle(fact: FactKey) -> bool {
    matches!(fact.kind(), FactKind::Quantity(quantity) if quantity.length_band().is_none())
}

fn is_measured(fact: FactKey) -> bool {
    matches!(fact.kind(), FactKind::Quantity(_))
}

fn written(figure: &Figure) -> Option<WrittenUnit> {
    let last = figure.text.split_whitespace().last()?.trim_start_matches(|c: char| !c.is_alphabetic());
    match crate::units::reading::part_of(&last.to_lowercase()) {
        Some(crate::units::reading::Part::Unit(unit)) => Some(unit),
        _ => None,
    }
}

fn changed(view: &View<'_, '_>, fact: FactKey, how: &HowMuch<'_>) -> Option<FactValue> {
    let value = view.session.facts().get(fact)?;
    match (value, how) {
        (FactValue::Length(now), HowMuch::Half) => Some(length(Length::from_um(now.value.um() / 2))),
        (FactValue::Length(now), HowMuch::Double) => Some(length(now.value * 2)),
        (FactValue::Angle(now), HowMuch::Half) => Some(angle(Angle::from_microdeg(now.value.microdeg() / 2))),
        (FactValue::Angle(now), HowMuch::Double) => {
            Some(angle(Angle::from_microdeg(now.value.microdeg() * 2)))
        }
        (FactValue::Length(now), HowMuch::By(figure, more)) => {
            let by = small_length(&figure.text).or_else(|| one_unit(figure))?;
            Some(length(if *more { now.value + by } else { now.value - by }))
        }
        (FactValue::Angle(now), HowMuch::By(figure, more)) => {
            let by = match measure(view.guide, None, fact, &figure.text) {
                Reply::Value(Given { value: FactValue::Angle(by), .. }) => by.value,
                _ => return None,
            };
            let by = if *more { by.microdeg() } else { -by.microdeg() };
            Some(angle(Angle::from_microdeg(now.value.microdeg() + by)))
        }
        (FactValue::Choice(_) | FactValue::Count(_) | FactValue::Words(_), _) => None,
    }
}

/// A length of any size: what is added may be far smaller than what it is added to.
fn small_length(text: &str) -> Option<Length> {
    use crate::units::Quantity;
    let kinds = [Quantity::Overhang, Quantity::Rise, Quantity::Length];
    kinds
        .into_iter()
        .find_map(|quantity| super::super::readings::length(quantity, text))
        .filter(|by| *by > Length::ZERO)
}

/// "Another foot" is one.
fn one_unit(figure: &Figure) -> Option<Length> {
    let (_, unit) = figure.text.split_once(' ').filter(|_| figure.kind == Kind::Length)?;
    small_length(&format!("1 {unit}"))
}

fn length(value: Length) -> FactValue {
    FactValue::Length(Measured::stated(value))
}

fn angle(value: Angle) -> FactValue {
    FactValue::Angle(Measured::stated(value))
}

// ---- "the other way round" ----

/// Facts that people mix up, and so mean by "swap them".
const PAIRS: &[(FactKey, FactKey)] = &[
    (FactKey::Length, FactKey::SlopeLength),
    (FactKey::Pitch, FactKey::PitchBack),
    (FactKey::SlopeLength, FactKey::SlopeLengthBack),
    (FactKey::Length, FactKey::Span),
    (FactKey::SheetLength, FactKey::SheetWidth),
    (FactKey::DiagonalA, FactKey::DiagonalB),
];

fn exchange(view: &View<'_, '_>, message: &Message<'_>) -> Option<Heard> {
    let hit = message.hits.iter().find(|hit| hit.is(Tag::Swaps))?;
    let clause = message.clauses.get(message.clause_of(hit.start)?)?;
    let asks_for_it = matches!(standing(clause), Standing::Says | Standing::Perhaps);
    if !asks_for_it {
        return None;
    }
    let facts = view.session.facts();
    // Figures beside it only say which two are meant.
    let held = |(a, b): &&(FactKey, FactKey)| match message.figures.as_slice() {
        [] => true,
        [one, two] => {
            (holds(view, *a, one) && holds(view, *b, two)) || (holds(view, *b, one) && holds(view, *a, two))
        }
        _ => false,
    };
    let both_known = |(a, b): &&(FactKey, FactKey)| facts.get(*a).is_some() && facts.get(*b).is_some();
    let named: Vec<FactKey> = message
        .hits
        .iter()
        .filter_map(|hit| match hit.means {
            Means::Names(fact, _) => Some(*fact),
            _ => None,
        })
        .collect();
    let sides = message.has(Tag::Front) && message.has(Tag::Back);
    let is_of_sides =
        |(_, b): &&(FactKey, FactKey)| matches!(b, FactKey::PitchBack | FactKey::SlopeLengthBack);
    let recent = view.session.recent();
    let newest = |(a, b): &&(FactKey, FactKey)| {
        let place = |fact: &FactKey| recent.iter().position(|one| one == fact).unwrap_or(usize::MAX);
        place(a).saturating_add(place(b))
    };
    let pairs = PAIRS.iter().filter(both_known).filter(held);
    let by_name = pairs.clone().filter(|(a, b)| named.contains(a) && named.contains(b)).min_by_key(newest);
    let by_side = pairs.clone().filter(|pair| sides && is_of_sides(pair)).min_by_key(newest);
    let (a, b) = by_name.or(by_side).or_else(|| pairs.clone().min_by_key(newest))?;
    let (of_a, of_b) = (facts.get(*a)?.clone(), facts.get(*b)?.clone());
    let options = vec![Offer { answers: vec![(*a, of_b), (*b, of_a)], unit: None }];
    let sure = Sure::OneOf { why: Note::new("change-swap"), options };
    Some(heard(message, Act::Swap, hit.start, None, sure, &hit.way.written))
}
