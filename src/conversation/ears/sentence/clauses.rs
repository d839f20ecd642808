//! Clauses: what each part of a message does (states, asks, supposes, reports), whose roof it speaks of, and when.
//!
//! Negation and exception bind inside their clause; a question, a supposition, another's roof and somebody's words
//! go on to the end of their sentence.

use std::ops::Range;

use super::super::lexicon::{Hit, Tag};
use super::super::normal::{Token, TokenKind};
use super::figures::Figure;

/// What a clause does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Mood {
    /// Says how something is.
    States,
    /// Asks.
    Asks,
    /// Says what would be.
    Supposes,
    /// Says what somebody else says.
    Reports,
}

/// When something is, as a clause says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Time {
    /// Now.
    Now,
    /// No longer.
    Past,
    /// Not yet.
    Planned,
}

/// One clause.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Clause {
    /// The tokens it takes.
    pub tokens: Range<usize>,
    /// What it does.
    pub mood: Mood,
    /// Whether it speaks of another's roof, or of another roof.
    pub others: bool,
    /// When.
    pub time: Time,
    /// Whether the person is not sure.
    pub hedged: bool,
    /// Whether it depends on something.
    pub conditional: bool,
    /// Whether it leaves something out.
    pub excepts: bool,
    /// Whether it ends in a question mark.
    pub marked: bool,
    /// Words in it that nobody knows.
    pub unknown: usize,
    /// Which sentence it belongs to.
    pub sentence: usize,
}

impl Clause {
    /// Whether it says how this roof is now.
    pub fn is_plain(&self) -> bool {
        self.mood == Mood::States && !self.others && self.time == Time::Now && !self.conditional
    }

    /// Whether a token stands in it.
    pub fn holds(&self, token: usize) -> bool {
        self.tokens.contains(&token)
    }
}

/// The clauses of a message, in order.
pub fn clauses(tokens: &[Token], hits: &[Hit<'_>], figures: &[Figure]) -> Vec<Clause> {
    let mut found: Vec<Clause> = Vec::new();
    let mut sentence = 0;
    for part in parts(tokens, hits, figures) {
        let Part { tokens: range, ends } = part;
        if !range.is_empty() {
            let clause = clause(tokens, hits, range, sentence);
            found.push(clause);
        }
        if let Some(mark) = ends {
            if mark == '?' {
                asks_by_mark(&mut found, sentence);
            }
            sentence += 1;
        }
    }
    go_on(&mut found, hits);
    found
}

struct Part {
    tokens: Range<usize>,
    /// The mark that ends its sentence.
    ends: Option<char>,
}

/// Parts a message at its marks and at the words that join clauses.
fn parts(tokens: &[Token], hits: &[Hit<'_>], figures: &[Figure]) -> Vec<Part> {
    let inside = |at: usize| {
        figures.iter().any(|figure| figure.tokens.start < at && at < figure.tokens.end)
            || hits.iter().any(|hit| hit.start < at && at < hit.end && !joins(hit))
    };
    let begins_joined = |at: usize| hits.iter().any(|hit| joins(hit) && hit.start == at) && !inside(at);
    let mut found = Vec::new();
    let mut start = 0;
    for (at, token) in tokens.iter().enumerate() {
        let ends = match token.kind {
            TokenKind::Mark(mark @ ('.' | '!' | '?' | ';')) => Some(Some(mark)),
            TokenKind::Mark(',') if !inside(at) => Some(None),
            TokenKind::Mark('-') if !token.glued && !inside(at) => Some(None),
            TokenKind::Mark(_) | TokenKind::Number | TokenKind::Word => None,
        };
        if let Some(ends) = ends {
            found.push(Part { tokens: start..at, ends });
            start = at + 1;
        } else if at > start && begins_joined(at) {
            found.push(Part { tokens: start..at, ends: None });
            start = at;
        }
    }
    found.push(Part { tokens: start..tokens.len(), ends: None });
    found
}

fn joins(hit: &Hit<'_>) -> bool {
    hit.is(Tag::Joins) || hit.is(Tag::But)
}

fn clause(tokens: &[Token], hits: &[Hit<'_>], range: Range<usize>, sentence: usize) -> Clause {
    let has =
        |tag: Tag| hits.iter().any(|hit| hit.is(tag) && hit.start >= range.start && hit.end <= range.end);
    let opens = first_telling(hits, &range);
    // "Should be 13 degrees" puts right, and asks nothing.
    let puts_right = hits.iter().any(|hit| hit.is(Tag::Corrects) && hit.start == opens && hit.len() > 1);
    let asks = hits.iter().any(|hit| hit.is(Tag::Asks) && hit.start == opens && hit.end <= range.end)
        && !puts_right
        || asks_anywhere(hits, &range)
        || hits.iter().any(|hit| hit.is(Tag::Wants) && hit.start == opens);
    let mood = if has(Tag::Supposes) {
        Mood::Supposes
    } else if asks && !promises(hits, &range, opens) {
        Mood::Asks
    } else if has(Tag::Reports) {
        Mood::Reports
    } else {
        Mood::States
    };
    let time = match (plans(hits, &range) || has(Tag::FarOff), has(Tag::Past) || has(Tag::LongAgo)) {
        (true, _) => Time::Planned,
        (false, true) => Time::Past,
        (false, false) => Time::Now,
    };
    let unknown = tokens.get(range.clone()).unwrap_or_default().iter().filter(|token| !token.known).count();
    Clause {
        mood,
        others: has(Tag::Others) && !has(Tag::Mine),
        time,
        hedged: has(Tag::Hedges),
        conditional: is_conditional(hits, &range),
        excepts: has(Tag::Excepts),
        marked: false,
        unknown,
        sentence,
        tokens: range,
    }
}

/// Whether a clause says that something is to be: "you want to add 20 cm" puts right.
fn plans(hits: &[Hit<'_>], range: &Range<usize>) -> bool {
    let inside = |hit: &&Hit<'_>| hit.start >= range.start && hit.end <= range.end;
    hits.iter().filter(inside).filter(|hit| hit.is(Tag::Planned)).any(|hit| {
        !hits.iter().any(|other| other.is(Tag::Corrects) && other.start <= hit.start && hit.end <= other.end)
    })
}

/// Whether a clause asks by words that ask wherever they stand. "Change it to 3 m, will you" only bids: such words at
/// its end are small ones.
fn asks_anywhere(hits: &[Hit<'_>], range: &Range<usize>) -> bool {
    let inside = |hit: &&Hit<'_>| hit.start >= range.start && hit.end <= range.end;
    let bids = hits.iter().filter(inside).any(|hit| hit.is(Tag::Corrects));
    hits.iter().filter(inside).filter(|hit| hit.is(Tag::AsksAnywhere)).any(|hit| {
        let small = |other: &Hit<'_>| {
            other.is(Tag::Filler)
                && (other.start, other.end) == (hit.start, hit.end)
                && other.end == range.end
        };
        !(bids && hits.iter().any(small))
    })
}

/// Whether a clause depends on something: "if that suits you" does not.
fn is_conditional(hits: &[Hit<'_>], range: &Range<usize>) -> bool {
    let inside = |hit: &Hit<'_>| hit.start >= range.start && hit.end <= range.end;
    hits.iter().filter(|hit| hit.is(Tag::Conditions) && inside(hit)).any(|hit| {
        !hits.iter().any(|small| {
            small.is(Tag::Filler) && small.len() > 1 && small.start <= hit.start && hit.end <= small.end
        })
    })
}

/// The first token that is more than a greeting, a yes or a joining word.
fn first_telling(hits: &[Hit<'_>], range: &Range<usize>) -> usize {
    let mut at = range.start;
    let small = |at: usize| {
        let small = [Tag::LeadIn, Tag::Agrees, Tag::Joins, Tag::But, Tag::Refuses];
        let here = hits.iter().filter(|hit| hit.start == at && small.iter().any(|tag| hit.is(*tag)));
        here.map(|hit| hit.end).max()
    };
    while at < range.end
        && !hits.iter().any(|hit| hit.start == at && (hit.is(Tag::Asks) || hit.is(Tag::Wants)))
        && let Some(end) = small(at)
    {
        at = end;
    }
    at
}

fn promises(hits: &[Hit<'_>], range: &Range<usize>, opens: usize) -> bool {
    hits.iter().any(|hit| hit.is(Tag::Promises) && (hit.start == opens || hit.start == range.start))
}

/// The last clause of a sentence that ends in a question mark asks, however it is put.
fn asks_by_mark(found: &mut [Clause], sentence: usize) {
    if let Some(last) = found.last_mut().filter(|last| last.sentence == sentence) {
        last.marked = true;
        if last.mood == Mood::States {
            last.mood = Mood::Asks;
        }
    }
}

/// What holds to the end of a sentence.
fn go_on(found: &mut [Clause], hits: &[Hit<'_>]) {
    let mut before: Option<Clause> = None;
    // Long ago and far off hold on; "last week" and "going to" are of their own clause.
    let mut carried = Time::Now;
    for clause in found {
        let opens = hits.iter().filter(|hit| hit.start == clause.tokens.start && joins(hit));
        let joined = opens.clone().any(|hit| hit.is(Tag::Joins));
        let mine = hits.iter().any(|hit| hit.is(Tag::Mine) && clause.holds(hit.start));
        if let Some(before) = before.as_ref().filter(|before| before.sentence == clause.sentence) {
            match before.mood {
                Mood::Supposes if !mine => clause.mood = Mood::Supposes,
                Mood::Reports if clause.mood == Mood::States && !mine => clause.mood = Mood::Reports,
                Mood::Asks if clause.mood == Mood::States && joined && !before.marked => {
                    clause.mood = Mood::Asks;
                }
                Mood::Supposes | Mood::Reports | Mood::Asks | Mood::States => {}
            }
            let says = |tag: Tag| hits.iter().any(|hit| hit.is(tag) && clause.holds(hit.start));
            let goes_on = match carried {
                Time::Past => says(Tag::Was),
                Time::Planned => !says(Tag::Is),
                Time::Now => false,
            };
            if clause.time == Time::Now && goes_on && !mine {
                clause.time = carried;
            }
            clause.others |= before.others && !mine;
            clause.conditional |= before.conditional;
        }
        let says = |tag: Tag| hits.iter().any(|hit| hit.is(tag) && clause.holds(hit.start));
        carried = match (says(Tag::LongAgo), says(Tag::FarOff)) {
            (true, _) => Time::Past,
            (false, true) => Time::Planned,
            (false, false) if before.as_ref().is_some_and(|before| before.sentence == clause.sentence) => {
                carried
            }
            (false, false) => Time::Now,
        };
        before = Some(clause.clone());
    }
}

/// How a clause lets the facts it names be taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::conversation::ears) enum Standing {
    /// It says how this roof is.
    Says,
    /// It says so, but not plainly enough.
    Perhaps,
    /// It only supposes so.
    Supposes,
    /// It says nothing of this roof as it is.
    Nothing,
}

/// How a clause stands to the facts it names.
pub(in crate::conversation::ears) fn standing(clause: &Clause) -> Standing {
    match clause.mood {
        _ if clause.others => Standing::Nothing,
        Mood::Supposes => Standing::Supposes,
        Mood::Asks | Mood::Reports => Standing::Nothing,
        Mood::States if clause.time == Time::Past => Standing::Nothing,
        Mood::States if clause.conditional || clause.time == Time::Planned => Standing::Perhaps,
        Mood::States => Standing::Says,
    }
}
