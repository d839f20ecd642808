//! The shipped English sentences as captions, in a person's units: a sentence that is missing fails the test.

use lapwise::book::Book;
use lapwise::drawing::Captions;
use lapwise::export::captions::Spoken;
use lapwise::roofing::note::Note;
use lapwise::units::{Length, UsualUnit};

pub(crate) struct English(pub(crate) Book, UsualUnit);

impl English {
    pub(crate) fn shipped() -> Self {
        Self(Book::shipped(), UsualUnit::Mm)
    }

    /// The same in feet and inches.
    #[allow(dead_code, reason = "each test target uses its own part")]
    pub(crate) fn in_feet_and_inches() -> Self {
        Self(Book::shipped(), UsualUnit::FtIn)
    }

    fn spoken(&self) -> Spoken<'_> {
        Spoken { words: &self.0.words, language: "en", units: self.1 }
    }
}

impl Captions for English {
    fn say(&self, note: &Note) -> String {
        assert!(self.0.words.has("en", &note.message), "no sentence `{}`", note.message);
        for figure in self.0.words.variables(&note.message) {
            assert!(note.args.contains_key(figure.as_str()), "`{}` is not given `{figure}`", note.message);
        }
        self.spoken().say(note)
    }

    fn length(&self, length: Length) -> String {
        self.spoken().length(length)
    }

    fn unit(&self) -> Option<&'static str> {
        self.spoken().unit()
    }
}
