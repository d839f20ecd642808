//! What is said on the job: done, next, problem, counts, stopping, and what turned out different.

use super::super::Message;
use super::super::clauses::Mood;
use super::super::figures::Figure;
use super::super::lexicon::{Hit, Means, Tag};
use super::super::readings::{count, length};
use crate::roofing::work::{Goods, StepKind, Stop};
use crate::units::{Length, Quantity};

/// Something said on the job.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Job {
    /// Begin, or take up again.
    Start,
    /// The step in hand is done.
    Done,
    /// Everything of this kind that comes next is done.
    AllDone(StepKind),
    /// What comes after the step in hand.
    Peek,
    /// The step in hand once more.
    WhereWasI,
    /// How much is left.
    HowMany,
    /// Something is wrong.
    Problem,
    /// The work stops.
    Stop(Stop),
    /// So many used or left.
    Counted(Vec<Count>),
    /// Sheets are spoilt; part of one may still be used.
    Spoilt {
        /// How many.
        sheets: i64,
        /// How long the part is that can be used.
        kept: Option<Length>,
    },
    /// The roof is out of square, by so much.
    OutOfSquare(Option<Length>),
    /// Both diagonals, the first from the lower left.
    Diagonals(Length, Length),
    /// Only sheets of this length can be had.
    SheetsOf(Length),
    /// Sheets like the planned ones cannot be had; of this length, where that is said.
    NoSheets(Option<Length>),
    /// The proposed change holds.
    Accept,
    /// The proposed change is dropped.
    Leave,
}

/// A count as it was said.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Count {
    /// Of what.
    pub goods: Goods,
    /// How many.
    pub number: i64,
    /// Whether so many are left, and not used.
    pub left: bool,
}

/// What a message says of the job, where it says something of it.
pub(in super::super) fn job(message: &Message<'_>) -> Option<Job> {
    let by_order = super::ways_to_start(message).find_map(|(tokens, _)| {
        let (entry, _) = message.lexicon.order(tokens, true)?;
        Some(match entry.id.as_str() {
            "work-start" => Job::Start,
            "done" => Job::Done,
            "peek" => Job::Peek,
            "where" => Job::WhereWasI,
            "problem" => Job::Problem,
            "how-many" => Job::HowMany,
            "accept" => Job::Accept,
            "leave" => Job::Leave,
            _ => return None,
        })
    });
    by_order
        .or_else(|| all_done(message))
        .or_else(|| different(message))
        .or_else(|| counted(message))
        .or_else(|| stops(message))
}

/// Whether a message asks or supposes something, so that nothing in it has happened.
fn only_asks(message: &Message<'_>) -> bool {
    message.clauses.iter().any(|clause| matches!(clause.mood, Mood::Asks | Mood::Supposes) || clause.others)
}

fn all_done(message: &Message<'_>) -> Option<Job> {
    let whole = |hit: &&Hit<'_>| matches!(hit.means, Means::AllDone(_));
    let hit = message.hits.iter().find(whole)?;
    let covered = message.covered(&(0..message.tokens.len()), |other| {
        other.start == hit.start && other.end == hit.end || other.is(Tag::Filler) || other.is(Tag::Agrees)
    });
    match hit.means {
        Means::AllDone(kind) if covered => Some(Job::AllDone(*kind)),
        _ => None,
    }
}

fn stops(message: &Message<'_>) -> Option<Job> {
    if message.has(Tag::NotWeather) {
        return None;
    }
    let asks = message.clauses.iter().any(|clause| clause.mood == Mood::Supposes || clause.others);
    if message.has(Tag::Wind) && !asks && !asks_of(message, Tag::Wind) {
        Some(Job::Stop(Stop::Wind))
    } else if message.has(Tag::Wet) && !asks && !asks_of(message, Tag::Wet) {
        Some(Job::Stop(Stop::Wet))
    } else if message.has(Tag::Pause) {
        Some(Job::Stop(Stop::Pause))
    } else {
        None
    }
}

/// Whether a kind of word stands only in what is asked.
fn asks_of(message: &Message<'_>, tag: Tag) -> bool {
    let hits = message.hits.iter().filter(|hit| hit.is(tag));
    let mut clauses = hits.filter_map(|hit| message.clauses.get(message.clause_of(hit.start)?));
    clauses.all(|clause| clause.mood == Mood::Asks)
}

fn different(message: &Message<'_>) -> Option<Job> {
    if message.has(Tag::Diagonal)
        && let [a, b] = message.figures.as_slice()
        && let (Some(a), Some(b)) = (length(Quantity::Length, &a.text), length(Quantity::Length, &b.text))
        && !only_asks(message)
    {
        return Some(Job::Diagonals(a, b));
    }
    if message.has(Tag::OutOfSquare) && !only_asks(message) {
        let by = message.figures.first().and_then(|figure| length(Quantity::Overhang, &figure.text));
        return Some(Job::OutOfSquare(by));
    }
    if message.has(Tag::OnlyHas)
        && !only_asks(message)
        && let Some(length) = sheets_of(message)
    {
        return Some(Job::SheetsOf(length));
    }
    if message.has(Tag::SoldOut) && !only_asks(message) {
        let of = message.figures.first().and_then(|figure| length(Quantity::SheetLength, &figure.text));
        return Some(Job::NoSheets(of));
    }
    let spoilt = message.hits.iter().filter(|hit| hit.is(Tag::Spoilt)).max_by_key(|hit| hit.len())?;
    if message.has(Tag::NoSheet) || only_asks(message) {
        return None;
    }
    let inside =
        |figure: &&Figure| spoilt.start <= figure.tokens.start && figure.tokens.end <= spoilt.start + 3;
    let said = message.figures.iter().find(inside).and_then(|figure| count(&figure.text));
    let by_word =
        message.tokens.get(spoilt.start + 1).and_then(|token| count(&token.word)).filter(|_| {
            message.tokens.get(spoilt.start + 1).is_some_and(super::super::normal::Token::is_word)
        });
    let first = message.tokens.get(spoilt.start).and_then(|token| count(&token.word));
    Some(Job::Spoilt { sheets: said.or(by_word).or(first).unwrap_or(1), kept: kept_length(message) })
}

/// "1 800 sheets" are sheets of that length, for nobody sells so many.
fn sheets_of(message: &Message<'_>) -> Option<Length> {
    let (low, high) = Quantity::SheetLength.length_band()?;
    let counted = counts(message).find(|(_, goods, _)| *goods == Goods::Sheets);
    match counted.map(|(_, _, number)| Length::from_mm(number)) {
        // "Only has 8 sheets" says how many there are, not how long.
        Some(length) => (low..=high).contains(&length).then_some(length),
        None => message.figures.first().and_then(|figure| length(Quantity::SheetLength, &figure.text)),
    }
}

/// How long the spoilt piece is, where that is said; not how long it should have been.
fn kept_length(message: &Message<'_>) -> Option<Length> {
    let end = message.hits.iter().filter(|hit| hit.is(Tag::ShouldBe)).map(|hit| hit.start).min();
    let before = |figure: &&Figure| end.is_none_or(|end| figure.tokens.end <= end);
    let digits = |figure: &&Figure| figure.text.contains(|c: char| c.is_ascii_digit());
    let measured = message.figures.iter().filter(before).filter(digits);
    let mut lengths = measured.filter_map(|figure| length(Quantity::SheetLength, &figure.text));
    lengths.next()
}

/// Every number that stands before goods: the number's first token, the goods, how many.
fn counts<'m>(message: &'m Message<'_>) -> impl Iterator<Item = (usize, Goods, i64)> + 'm {
    let goods = message.hits.iter().filter_map(|hit| match hit.means {
        Means::Goods(goods) => Some((hit, *goods)),
        _ => None,
    });
    let whole = move |(hit, _): &(&Hit<'_>, Goods)| {
        !message.hits.iter().any(|other| {
            matches!(other.means, Means::Goods(_))
                && other.len() > hit.len()
                && other.start <= hit.start
                && hit.end <= other.end
        })
    };
    goods.filter(whole).filter_map(move |(hit, goods)| {
        let figure = message.figures.iter().find(|figure| figure.tokens.end == hit.start);
        if let Some(figure) = figure {
            return Some((figure.tokens.start, goods, count(&figure.text)?));
        }
        let before = hit.start.checked_sub(1)?;
        let token = message.tokens.get(before)?;
        Some((before, goods, count(&token.word)?))
    })
}

fn counted(message: &Message<'_>) -> Option<Job> {
    let left = message.has(Tag::Left);
    if only_asks(message) || (!left && !message.has(Tag::Used)) {
        return None;
    }
    let mut found: Vec<Count> = Vec::new();
    for (at, goods, number) in counts(message) {
        let clause = message.clause_of(at).and_then(|index| message.clauses.get(index));
        // "Used 6 sheets and have 40 nails left": each count goes by the words around it.
        let says = |tag: Tag| {
            message.hits.iter().any(|hit| hit.is(tag) && clause.is_some_and(|clause| clause.holds(hit.start)))
        };
        let left = if says(Tag::Used) { false } else { left };
        found.retain(|earlier| earlier.goods != goods);
        found.push(Count { goods, number, left });
    }
    (!found.is_empty()).then_some(Job::Counted(found))
}
