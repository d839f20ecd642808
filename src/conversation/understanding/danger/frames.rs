//! Frames of danger: who, what happened, to what; in the order said, with a few words between.
//!
//! A frame is written as it is spoken: plain words, `this/or/that`, `@class` for any word of a class, `..` for up to
//! three words between, `...` for up to seven, `^` and `$` for the start and the end of a sentence.

use std::collections::{BTreeMap, BTreeSet};

use strsim::osa_distance;

use super::DangerKind;
use crate::conversation::understanding::words::normalise::words_of;
use crate::roofing::rules::Handover;

/// How many words `..` and `...` stand for at most.
const FEW: usize = 3;
const SOME: usize = 7;
/// A word this long may hold one slip of the thumb.
const SHORTEST_MENDED: usize = 6;
/// What makes a danger less than sure stands no further before it than this.
const REACH: usize = 9;

/// What the adviser writes about danger.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct DangerWords {
    /// Classes of words by name.
    pub classes: BTreeMap<String, Vec<String>>,
    /// What is heard as a danger.
    pub frames: Vec<DangerFrame>,
    /// Runs of words that mean nothing dangerous together: they are read as one word of no class.
    pub harmless: Vec<String>,
    /// Words and runs of words that make what follows in the sentence less than sure: supposed, denied, long past.
    pub lowers: Vec<String>,
    /// The same, where they follow.
    pub lowers_before: Vec<String>,
    /// Words that begin a question: a sentence that starts so asks, and is less than sure.
    pub asks: Vec<String>,
    /// Words by which a sentence turns from what it asks to what it tells.
    pub turns: Vec<String>,
    /// Words of danger in other languages, by language.
    pub elsewhere: Vec<OtherLanguage>,
}

/// One way to speak of danger.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DangerFrame {
    /// Of what.
    pub kind: DangerKind,
    /// As it is spoken.
    pub says: String,
    /// How sure it is at best.
    pub weight: DangerWeight,
}

/// How sure a frame is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum DangerWeight {
    /// It is a word of danger, and asked about where the message sounds somewhat like danger too.
    Asks,
    /// It is sure, unless the sentence supposes, denies or asks it, or the message sounds little like danger.
    Stops,
    /// It says plainly who was hurt and how: sure, whatever else is told, unless the sentence supposes, denies or
    /// asks it.
    Plain,
    /// It is sure, whatever the sentence does with it.
    Always,
}

/// A language that lapwise does not speak, but knows the words of danger of.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OtherLanguage {
    /// Its code, `de`.
    pub code: String,
    /// Words, and runs of words, of danger, each with its kind.
    pub says: Vec<(DangerKind, String)>,
}

/// A frame that cannot be used, and why.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BadFrame {
    /// As it is written.
    pub says: String,
    /// What is wrong with it.
    pub what: String,
}

/// Part of a frame.
#[derive(Clone, Debug, PartialEq, Eq)]
enum Part {
    /// One of these words, by their numbers.
    OneOf(BTreeSet<usize>),
    /// Up to so many words.
    UpTo(usize),
    /// The start of a sentence.
    Start,
    /// The end of a sentence.
    End,
}

/// A frame ready to be looked for.
#[derive(Clone, Debug)]
struct Frame {
    kind: DangerKind,
    weight: DangerWeight,
    says: String,
    parts: Vec<Part>,
}

/// A frame that was found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Found<'a> {
    pub(super) kind: DangerKind,
    /// How sure it is where it was found.
    pub(super) weight: DangerWeight,
    /// Whether it is but a word of danger.
    pub(super) hints: bool,
    pub(super) says: &'a str,
}

/// All frames.
#[derive(Clone, Debug, Default)]
pub(in super::super) struct Frames {
    /// Every word that some frame knows, with its number.
    words: BTreeMap<String, usize>,
    all: Vec<Frame>,
    /// The frames that a word may begin, by the word's number.
    begun_by: BTreeMap<usize, Vec<usize>>,
    /// Those that may begin a sentence with any word.
    begun_anyhow: Vec<usize>,
    harmless: Runs,
    lowers: Runs,
    lowers_before: Runs,
    asks: BTreeSet<String>,
    turns: BTreeSet<String>,
    elsewhere: Vec<Elsewhere>,
}

/// Words of danger in another language.
#[derive(Clone, Debug)]
struct Elsewhere {
    code: String,
    kind: DangerKind,
    runs: Runs,
}

/// Runs of words by their first.
#[derive(Clone, Debug, Default)]
struct Runs(BTreeMap<String, Vec<Vec<String>>>);

impl Runs {
    fn new(all: &[String]) -> Self {
        let mut runs: BTreeMap<String, Vec<Vec<String>>> = BTreeMap::new();
        for said in all {
            let mut words = words_of(said).into_iter();
            if let Some(first) = words.next() {
                runs.entry(first).or_default().push(words.collect());
            }
        }
        // The longest first.
        for rest in runs.values_mut() {
            rest.sort_by_key(|rest| std::cmp::Reverse(rest.len()));
        }
        Self(runs)
    }

    /// How many words the longest run that starts here has.
    fn at(&self, words: &[String]) -> Option<usize> {
        let (first, after) = words.split_first()?;
        self.0.get(first)?.iter().find(|rest| after.starts_with(rest)).map(|rest| rest.len() + 1)
    }
}

/// A word of a sentence by its number; none for words that no frame knows.
type Numbers = Vec<Option<usize>>;

impl Frames {
    /// Makes frames ready.
    ///
    /// # Errors
    /// Every frame that names a class that is not there, or nothing at all.
    pub(in super::super) fn new(written: &DangerWords) -> Result<Self, Vec<BadFrame>> {
        let mut frames = Self {
            harmless: Runs::new(&written.harmless),
            lowers: Runs::new(&written.lowers),
            lowers_before: Runs::new(&written.lowers_before),
            asks: written.asks.iter().cloned().collect(),
            turns: written.turns.iter().cloned().collect(),
            elsewhere: written.elsewhere.iter().flat_map(elsewhere).collect(),
            ..Self::default()
        };
        let mut bad = Vec::new();
        for frame in &written.frames {
            match frames.parts(&frame.says, &written.classes) {
                Ok(parts) => {
                    let DangerFrame { kind, says, weight } = frame.clone();
                    frames.all.push(Frame { kind, weight, says, parts });
                }
                Err(what) => bad.push(BadFrame { says: frame.says.clone(), what }),
            }
        }
        for (index, frame) in frames.all.iter().enumerate() {
            match frame.parts.as_slice() {
                [Part::OneOf(words), ..] | [Part::Start, Part::OneOf(words), ..] => {
                    for word in words {
                        frames.begun_by.entry(*word).or_default().push(index);
                    }
                }
                _ => frames.begun_anyhow.push(index),
            }
        }
        if bad.is_empty() { Ok(frames) } else { Err(bad) }
    }

    fn parts(&mut self, says: &str, classes: &BTreeMap<String, Vec<String>>) -> Result<Vec<Part>, String> {
        let mut parts = Vec::new();
        for item in says.split_whitespace() {
            parts.push(match item {
                ".." => Part::UpTo(FEW),
                "..." => Part::UpTo(SOME),
                "^" => Part::Start,
                "$" => Part::End,
                _ => {
                    let mut words = BTreeSet::new();
                    for choice in item.split('/') {
                        let class = choice.strip_prefix('@').map(|name| (name, classes.get(name)));
                        match class {
                            Some((name, None)) => {
                                return Err(format!("there is no class `{name}` in [words]"));
                            }
                            Some((_, Some(all))) => words.extend(all.iter().map(|word| self.number(word))),
                            None => {
                                words.insert(self.number(choice));
                            }
                        }
                    }
                    Part::OneOf(words)
                }
            });
        }
        if parts.iter().any(|part| matches!(part, Part::OneOf(_))) {
            Ok(parts)
        } else {
            Err("it holds no word".to_owned())
        }
    }

    fn number(&mut self, word: &str) -> usize {
        let next = self.words.len();
        *self.words.entry(word.to_owned()).or_insert(next)
    }

    /// Every frame in a sentence, with what is left of its weight; `is_known` tells words that are no slip.
    pub(super) fn find(&self, sentence: &[String], is_known: impl Fn(&str) -> bool) -> Vec<Found<'_>> {
        let numbers = self.numbers(sentence, is_known);
        let asks = self.asks(sentence);
        let long_past = sentence.iter().any(|word| is_past_year(word));
        let lowered = places(&self.lowers, sentence);
        let lowered_before = places(&self.lowers_before, sentence);
        let mut found = Vec::new();
        for (start, number) in numbers.iter().enumerate() {
            let begun = number.and_then(|number| self.begun_by.get(&number)).into_iter().flatten();
            for index in begun.chain(self.begun_anyhow.iter().filter(|_| start == 0)) {
                let Some(frame) = self.all.get(*index) else { continue };
                let Some(end) = matches(&frame.parts, &numbers, start) else { continue };
                let is_long_past = long_past && frame.kind.handover() == Handover::Emergency;
                let has_turned = sentence.iter().take(start + 1).any(|word| self.turns.contains(word));
                let is_lowered = (asks && !has_turned)
                    || is_long_past
                    || lowered.iter().any(|at| *at < end && at + REACH >= start)
                    || lowered_before.iter().any(|at| *at >= start && *at <= end + REACH);
                let weight = match frame.weight {
                    DangerWeight::Stops | DangerWeight::Plain if is_lowered => DangerWeight::Asks,
                    weight => weight,
                };
                let hints = frame.weight == DangerWeight::Asks;
                found.push(Found { kind: frame.kind, weight, hints, says: &frame.says });
            }
        }
        found
    }

    /// Whether a sentence begins as a question does.
    pub(super) fn asks(&self, sentence: &[String]) -> bool {
        sentence.first().is_some_and(|first| self.asks.contains(first))
    }

    /// The gravest danger that a sentence speaks of in another language: its kind and the language.
    pub(super) fn find_elsewhere(&self, sentence: &[String]) -> Option<(DangerKind, &str)> {
        let spoken = self.elsewhere.iter().filter(|one| !places(&one.runs, sentence).is_empty());
        spoken.map(|one| (one.kind, one.code.as_str())).min_by_key(|(kind, _)| *kind)
    }

    /// The numbers of a sentence's words; what is harmless together has none.
    fn numbers(&self, sentence: &[String], is_known: impl Fn(&str) -> bool) -> Numbers {
        let mut numbers = Numbers::with_capacity(sentence.len());
        let mut rest = sentence;
        while let Some((word, after)) = rest.split_first() {
            if let Some(length) = self.harmless.at(rest) {
                numbers.extend(std::iter::repeat_n(None, length));
                rest = rest.get(length..).unwrap_or_default();
                continue;
            }
            let number = self.words.get(word).copied();
            numbers.push(number.or_else(|| if is_known(word) { None } else { self.mended(word) }));
            rest = after;
        }
        numbers
    }

    /// The word of a frame that a word is one slip away from.
    fn mended(&self, word: &str) -> Option<usize> {
        if word.len() < SHORTEST_MENDED {
            return None;
        }
        let start = word.get(..1)?;
        let near = |known: &str| known.len().abs_diff(word.len()) <= 1 && known.len() >= SHORTEST_MENDED;
        let alike = self.words.range(start.to_owned()..).take_while(|(known, _)| known.starts_with(start));
        let mut alike = alike.filter(|(known, _)| near(known));
        alike.find(|(known, _)| osa_distance(known, word) == 1).map(|(_, number)| *number)
    }
}

/// Years in which nobody has asked for help here: "my grandad fell off this roof in 1962".
const PAST: std::ops::Range<u16> = 1900..2020;

fn is_past_year(word: &str) -> bool {
    word.parse().is_ok_and(|year: u16| PAST.contains(&year))
}

/// Where in a sentence runs of words start.
fn places(runs: &Runs, sentence: &[String]) -> Vec<usize> {
    (0..sentence.len()).filter(|at| sentence.get(*at..).is_some_and(|rest| runs.at(rest).is_some())).collect()
}

/// What is said in one language, kind by kind.
fn elsewhere(language: &OtherLanguage) -> Vec<Elsewhere> {
    let of = |kind: DangerKind| -> Vec<String> {
        language.says.iter().filter(|(of, _)| *of == kind).map(|(_, said)| said.clone()).collect()
    };
    let all = DangerKind::ALL.iter().map(|kind| (*kind, of(*kind))).filter(|(_, said)| !said.is_empty());
    all.map(|(kind, said)| Elsewhere { code: language.code.clone(), kind, runs: Runs::new(&said) }).collect()
}

/// Where the frame that starts here ends.
fn matches(parts: &[Part], numbers: &[Option<usize>], at: usize) -> Option<usize> {
    let Some((part, rest)) = parts.split_first() else { return Some(at) };
    match part {
        Part::Start => (at == 0).then(|| matches(rest, numbers, at)).flatten(),
        Part::End => (at == numbers.len()).then(|| matches(rest, numbers, at)).flatten(),
        Part::UpTo(most) => (at..=(at + most).min(numbers.len())).find_map(|at| matches(rest, numbers, at)),
        Part::OneOf(words) => {
            let number = (*numbers.get(at)?)?;
            if words.contains(&number) { matches(rest, numbers, at + 1) } else { None }
        }
    }
}
