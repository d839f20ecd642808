//! The patterns of all topics, heard in one pass.
//!
//! A part of a pattern is a choice of runs of words, or of regular expressions. Runs of words are looked up word
//! by word; all regular expressions are members of a single set, so that a clause is gone through once however
//! many patterns there are.

use std::collections::BTreeMap;

use regex::bytes::{RegexSet, RegexSetBuilder};

use super::reading::{Clause, Reader};
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
    /// It settles the topic against every other, and hands the person on.
    HandsOn,
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

    fn is_heard(&self, there: &[bool]) -> bool {
        let is_there = |part: &usize| there.get(*part).copied().unwrap_or(false);
        self.needs.iter().all(is_there) && !self.forbids.iter().any(is_there)
    }
}

/// All patterns.
#[derive(Clone, Debug)]
pub(super) struct Patterns {
    /// By its first word: every run of words that some part is met by, and the part's number.
    runs: BTreeMap<String, Vec<(Vec<String>, usize)>>,
    expressions: RegexSet,
    /// The part that each expression of the set belongs to.
    of_expression: Vec<usize>,
    parts: usize,
    all: Vec<Pattern>,
}

impl Patterns {
    /// Compiles the patterns of all topics, their words read as messages are; the error is the regular
    /// expression's own.
    pub(super) fn new(topics: &[Topic], reader: &Reader) -> Result<Self, regex::Error> {
        let mut parts: BTreeMap<String, usize> = BTreeMap::new();
        let mut all = Vec::new();
        for (index, topic) in topics.iter().enumerate() {
            let lists = [
                (&topic.danger, Strength::Danger),
                (&topic.hands_on, Strength::HandsOn),
                (&topic.overrules, Strength::Overrules),
                (&topic.sure, Strength::Sure),
                (&topic.likely, Strength::Likely),
            ];
            for (texts, strength) in lists {
                all.extend(texts.iter().map(|text| compile(text, index, strength, &mut parts)));
            }
        }
        let mut runs: BTreeMap<String, Vec<(Vec<String>, usize)>> = BTreeMap::new();
        let (mut expressions, mut of_expression) = (Vec::new(), Vec::new());
        for (part, number) in &parts {
            for choice in choices(part) {
                if !is_plain(choice) {
                    expressions.push(format!(r"\b(?:{choice})\b"));
                    of_expression.push(*number);
                } else if let Some((first, rest)) = reader.read_plain(choice).split_first() {
                    runs.entry(first.clone()).or_default().push((rest.to_vec(), *number));
                }
            }
        }
        let expressions =
            RegexSetBuilder::new(expressions).unicode(false).dfa_size_limit(DFA_BYTES).build()?;
        Ok(Self { runs, expressions, of_expression, parts: parts.len(), all })
    }

    /// Every pattern heard in a clause, in the order of the book.
    pub(super) fn heard<'a>(&'a self, clause: &Clause) -> impl Iterator<Item = &'a Pattern> + use<'a> {
        let there = self.parts_in(clause);
        self.all.iter().filter(move |pattern| pattern.is_heard(&there))
    }

    fn parts_in(&self, clause: &Clause) -> Vec<bool> {
        let mut there = vec![false; self.parts];
        let mut found = |part: usize| {
            if let Some(flag) = there.get_mut(part) {
                *flag = true;
            }
        };
        let mut words = clause.words.as_slice();
        while let Some((first, rest)) = words.split_first() {
            let runs = self.runs.get(first).into_iter().flatten();
            runs.filter(|(run, _)| rest.starts_with(run)).for_each(|(_, part)| found(*part));
            words = rest;
        }
        for expression in self.expressions.matches(clause.text.as_bytes()) {
            self.of_expression.get(expression).into_iter().for_each(|part| found(*part));
        }
        there
    }
}

/// Room for the automaton's remembered states: with less it starts anew within a message and gets slow.
const DFA_BYTES: usize = 16 << 20;

/// The runs of plain words in a pattern.
pub(super) fn words_of(pattern: &str) -> impl Iterator<Item = &str> {
    let parts = pattern.split(" + ").map(|part| part.trim_start_matches('!'));
    parts.flat_map(choices).filter(|said| is_plain(said))
}

/// The choices of a part: what `|` parts outside brackets.
fn choices(part: &str) -> Vec<&str> {
    let mut depth = 0_u32;
    let outside = |c: char| {
        match c {
            '(' | '[' => depth += 1,
            ')' | ']' => depth = depth.saturating_sub(1),
            _ => {}
        }
        c == '|' && depth == 0
    };
    part.split(outside).collect()
}

/// Whether these are words alone, nothing of the language of regular expressions.
fn is_plain(said: &str) -> bool {
    said.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == ' ')
}

fn compile(text: &str, topic: usize, strength: Strength, parts: &mut BTreeMap<String, usize>) -> Pattern {
    let (mut needs, mut forbids) = (Vec::new(), Vec::new());
    for part in text.split(" + ").map(str::trim) {
        let (list, part) =
            part.strip_prefix('!').map_or((&mut needs, part), |without| (&mut forbids, without));
        let next = parts.len();
        list.push(*parts.entry(part.to_owned()).or_insert(next));
    }
    Pattern { topic, strength, text: text.to_owned(), needs, forbids }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn choices_part_outside_brackets_only() {
        assert_eq!(choices("a b|(c|d) e|[|]f"), ["a b", "(c|d) e", "[|]f"]);
        assert!(is_plain("every 2nd") && !is_plain("laps?"));
    }
}
