//! What is wrong with a book, and where: said to the adviser who wrote it.

use std::fmt;

use super::files::BookFile;

/// One thing to put right in a book.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Fault {
    /// The file, as `dialogs/rules/slope.toml`.
    pub file: String,
    /// The line, from 1.
    pub line: usize,
    /// What is wrong and what to do about it.
    pub what: String,
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}:{}: {}", self.file, self.line, self.what)
    }
}

/// A place in a file of the book.
#[derive(Clone, Copy, Debug)]
pub(super) struct Place<'f> {
    pub(super) file: &'f BookFile,
    pub(super) offset: usize,
}

/// The faults found so far.
#[derive(Debug, Default)]
pub(super) struct Faults(Vec<Fault>);

impl Faults {
    /// Notes a fault at a place.
    pub(super) fn at(&mut self, place: Place<'_>, what: impl Into<String>) {
        let line = place.file.line_of(place.offset);
        self.0.push(Fault { file: place.file.path.clone(), line, what: what.into() });
    }

    /// Notes a fault of a whole file, or of one that is not there.
    pub(super) fn in_file(&mut self, file: &str, what: impl Into<String>) {
        self.0.push(Fault { file: file.to_owned(), line: 1, what: what.into() });
    }

    /// All of them, in the order of files and lines, each said once.
    pub(super) fn into_sorted(mut self) -> Vec<Fault> {
        self.0.sort();
        self.0.dedup();
        self.0
    }
}
