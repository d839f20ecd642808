//! From a message to clauses of words as the topics know them.

use std::collections::{BTreeMap, BTreeSet};

use super::endings::Endings;
use super::normalise::{Piece, take_apart};
use crate::conversation::understanding::topic::{Topic, Vocabulary};

/// One sentence, or part of one that asks something of its own.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(in super::super) struct Clause {
    /// Its words, joined by blanks.
    pub(in super::super) text: String,
    /// Its words as the vocabulary reads them.
    pub(in super::super) words: Vec<String>,
    /// Its words as they were typed, in small letters.
    pub(in super::super) typed: Vec<String>,
}

/// A word, or several that are read as one.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
struct Word {
    read: String,
    typed: String,
}

/// A message as it was read.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(in super::super) struct Heard {
    /// Everything, as one clause.
    pub(in super::super) whole: Clause,
    /// Clause for clause, in the order said.
    pub(in super::super) clauses: Vec<Clause>,
    /// Sentence for sentence, as they were typed.
    pub(in super::super) sentences: Vec<Vec<String>>,
}

/// Reads messages by a vocabulary.
#[derive(Clone, Debug)]
pub(in super::super) struct Reader {
    emoji: BTreeMap<char, Vec<String>>,
    slips: Phrases,
    words: BTreeMap<String, String>,
    phrases: Phrases,
    endings: Endings,
    fillers: BTreeSet<String>,
    openers: BTreeSet<String>,
    joiners: BTreeSet<String>,
    /// Pairs of words, as they are read, that begin a question of their own.
    begins: BTreeSet<Vec<String>>,
}

/// So many words at least stand in a question that another one follows unjoined.
const SHORTEST_QUESTION: usize = 3;

impl Reader {
    /// A reader by this vocabulary that also knows the words of the topics' phrasings.
    pub(in super::super) fn of(topics: &[Topic], vocabulary: &Vocabulary) -> Self {
        Self::new(vocabulary, topics.iter().flat_map(|topic| topic.asked_as.iter().map(String::as_str)))
    }

    /// A reader by this vocabulary that also knows the words of `texts`.
    pub(in super::super) fn new<'a>(
        vocabulary: &'a Vocabulary,
        texts: impl Iterator<Item = &'a str>,
    ) -> Self {
        let mut words = BTreeMap::new();
        for (canonical, synonyms) in &vocabulary.words {
            words.insert(canonical.clone(), canonical.clone());
            words.extend(synonyms.iter().map(|synonym| (synonym.clone(), canonical.clone())));
        }
        let mut kept: BTreeSet<String> = words.keys().cloned().collect();
        kept.extend(vocabulary.fillers.iter().cloned());
        kept.extend(vocabulary.phrases.iter().map(|(one, _)| one.clone()));
        let mut others = BTreeSet::new();
        let phrase_texts = vocabulary.phrases.iter().flat_map(|(_, said)| said.iter().map(String::as_str));
        for text in phrase_texts.chain(texts) {
            others.extend(split(text));
        }
        let mut reader = Self {
            emoji: vocabulary.emoji.iter().map(|(c, said)| (*c, split(said).collect())).collect(),
            slips: Phrases::new(
                vocabulary.slips.iter().map(|(said, meant)| (split(said).collect(), split(meant).collect())),
            ),
            words,
            phrases: Phrases::default(),
            endings: Endings::new(kept, others),
            fillers: vocabulary.fillers.iter().cloned().collect(),
            openers: vocabulary.openers.iter().cloned().collect(),
            joiners: vocabulary.joiners.iter().cloned().collect(),
            begins: BTreeSet::new(),
        };
        reader.begins = vocabulary.begins.iter().map(|said| reader.read_plain(said)).collect();
        // A phrase is written as people say it and found among words already read: so it is read as well.
        let phrases =
            vocabulary.phrases.iter().flat_map(|(one, said)| said.iter().map(move |said| (one, said)));
        reader.phrases = Phrases::new(phrases.map(|(one, said)| {
            (split(said).map(|word| reader.read_word(&word)).collect(), vec![reader.canonical(one)])
        }));
        reader
    }

    /// Whether a word says nothing of a topic.
    pub(in super::super) fn is_filler(&self, word: &str) -> bool {
        self.fillers.contains(word)
    }

    /// How a single word is read.
    fn read_word(&self, word: &str) -> String {
        self.endings.read(word).map_or_else(|| self.canonical(word), |stem| self.canonical(&stem))
    }

    /// How a word is read once its spelling is settled.
    fn canonical(&self, word: &str) -> String {
        self.words.get(word).cloned().unwrap_or_else(|| word.to_owned())
    }

    /// How a few plain words are read.
    pub(in super::super) fn read_plain(&self, said: &str) -> Vec<String> {
        let words = self.read_words(&split(said).collect::<Vec<_>>());
        words.into_iter().map(|word| word.read).collect()
    }

    /// Reads a message.
    pub(in super::super) fn read(&self, message: &str) -> Heard {
        let mut heard = Heard::default();
        let mut sentence = Vec::new();
        for piece in take_apart(message, &self.emoji).into_iter().chain([Piece::Stop]) {
            match piece {
                Piece::Word(word) => sentence.push(word),
                Piece::Comma => sentence.push(COMMA.to_owned()),
                Piece::Stop if sentence.is_empty() => {}
                Piece::Stop => {
                    let words = self.read_words(&sentence);
                    self.part(words, &mut heard);
                    sentence.retain(|word| word != COMMA);
                    heard.sentences.push(std::mem::take(&mut sentence));
                }
            }
        }
        heard.whole = Clause::together(&heard.clauses);
        heard
    }

    fn read_words(&self, sentence: &[String]) -> Vec<Word> {
        let typed: Vec<Word> =
            sentence.iter().map(|word| Word { read: word.clone(), typed: word.clone() }).collect();
        let mut words = self.slips.replace(&typed);
        for word in &mut words {
            word.read = self.read_word(&word.read);
        }
        self.phrases.replace(&words)
    }

    /// Parts a sentence where "and", a comma or the like is followed by the start of another question, or where
    /// one question follows another: "can i paint it how do i get the moss off".
    fn part(&self, words: Vec<Word>, heard: &mut Heard) {
        let mut clause: Vec<Word> = Vec::new();
        let mut words = words.into_iter().peekable();
        while let Some(word) = words.next() {
            let comma = word.read == COMMA;
            let opens = words.peek().is_some_and(|next| self.openers.contains(&next.read));
            let begins = |first: &str, second: &str| {
                self.begins.iter().any(|pair| matches!(pair.as_slice(), [a, b] if a == first && b == second))
            };
            let asks_already =
                matches!(clause.as_slice(), [first, second, ..] if begins(&first.read, &second.read));
            if clause.len() >= SHORTEST_QUESTION
                && asks_already
                && words.peek().is_some_and(|next| begins(&word.read, &next.read))
            {
                heard.clauses.push(Clause::new(std::mem::take(&mut clause)));
            }
            if (comma || self.joiners.contains(&word.read)) && opens && !clause.is_empty() {
                heard.clauses.push(Clause::new(std::mem::take(&mut clause)));
            } else if !comma {
                clause.push(word);
            }
        }
        if !clause.is_empty() {
            heard.clauses.push(Clause::new(clause));
        }
    }
}

/// Stands for a comma between words; no word can look like it.
const COMMA: &str = ",";

impl Clause {
    fn new(words: Vec<Word>) -> Self {
        let (words, typed) = words.into_iter().map(|word| (word.read, word.typed)).unzip();
        Self::of(words, typed)
    }

    fn of(words: Vec<String>, typed: Vec<String>) -> Self {
        Self { text: words.join(" "), words, typed }
    }

    /// Clauses as one.
    pub(in super::super) fn together(clauses: &[Self]) -> Self {
        let all = |list: fn(&Self) -> &Vec<String>| clauses.iter().flat_map(list).cloned().collect();
        Self::of(all(|clause| &clause.words), all(|clause| &clause.typed))
    }

    /// All of it, if it is no longer than `longest` words; else stretches of that many, each half over the next.
    pub(in super::super) fn spans(&self, longest: usize) -> Vec<Self> {
        if self.words.len() <= longest {
            return vec![self.clone()];
        }
        let part = |list: &[String], start| list.iter().skip(start).take(longest).cloned().collect();
        let starts = (0..self.words.len()).step_by((longest / 2).max(1));
        starts.map(|start| Self::of(part(&self.words, start), part(&self.typed, start))).collect()
    }
}

fn split(text: &str) -> impl Iterator<Item = String> {
    text.split(|c: char| !c.is_ascii_alphanumeric()).filter(|word| !word.is_empty()).map(str::to_lowercase)
}

/// Runs of words and what they are replaced by: the longest first.
#[derive(Clone, Debug, Default)]
struct Phrases(BTreeMap<String, Vec<Phrase>>);

/// Words as said, and what stands in their place.
type Phrase = (Vec<String>, Vec<String>);

impl Phrases {
    fn new(phrases: impl Iterator<Item = (Vec<String>, Vec<String>)>) -> Self {
        let mut by_first: BTreeMap<String, Vec<_>> = BTreeMap::new();
        for (said, meant) in phrases {
            if let Some(first) = said.first().cloned() {
                by_first.entry(first).or_default().push((said, meant));
            }
        }
        for entries in by_first.values_mut() {
            entries.sort_by(|a, b| b.0.len().cmp(&a.0.len()).then_with(|| a.cmp(b)));
        }
        Self(by_first)
    }

    fn replace(&self, words: &[Word]) -> Vec<Word> {
        let mut replaced = Vec::with_capacity(words.len());
        let mut rest = words;
        while let Some((first, after)) = rest.split_first() {
            let is_said = |said: &[String]| {
                said.len() <= rest.len() && rest.iter().zip(said).all(|(word, said)| word.read == *said)
            };
            let found = self.0.get(&first.read).and_then(|all| all.iter().find(|(said, _)| is_said(said)));
            if let Some((said, meant)) = found {
                let (those, after) = rest.split_at(said.len());
                // What was typed stands with the first word that is read, once.
                let mut typed = those.iter().map(|word| word.typed.as_str()).collect::<Vec<_>>().join(" ");
                let word = |read: &String| Word { read: read.clone(), typed: std::mem::take(&mut typed) };
                replaced.extend(meant.iter().map(word));
                rest = after;
            } else {
                replaced.push(first.clone());
                rest = after;
            }
        }
        replaced
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_question_that_follows_another_is_a_clause_of_its_own() {
        let vocabulary = Vocabulary {
            begins: ["can i", "how many", "how do"].map(str::to_owned).to_vec(),
            ..Vocabulary::default()
        };
        let reader = Reader::new(&vocabulary, std::iter::empty());
        let clauses = |text: &str| -> Vec<String> {
            reader.read(text).clauses.into_iter().map(|clause| clause.text).collect()
        };
        assert_eq!(clauses("can i use screws how many go in"), ["can i use screws", "how many go in"]);
        assert_eq!(clauses("if it rains can i carry on"), ["if it rains can i carry on"]);
    }

    #[test]
    fn a_long_clause_is_heard_in_stretches() {
        let clause = |text: &str| Clause::of(split(text).collect(), split(text).collect());
        assert_eq!(clause("a b c d").spans(4), [clause("a b c d")]);
        let spans = clause("a b c d e f").spans(4);
        assert_eq!(spans, [clause("a b c d"), clause("c d e f"), clause("e f")]);
    }
}
