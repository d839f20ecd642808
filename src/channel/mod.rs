//! Channels: they carry messages between a person and the app, and never decide anything.

#[cfg(feature = "serve")]
pub mod client;
#[cfg(feature = "serve")]
pub mod listen;
pub mod pipe;
pub mod rooms;
pub mod supplier;
#[cfg(feature = "telegram")]
pub mod telegram;
pub mod terminal;
#[cfg(feature = "web")]
pub mod web;

use std::future::Future;

use crate::message::{Inbound, Say};

/// What one message led to.
#[derive(Clone, Debug, Default)]
pub struct Replied {
    /// What to say.
    pub says: Vec<Say>,
    /// Where the chat stands, as machines read it.
    pub state: serde_json::Value,
}

/// A message could not be worked; nothing was lost, and the person is owed an apology.
#[derive(Debug, thiserror::Error)]
#[error("{0}")]
pub struct TurnFault(pub String);

/// Whoever works messages: the app, behind any channel.
pub trait Turns: Send + Sync + 'static {
    /// Works one message. When it returns, what it led to is kept.
    fn turn(&self, inbound: Inbound) -> impl Future<Output = Result<Replied, TurnFault>> + Send;
}
