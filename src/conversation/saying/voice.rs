//! One person's language and units, and the words that go with them.

use super::{Button, Draft, Line, MOST_BUTTONS};
use crate::conversation::wording::Words;
use crate::message::{Choice, Say};
use crate::roofing::note::Note;
use crate::units::UsualUnit;

/// How one person is spoken to.
#[derive(Clone, Copy)]
pub struct Voice<'a> {
    /// The sentences.
    pub words: &'a Words,
    /// Their language.
    pub language: &'a str,
    /// Their units.
    pub units: UsualUnit,
}

impl Voice<'_> {
    /// The sentence of a note.
    pub fn say(&self, note: &Note) -> String {
        self.words.say(self.language, note, self.units)
    }

    /// A whole message; `prompt` is the token of the question that is open, for drafts that ask.
    ///
    /// Paragraphs are parted by an empty line; list entries follow one another and start with a bullet.
    pub fn speak(&self, draft: &Draft, prompt: u64) -> Say {
        let mut text = String::new();
        let mut in_list = false;
        for line in &draft.lines {
            let (said, is_entry) = match line {
                Line::Paragraph(note) => (capitalised(self.say(note).trim()), false),
                Line::Item(note) => (format!("• {}", self.in_one_line(note)), true),
                Line::Numbered(number, note) => (format!("{number}. {}", self.in_one_line(note)), true),
            };
            if !text.is_empty() {
                text.push_str(if in_list && is_entry { "\n" } else { "\n\n" });
            }
            text.push_str(&said);
            in_list = is_entry;
        }
        Say {
            id: draft.id.clone(),
            text,
            choices: self.choices(&draft.buttons),
            prompt: draft.asks.then_some(prompt),
            files: Vec::new(),
        }
    }

    fn in_one_line(&self, note: &Note) -> String {
        capitalised(&self.say(note).split_whitespace().collect::<Vec<_>>().join(" "))
    }

    /// At most six: the first five and the last, which is the way out.
    fn choices(&self, buttons: &[Button]) -> Vec<Choice> {
        let kept = match buttons {
            [first @ .., last] if buttons.len() > MOST_BUTTONS => {
                first.iter().take(MOST_BUTTONS - 1).chain([last]).collect::<Vec<_>>()
            }
            all => all.iter().collect(),
        };
        kept.into_iter()
            .map(|button| Choice { id: button.id.clone(), label: self.say(&button.label) })
            .collect()
    }
}

/// A line starts with a capital, whatever word it happens to start with.
fn capitalised(text: &str) -> String {
    let mut chars = text.chars();
    match chars.next() {
        Some(first) => first.to_uppercase().chain(chars).collect(),
        None => String::new(),
    }
}
