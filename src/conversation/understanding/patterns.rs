//! The patterns of all topics, heard in one pass.
//!
//! Every part of every pattern is one member of a single set of regular expressions, so that a message is
//! gone through once however many patterns there are.

use std::collections::BTreeMap;

use regex::bytes::{RegexSet, RegexSetBuilder, SetMatches};

use super::reading::Reader;
use super::topic::Topic;

/// What a pattern is worth when it is heard.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Strength {
    /// It speaks for the topic.
    Likely,
    /// It settles the topic.
    Sure,
    /// It settles the topic against every other.
    Overrules,
    /// It is a danger.
    Danger,
}

/// One pattern of one topic.
#[derive(Clone, Debug)]
pub(super) struct Pattern {
    /// Index of the topic.
    pub(super) topic: usize,
    /// What it is worth.
    pub(super) strength: Strength,
    /// As the adviser wrote it.
    pub(super) text: String,
    needs: Vec<usize>,
    forbids: Vec<usize>,
}

impl Pattern {
    /// How many parts must be there: the more, the more exactly it speaks.
    pub(super) fn parts(&self) -> usize {
        self.needs.len()
    }

    fn is_heard(&self, matches: &SetMatches) -> bool {
        self.needs.iter().all(|part| matches.matched(*part))
            && !self.forbids.iter().any(|part| matches.matched(*part))
    }
}

/// All patterns.
#[derive(Clone, Debug)]
pub(super) struct Patterns {
    parts: RegexSet,
    all: Vec<Pattern>,
}

impl Patterns {
    /// Compiles the patterns of all topics, their words read as messages are; the error is the regular expression's own.
    pub(super) fn new(topics: &[Topic], reader: &Reader) -> Result<Self, regex::Error> {
        let mut parts: BTreeMap<String, usize> = BTreeMap::new();
        let mut all = Vec::new();
        for (index, topic) in topics.iter().enumerate() {
            let lists = [
                (&topic.danger, Strength::Danger),
                (&topic.overrules, Strength::Overrules),
                (&topic.sure, Strength::Sure),
                (&topic.likely, Strength::Likely),
            ];
            for (texts, strength) in lists {
                all.extend(texts.iter().map(|text| compile(text, index, strength, reader, &mut parts)));
            }
        }
        let mut numbered: Vec<(usize, String)> =
            parts.into_iter().map(|(part, number)| (number, part)).collect();
        numbered.sort();
        let whole_words = numbered.iter().map(|(_, part)| format!(r"\b(?:{part})\b"));
        let parts = RegexSetBuilder::new(whole_words).unicode(false).dfa_size_limit(DFA_BYTES).build()?;
        Ok(Self { parts, all })
    }

    /// Every pattern heard in a text, in the order of the book.
    pub(super) fn heard<'a>(&'a self, text: &str) -> impl Iterator<Item = &'a Pattern> + use<'a> {
        let matches = self.parts.matches(text.as_bytes());
        self.all.iter().filter(move |pattern| pattern.is_heard(&matches))
    }
}

/// The plain words of a pattern.
pub(super) fn words_of(pattern: &str) -> impl Iterator<Item = &str> {
    pattern
        .split(" + ")
        .flat_map(|part| part.trim_start_matches('!').split('|'))
        .filter(|said| is_plain(said))
}

/// Whether these are words alone, nothing of the language of regular expressions.
fn is_plain(said: &str) -> bool {
    said.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == ' ')
}

/// A part with each of its plain alternatives as messages have it read, so that a pattern may be written in any
/// words: "broken beam" meets what a message with "snapped joist" is read as.
fn as_read(part: &str, reader: &Reader) -> String {
    let read = |said: &str| if is_plain(said) { reader.read_plain(said) } else { said.to_owned() };
    part.split('|').map(read).collect::<Vec<_>>().join("|")
}

/// Room for the automaton's remembered states: with less it starts anew within a message and gets slow.
const DFA_BYTES: usize = 16 << 20;

fn compile(
    text: &str,
    topic: usize,
    strength: Strength,
    reader: &Reader,
    parts: &mut BTreeMap<String, usize>,
) -> Pattern {
    let (mut needs, mut forbids) = (Vec::new(), Vec::new());
    for part in text.split(" + ").map(str::trim) {
        let (list, part) =
            part.strip_prefix('!').map_or((&mut needs, part), |without| (&mut forbids, without));
        let next = parts.len();
        list.push(*parts.entry(as_read(part, reader)).or_insert(next));
    }
    Pattern { topic, strength, text: text.to_owned(), needs, forbids }
}
