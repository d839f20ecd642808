//! What the server needs of the app behind it: to work a message, and the few words said outside a chat's turns.

use std::future::Future;

use crate::message::{Attachment, ChatId, Inbound, Say};
use crate::store::{InboxKey, StoreError};

/// What a turn did, as far as a channel must know.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Turned {
    /// The message was taken as the answer to the question it belonged to. A stale or second press of a button
    /// was not.
    pub answered: bool,
}

/// Why a turn was not worked.
#[derive(Debug, thiserror::Error)]
pub enum TurnError {
    /// The store could not do its part: the message waits, and this is no fault of its own.
    #[error(transparent)]
    Store(#[from] StoreError),
    /// The message itself cannot be worked; after three tries it is set aside. Says what went wrong without
    /// any words of the person's.
    #[error("the turn failed: {0}")]
    Fault(String),
}

/// Something said to a person outside the turns of their chat.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Phrase {
    /// Too many messages at once: some were not read.
    TooFast,
    /// A button in a group that belongs to another person's question. At most 200 characters.
    NotYourButton,
}

/// The commands shown in the client's menu, in one language.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Menu {
    /// A two-letter language code; `None` for everybody else.
    pub language: Option<String>,
    /// Each command without its slash (1 to 32 of a-z, 0-9, `_`), and what it does (1 to 256 characters).
    pub commands: Vec<(String, String)>,
}

/// Whoever answers: the app behind the server.
pub trait Answers: Send + Sync + 'static {
    /// Works one message and commits the turn, with `key` as the message it works, even where nothing changed.
    ///
    /// Called for one message of a chat at a time, in order; again for the same message where it failed.
    fn turn(&self, key: InboxKey, inbound: Inbound)
    -> impl Future<Output = Result<Turned, TurnError>> + Send;

    /// A message as [`Answers::turn`] committed it; an error says why it cannot be read.
    fn read_say(&self, say: &[u8]) -> Result<Say, String>;

    /// These files of a message to a chat, made where they are not yet; those that cannot be made are left out.
    fn made(
        &self,
        chat: ChatId,
        files: Vec<Attachment>,
    ) -> impl Future<Output = Result<Vec<Attachment>, TurnError>> + Send;

    /// A message that says that one of the person's could not be worked, that it is our fault, and that somebody will
    /// look: in the form that [`Answers::read_say`] reads. An error says why there is none.
    fn apology(&self) -> Result<Vec<u8>, String>;

    /// The words of a phrase.
    fn phrase(&self, phrase: Phrase) -> String;

    /// The commands to register.
    fn menus(&self) -> Vec<Menu>;
}
