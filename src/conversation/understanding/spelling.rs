//! Typos, plurals and endings: from a word nobody knows to the nearest one that somebody does.

use std::collections::{BTreeMap, BTreeSet};

use strsim::osa_distance;

/// The words there are, and how near a stranger must be to pass for one.
#[derive(Clone, Debug, Default)]
pub(super) struct Spelling {
    /// Words that stand as they are.
    kept: BTreeSet<String>,
    /// All words there are, those that stand as they are included.
    known: BTreeSet<String>,
    left_alone: BTreeSet<String>,
    /// Known words by length, each with the letters it is made of.
    by_length: BTreeMap<usize, Vec<(u32, String)>>,
}

/// How a stranger was read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Reading {
    /// It is a known word or an ordinary one, or nothing is near.
    AsTyped,
    /// It is a known word with an ending.
    Ending(String),
    /// It is near a known word.
    Typo(String),
}

impl Spelling {
    /// `kept` are words that stand as they are, endings and all; `others` are further words to be found;
    /// `left_alone` are ordinary words that must not be mended into either.
    pub(super) fn new(
        kept: BTreeSet<String>,
        others: BTreeSet<String>,
        left_alone: BTreeSet<String>,
    ) -> Self {
        let known: BTreeSet<String> = kept.iter().cloned().chain(others).collect();
        let mut by_length: BTreeMap<usize, Vec<(u32, String)>> = BTreeMap::new();
        for word in known.iter().filter(|word| word.len() >= SHORTEST_MENDED) {
            by_length.entry(word.len()).or_default().push((letters(word), word.clone()));
        }
        Self { kept, known, left_alone, by_length }
    }

    /// Reads one word.
    pub(super) fn read(&self, word: &str) -> Reading {
        if self.kept.contains(word) || word.starts_with(|c: char| c.is_ascii_digit()) {
            return Reading::AsTyped;
        }
        if let Some(stem) = self.without_ending(word) {
            return Reading::Ending(stem);
        }
        if self.known.contains(word) || self.left_alone.contains(word) {
            return Reading::AsTyped;
        }
        self.nearest(word).map_or(Reading::AsTyped, Reading::Typo)
    }

    fn without_ending(&self, word: &str) -> Option<String> {
        for (ending, instead) in ENDINGS {
            let Some(stem) = word.strip_suffix(ending).filter(|stem| stem.len() >= 3) else { continue };
            let whole = format!("{stem}{instead}");
            if self.known.contains(&whole) {
                return Some(whole);
            }
            // "dripping": the last letter doubles before the ending.
            let mut undoubled = stem.chars();
            let last = undoubled.next_back();
            if undoubled.clone().next_back() == last && self.known.contains(undoubled.as_str()) {
                return Some(undoubled.as_str().to_owned());
            }
        }
        None
    }

    /// The nearest known word within reach; the first in the alphabet of equals.
    fn nearest(&self, word: &str) -> Option<String> {
        let reach = reach(word.len())?;
        let of = letters(word);
        let lengths = word.len().saturating_sub(reach)..=word.len() + reach;
        let mut best: Option<(usize, bool, &String)> = None;
        for (mask, known) in self.by_length.range(lengths).flat_map(|(_, words)| words) {
            // Every slip changes at most two letters of the set: a cheap test before the dear one.
            if usize::try_from((mask ^ of).count_ones()).is_ok_and(|apart| apart > 2 * reach) {
                continue;
            }
            let distance = osa_distance(word, known);
            let other_start = word.chars().next() != known.chars().next();
            if distance > reach.min(self::reach(known.len()).unwrap_or(0)) || (other_start && distance > 1) {
                continue;
            }
            let candidate = (distance, other_start, known);
            if best.is_none_or(|best| candidate < best) {
                best = Some(candidate);
            }
        }
        best.map(|(_, _, known)| known.clone())
    }
}

const SHORTEST_MENDED: usize = 4;

/// Endings, the longest first, with what stands in their place.
const ENDINGS: [(&str, &str); 11] = [
    ("ations", "ate"),
    ("ation", "ate"),
    ("ings", ""),
    ("ing", "e"),
    ("ing", ""),
    ("ies", "y"),
    ("ed", "e"),
    ("ed", ""),
    ("es", ""),
    ("s", ""),
    ("ly", ""),
];

/// How many slips a word of this length may hold; `None` for words too short to mend.
const fn reach(length: usize) -> Option<usize> {
    match length {
        0..SHORTEST_MENDED => None,
        SHORTEST_MENDED..=6 => Some(1),
        _ => Some(2),
    }
}

/// The set of letters in a word, one bit each.
fn letters(word: &str) -> u32 {
    word.bytes().filter(u8::is_ascii_lowercase).fold(0, |set, letter| set | 1 << (letter - b'a'))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn spelling() -> Spelling {
        let set = |words: &[&str]| words.iter().map(|word| (*word).to_owned()).collect();
        let others = set(&["sheets", "gutter"]);
        Spelling::new(set(&["sheet", "asbestos", "drip", "overlap"]), others, set(&["gutted", "sweet"]))
    }

    #[test]
    fn plurals_and_endings_lead_to_the_word() {
        assert_eq!(spelling().read("sheets"), Reading::Ending("sheet".to_owned()));
        assert_eq!(spelling().read("dripping"), Reading::Ending("drip".to_owned()));
    }

    #[test]
    fn typos_within_reach_are_mended_and_ordinary_words_are_not() {
        assert_eq!(spelling().read("asbetos"), Reading::Typo("asbestos".to_owned()));
        assert_eq!(spelling().read("overalp"), Reading::Typo("overlap".to_owned()));
        assert_eq!(spelling().read("gutted"), Reading::AsTyped);
        assert_eq!(spelling().read("sweet"), Reading::AsTyped);
        assert_eq!(spelling().read("cat"), Reading::AsTyped);
    }
}
