//! Which figure is which fact: every name in a message claims the figures near it, what is no fact of a roof claims
//! its own, and the best assignment wins in which each figure and each fact is used at most once.

use std::cmp::Reverse;

use super::super::Message;
use super::super::figures::{Figure, Kind, Link};
use super::super::lexicon::{Aspect, Hit, Means, Side, Tag};
use super::super::readings::{Reply, measure};
use crate::conversation::Guide;
use crate::roofing::roof::{FactKey, FactKind};
use crate::units::{Quantity, UsualUnit};

/// What claims a figure.
#[derive(Clone, Debug, PartialEq)]
pub(in super::super) enum Claimant {
    /// A fact, and how it was named.
    Fact(FactKey, Named),
    /// A thing that is no fact of a roof.
    Thing,
}

/// How a fact was named.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(in super::super) enum Named {
    /// By the unit of its figure alone.
    Unit,
    /// By a word of size.
    Size,
    /// By its own name.
    Name,
}

/// A figure with what it is of.
#[derive(Clone, Debug)]
pub(in super::super) struct Claimed {
    /// Index of the figure.
    pub figure: usize,
    /// What it is of; `None` where nothing claims it.
    pub by: Option<Claimant>,
    /// The name that claimed it, as it is written in the book.
    pub because: Option<String>,
    /// What reading the figure as that fact gives.
    pub reply: Reply,
}

struct Claim<'m> {
    figure: usize,
    claimant: Claimant,
    score: i32,
    way: &'m str,
}

/// What a name says for a figure right beside it.
const BESIDE: i32 = 100;
/// What something that is no fact says for a figure right beside it.
const THING: i32 = 94;
/// What degrees alone say for the slope.
const BY_UNIT: i32 = 48;
/// A claim below this is none.
const LEAST: i32 = 40;
/// Farther away than this no name claims a figure, however long it is: it is not looked at any further.
const FARTHEST: i32 = -200;
/// A claim of something that is no fact is none below this: it must stand right beside its figure.
const LEAST_OF_THING: i32 = 78;
/// A slope of fewer degrees than this that is given as a mere number is no steepness, but a length up the slope.
const FLATTEST: f64 = 5.0;

/// Every figure of a message with what it is of.
pub(in super::super) fn claims(
    guide: &Guide<'_>,
    usual: Option<UsualUnit>,
    (open, two_slopes): (Option<FactKey>, bool),
    message: &Message<'_>,
) -> Vec<Claimed> {
    let mut claims: Vec<Claim<'_>> = Vec::new();
    let things: Vec<&Hit<'_>> =
        message.hits.iter().filter(|hit| hit.is(Tag::Thing) && !is_part_of_name(message, hit)).collect();
    for (index, figure) in message.figures.iter().enumerate() {
        claims.extend(claims_of(message, (open, two_slopes), &things, index, figure));
    }
    claims.sort_by_key(|claim| (Reverse(claim.score), claim.figure));
    let mut taken: Vec<Claimed> = Vec::new();
    for claim in claims {
        let used = taken.iter().any(|one| one.figure == claim.figure);
        let fact = match &claim.claimant {
            Claimant::Fact(fact, _) => Some(*fact),
            Claimant::Thing => None,
        };
        let same = |one: &Claimed| matches!(&one.by, Some(Claimant::Fact(other, _)) if Some(*other) == fact);
        if used || taken.iter().any(same) {
            continue;
        }
        let Some(figure) = message.figures.get(claim.figure) else { continue };
        let reply = match fact {
            Some(fact) => measured(guide, usual, message, (claim.figure, figure), fact),
            None => Reply::Silent,
        };
        let fits = fact.is_none() || matches!(reply, Reply::Value(_) | Reply::Offer { .. });
        if fits {
            let because = Some(claim.way.to_owned());
            taken.push(Claimed { figure: claim.figure, by: Some(claim.claimant), because, reply });
        }
    }
    for index in 0..message.figures.len() {
        if !taken.iter().any(|one| one.figure == index) {
            taken.push(Claimed { figure: index, by: None, because: None, reply: Reply::Silent });
        }
    }
    taken.sort_by_key(|one| one.figure);
    taken
}

/// A bare figure is in the unit of the one before it in its sentence, where that is believable.
fn measured(
    guide: &Guide<'_>,
    usual: Option<UsualUnit>,
    message: &Message<'_>,
    (index, figure): (usize, &Figure),
    fact: FactKey,
) -> Reply {
    let sentence = |figure: &Figure| {
        message.clause_of(figure.tokens.start).and_then(|clause| message.sentence_of(clause))
    };
    let before = message.figures.iter().take(index).rev().find(|one| one.kind == Kind::Length);
    let before = before.filter(|one| figure.kind == Kind::Bare && sentence(one) == sentence(figure));
    if let Some(before) = before {
        let unit = before.unit();
        let lent = measure(guide, usual, fact, &format!("{} {unit}", figure.text));
        if let (Reply::Value(given), false) = (lent, unit.is_empty()) {
            return Reply::Value(super::super::Given { assumed: true, ..given });
        }
    }
    measure(guide, usual, fact, &figure.text)
}

fn claims_of<'m>(
    message: &'m Message<'_>,
    (open, two_slopes): (Option<FactKey>, bool),
    things: &[&'m Hit<'_>],
    index: usize,
    figure: &Figure,
) -> Vec<Claim<'m>> {
    let mut found = Vec::new();
    if !figure.kind.measures() && figure.kind != Kind::Count {
        return found;
    }
    let same_clause = |hit: &Hit<'_>| message.clause_of(hit.start) == message.clause_of(figure.tokens.start);
    let thing_here = things.iter().any(|hit| same_clause(hit));
    for hit in &message.hits {
        let Means::Names(fact, side) = hit.means else { continue };
        // First of all, because it costs least: what follows looks through the whole message.
        let Some(nearness) = nearness(message, figure, hit, *side) else { continue };
        let fact = &of_sheets(message, open, figure, meant(*fact, figure));
        let fact = if two_slopes { fact } else { &of_a_lean_to(message, figure, *fact) };
        if !can_be(*fact, figure.kind) || hides(message, hit, figure.kind) {
            continue;
        }
        let sized = *side == Side::Size;
        if sized && thing_here {
            continue;
        }
        // "Down to 4 foot", "two up and two to go": such a word in front of its figure names little, and of a figure
        // without a unit nothing, unless the two stand for themselves: "3.1 along, 2.2 up".
        let leads = *side == Side::Behind && hit.end <= figure.tokens.start;
        if leads && (figure.kind == Kind::Bare || thing_here) {
            continue;
        }
        // "Between 12 and 20" is no gap.
        if is_range_word(message, hit, index) {
            continue;
        }
        let named = if sized || leads { Named::Size } else { Named::Name };
        let fact = turned(message, figure, *fact);
        let score = BESIDE + nearness + i32::try_from(hit.len()).unwrap_or(0) * 3;
        if score >= LEAST {
            let way = hit.way.written.as_str();
            found.push(Claim { figure: index, claimant: Claimant::Fact(fact, named), score, way });
        }
    }
    for hit in things {
        if let Some(nearness) = nearness(message, figure, hit, Side::Either)
            && THING + nearness >= LEAST_OF_THING
        {
            let way = hit.way.written.as_str();
            found.push(Claim { figure: index, claimant: Claimant::Thing, score: THING + nearness, way });
        }
    }
    // "The back one is 1.7".
    if let Some(hit) = beside_back(message, figure) {
        // "22 the back", where the back slope's steepness is asked for.
        let angle =
            figure.kind == Kind::Angle || (figure.kind == Kind::Bare && open == Some(FactKey::PitchBack));
        let fact = if angle { FactKey::PitchBack } else { FactKey::SlopeLengthBack };
        let way = hit.way.written.as_str();
        found.push(Claim {
            figure: index,
            claimant: Claimant::Fact(fact, Named::Name),
            score: LEAST + 20,
            way,
        });
    }
    if figure.kind == Kind::Angle {
        let fact = turned(message, figure, FactKey::Pitch);
        let claimant = Claimant::Fact(fact, Named::Unit);
        found.push(Claim { figure: index, claimant, score: BY_UNIT, way: "°" });
    }
    found
}

/// What a name means for this figure: a slope of 2.05 is no steepness, but a length.
fn meant(fact: FactKey, figure: &Figure) -> FactKey {
    let number = figure.text.replace(',', ".").parse::<f64>();
    let is_length = figure.kind == Kind::Length || number.is_ok_and(|number| number < FLATTEST);
    match fact {
        FactKey::Pitch if figure.kind != Kind::Angle && is_length => FactKey::SlopeLength,
        FactKey::PitchBack if figure.kind != Kind::Angle && is_length => FactKey::SlopeLengthBack,
        _ => fact,
    }
}

/// A lean-to that is 3 m wide and comes out 2 m is 3 m along its eaves.
fn of_a_lean_to(message: &Message<'_>, figure: &Figure, fact: FactKey) -> FactKey {
    let clause = |token: usize| message.clause_of(token);
    let deep = |own: bool| {
        let here = |hit: &Hit<'_>| (clause(hit.start) == clause(figure.tokens.start)) == own;
        message.hits.iter().any(|hit| hit.is(Tag::Deep) && here(hit))
    };
    if fact == FactKey::Span && deep(false) && !deep(true) { FactKey::Length } else { fact }
}

/// "The sheets are 2 m long" speaks of the sheets, and so does whoever reads a label.
fn of_sheets(message: &Message<'_>, open: Option<FactKey>, figure: &Figure, fact: FactKey) -> FactKey {
    let asked = matches!(
        open,
        Some(
            FactKey::Sheet
                | FactKey::SheetLength
                | FactKey::SheetWidth
                | FactKey::SheetCorrugations
                | FactKey::CorrugationHeight
        )
    );
    let sentence = |token: usize| message.clause_of(token).and_then(|clause| message.sentence_of(clause));
    let here = |hit: &Hit<'_>| hit.is(Tag::OfSheets) && sentence(hit.start) == sentence(figure.tokens.start);
    if !asked && !message.hits.iter().any(here) {
        return fact;
    }
    match fact {
        FactKey::Length => FactKey::SheetLength,
        FactKey::Span => FactKey::SheetWidth,
        other => other,
    }
}

/// Whether a name only opens a range: the word before the first of two figures that are joined.
fn is_range_word(message: &Message<'_>, hit: &Hit<'_>, index: usize) -> bool {
    let joined =
        message.figures.get(index + 1).is_some_and(|next| matches!(next.link, Some(Link::And | Link::To)));
    let first = message.figures.get(index).is_some_and(|figure| figure.tokens.start == hit.end);
    let second = index.checked_sub(1).and_then(|before| message.figures.get(before));
    let opens = second.is_some_and(|before| before.tokens.start == hit.end)
        && message.figures.get(index).is_some_and(|figure| matches!(figure.link, Some(Link::And | Link::To)));
    hit.len() == 1 && ((joined && first) || opens)
}

/// A word for the back slope in a figure's clause, where nothing speaks of the front.
fn beside_back<'m>(message: &'m Message<'_>, figure: &Figure) -> Option<&'m Hit<'m>> {
    let same = |hit: &&Hit<'_>| message.clause_of(hit.start) == message.clause_of(figure.tokens.start);
    let back =
        message.hits.iter().filter(|hit| hit.is(Tag::Back)).filter(same).max_by_key(|hit| hit.len())?;
    let front = message.hits.iter().filter(same).any(|hit| hit.is(Tag::Front));
    (!front && matches!(figure.kind, Kind::Angle | Kind::Length | Kind::Bare)).then_some(back)
}

/// Whether a word that is no fact stands inside a longer name of one: the "gap" of "gap between the rafters".
fn is_part_of_name(message: &Message<'_>, thing: &Hit<'_>) -> bool {
    message.hits.iter().any(|hit| {
        let names = matches!(
            hit.means,
            Means::Names(_, Side::Either | Side::Before | Side::Behind)
                | Means::Choice(_, _, Aspect::Asked | Aspect::Tells)
        ) && !hit.is(Tag::Thing);
        names && hit.start <= thing.start && thing.end <= hit.end && hit.len() > thing.len()
    })
}

/// Whether a longer name of another fact, or of a thing, holds this one: "slope length" is no steepness.
fn hides(message: &Message<'_>, name: &Hit<'_>, kind: Kind) -> bool {
    message.hits.iter().any(|hit| {
        let other = match hit.means {
            Means::Names(fact, _) => hit.means != name.means && can_be(*fact, kind),
            Means::Goods(_) => true,
            Means::Tag(tag) => *tag == Tag::Thing,
            Means::Choice(..) | Means::AllDone(_) | Means::Compares(..) => false,
        };
        other && hit.start <= name.start && name.end <= hit.end && hit.len() > name.len()
    })
}

/// Whether a figure of that kind can be this fact.
fn can_be(fact: FactKey, kind: Kind) -> bool {
    match (fact.kind(), kind) {
        (FactKind::Quantity(Quantity::Pitch), Kind::Angle | Kind::Bare) => true,
        (FactKind::Quantity(Quantity::Pitch), _) => false,
        (FactKind::Quantity(_), Kind::Length | Kind::Bare) => true,
        (FactKind::Quantity(Quantity::Spacing | Quantity::DeckThickness), Kind::Count) => true,
        (FactKind::Count(..), Kind::Bare | Kind::Count) => true,
        _ => false,
    }
}

/// The back slope's fact, where the back slope is what the figure is of.
fn turned(message: &Message<'_>, figure: &Figure, fact: FactKey) -> FactKey {
    let back = match fact {
        // "My back slope is 6 ft long": not along the eaves.
        FactKey::Length if beside_back(message, figure).is_some_and(|hit| hit.len() > 1) => {
            return FactKey::SlopeLengthBack;
        }
        FactKey::Pitch => FactKey::PitchBack,
        FactKey::SlopeLength => FactKey::SlopeLengthBack,
        other => return other,
    };
    let near = |tag: Tag| {
        let same = |hit: &&Hit<'_>| message.clause_of(hit.start) == message.clause_of(figure.tokens.start);
        let hits = message.hits.iter().filter(|hit| hit.is(tag) && !is_of_the_next(message, figure, hit));
        hits.filter(same).map(|hit| distance(figure, hit)).min()
    };
    match (near(Tag::Back), near(Tag::Front)) {
        (Some(back_at), front_at) if front_at.is_none_or(|front_at| back_at < front_at) => back,
        // "The back one is steeper, 12 degrees": the clause before speaks of it, and has no figure of its own.
        (None, None) if says_back_before(message, figure) => back,
        _ => fact,
    }
}

/// "That's 10 degrees front is 7": the front is the next figure's.
fn is_of_the_next(message: &Message<'_>, figure: &Figure, hit: &Hit<'_>) -> bool {
    let leads = |next: &Figure| next.tokens.start >= hit.end && next.tokens.start - hit.end <= 1;
    hit.start >= figure.tokens.end && message.figures.iter().any(leads)
}

fn says_back_before(message: &Message<'_>, figure: &Figure) -> bool {
    let Some(before) = message.clause_of(figure.tokens.start).and_then(|clause| clause.checked_sub(1)) else {
        return false;
    };
    let same_sentence = message.sentence_of(before) == message.sentence_of(before + 1);
    let says =
        |tag: Tag| message.hits.iter().any(|hit| hit.is(tag) && message.clause_of(hit.start) == Some(before));
    same_sentence && !message.has_figure(before) && says(Tag::Back) && !says(Tag::Front)
}

fn distance(figure: &Figure, hit: &Hit<'_>) -> usize {
    if hit.start >= figure.tokens.end {
        hit.start - figure.tokens.end
    } else {
        figure.tokens.start.saturating_sub(hit.end)
    }
}

/// How much less a name says for a figure the further it stands from it; `None` where it says nothing.
fn nearness(message: &Message<'_>, figure: &Figure, hit: &Hit<'_>, side: Side) -> Option<i32> {
    let behind = hit.start >= figure.tokens.end;
    let before = hit.end <= figure.tokens.start;
    let between = match (behind, before) {
        (true, _) => figure.tokens.end..hit.start,
        (false, true) => hit.end..figure.tokens.start,
        // "6 inch deck" holds its name; "rafters at 400" never does.
        (false, false) => {
            return (figure.tokens.start <= hit.start && hit.end <= figure.tokens.end).then_some(-20);
        }
    };
    let (hit_clause, own_clause) = (message.clause_of(hit.start)?, message.clause_of(figure.tokens.start)?);
    let mut less = match side {
        Side::Before if behind => -35,
        Side::Behind | Side::Size if !behind => -25,
        Side::Either | Side::Before | Side::Behind | Side::Size => 0,
    };
    if hit_clause != own_clause {
        let same_sentence = message.sentence_of(hit_clause) == message.sentence_of(own_clause);
        // "The length, 3.1 m": a clause with no figure of its own lends its name to the next.
        let lends = before && own_clause == hit_clause + 1 && !message.has_figure(hit_clause);
        // "Apart from the boards. They are 15 mm."
        let own_start = message.clauses.get(own_clause).map_or(0, |clause| clause.tokens.start);
        let stands = message.hits.iter().any(|hit| hit.is(Tag::Stands) && hit.start == own_start);
        // "Along the boards, I made it 2.3 m": that is where, and not what.
        let is_place = message.hits.iter().any(|place| {
            place.is(Tag::Landmark) && !stands && place.start <= hit.start && hit.end <= place.end
        });
        if !(same_sentence || stands) || !lends || is_place {
            return None;
        }
        less -= 30;
    }
    for at in between {
        let Some(token) = message.tokens.get(at) else { continue };
        let in_figure = message.figures.iter().any(|one| one.tokens.contains(&at));
        less -= match (in_figure, token.is_word()) {
            (true, _) => 45,
            (false, true) if is_small(&token.word) => 2,
            (false, true) => 9,
            (false, false) => 1,
        };
        if less < FARTHEST {
            return None;
        }
    }
    Some(less)
}

/// Words that stand between a name and its figure as a matter of course.
fn is_small(word: &str) -> bool {
    word.len() <= 3
}

/// Whether two figures belong together: "3.1 by 2.2".
pub(in super::super) fn are_linked(message: &Message<'_>, second: usize) -> bool {
    message.figures.get(second).is_some_and(|figure| figure.link == Some(Link::By))
}
