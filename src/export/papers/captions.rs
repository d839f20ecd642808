//! The words and figures of drawings and papers, for one person.

use crate::conversation::wording::Words;
use crate::drawing::Captions;
use crate::roofing::note::{Arg, Note};
use crate::units::saying::{on_a_tape, say_length};
use crate::units::{Length, UsualUnit};

/// One person's language and units, as drawings and papers ask for them.
#[derive(Clone, Copy, Debug)]
pub struct Spoken<'a> {
    /// The sentences.
    pub words: &'a Words,
    /// Their language.
    pub language: &'a str,
    /// Their units.
    pub units: UsualUnit,
}

impl Spoken<'_> {
    /// The same for papers that are read beside a tape: in millimetres, as the drawings are, where metres are usual.
    pub fn on_paper(self) -> Self {
        let units = if self.units == UsualUnit::M { UsualUnit::Mm } else { self.units };
        Self { units, ..self }
    }
}

/// A day written `2026-11-25`, in words.
pub(super) fn day(date: &str) -> Arg {
    let mut parts = date.split('-');
    let (Some(year), Some(month), Some(day), None) = (parts.next(), parts.next(), parts.next(), parts.next())
    else {
        return Arg::Text(date.to_owned());
    };
    let (Ok(month), Ok(day)) = (month.parse(), day.parse()) else { return Arg::Text(date.to_owned()) };
    let note = Note::new("day").with("day", Arg::Count(day)).with("month", Arg::Count(month));
    Arg::Note(Box::new(note.text("year", year)))
}

impl Captions for Spoken<'_> {
    fn say(&self, note: &Note) -> String {
        self.words.say(self.language, note, self.units)
    }

    /// Millimetres without their unit, as is the custom on drawings; feet and inches with their marks.
    fn length(&self, length: Length) -> String {
        match self.units {
            UsualUnit::Mm | UsualUnit::M => on_a_tape(length, self.units).mm().to_string(),
            UsualUnit::FtIn => say_length(length, self.units).replace(" ft", "′").replace(" in", "″"),
        }
    }

    fn unit(&self) -> Option<&'static str> {
        match self.units {
            UsualUnit::Mm | UsualUnit::M => Some("drawing-key-millimetres"),
            UsualUnit::FtIn => None,
        }
    }
}
