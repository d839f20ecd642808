//! The shipped topics.

use lapwise::book::Book;
use lapwise::book::topics::read_topics;
use lapwise::conversation::understanding::Understander;

/// An understander of the shipped topics.
pub fn understander() -> Understander {
    let book = Book::load(&super::root().join("dialogs")).unwrap_or_else(|faults| panic!("{faults:#?}"));
    read_topics(&book.topics).unwrap_or_else(|faults| {
        panic!("{}", faults.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n"))
    })
}
