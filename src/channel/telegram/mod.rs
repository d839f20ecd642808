//! Telegram, as data: what an update says, and which Bot API calls a message becomes.
//!
//! Nothing here waits, sends or stores; `serve` does. Read [`update`] for the way in, [`outgoing`] for the way
//! out, [`button`] for what ties an answer to its question.

pub mod address;
pub mod answered;
pub mod button;
pub mod call;
pub mod outgoing;
pub mod slim;
pub mod split;
pub mod text;
pub mod update;
