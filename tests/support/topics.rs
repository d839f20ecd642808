//! The shipped book, its topics, the kept messages, and the phrasings that are only measured.

use std::fs;

use lapwise::book::{self, Book};
use lapwise::conversation::understanding::{self, Understander};
use serde::Deserialize;

use super::root;

/// One phrasing that is only measured.
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

#[derive(Debug, Deserialize)]
struct Messages {
    message: Vec<Message>,
}

/// The phrasings that are only measured.
pub(crate) fn measured() -> Vec<Message> {
    let dir = root().join("tests/questions/measured");
    let mut files: Vec<_> = fs::read_dir(&dir).unwrap().map(|entry| entry.unwrap().path()).collect();
    files.sort();
    let read = |file| toml::from_str::<Messages>(&fs::read_to_string(file).unwrap()).unwrap().message;
    files.iter().flat_map(read).collect()
}

/// The messages that the book keeps.
pub(crate) fn kept() -> Vec<understanding::Message> {
    book::messages(&root().join("dialogs")).unwrap_or_else(|faults| panic!("{faults:#?}"))
}

/// The shipped book.
pub(crate) fn book() -> Book {
    Book::load(&root().join("dialogs")).unwrap_or_else(|faults| panic!("{faults:#?}"))
}

/// An understander of a book's topics.
pub(crate) fn understander(book: &Book) -> Understander {
    book.topics.understander().clone()
}
