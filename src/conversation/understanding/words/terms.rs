//! What a message is weighed by: its words, pairs of them, and runs of letters.
//!
//! A term has a name, which people read in the learned file, and a key, which is quick to look up. Words stand for
//! themselves as the vocabulary reads them and as they were typed; letters see through slips of the thumb.

use super::reading::Clause;

/// The shortest and the longest run of letters; a word's start and end count as one each.
const LETTERS: std::ops::RangeInclusive<usize> = 3..=5;

/// What a term is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Kind {
    /// A word as it is read.
    Read,
    /// Two neighbours as they are read.
    ReadPair,
    /// Two words as they are read, with what says nothing left out between them.
    TellingPair,
    /// A word as it was typed.
    Typed,
    /// Two neighbours as they were typed.
    TypedPair,
    /// A run of letters within a word.
    Letters,
}

impl Kind {
    const fn sign(self) -> char {
        match self {
            Self::Read => 'w',
            Self::ReadPair => 'p',
            Self::TellingPair => 't',
            Self::Typed => 'r',
            Self::TypedPair => 'q',
            Self::Letters => 'c',
        }
    }
}

/// A term's key: a hash of its name.
pub(in super::super) type Key = u64;

/// Terms of one kind of evidence, each once, in the order of their keys.
pub(in super::super) type Keys = Vec<Key>;

/// The terms of a clause.
#[derive(Clone, Debug, Default)]
pub(in super::super) struct Terms {
    /// Of words as they are read.
    pub(in super::super) read: Keys,
    /// Of those that tell something, and of pairs.
    pub(in super::super) telling: Keys,
    /// Of words as they were typed.
    pub(in super::super) typed: Keys,
    /// Of runs of letters.
    pub(in super::super) letters: Keys,
    /// How many words tell something.
    pub(in super::super) told: usize,
}

impl Terms {
    /// The terms of a clause; `is_filler` tells words that say nothing alone.
    pub(in super::super) fn of(clause: &Clause, is_filler: impl Fn(&str) -> bool) -> Self {
        let mut terms = Self::default();
        each(clause, is_filler, |kind, first, second, filler| {
            let key = key(kind, first, second);
            match kind {
                Kind::Read | Kind::ReadPair | Kind::TellingPair => {
                    terms.read.push(key);
                    if !filler {
                        terms.telling.push(key);
                    }
                }
                Kind::Typed | Kind::TypedPair => terms.typed.push(key),
                Kind::Letters => terms.letters.push(key),
            }
            terms.told += usize::from(kind == Kind::Read && !filler);
        });
        for keys in [&mut terms.read, &mut terms.telling, &mut terms.typed, &mut terms.letters] {
            keys.sort_unstable();
            keys.dedup();
        }
        terms
    }
}

/// The names of a clause's terms, each with its key.
pub(in super::super) fn named(clause: &Clause, is_filler: impl Fn(&str) -> bool) -> Vec<(Key, String)> {
    let mut names = Vec::new();
    each(clause, is_filler, |kind, first, second, _| {
        let joined = second.map_or_else(|| first.to_owned(), |second| format!("{first} {second}"));
        names.push((key(kind, first, second), format!("{}:{joined}", kind.sign())));
    });
    names
}

/// Goes through the terms of a clause: kind, word, second word, and whether it says nothing alone.
fn each(
    clause: &Clause,
    is_filler: impl Fn(&str) -> bool,
    mut term: impl FnMut(Kind, &str, Option<&str>, bool),
) {
    let mut before: Option<&str> = None;
    let mut told: Option<&str> = None;
    for word in &clause.words {
        let filler = is_filler(word);
        term(Kind::Read, word, None, filler);
        if let Some(before) = before {
            term(Kind::ReadPair, before, Some(word), false);
        }
        if !filler {
            if let Some(told) = told {
                term(Kind::TellingPair, told, Some(word), false);
            }
            told = Some(word);
        }
        before = Some(word);
    }
    let mut before: Option<&str> = None;
    let mut edged = String::new();
    for word in clause.typed.iter().flat_map(|typed| typed.split(' ')).filter(|word| !word.is_empty()) {
        term(Kind::Typed, word, None, false);
        if let Some(before) = before {
            term(Kind::TypedPair, before, Some(word), false);
        }
        before = Some(word);
        edged.clear();
        edged.extend(["_", word, "_"]);
        for length in LETTERS {
            for start in 0..(edged.len() + 1).saturating_sub(length) {
                if let Some(run) = edged.get(start..start + length) {
                    term(Kind::Letters, run, None, false);
                }
            }
        }
    }
}

/// The key of a term.
///
/// # Source
/// The hash is FNV-1a with 64 bits (Fowler, Noll, Vo), from memory.
fn key(kind: Kind, first: &str, second: Option<&str>) -> Key {
    let sign = u8::try_from(kind.sign()).unwrap_or_default();
    let pair = second.into_iter().flat_map(|second| [b' '].into_iter().chain(second.bytes()));
    hash([sign, b':'].into_iter().chain(first.bytes()).chain(pair))
}

/// The key that belongs to a name out of the learned file.
pub(in super::super) fn key_of(name: &str) -> Key {
    hash(name.bytes())
}

/// A hash that is the same on every machine.
pub(in super::super) fn hash(bytes: impl Iterator<Item = u8>) -> u64 {
    bytes.fold(0xcbf2_9ce4_8422_2325, |hash, byte| {
        (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn clause() -> Clause {
        let words = |text: &str| text.split(' ').map(str::to_owned).collect();
        Clause {
            text: String::new(),
            words: words("how lap the sheet"),
            typed: words("how overlaps the sheets"),
        }
    }

    #[test]
    fn terms_are_words_pairs_and_letters_with_keys_that_fit_their_names() {
        let filler = |word: &str| matches!(word, "how" | "the");
        let names = named(&clause(), filler);
        let all: Vec<&str> = names.iter().map(|(_, name)| name.as_str()).collect();
        for name in ["w:how", "w:lap", "p:the sheet", "t:lap sheet", "r:overlaps", "q:the sheets", "c:_over"]
        {
            assert!(all.contains(&name), "{name} is not in {all:?}");
        }
        assert!(names.iter().all(|(key, name)| *key == key_of(name)));
        let terms = Terms::of(&clause(), filler);
        assert_eq!(terms.told, 2);
        assert!(terms.read.contains(&key_of("w:how")) && !terms.telling.contains(&key_of("w:how")));
    }
}
