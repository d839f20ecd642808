//! One text read as the answer to one question.

use std::sync::LazyLock;

use regex::Regex;

use crate::conversation::Guide;
use crate::conversation::details;
use crate::conversation::event::Offer;
use crate::conversation::hearing::{Heard, shows_units};
use crate::conversation::script::{Question, ScriptChoice};
use crate::conversation::session::Session;
use crate::roofing::note::{Arg, Note};
use crate::roofing::plan::Handbook;
use crate::roofing::roof::{FactKey, FactKind, FactValue};
use crate::roofing::rules::{Condition, Effect, Limit, Requirement};
use crate::units::reading::{Amount, Boundary, Context, Reading, Verdict, Why, WhyFigure, WrittenUnit, read};
use crate::units::{Angle, Length, Measured, Quantity, UsualUnit};

/// What one text says to one question.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Reply {
    /// This.
    Value(Heard),
    /// Two values of the question's kind.
    Two(Heard, Heard),
    /// Something believable, but not clear which.
    Offer {
        /// Why it is not clear.
        why: Note,
        /// The readings.
        options: Vec<Offer>,
    },
    /// A figure was meant, but it will not do, and why.
    Unreadable(Note),
    /// Nothing to this question.
    Silent,
}

/// Reads a text as the answer to a question.
pub(super) fn read_answer(guide: &Guide<'_>, session: &Session, question: &Question, text: &str) -> Reply {
    match question.fact.kind() {
        FactKind::Quantity(quantity) if counts_things(question, text) => {
            let reply = read_quantity(guide, session, question.fact, quantity, text);
            let guessed = matches!(reply, Reply::Value(Heard { assumed: true, .. }) | Reply::Offer { .. });
            if guessed { Reply::Silent } else { reply }
        }
        FactKind::Quantity(quantity) => read_quantity(guide, session, question.fact, quantity, text),
        FactKind::Choice(_) => read_choice(guide, question, text),
        FactKind::Count(low, high) => read_count(question.fact, low, high, text),
        FactKind::Sheet => read_sheet(guide, question.fact, text),
        FactKind::Words(detail) => match details::told(guide.script, detail, text) {
            Ok(value) => Reply::Value(Heard::plain(question.fact, value)),
            Err(why) => Reply::Unreadable(why),
        },
    }
}

fn read_quantity(
    guide: &Guide<'_>,
    session: &Session,
    fact: FactKey,
    quantity: Quantity,
    text: &str,
) -> Reply {
    let boundaries = boundaries_of(guide.handbook, quantity);
    let context = Context { quantity, usual: session.usual(), boundaries: &boundaries };
    let heard = |reading: &Reading| Heard {
        fact,
        value: value_of(reading),
        // Nothing is nothing in any unit.
        assumed: reading.assumed && reading.amount != Amount::Length(Length::ZERO),
        written: Some(reading.unit),
        shows: shown_units(quantity, reading),
    };
    match read(text, &context) {
        Verdict::Value(reading) => Reply::Value(heard(&reading)),
        Verdict::Values(readings) => match readings.as_slice() {
            [first, second] => Reply::Two(heard(first), heard(second)),
            _ => Reply::Unreadable(Note::new("reading-too-many")),
        },
        Verdict::Ambiguous { why, readings } => {
            let options = readings
                .iter()
                .map(|reading| Offer { answers: vec![(fact, value_of(reading))], unit: Some(reading.unit) })
                .collect();
            Reply::Offer { why: note_of(&why), options }
        }
        // Where there is no number at all, an example of an answer helps more than a word about numbers.
        Verdict::Reject { why: Why::NoNumber } => Reply::Silent,
        Verdict::Reject { why } => Reply::Unreadable(note_of(&why)),
    }
}

/// Whether a number word stands in a sentence about something else: "the long one", "one rooflight". Without a
/// digit or a unit it measures nothing there.
fn counts_things(question: &Question, text: &str) -> bool {
    if text.contains(|c: char| c.is_ascii_digit()) {
        return false;
    }
    let named = question.mentions.iter().fold(text.to_owned(), |text, words| words.without(&text));
    let holds =
        |pattern: &LazyLock<Option<Regex>>| pattern.as_ref().is_some_and(|found| found.is_match(&named));
    holds(&POINTS_AT) || !holds(&NUMBER_ALONE)
}

static POINTS_AT: LazyLock<Option<Regex>> =
    LazyLock::new(|| Regex::new(r"(?i)\b(?:the|that|this|which|no|any|another|each|last|first) +one\b").ok());

static NUMBER_ALONE: LazyLock<Option<Regex>> = LazyLock::new(|| {
    Regex::new(
        r"(?ix)^(?:\W*\b(?:
        its?|it['’]s|is|was|are|they|they['’]re|that['’]?s?|there|the|this|i|i['’]d|we|you|say|call|make|makes|think|reckon|guess|measure[sd]?|
        about|around|roughly|approx|approximately|maybe|perhaps|probably|prob|nearly|almost|just|over|under|exactly|bang|on|
        at|or|so|ish|a|an|and|to|in|by|of|with|well|ok|okay|yes|no|oh|er|erm|um|sorry|only|all|mate|please|thanks|actually|
        total|altogether|whole|point|dead|good|bare|full|dozen|hundred|thousand|half|halves|quarters?|thirds?|eighths?|sixteenths?|
        zero|nil|nought|none|nothing|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|
        (?:thir|four|fif|six|seven|eigh|nine)teen|(?:twen|thir|for|fif|six|seven|eigh|nine)ty|
        to|too|for|ate|won
        )\b)+\W*$",
    )
    .ok()
});

fn value_of(reading: &Reading) -> FactValue {
    match reading.amount {
        Amount::Length(value) => FactValue::Length(Measured { value, doubt: reading.doubt }),
        Amount::Angle(value) => FactValue::Angle(Measured { value, doubt: reading.doubt }),
    }
}

fn shown_units(quantity: Quantity, reading: &Reading) -> Option<UsualUnit> {
    if reading.assumed { None } else { units_shown(quantity, reading.unit) }
}

/// The units a person shows to think in, by measuring something large in this one.
pub(in crate::conversation) fn units_shown(quantity: Quantity, unit: WrittenUnit) -> Option<UsualUnit> {
    if shows_units(quantity) { unit.usual() } else { None }
}

/// The message that says why a figure could not simply be taken.
pub fn note_of(why: &Why) -> Note {
    let figures = why.figures().into_iter().map(|(name, figure)| {
        let arg = match figure {
            WhyFigure::Amount(Amount::Length(length)) => Arg::Length(length),
            WhyFigure::Amount(Amount::Angle(angle)) => Arg::Angle(angle),
            WhyFigure::Rule(rule) => Arg::Text(rule.to_owned()),
        };
        (name, arg)
    });
    figures.fold(Note::new(why.message()), |note, (name, arg)| note.with(name, arg))
}

/// Where the rules change their mind about a kind of measurement: a reading is not guessed across such a place.
pub fn boundaries_of(handbook: &Handbook, quantity: Quantity) -> Vec<Boundary<'_>> {
    let mut found = Vec::new();
    for rule in &handbook.rules.rules {
        let about = |fact: FactKey| fact.kind() == FactKind::Quantity(quantity);
        let edges = rule.when.iter().filter(|condition| about(condition.fact())).flat_map(edges_of);
        let thinnest =
            rule.then.iter().filter(|_| quantity == Quantity::DeckThickness).filter_map(thinnest_deck);
        found.extend(edges.chain(thinnest).map(|amount| Boundary { amount, rule: rule.id.as_str() }));
    }
    found
}

/// Both ends of a band, but for the ends of the world.
fn edges_of(condition: &Condition) -> Vec<Amount> {
    match condition {
        Condition::Angle { from, to, .. } => from
            .iter()
            .chain(to)
            .filter(|angle| **angle > Angle::ZERO)
            .map(|angle| Amount::Angle(*angle))
            .collect(),
        Condition::Length { from, to, .. } => from
            .iter()
            .chain(to)
            .filter(|length| **length > Length::ZERO)
            .map(|length| Amount::Length(*length))
            .collect(),
        Condition::OneOf { .. } | Condition::NoneOf { .. } | Condition::Told { .. } => Vec::new(),
    }
}

fn thinnest_deck(effect: &Effect) -> Option<Amount> {
    match effect {
        Effect::Require(Requirement::MinDeckThickness, Limit::Length(length)) => {
            Some(Amount::Length(*length))
        }
        Effect::Require(..) | Effect::Advise | Effect::Caution(_) | Effect::Refuse | Effect::Stop(_) => None,
    }
}

/// A choice by its id or its button's label, or else by its words.
///
/// Where the words of several choices match, one that opens the message with a plain "no" or "none" is meant
/// ("none near"), unless something is excepted ("none but the phone line"): then it is asked which.
fn read_choice(guide: &Guide<'_>, question: &Question, text: &str) -> Reply {
    let text = text.trim();
    let plain = text.trim_end_matches(['.', '!']).to_lowercase();
    let labelled = |choice: &&ScriptChoice| {
        let label = Note::new(question.choice_message(&choice.id));
        let label = guide.words.say(guide.language, &label, UsualUnit::M);
        choice.id == plain || choice.id.replace('_', " ") == plain || label.to_lowercase() == plain
    };
    if let Some(choice) = question.choices.iter().find(labelled) {
        return Reply::Value(chosen(question.fact, &choice.id));
    }
    // What opens a message with a bare "no" ends here.
    let is_bare = |end: usize| end <= "nope".len();
    let hits_of = |choice: &ScriptChoice| -> Vec<(usize, usize)> {
        let hits = choice.words.iter().flat_map(|words| words.find_iter(text));
        let hits = hits.filter(|hit| !is_bare(hit.end()) || !denies_a_thing(text));
        hits.filter(|hit| !follows_denial(text, hit.start())).map(|hit| (hit.start(), hit.end())).collect()
    };
    let hits = question.choices.iter().map(|choice| (choice.id.as_str(), hits_of(choice)));
    let matching: Vec<(&str, Vec<(usize, usize)>)> = hits.filter(|(_, hits)| !hits.is_empty()).collect();
    // "No, they're the same": where all that speaks for "no" is the word itself, it may deny something else.
    let opening = matching.iter().find(|(id, hits)| {
        let says_more = hits.iter().any(|(_, end)| !is_bare(*end));
        matches!(*id, "none" | "no") && says_more && hits.iter().any(|(start, _)| *start == 0)
    });
    match (matching.as_slice(), opening) {
        ([], _) => Reply::Silent,
        ([(id, _)], _) => Reply::Value(chosen(question.fact, id)),
        (_, Some((id, _))) if !EXCEPTS.as_ref().is_some_and(|excepts| excepts.is_match(text)) => {
            Reply::Value(chosen(question.fact, id))
        }
        (several, _) => Reply::Offer {
            why: Note::new("offer-which-choice"),
            options: several
                .iter()
                .map(|(id, _)| Offer {
                    answers: vec![(question.fact, FactValue::Choice((*id).to_owned()))],
                    unit: None,
                })
                .collect(),
        },
    }
}

/// Whether what stands there in a text is denied by the words before it: "no rot", "not the same".
pub(in crate::conversation) fn follows_denial(text: &str, at: usize) -> bool {
    text.get(..at).is_some_and(|before| DENIES.as_ref().is_some_and(|denies| denies.is_match(before)))
}

static DENIES: LazyLock<Option<Regex>> = LazyLock::new(|| {
    Regex::new(r"(?i)\b(?:no|not|none|nothing|without|never|(?:is|are|was|were|do|does|did)n['’]?t)(?: (?:the|any|a|an))?\s+$").ok()
});

/// Whether a message opens by saying that there is none of a thing: "no flue after all". Its "no" alone answers
/// no question.
fn denies_a_thing(text: &str) -> bool {
    let found = NO_AND_NEXT.as_ref().and_then(|pattern| pattern.captures(text));
    let next = found.as_ref().and_then(|found| found.get(1)).map(|word| word.as_str().to_lowercase());
    next.is_some_and(|word| !AFTER_PLAIN_NO.contains(&word.replace(['\'', '’'], "").as_str()))
}

static NO_AND_NEXT: LazyLock<Option<Regex>> = LazyLock::new(|| Regex::new(r"(?i)^no +([a-z'’]+)").ok());

/// What may follow a "no" that stands for itself.
const AFTER_PLAIN_NO: &[&str] = &[
    "a", "actually", "all", "an", "and", "as", "at", "because", "both", "but", "chance", "cheers", "cos",
    "either", "for", "he", "i", "id", "im", "in", "is", "it", "its", "ive", "just", "love", "mate", "my",
    "need", "neither", "never", "no", "none", "nope", "not", "nothing", "on", "only", "pal", "please", "she",
    "so", "sorry", "standing", "stands", "ta", "thank", "thanks", "that", "thats", "the", "there", "theres",
    "they", "theyre", "this", "to", "way", "we", "well", "were", "worries", "you",
];

static EXCEPTS: LazyLock<Option<Regex>> = LazyLock::new(|| {
    Regex::new(r"(?i)\b(but|except|apart|only|just|other than|though|although|if|unless)\b").ok()
});

fn chosen(fact: FactKey, id: &str) -> Heard {
    Heard::plain(fact, FactValue::Choice(id.to_owned()))
}

/// The reader of measurements knows number words as well as digits: a count is read as so many millimetres.
fn read_count(fact: FactKey, low: i64, high: i64, text: &str) -> Reply {
    let context = Context { quantity: Quantity::DeckThickness, usual: Some(UsualUnit::Mm), boundaries: &[] };
    let counted = match read(text, &context) {
        // "2 waves" are no 2 cm.
        Verdict::Value(Reading { amount: Amount::Length(length), unit: WrittenUnit::Mm, .. })
            if length.is_whole_mm() =>
        {
            length.round_mm()
        }
        Verdict::Reject { why: Why::NoNumber } => return Reply::Silent,
        Verdict::Value(_) | Verdict::Values(_) | Verdict::Ambiguous { .. } | Verdict::Reject { .. } => {
            i64::MIN
        }
    };
    if (low..=high).contains(&counted) {
        Reply::Value(Heard::plain(fact, FactValue::Count(counted)))
    } else {
        Reply::Unreadable(
            Note::new("reading-count-band").with("low", Arg::Count(low)).with("high", Arg::Count(high)),
        )
    }
}

static OWN_SHEET: LazyLock<Option<Regex>> = LazyLock::new(|| {
    Regex::new(r"(?i)\b(own|label|other|another|different|my sheets?|bought|got some|have some)\b").ok()
});
static FIRST_SHEET: LazyLock<Option<Regex>> = LazyLock::new(|| {
    Regex::new(r"(?i)\b(demo|yours?|standard|any|first|that one|whatever|default)\b|^(yes|ok|okay)\b").ok()
});

fn read_sheet(guide: &Guide<'_>, fact: FactKey, text: &str) -> Reply {
    let typed = text.trim().to_lowercase();
    let sheets = &guide.handbook.catalogue.sheets;
    if let Some(sheet) =
        sheets.iter().find(|sheet| sheet.item.id == typed || sheet.item.name.to_lowercase() == typed)
    {
        return Reply::Value(chosen(fact, &sheet.item.id));
    }
    if OWN_SHEET.as_ref().is_some_and(|own| own.is_match(&typed)) {
        return Reply::Value(chosen(fact, "label"));
    }
    match sheets.first() {
        Some(sheet) if FIRST_SHEET.as_ref().is_some_and(|first| first.is_match(&typed)) => {
            Reply::Value(chosen(fact, &sheet.item.id))
        }
        _ => Reply::Silent,
    }
}
