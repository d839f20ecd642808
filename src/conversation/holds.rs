//! What a hold answers: while a rule stops the plan, a question that belongs to its matter gets its own answer.
//!
//! Which answers belong to which stop stands in `dialogs/topics/holds.toml`. An answer is found by its patterns, or
//! else by the phrasing that is nearest in words. It says something and changes nothing: no fact, no stop.

use std::collections::BTreeMap;
use std::sync::OnceLock;

use super::pattern::Pattern;
use crate::roofing::note::Note;

/// One thing that is asked while a stop holds.
#[derive(Clone, Debug)]
pub struct HoldAnswer {
    /// The sentence that answers it.
    pub says: String,
    /// Whether it says that the stop was misheard, and so is looked for in plain sentences too.
    pub corrects: bool,
    /// Patterns that ask for it.
    pub words: Vec<Pattern>,
    /// Phrasings near which it is asked.
    pub asked_as: Vec<String>,
}

/// What belongs to the stops of one matter.
#[derive(Clone, Debug)]
pub struct Hold {
    /// The rules whose stop this is.
    pub rules: Vec<String>,
    /// The sentence that recalls the stop.
    pub recalled: String,
    /// The answers, what can hurt first.
    pub answers: Vec<HoldAnswer>,
    /// Their phrasings by words: made ready when first looked at, for few chats ever stop.
    near: OnceLock<Nearness>,
}

/// The most answers that one message gets.
const MOST: usize = 2;

/// A phrasing is near from so many in a hundred of its words and the message's, by their weight.
const NEAR: usize = 55;

/// What the stop of this rule says to what was asked; nothing where it knows no answer.
pub fn answer(holds: &[Hold], stop: &str, text: &str) -> Vec<Note> {
    let Some(hold) = hold_of(holds, stop) else { return Vec::new() };
    let mut said: Vec<&str> = Vec::new();
    for part in text.split(['?', '!', ';', '\n']).map(str::trim).filter(|part| !part.is_empty()) {
        if let Some(answer) = hold.asked(part).filter(|answer| !said.contains(&answer.says.as_str())) {
            said.push(&answer.says);
        }
    }
    said.into_iter().take(MOST).map(Note::new).collect()
}

/// What the stop of this rule says to somebody who says that they were misheard.
pub fn correction(holds: &[Hold], stop: &str, text: &str) -> Option<Note> {
    let corrections = hold_of(holds, stop)?.answers.iter().filter(|answer| answer.corrects);
    let mut heard = corrections.filter(|answer| answer.words.iter().any(|words| words.is_match(text)));
    heard.next().map(|answer| Note::new(&*answer.says))
}

/// The sentence that recalls this rule's stop, where it was told before.
pub fn recalled(holds: &[Hold], stop: &str) -> Note {
    hold_of(holds, stop).map_or_else(|| Note::new("stop-recalled"), |hold| Note::new(&*hold.recalled))
}

fn hold_of<'a>(holds: &'a [Hold], stop: &str) -> Option<&'a Hold> {
    holds.iter().find(|hold| hold.rules.iter().any(|rule| rule == stop))
}

impl Hold {
    /// What belongs to the stops of these rules.
    pub const fn new(rules: Vec<String>, recalled: String, answers: Vec<HoldAnswer>) -> Self {
        Self { rules, recalled, answers, near: OnceLock::new() }
    }

    /// What one part of a message asks.
    fn asked(&self, part: &str) -> Option<&HoldAnswer> {
        let by_pattern =
            || self.answers.iter().find(|one| one.words.iter().any(|words| words.is_match(part)));
        let near = || self.near.get_or_init(|| Nearness::of(&self.answers)).nearest(part);
        // What is asked in the very words of a phrasing is meant, whatever else a pattern finds in it.
        match near() {
            Some((index, 100)) => self.answers.get(index),
            nearest => by_pattern().or_else(|| {
                let (index, _) = nearest.filter(|(_, closeness)| *closeness >= NEAR)?;
                self.answers.get(index)
            }),
        }
    }
}

/// The phrasings of all answers, by their words; a word that stands in few of them weighs more.
#[derive(Clone, Debug, Default)]
struct Nearness {
    weights: BTreeMap<String, usize>,
    phrasings: Vec<(usize, Vec<String>)>,
}

impl Nearness {
    fn of(answers: &[HoldAnswer]) -> Self {
        let phrasings: Vec<(usize, Vec<String>)> = answers
            .iter()
            .enumerate()
            .flat_map(|(index, answer)| answer.asked_as.iter().map(move |phrase| (index, stems(phrase))))
            .collect();
        let mut found: BTreeMap<String, usize> = BTreeMap::new();
        for stem in phrasings.iter().flat_map(|(_, stems)| stems) {
            *found.entry(stem.clone()).or_default() += 1;
        }
        let all = phrasings.len();
        let weigh = |count: usize| 1 + usize::try_from((all / count.max(1)).max(1).ilog2()).unwrap_or(0);
        let weights = found.into_iter().map(|(stem, count)| (stem, weigh(count))).collect();
        Self { weights, phrasings }
    }

    /// The answer whose phrasing is nearest, the first of equals, and how near it is in a hundred.
    fn nearest(&self, text: &str) -> Option<(usize, usize)> {
        let said = stems(text);
        // Words that no phrasing knows say nothing for or against one.
        let weight = |stem: &String| self.weights.get(stem).copied().unwrap_or(0);
        let in_all: usize = said.iter().map(weight).sum();
        let closeness = |phrasing: &Vec<String>| {
            let shared: usize = phrasing.iter().filter(|stem| said.contains(stem)).map(weight).sum();
            let own: usize = phrasing.iter().map(weight).sum();
            (200 * shared).checked_div(in_all + own).unwrap_or(0)
        };
        let near = self.phrasings.iter().map(|(index, phrasing)| (*index, closeness(phrasing)));
        near.reduce(|best, next| if next.1 > best.1 { next } else { best }).filter(|(_, near)| *near > 0)
    }
}

/// The words of a text without their endings, each once: "drilling" and "drill" are one.
fn stems(text: &str) -> Vec<String> {
    let text: String = text.chars().filter(|c| !matches!(c, '\'' | '’')).collect();
    let words = text.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty());
    let mut stems: Vec<String> = words.map(|word| stem(&word.to_lowercase())).collect();
    stems.sort_unstable();
    stems.dedup();
    stems
}

fn stem(word: &str) -> String {
    const LEAST: usize = 3;
    let bare = ["ing", "ed", "es", "s"].iter().find_map(|ending| word.strip_suffix(ending));
    let bare = bare.filter(|bare| bare.chars().count() >= LEAST).unwrap_or(word);
    let mut letters: Vec<char> = bare.chars().collect();
    if let [.., last, doubled] = letters.as_slice()
        && last == doubled
    {
        letters.pop();
    }
    letters.into_iter().collect()
}
