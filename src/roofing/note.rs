//! Something to tell the person, without the words: a message id and its figures.
//!
//! The sentence itself stands in `dialogs/words/`; the figures become text in the person's own units there.

use std::borrow::Cow;
use std::collections::BTreeMap;

use crate::units::reading::Reading;
use crate::units::{Angle, Area, Length, Mass, Money};

/// A figure or word that a message is filled with.
#[derive(Clone, Debug, PartialEq)]
pub enum Arg {
    /// A length, said in the person's units.
    Length(Length),
    /// A size as labels give it: whole millimetres stay so for everybody, for nobody sells 11/16 inch boards.
    Size(Length),
    /// A figure said in the unit it was written in, whatever the person's units.
    Reading(Reading),
    /// Several lengths, said as a list.
    Lengths(Vec<Length>),
    /// An angle.
    Angle(Angle),
    /// An area.
    Area(Area),
    /// A mass.
    Mass(Mass),
    /// An amount of money.
    Money(Money),
    /// A whole number, which also picks the plural.
    Count(i64),
    /// A name out of the catalogue or the book, or what the person typed.
    Text(String),
    /// Another message without figures, said in place: `Word("slope-front")`.
    Word(String),
    /// Another message with its figures, said in place.
    Note(Box<Note>),
    /// Several messages, said in place as a list.
    Notes(Vec<Note>),
}

/// A message id with its figures.
#[derive(Clone, Debug, PartialEq)]
pub struct Note {
    /// The id of a message in `dialogs/words/`.
    pub message: String,
    /// The message's figures by name.
    pub args: BTreeMap<Cow<'static, str>, Arg>,
}

impl Note {
    /// A message without figures.
    pub fn new(message: impl Into<String>) -> Self {
        Self { message: message.into(), args: BTreeMap::new() }
    }

    /// The same message with one figure more.
    #[must_use]
    pub fn with(mut self, name: &'static str, arg: Arg) -> Self {
        self.args.insert(Cow::Borrowed(name), arg);
        self
    }

    /// The same message with a length more.
    #[must_use]
    pub fn length(self, name: &'static str, length: Length) -> Self {
        self.with(name, Arg::Length(length))
    }

    /// The same message with a size out of the shop more: of a board, a nail, a screw.
    #[must_use]
    pub fn size(self, name: &'static str, size: Length) -> Self {
        self.with(name, Arg::Size(size))
    }

    /// The same message with a count more.
    #[must_use]
    pub fn count(self, name: &'static str, count: usize) -> Self {
        self.with(name, Arg::Count(i64::try_from(count).unwrap_or(i64::MAX)))
    }

    /// The same message with a name or the person's own words more.
    #[must_use]
    pub fn text(self, name: &'static str, text: impl Into<String>) -> Self {
        self.with(name, Arg::Text(text.into()))
    }

    /// The same message with another message said in place.
    #[must_use]
    pub fn word(self, name: &'static str, message: impl Into<String>) -> Self {
        self.with(name, Arg::Word(message.into()))
    }
}

/// What is written on pieces in words, each run together: `1, 4b, 6–9, 12a–12f`.
pub fn in_short(marks: &[String]) -> String {
    let mut runs: Vec<(&str, &str)> = Vec::new();
    for mark in marks {
        match runs.last_mut() {
            Some((_, last)) if follows(last, mark) => *last = mark,
            _ => runs.push((mark, mark)),
        }
    }
    let say = |(first, last): &(&str, &str)| {
        if first == last { (*first).to_owned() } else { format!("{first}–{last}") }
    };
    runs.iter().map(say).collect::<Vec<_>>().join(", ")
}

/// Whether a mark comes straight after another: the next whole number, or the next letter of one sheet.
fn follows(before: &str, mark: &str) -> bool {
    if let (Ok(before), Ok(mark)) = (before.parse::<usize>(), mark.parse::<usize>()) {
        return before.checked_add(1) == Some(mark);
    }
    let parts = |mark: &str| {
        let letter = mark.bytes().next_back().filter(u8::is_ascii_lowercase)?;
        Some((mark.trim_end_matches(char::from(letter)).to_owned(), letter))
    };
    match (parts(before), parts(mark)) {
        (Some((sheet, letter)), Some((same, next))) => sheet == same && letter.checked_add(1) == Some(next),
        _ => false,
    }
}

/// Rising numbers in words: `1–3, 5`.
pub fn ranges(numbers: &[usize]) -> String {
    let mut runs: Vec<(usize, usize)> = Vec::new();
    for number in numbers {
        match runs.last_mut() {
            Some((_, last)) if *last == *number || *last + 1 == *number => *last = *number,
            _ => runs.push((*number, *number)),
        }
    }
    let say = |(first, last): &(usize, usize)| {
        if first == last { first.to_string() } else { format!("{first}–{last}") }
    };
    runs.iter().map(say).collect::<Vec<_>>().join(", ")
}
