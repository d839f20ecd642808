//! What a chat is: a fold of events.

pub mod event;
pub mod session;
mod turn;

pub use turn::{Turn, Wish};
