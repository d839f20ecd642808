//! What words mean in one language: data, read by `book` from `dialogs/hearing/<language>/`.

mod entries;
mod way;

use std::collections::{BTreeMap, HashMap, HashSet};

use strsim::osa_distance;

pub use entries::{Asked, Aspect, Entries, Means, OrderEntry, Side, Tag};
pub use way::{First, Way, Words};

use super::normal::{Token, TokenKind, tokens};
use crate::roofing::roof::FactKey;
use crate::units::reading::{Part, part_of};

/// Something the lexicon knows, found in a message.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Hit<'l> {
    /// What it means.
    pub means: &'l Means,
    /// As it is written in the book.
    pub way: &'l Way,
    /// Its first token.
    pub start: usize,
    /// One past its last token.
    pub end: usize,
}

impl Hit<'_> {
    /// Whether it means that.
    pub fn is(&self, tag: Tag) -> bool {
        *self.means == Means::Tag(tag)
    }

    /// How many words it takes.
    pub fn len(&self) -> usize {
        self.end - self.start
    }

    /// Whether it takes none, which no hit does.
    pub fn is_empty(&self) -> bool {
        self.end == self.start
    }
}

/// What words mean in one language.
#[derive(Clone, Debug, Default)]
pub struct Lexicon {
    said: Index<Means>,
    orders: Index<OrderEntry>,
    yes: Vec<Asked>,
    /// Choices that pass only in their plain form.
    guarded: Vec<(FactKey, String)>,
    known: HashSet<String>,
    /// Words of a dialect or of a hasty thumb, and the plain word that each stands for.
    spelt: HashMap<String, String>,
    /// Known words by how many letters they have, each with the set of its letters.
    by_length: BTreeMap<usize, Vec<(u32, String)>>,
}

/// Ways of saying things, by what they begin with.
#[derive(Clone, Debug)]
struct Index<M> {
    ways: Vec<(M, Way)>,
    by_word: HashMap<String, Vec<usize>>,
    by_letter: HashMap<char, Vec<usize>>,
    by_number: Vec<usize>,
    by_any: Vec<usize>,
}

impl<M> Default for Index<M> {
    fn default() -> Self {
        Self {
            ways: Vec::new(),
            by_word: HashMap::new(),
            by_letter: HashMap::new(),
            by_number: Vec::new(),
            by_any: Vec::new(),
        }
    }
}

impl<M> Index<M> {
    fn new(ways: Vec<(M, Way)>) -> Self {
        let mut index = Self { ways, ..Self::default() };
        for (number, (_, way)) in index.ways.iter().enumerate() {
            let mut firsts = way.firsts();
            firsts.sort();
            firsts.dedup();
            if firsts.contains(&First::Any) {
                index.by_any.push(number);
                continue;
            }
            for first in firsts {
                let places = match first {
                    First::Word(word) => index.by_word.entry(word).or_default(),
                    First::Start(start) => {
                        index.by_letter.entry(start.chars().next().unwrap_or_default()).or_default()
                    }
                    First::Number | First::Any => &mut index.by_number,
                };
                if places.last() != Some(&number) {
                    places.push(number);
                }
            }
        }
        index
    }

    /// Those that may begin with a token and stand in a message of these words, in the order of the book.
    fn beginning<'i>(&'i self, token: &Token, words: &Words) -> Vec<&'i (M, Way)> {
        let by_word = self.by_word.get(&token.word).into_iter().flatten();
        let letter = token.word.chars().next().unwrap_or_default();
        let by_letter = self.by_letter.get(&letter).into_iter().flatten();
        let is_number = token.kind == TokenKind::Number || part_of(&token.word) == Some(Part::Number);
        let by_number = if is_number { self.by_number.as_slice() } else { &[] };
        let all = by_word.chain(by_letter).chain(by_number).chain(&self.by_any);
        let may_stand =
            |number: &&usize| self.ways.get(**number).is_some_and(|(_, way)| way.may_stand_in(words));
        let mut numbers: Vec<usize> = all.filter(may_stand).copied().collect();
        numbers.sort_unstable();
        numbers.dedup();
        numbers.into_iter().filter_map(|number| self.ways.get(number)).collect()
    }
}

/// The words of some tokens.
fn words_of(tokens: &[Token]) -> Words {
    let mut words = Words::default();
    for token in tokens {
        words.add(&token.word);
    }
    words
}

/// The facts of which a safe answer passes only in its plain form.
pub const ANSWERED_PLAINLY: [FactKey; 3] =
    [FactKey::AsbestosTest, FactKey::Structure, FactKey::OverheadLines];

/// A word with fewer letters is not mended.
const SHORTEST_MENDED: usize = 5;

impl Lexicon {
    /// A lexicon of these entries.
    pub fn new(entries: Entries) -> Self {
        let words = entries.said.iter().map(|(_, way)| way).chain(entries.orders.iter().map(|(_, way)| way));
        let mended: HashSet<String> = words.flat_map(|way| way.words()).map(str::to_owned).collect();
        let mut by_length: BTreeMap<usize, Vec<(u32, String)>> = BTreeMap::new();
        let mut sorted: Vec<&String> = mended.iter().collect();
        sorted.sort();
        for word in sorted {
            by_length.entry(word.chars().count()).or_default().push((letters(word), word.clone()));
        }
        let mut guarded: Vec<_> = entries
            .said
            .iter()
            .filter_map(|(means, _)| match means {
                Means::Choice(fact, id, Aspect::Safe) => Some((*fact, id.clone())),
                _ => None,
            })
            .collect();
        guarded.dedup();
        let mut known = mended;
        known.extend(entries.plain_words);
        Self {
            said: Index::new(entries.said),
            orders: Index::new(entries.orders),
            yes: entries.asked,
            guarded,
            known,
            spelt: entries.spelt.into_iter().collect(),
            by_length,
        }
    }

    /// A message as tokens, with slips of the thumb mended.
    pub fn tokens(&self, text: &str) -> Vec<Token> {
        let mut tokens = tokens(text);
        self.spell_out(&mut tokens);
        self.part_nouns(text, &mut tokens);
        for token in &mut tokens {
            token.known = match token.kind {
                TokenKind::Number | TokenKind::Mark(_) => true,
                TokenKind::Word => self.known.contains(&token.word) || part_of(&token.word).is_some(),
            };
            if !token.known
                && let Some(meant) = self.mended(&token.word)
            {
                token.word = meant;
                token.mended = true;
                token.known = true;
            }
        }
        tokens
    }

    /// Puts the plain word for one of a dialect: "nae" is no. A single letter stands for a word only between two
    /// others: "n" alone is a no.
    fn spell_out(&self, tokens: &mut [Token]) {
        let is_word: Vec<bool> = tokens.iter().map(Token::is_word).collect();
        let between = |at: usize| {
            let word = |at: Option<usize>| at.and_then(|at| is_word.get(at)).is_some_and(|word| *word);
            word(at.checked_sub(1)) && word(at.checked_add(1))
        };
        for (at, token) in tokens.iter_mut().enumerate() {
            if let Some(plain) = self.spelt.get(&token.word)
                && (token.word.chars().nth(1).is_some() || between(at))
            {
                token.word.clone_from(plain);
            }
        }
    }

    /// "The length's wrong": a noun that names a fact, or a choice of one, stands without its "'s".
    fn part_nouns(&self, text: &str, tokens: &mut [Token]) {
        for token in tokens.iter_mut().filter(|token| token.is_word()) {
            let written = text.get(token.span.clone()).unwrap_or_default();
            let apart = written.strip_suffix(['s', 'S']).is_some_and(|base| base.ends_with(['\'', '’']));
            if let Some(base) = token.word.strip_suffix('s').filter(|_| apart)
                && self.is_noun(base)
            {
                token.word = base.to_owned();
            }
        }
    }

    /// Whether a word by itself names a fact, or is a choice of one.
    fn is_noun(&self, word: &str) -> bool {
        let numbers = self.said.by_word.get(word).into_iter().flatten();
        let tokens = tokens(word);
        numbers.filter_map(|number| self.said.ways.get(*number)).any(|(means, way)| {
            let of_a_fact = matches!(means, Means::Names(..) | Means::Choice(_, _, Aspect::Asked));
            of_a_fact && way.is_whole(&tokens)
        })
    }

    /// The known word that an unknown one is a slip away from.
    fn mended(&self, word: &str) -> Option<String> {
        let length = word.chars().count();
        if length < SHORTEST_MENDED {
            return None;
        }
        let of = letters(word);
        let near = self.by_length.range(length - 1..=length + 1).flat_map(|(_, words)| words);
        let mut near = near.filter(|(mask, known)| {
            (mask ^ of).count_ones() <= 2
                && known.chars().count() >= SHORTEST_MENDED
                && osa_distance(word, known) == 1
        });
        near.next().map(|(_, known)| known.clone())
    }

    /// Everything it knows in a message; of what means the same, the longest.
    pub fn hits<'l>(&'l self, tokens: &[Token]) -> Vec<Hit<'l>> {
        let mut found: Vec<Hit<'l>> = Vec::new();
        let words = words_of(tokens);
        for (start, token) in
            tokens.iter().enumerate().filter(|(_, token)| !matches!(token.kind, TokenKind::Mark(_)))
        {
            for (means, way) in self.said.beginning(token, &words) {
                let Some(end) = way.end_from(tokens, start) else { continue };
                let within = |other: &&Hit<'l>| other.means == means && other.end >= end;
                if found.iter().rev().any(|other| within(&other)) {
                    continue;
                }
                found.retain(|other| !(other.means == means && other.start == start && other.end <= end));
                found.push(Hit { means, way, start, end });
            }
        }
        found
    }

    /// The order that these words give, of the job or else; with where the rest of them begins, that names something.
    pub fn order<'l>(&'l self, words: &[Token], at_work: bool) -> Option<(&'l OrderEntry, usize)> {
        let first = words.first()?;
        let mut begun: Option<(&'l OrderEntry, usize)> = None;
        let begun_so = self.orders.beginning(first, &words_of(words));
        for (entry, way) in begun_so.into_iter().filter(|(entry, _)| entry.is_of_the_job() == at_work) {
            if way.is_whole(words) {
                return Some((entry, words.len()));
            }
            if entry.names
                && let Some(end) = way.end_from(words, 0)
                && begun.is_none_or(|(_, before)| before < end)
            {
                begun = Some((entry, end));
            }
        }
        begun
    }

    /// Which choice a plain yes or a plain no stands for, where a fact is asked for.
    pub fn asked(&self, fact: FactKey) -> Option<&Asked> {
        self.yes.iter().find(|asked| asked.fact == fact)
    }

    /// Whether a choice passes only in its plain form; where nobody says what is plain, none passes otherwise.
    pub fn is_guarded(&self, fact: FactKey, id: &str) -> bool {
        let mut of_fact = self.guarded.iter().filter(|(of, _)| *of == fact).peekable();
        let nobody_says = of_fact.peek().is_none() && ANSWERED_PLAINLY.contains(&fact);
        nobody_says || of_fact.any(|(_, choice)| choice == id)
    }

    /// How many ways of saying things it knows.
    pub fn len(&self) -> usize {
        self.said.ways.len() + self.orders.ways.len()
    }

    /// Whether it knows nothing.
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }
}

/// The set of letters in a word, one bit each.
fn letters(word: &str) -> u32 {
    word.bytes().filter(u8::is_ascii_lowercase).fold(0, |set, letter| set | 1 << (letter - b'a'))
}
