//! The words and figures of drawings and papers, for one person.

use crate::conversation::wording::Words;
use crate::drawing::Captions;
use crate::roofing::note::Note;
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
}
