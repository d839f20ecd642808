//! What a chat is: a fold of events.

pub mod event;
pub mod progress;
pub mod session;
