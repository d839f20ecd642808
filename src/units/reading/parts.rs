//! What a single word can be in a figure, for whoever looks where the figures of a message stand.

use super::letters;
use super::numbers;
use super::tokens;
use super::words::{Cardinal, Sense, cardinal, senses, unit};
use super::{WrittenUnit, tokens::Form};

/// What a word can be in a figure.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// "eight", "forty": a number by itself.
    Number,
    /// "hundred", "point": goes on with a number.
    Joins,
    /// "half", "quarter".
    Share,
    /// "metres", "mm".
    Unit(WrittenUnit),
}

/// What a word can be in a figure; `None` where it is no part of one, or only by what stands around it.
pub fn part_of(word: &str) -> Option<Part> {
    if let Some(unit) = unit(word) {
        return Some(Part::Unit(unit.into()));
    }
    match cardinal(word)? {
        // "Nothing near" measures nothing.
        Cardinal::Digit(0) if !matches!(word, "zero" | "nought" | "naught") => None,
        Cardinal::Digit(_) | Cardinal::Teen(_) | Cardinal::Tens(_) => Some(Part::Number),
        Cardinal::Hundred | Cardinal::Thousand | Cardinal::Point => Some(Part::Joins),
        Cardinal::Part(_) => Some(Part::Share),
    }
}

/// The whole number a text is, in digits or in words: "twenty five".
pub fn whole_number(text: &str) -> Option<u32> {
    let pieces = tokens::tokens(&letters::plain(text));
    match numbers::in_one_piece(&senses(&pieces)).as_slice() {
        [only] => match only.sense {
            Sense::Number(numeral) if numeral.form == Form::Whole => numeral.value.as_whole_up_to(MOST),
            Sense::A => Some(1),
            _ => None,
        },
        _ => None,
    }
}

/// Nobody counts more of anything on a roof.
const MOST: u32 = 100_000;
