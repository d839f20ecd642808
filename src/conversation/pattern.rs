//! A way of saying something, as the book writes it: a regular expression, capitals or not.

use std::sync::OnceLock;

use regex::Regex;

/// Words that mean something when typed.
///
/// It is compiled when first used: the book has hundreds, and one message looks at few.
#[derive(Clone, Debug)]
pub struct Pattern {
    written: String,
    compiled: OnceLock<Option<Regex>>,
}

impl Pattern {
    /// A pattern as written in the book.
    pub fn new(written: impl Into<String>) -> Self {
        Self { written: written.into(), compiled: OnceLock::new() }
    }

    /// What is wrong with it, where it cannot be compiled.
    pub fn fault(&self) -> Option<regex::Error> {
        Regex::new(&self.either_case()).err()
    }

    /// Whether it stands in a text.
    pub fn is_match(&self, text: &str) -> bool {
        let compiled = self.compiled.get_or_init(|| Regex::new(&self.either_case()).ok());
        compiled.as_ref().is_some_and(|regex| regex.is_match(text))
    }

    fn either_case(&self) -> String {
        format!("(?i){}", self.written)
    }
}
