//! A few of the person's own words about one fact: kept and said back as they are, never read for a figure or a rule.

use crate::units::reading::{Context, Verdict, read};
use crate::units::{Quantity, UsualUnit};

/// What a few words are to tell, and so what must not be missing from them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Detail {
    /// A day: without a figure it is none that another person could look up.
    Day,
    /// How far something is: without a figure it is no distance.
    Distance,
    /// Who did a thing, and when. "Not sure" will do.
    Account,
}

/// Some words on one line: not empty, not long, nothing in them that cannot be seen.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Words(String);

impl Detail {
    /// Every kind.
    pub const ALL: &'static [Self] = &[Self::Day, Self::Distance, Self::Account];

    /// The choice by which an account says that nobody knows; a day or a distance has none.
    pub const NOT_SURE: &'static str = "not_sure";

    /// The choices a detail may take in place of words.
    pub const fn choices(self) -> &'static [&'static str] {
        match self {
            Self::Day | Self::Distance => &[],
            Self::Account => &[Self::NOT_SURE],
        }
    }

    /// Whether words tell what is to be told. No more is asked of them than a figure, or a letter.
    pub fn is_told_by(self, words: &Words) -> bool {
        let text = words.as_str();
        match self {
            Self::Day => text.contains(|c: char| c.is_ascii_digit()) && !is_only_length(text),
            Self::Distance => text.contains(|c: char| c.is_ascii_digit()) || tells_length(text),
            Self::Account => text.contains(char::is_alphabetic),
        }
    }
}

/// "6 m" is how far, not when; "3 November, 6 m away" tells both.
fn is_only_length(text: &str) -> bool {
    const MOST_WORDS: usize = 2;
    text.split_whitespace().count() <= MOST_WORDS && tells_length(text)
}

/// Whether a length is told, in figures or in words.
fn tells_length(text: &str) -> bool {
    let context = Context { quantity: Quantity::Length, usual: Some(UsualUnit::M), boundaries: &[] };
    matches!(read(text, &context), Verdict::Value(reading) if !reading.assumed)
}

impl Words {
    /// So many letters at most.
    pub const MOST: usize = 120;

    /// The words of a text, spaced singly; `None` where nothing is to be seen in it, or too much.
    pub fn new(text: &str) -> Option<Self> {
        let seen: String = text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
        let seen = seen.replace(is_unseen, "");
        let words = seen.split_whitespace().collect::<Vec<_>>().join(" ");
        let fits = !words.is_empty() && words.chars().count() <= Self::MOST;
        fits.then_some(Self(words))
    }

    /// As they were said.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

/// Signs that show nothing themselves but can hide or turn round what stands beside them.
const fn is_unseen(c: char) -> bool {
    matches!(c, '\u{ad}' | '\u{61c}' | '\u{180e}' | '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{feff}')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_are_one_short_line_that_can_be_seen() {
        let kept = |text: &str| Words::new(text).map(|words| words.0);
        assert_eq!(kept("  Hill\tlab,\n in June "), Some("Hill lab, in June".to_owned()));
        assert_eq!(kept("6\u{202e} m\u{200b}"), Some("6 m".to_owned()));
        for nothing in ["", "  \n", "\u{200b}\u{feff}", "\u{0}"] {
            assert_eq!(kept(nothing), None, "{nothing:?}");
        }
        assert!(kept(&"é".repeat(Words::MOST)).is_some());
        assert_eq!(kept(&"é".repeat(Words::MOST + 1)), None);
    }

    #[test]
    fn a_day_and_a_distance_have_a_figure() {
        let told = |detail: Detail, text| detail.is_told_by(&Words::new(text).expect("words"));
        for day in
            ["3 November, 6 m away", "3 November", "12/11/2026", "on the 3rd", "Nov 3, they came twice"]
        {
            assert!(told(Detail::Day, day), "{day}");
        }
        for no_day in ["a while back", "last week", "6 m", "six metres", "20 ft"] {
            assert!(!told(Detail::Day, no_day), "{no_day}");
        }
        for distance in ["6 m", "six metres", "about 20 ft from the ridge", "6m off"] {
            assert!(told(Detail::Distance, distance), "{distance}");
        }
        for no_distance in ["quite far", "out of reach", "over the road"] {
            assert!(!told(Detail::Distance, no_distance), "{no_distance}");
        }
        assert!(told(Detail::Account, "a carpenter"));
        assert!(!told(Detail::Account, "?!"));
    }
}
