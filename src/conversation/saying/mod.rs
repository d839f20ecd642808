//! What the bot says: drafts made of message ids and figures, and the voice that turns them into words.

pub(in crate::conversation) mod asking;
mod draft;
pub(in crate::conversation) mod picking;
mod reasons;
pub mod report;
mod voice;

pub use draft::{Button, Draft, Line, Picture};
pub use voice::Voice;
