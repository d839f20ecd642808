//! The conversation: a pure function from (book, session, message, now) to events and says.

pub mod answers;
pub mod script;
pub mod understanding;
pub mod wording;
