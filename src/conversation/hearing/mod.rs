//! From what a person typed to facts: the answer to the open question, and whatever else was said with it.
//!
//! A message is cut into clauses. A clause that names facts (by the script's `mentions`) is read for those;
//! one that names none is read for the open question. A question asked by the person is never taken for an
//! answer: "will 12 mm boards do?" says nothing about their boards.

pub(in crate::conversation) mod answer;
pub mod command;

use std::sync::LazyLock;

use regex::Regex;

use self::answer::{Reply, read_answer};
pub use self::answer::{boundaries_of, note_of};
use crate::conversation::Guide;
use crate::conversation::event::Offer;
use crate::conversation::interview::question_for;
use crate::conversation::script::Question;
use crate::conversation::session::Session;
use crate::roofing::note::Note;
use crate::roofing::roof::{FactKey, FactKind, FactValue};
use crate::units::reading::{Context, Verdict, WrittenUnit, read};
use crate::units::{Doubt, Length, Measured, Quantity, UsualUnit};

/// One fact as it was heard.
#[derive(Clone, Debug, PartialEq)]
pub struct Heard {
    /// The fact.
    pub fact: FactKey,
    /// Its value.
    pub value: FactValue,
    /// Whether the unit was our guess, so that it must be echoed.
    pub assumed: bool,
    /// The unit it was written in, or taken to be in, where it is a measurement.
    pub written: Option<WrittenUnit>,
    /// The units the person measures lengths in, where this shows it.
    pub shows: Option<UsualUnit>,
}

impl Heard {
    /// A value that was not measured: picked, counted, or settled by the book.
    pub(in crate::conversation) const fn plain(fact: FactKey, value: FactValue) -> Self {
        Self { fact, value, assumed: false, written: None, shows: None }
    }
}

/// What a whole message came to.
#[derive(Clone, Debug, PartialEq)]
pub enum Hearing {
    /// These facts.
    Facts(Vec<Heard>),
    /// Something believable that can be read in several ways.
    Offer {
        /// Why it is not clear.
        why: Note,
        /// The readings.
        options: Vec<Offer>,
    },
    /// It was meant for the open question, but cannot be read, and why.
    Unreadable(Note),
    /// The person asks something.
    Asks,
    /// Nothing in it is about the roof.
    Nothing,
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

/// A fact that is often said right after another, without being named: "OSB, 11 mm".
const FOLLOWS: &[(FactKey, FactKey)] = &[(FactKey::Base, FactKey::DeckThickness)];

static ASKS: LazyLock<Option<Regex>> = LazyLock::new(|| {
    Regex::new(
        r"(?i)^(?:(?:so|and|but|ok|hi|hey|please|hang on|wait)[ ,]+)*(?:will|would|can|could|do|does|did|is|are|am|should|shall|may|must|what|where|when|which|who|how|why)\b.*\?\s*$",
    )
    .ok()
});

/// Questions that need no mark to be known for one: "is it any different".
static ASKS_UNMARKED: LazyLock<Option<Regex>> = LazyLock::new(|| {
    Regex::new(
        r"(?i)^(?:(?:so|and|but|ok|hi|hey|please|hang on|wait)[ ,]+)*(?:is|are|will|would|does|do|did|should|shall) (?:it|they|that|this|there|the|these|those|my|i|we)\b",
    )
    .ok()
});

static CLAUSE: LazyLock<Option<Regex>> = LazyLock::new(|| {
    // A comma between digits is a decimal comma, and a full stop between them a decimal point.
    Regex::new(r"(?i)(?:[;\n]+|,\s+|,$|[.!]\s+|\s+(?:and|with|but|on|plus)\s+)").ok()
});

/// Hears a whole message.
pub fn hear(guide: &Guide<'_>, session: &Session, open: Option<&Question>, text: &str) -> Hearing {
    if [&ASKS, &ASKS_UNMARKED]
        .into_iter()
        .filter_map(|asks| asks.as_ref())
        .any(|asks| asks.is_match(text.trim()))
    {
        return Hearing::Asks;
    }
    if let Some(climb) = open.and_then(|question| between_heights(guide, session, question, text)) {
        return Hearing::Facts(vec![climb]);
    }
    if let Some(told) = open.and_then(|question| in_own_words(guide, session, question, text)) {
        return told;
    }
    let named = mentioned(guide, text, open);
    if let Some(question) = open {
        let others = named.iter().any(|other| other.fact != question.fact);
        match read_answer(guide, session, question, text) {
            Reply::Value(heard) if !others => return Hearing::Facts(vec![heard]),
            Reply::Two(first, second) if !others => return two(guide, session, question, first, second),
            Reply::Offer { why, options } if !others => return Hearing::Offer { why, options },
            Reply::Value(_) | Reply::Two(..) | Reply::Offer { .. } | Reply::Unreadable(_) | Reply::Silent => {
            }
        }
    }
    by_clause(guide, session, open, text)
}

/// What is told in the person's own words is taken whole, as long as it tells anything; else the message may say
/// something else of the matter that it belongs to: "no, there is none near after all".
fn in_own_words(guide: &Guide<'_>, session: &Session, question: &Question, text: &str) -> Option<Hearing> {
    let FactKind::Words(_) = question.fact.kind() else { return None };
    let news = |heard: &Heard| heard.fact.is_safety() && session.facts().get(heard.fact) != Some(&heard.value);
    match read_answer(guide, session, question, text) {
        Reply::Value(heard) => Some(Hearing::Facts(vec![heard])),
        Reply::Unreadable(why) => match by_clause(guide, session, None, text) {
            Hearing::Facts(facts) if facts.iter().any(news) => Some(Hearing::Facts(facts)),
            Hearing::Facts(_)
            | Hearing::Offer { .. }
            | Hearing::Unreadable(_)
            | Hearing::Asks
            | Hearing::Nothing => Some(Hearing::Unreadable(why)),
        },
        Reply::Two(..) | Reply::Offer { .. } | Reply::Silent => None,
    }
}

fn by_clause(guide: &Guide<'_>, session: &Session, open: Option<&Question>, text: &str) -> Hearing {
    let mut facts: Vec<Heard> = Vec::new();
    let mut offer = None;
    let mut unreadable = None;
    for clause in clauses(text).into_iter().flat_map(|clause| breaths(guide, clause)) {
        let named = as_meant(guide, session, (text, clause), mentioned(guide, clause, open));
        let about: Vec<&Question> = if named.is_empty() {
            follower(guide, session, open, &facts, clause).or(open).into_iter().collect()
        } else {
            named
        };
        let heard_before = facts.len();
        let spaced = about.iter().any(|question| question.fact == FactKey::TimberSpacing);
        for question in about {
            // "OSB, rafters at 400": what carries the deck is no other base.
            let bare = clause.to_lowercase().contains("open");
            if spaced && !bare && question.fact == FactKey::Base && knows_base(session, &facts) {
                continue;
            }
            let is_open = open.is_some_and(|open| open.fact == question.fact);
            match read_answer(guide, session, question, clause) {
                Reply::Value(heard) => {
                    facts.retain(|earlier| earlier.fact != heard.fact);
                    facts.push(heard);
                }
                Reply::Two(first, second) if is_open => {
                    if let Hearing::Facts(both) = two(guide, session, question, first, second) {
                        facts.extend(both);
                    }
                }
                Reply::Offer { why, options } => offer = offer.or(Some((why, options))),
                Reply::Unreadable(why) if is_open => unreadable = unreadable.or(Some(why)),
                Reply::Two(..) | Reply::Unreadable(_) | Reply::Silent => {}
            }
        }
        // "Timbers going along the roof" names its length, but answers what is under the sheets.
        if let Some(open) = open.filter(|open| matches!(open.fact.kind(), FactKind::Choice(_)))
            && facts.len() == heard_before
            && let Reply::Value(heard) = read_answer(guide, session, open, clause)
        {
            facts.retain(|earlier| earlier.fact != heard.fact);
            facts.push(heard);
        }
    }
    // A believable value beats a doubt elsewhere: the doubtful part is asked for again in its turn.
    match (facts.is_empty(), offer, unreadable) {
        (false, _, _) => Hearing::Facts(facts),
        (true, Some((why, options)), _) => Hearing::Offer { why, options },
        (true, None, Some(why)) => Hearing::Unreadable(why),
        (true, None, None) => Hearing::Nothing,
    }
}

fn knows_base(session: &Session, facts: &[Heard]) -> bool {
    facts.iter().any(|heard| heard.fact == FactKey::Base) || session.facts().get(FactKey::Base).is_some()
}

/// The question that a clause answers because of the fact before it, unless it answers the open one.
fn follower<'a>(
    guide: &Guide<'a>,
    session: &Session,
    open: Option<&Question>,
    facts: &[Heard],
    clause: &str,
) -> Option<&'a Question> {
    let last = facts.last()?.fact;
    let (_, next) = FOLLOWS.iter().find(|(first, _)| *first == last)?;
    let question = question_for(guide, *next)?;
    let answers = |question| matches!(read_answer(guide, session, question, clause), Reply::Value(_));
    (answers(question) && !open.is_some_and(answers)).then_some(question)
}

/// "7 ft at the front and 6 ft at the back": the slope climbs from the one height to the other.
fn between_heights(guide: &Guide<'_>, session: &Session, open: &Question, text: &str) -> Option<Heard> {
    let says_heights = || HEIGHTS.as_ref().is_some_and(|pattern| pattern.find_iter(text).count() > 1);
    let heights = open.fact == FactKey::Rise || (open.fact == FactKey::Pitch && says_heights());
    let rise = question_for(guide, FactKey::Rise).filter(|_| heights)?;
    let Reply::Two(first, second) = read_answer(guide, session, rise, text) else { return None };
    let (FactValue::Length(a), FactValue::Length(b)) = (&first.value, &second.value) else { return None };
    let value = Length::from_um(a.value.um() - b.value.um()).abs();
    let climb = FactValue::Length(Measured {
        value,
        doubt: if a.doubt == Doubt::Stated { b.doubt } else { a.doubt },
    });
    fits(guide, FactKey::Rise, &climb).then_some(Heard { value: climb, ..first })
}

static HEIGHTS: LazyLock<Option<Regex>> = LazyLock::new(|| {
    Regex::new(
        r"(?i)\b(?:front|back|rear|top|bottom|high|low|highest|lowest|tall|lower|upper|ridge|eaves|wall)\b",
    )
    .ok()
});

/// What the questions that a clause names stand for in the whole message: "the sheets are 2 m long" speaks of the
/// sheets, and a lean-to that is 3 m wide and comes out 2 m is 3 m along its eaves.
fn as_meant<'a>(
    guide: &Guide<'a>,
    session: &Session,
    (text, clause): (&str, &str),
    named: Vec<&'a Question>,
) -> Vec<&'a Question> {
    let says = |pattern: &LazyLock<Option<Regex>>, text: &str| {
        pattern.as_ref().is_some_and(|found| found.is_match(text))
    };
    let two_slopes = session.facts().choice(FactKey::Form) == Some("two_slopes");
    let meant = |fact: FactKey| {
        if fact == FactKey::Length && says(&OF_SHEETS, text) {
            FactKey::SheetLength
        } else if fact == FactKey::Span && says(&OF_SHEETS, text) {
            FactKey::SheetWidth
        } else if fact == FactKey::Span && !two_slopes && says(&DEEP, text) && !says(&DEEP, clause) {
            FactKey::Length
        } else {
            fact
        }
    };
    named.into_iter().map(|question| question_for(guide, meant(question.fact)).unwrap_or(question)).collect()
}

static DEEP: LazyLock<Option<Regex>> = LazyLock::new(|| {
    Regex::new(r"(?i)\b(?:deep|depth|(?:comes?|sticks?|goes|juts?|reaches) out|projects?|projection|front to back)\b").ok()
});

static OF_SHEETS: LazyLock<Option<Regex>> = LazyLock::new(|| {
    Regex::new(r"(?i)\bsheets?(?: that)? (?:i (?:have|got|bought)|i['’]ve got|are|is|measures?)\b").ok()
});

/// Whether a text is a measurement of something, whatever of.
pub fn is_measurement(text: &str) -> bool {
    let of = |quantity| {
        let context = Context { quantity, usual: None, boundaries: &[] };
        match read(text, &context) {
            Verdict::Value(reading) => !reading.assumed,
            Verdict::Values(_) => true,
            Verdict::Ambiguous { .. } | Verdict::Reject { .. } => false,
        }
    };
    let kinds =
        [Quantity::Length, Quantity::Spacing, Quantity::Overhang, Quantity::DeckThickness, Quantity::Pitch];
    kinds.into_iter().any(of)
}

/// Whether a part of a message gives two sizes at once: "6.2 m by 3.1 m".
pub fn gives_two_sizes(text: &str) -> bool {
    let context = Context { quantity: Quantity::Length, usual: None, boundaries: &[] };
    clauses(text).into_iter().any(|clause| matches!(read(clause, &context), Verdict::Values(_)))
}

/// The questions whose fact a text names, most telling first.
fn mentioned<'a>(guide: &Guide<'a>, text: &str, open: Option<&Question>) -> Vec<&'a Question> {
    let mut found: Vec<(usize, &Question)> = Vec::new();
    for question in &guide.script.questions {
        let longest =
            question.mentions.iter().filter_map(|words| words.find(text)).map(|hit| hit.len()).max();
        if let Some(length) = longest {
            found.push((length, question));
        }
    }
    drop_shadowed(&mut found, open);
    found.into_iter().map(|(_, question)| question).collect()
}

/// "up the slope 1.8 m" names the slope's length, and only seems to name its steepness.
fn drop_shadowed(found: &mut Vec<(usize, &Question)>, open: Option<&Question>) {
    let rivals: &[(FactKey, FactKey)] = &[
        (FactKey::PitchBack, FactKey::Pitch),
        (FactKey::SlopeLengthBack, FactKey::SlopeLength),
        (FactKey::SheetLength, FactKey::Length),
        (FactKey::SlopeLength, FactKey::Length),
        (FactKey::SheetWidth, FactKey::Span),
    ];
    for (special, general) in rivals {
        let special_named = found.iter().any(|(_, question)| question.fact == *special)
            || open.is_some_and(|question| question.fact == *special);
        if special_named {
            found.retain(|(_, question)| question.fact != *general);
        }
    }
    found.sort_by_key(|(length, _)| std::cmp::Reverse(*length));
}

fn clauses(text: &str) -> Vec<&str> {
    let Some(parting) = CLAUSE.as_ref() else { return vec![text] };
    parting.split(text).map(str::trim).filter(|clause| !clause.is_empty()).collect()
}

/// "8ft long 6ft wide 22 degrees", said without a pause, parted after each name that follows its figure.
fn breaths<'t>(guide: &Guide<'_>, clause: &'t str) -> Vec<&'t str> {
    let names = guide.script.questions.iter().flat_map(|question| &question.mentions);
    let mut ends: Vec<usize> = names.flat_map(|words| words.find_iter(clause)).map(|hit| hit.end()).collect();
    ends.sort_unstable();
    let mut parts = Vec::new();
    let mut rest = 0;
    for end in ends {
        let figure = |part: &str| part.contains(|c: char| c.is_ascii_digit());
        if let (Some(part), Some(after)) = (clause.get(rest..end), clause.get(end..))
            && figure(part)
            && after.starts_with(char::is_whitespace)
            && figure(after)
        {
            parts.push(part);
            rest = end;
        }
    }
    parts.extend(clause.get(rest..));
    parts
}

/// "3.1 by 2.2 metres": the first answers the open question; the second is one of a few things.
fn two(guide: &Guide<'_>, session: &Session, question: &Question, first: Heard, second: Heard) -> Hearing {
    let candidates = SECOND_OF_TWO.iter().find(|(fact, _)| *fact == question.fact).map(|(_, second)| *second);
    let open: Vec<FactKey> = candidates
        .unwrap_or_default()
        .iter()
        .copied()
        .filter(|fact| session.facts().get(*fact).is_none() && is_on_this_roof(session, *fact))
        .filter(|fact| fits(guide, *fact, &second.value))
        .collect();
    match open.as_slice() {
        [] => Hearing::Facts(vec![first]),
        [fact] => Hearing::Facts(vec![first, Heard { fact: *fact, ..second }]),
        several => {
            let options = several
                .iter()
                .map(|fact| Offer {
                    answers: vec![(first.fact, first.value.clone()), (*fact, second.value.clone())],
                    unit: None,
                })
                .collect();
            Hearing::Offer { why: Note::new("offer-which-way"), options }
        }
    }
}

/// Whether a roof like this has that fact, as far as is known.
fn is_on_this_roof(session: &Session, fact: FactKey) -> bool {
    fact != FactKey::PitchBack || session.facts().choice(FactKey::SlopesEqual) == Some("no")
}

/// Whether a measurement is believable for a fact.
fn fits(guide: &Guide<'_>, fact: FactKey, value: &FactValue) -> bool {
    let known = guide.script.questions.iter().any(|question| question.fact == fact);
    let FactKind::Quantity(quantity) = fact.kind() else { return false };
    let believable = match value {
        FactValue::Length(length) => {
            quantity.length_band().is_some_and(|(low, high)| (low..=high).contains(&length.value))
        }
        FactValue::Angle(_) => quantity == Quantity::Pitch,
        FactValue::Choice(_) | FactValue::Count(_) | FactValue::Words(_) => false,
    };
    known && believable
}

/// Whether a fact is one of the large lengths by which a person shows the units they think in.
pub(in crate::conversation) const fn shows_units(quantity: Quantity) -> bool {
    match quantity {
        Quantity::Length
        | Quantity::Width
        | Quantity::SlopeLength
        | Quantity::Height
        | Quantity::Rise
        | Quantity::SheetLength
        | Quantity::SheetWidth => true,
        Quantity::DeckThickness
        | Quantity::Spacing
        | Quantity::Overhang
        | Quantity::CorrugationHeight
        | Quantity::Pitch => false,
    }
}
