//! The shipped English sentences as captions, with lengths in millimetres.

use lapwise::book::Book;
use lapwise::drawing::Captions;
use lapwise::roofing::note::Note;
use lapwise::units::{Length, UsualUnit};

pub(crate) struct English(pub(crate) Book);

impl English {
    pub(crate) fn shipped() -> Self {
        Self(Book::shipped())
    }
}

impl Captions for English {
    fn say(&self, note: &Note) -> String {
        assert!(self.0.words.has("en", &note.message), "no sentence `{}`", note.message);
        self.0.words.say("en", note, UsualUnit::Mm)
    }

    fn length(&self, length: Length) -> String {
        length.mm().to_string()
    }
}
