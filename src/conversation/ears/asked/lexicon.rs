//! The words by which figures are put, as the book has them.

use std::collections::BTreeMap;

use regex::Regex;

use super::{Kind, Sense, Subject};

/// A pattern of the book, made ready.
pub type Pattern = Regex;

/// Makes a pattern ready.
///
/// # Errors
/// What is wrong with it, in the words of who reads patterns.
pub fn pattern(text: &str) -> Result<Pattern, String> {
    Regex::new(text).map_err(|error| error.to_string())
}

/// What a unit measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Of {
    /// Lengths; one is so many micrometres.
    Length,
    /// Corrugations.
    Waves,
    /// Angles, in degrees.
    Angle,
    /// Temperatures, in degrees Celsius.
    Celsius,
    /// Temperatures, in degrees Fahrenheit.
    Fahrenheit,
    /// Speeds; one is so many micrometres a second.
    Speed,
    /// Masses; one is so many grams.
    Mass,
    /// Money.
    Money,
    /// Times of work; one is so many minutes.
    Time,
    /// Years.
    Years,
}

impl Of {
    /// Every one with the name it has in the book.
    pub const ALL: &'static [(Self, &'static str)] = &[
        (Self::Length, "length"),
        (Self::Waves, "waves"),
        (Self::Angle, "angle"),
        (Self::Celsius, "celsius"),
        (Self::Fahrenheit, "fahrenheit"),
        (Self::Speed, "speed"),
        (Self::Mass, "mass"),
        (Self::Money, "money"),
        (Self::Time, "time"),
        (Self::Years, "years"),
    ];
}

/// Words inside and around numbers.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Joining {
    /// Stands between the words of one number.
    pub between: String,
    /// Makes what follows less than nothing.
    pub minus: String,
    /// Joins the two numbers of a slope; as a unit it is an inch.
    pub ratio: String,
    /// Joins the two figures of a size.
    pub by: Vec<String>,
    /// Single signs that may stand apart from their number.
    pub apart: Vec<String>,
    /// The word for a slope is an inch too, but never before these.
    pub never_inch: Vec<String>,
    /// Endings of a number that only orders.
    pub ordinal: Vec<String>,
}

/// The lexicon of one language.
#[derive(Clone, Debug)]
pub struct Lexicon {
    /// Number words and what they are worth.
    pub numbers: BTreeMap<String, i64>,
    /// Words for a part of a unit, in thousandths.
    pub parts: BTreeMap<String, i64>,
    /// Units by word.
    pub units: BTreeMap<String, (Of, i64)>,
    /// What is read as something else first.
    pub rewrites: Vec<(Regex, String)>,
    /// Words inside and around numbers.
    pub joining: Joining,
    /// “One” is a number before these.
    pub one_before: Vec<String>,
    /// What makes degrees a temperature.
    pub weather: Regex,
    /// What makes them a slope all the same.
    pub slope: Regex,
    /// What makes pounds a weight.
    pub heavy: Regex,
    /// What tells that a nail goes where every corrugation is nailed.
    pub edge: Regex,
    /// What asks something else of a figure than whether it will do.
    pub elsewhere: Regex,
    /// Words that part a figure from a noun.
    pub divides: Regex,
    /// Where one question ends and the next begins.
    pub split: Regex,
    /// A figure that is only quoted from the bot or the plan, beside the one that is put.
    pub quoted: Regex,
    /// What asks for a figure.
    pub open: Regex,
    /// What puts one all the same.
    pub unless: Regex,
    /// What makes it a question.
    pub asking: Regex,
    /// Senses, the first that fits is taken.
    pub senses: Vec<(Sense, Regex)>,
    /// Subjects, in the order of which wins where two are as near.
    pub subjects: Vec<(Subject, Vec<Kind>, Regex)>,
}

impl Lexicon {
    pub(super) fn unit(&self, word: &str) -> Option<(Of, i64)> {
        self.units.get(word).copied()
    }

    pub(super) fn stands_apart(&self, word: &str) -> bool {
        self.joining.apart.iter().any(|sign| sign == word)
    }

    pub(super) fn may_follow_inch(&self, word: &str) -> bool {
        !self.joining.never_inch.iter().any(|known| known == word)
    }

    pub(super) fn is_ordinal(&self, word: &str) -> bool {
        self.joining.ordinal.iter().any(|ending| ending == word)
    }

    pub(super) fn rewritten(&self, text: &str) -> String {
        self.rewrites
            .iter()
            .fold(text.to_owned(), |text, (from, to)| from.replace_all(&text, to).into_owned())
    }
}
