//! Plurals and endings: from a form of a word to the word that somebody knows.
//!
//! Slips of the thumb are not mended: the letters of a word speak for it (see [`super::terms`]).

use std::collections::BTreeSet;

/// The words there are.
#[derive(Clone, Debug, Default)]
pub(in super::super) struct Endings {
    /// Words that stand as they are.
    kept: BTreeSet<String>,
    /// All words there are, those that stand as they are included.
    known: BTreeSet<String>,
}

impl Endings {
    /// `kept` are words that stand as they are, endings and all; `others` are further words to be found.
    pub(in super::super) fn new(kept: BTreeSet<String>, others: BTreeSet<String>) -> Self {
        let known = kept.iter().cloned().chain(others).collect();
        Self { kept, known }
    }

    /// The known word that one is a form of, where it is none itself.
    pub(in super::super) fn read(&self, word: &str) -> Option<String> {
        let stands = self.kept.contains(word) || word.starts_with(|c: char| c.is_ascii_digit());
        if stands { None } else { self.without_ending(word) }
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
}

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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn plurals_and_endings_lead_to_the_word() {
        let set = |words: &[&str]| words.iter().map(|word| (*word).to_owned()).collect();
        let endings = Endings::new(set(&["sheet", "drip", "overlap"]), set(&["sheets", "gutter"]));
        assert_eq!(endings.read("sheets").as_deref(), Some("sheet"));
        assert_eq!(endings.read("dripping").as_deref(), Some("drip"));
        assert_eq!(endings.read("gutter"), None);
        assert_eq!(endings.read("gutted"), None);
    }
}
