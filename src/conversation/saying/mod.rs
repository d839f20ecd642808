//! What the bot says: drafts made of message ids and figures, and the voice that turns them into words.

/// As many buttons as a phone shows without scrolling.
const MOST_BUTTONS: usize = 6;

pub(in crate::conversation) mod asking;
mod draft;
pub(in crate::conversation) mod picking;
pub(in crate::conversation) mod reasons;
pub mod report;
mod voice;

pub use asking::facts_in_words;
pub use draft::{Attach, Button, Draft, Line};
pub use voice::Voice;
