//! The shipped book, its topics, and the kept phrasings.

use std::fs;

use lapwise::book::Book;
use lapwise::conversation::understanding::Understander;
use serde::Deserialize;

use super::root;

/// One kept phrasing.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Message {
    /// As it was typed.
    pub(crate) says: String,
    /// The topics it is about, the first one first.
    pub(crate) topics: Vec<String>,
    /// Topics that are no mistake.
    #[serde(default)]
    pub(crate) also: Vec<String>,
    /// To whom the person must be handed.
    pub(crate) handover: Option<String>,
}

impl Message {
    /// Whether somebody may be hurt.
    pub(crate) fn is_danger(&self) -> bool {
        matches!(self.handover.as_deref(), Some("emergency" | "licensed_pro"))
    }
}

#[derive(Debug, Deserialize)]
struct Messages {
    message: Vec<Message>,
}

/// The phrasings of one part: `tuning` or `measured`.
pub(crate) fn phrasings(part: &str) -> Vec<Message> {
    let dir = root().join("tests/questions").join(part);
    let mut files: Vec<_> = fs::read_dir(&dir).unwrap().map(|entry| entry.unwrap().path()).collect();
    files.sort();
    let read = |file| toml::from_str::<Messages>(&fs::read_to_string(file).unwrap()).unwrap().message;
    files.iter().flat_map(read).collect()
}

/// The shipped book.
pub(crate) fn book() -> Book {
    Book::load(&root().join("dialogs")).unwrap_or_else(|faults| panic!("{faults:#?}"))
}

/// An understander of a book's topics.
pub(crate) fn understander(book: &Book) -> Understander {
    book.topics.understander().clone()
}
