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

impl Place<'_> {
    fn fault(self, what: impl Into<String>) -> Fault {
        let line = self.file.line_of(self.offset);
        Fault { file: self.file.path.clone(), line, what: what.into() }
    }
}

/// The faults found so far.
#[derive(Debug)]
pub(super) struct Faults {
    book: String,
    found: Vec<Fault>,
    unreadable: Vec<Fault>,
}

impl Faults {
    /// No faults yet in the book of that folder.
    pub(super) fn of(book: impl Into<String>) -> Self {
        Self { book: book.into(), found: Vec::new(), unreadable: Vec::new() }
    }

    /// Notes a fault at a place.
    pub(super) fn at(&mut self, place: Place<'_>, what: impl Into<String>) {
        self.found.push(place.fault(what));
    }

    /// Notes that nothing can be made of what stands at a place.
    pub(super) fn unreadable(&mut self, place: Place<'_>, what: impl Into<String>) {
        self.unreadable.push(place.fault(what));
    }

    /// Notes that something is missing from a file or a folder, or that it is not there at all.
    pub(super) fn missing_from(&mut self, file: &str, what: impl Into<String>) {
        self.found.push(Fault { file: format!("{}/{file}", self.book), line: 1, what: what.into() });
    }

    /// All of them, in the order of files and lines, each said once.
    ///
    /// While something cannot be read at all only that is said: the rest would follow from it.
    pub(super) fn into_sorted(self) -> Vec<Fault> {
        let mut faults = if self.unreadable.is_empty() { self.found } else { self.unreadable };
        faults.sort();
        faults.dedup();
        faults
    }
}
