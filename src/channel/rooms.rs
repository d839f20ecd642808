//! What a page needs of whoever stands behind it: chats that can be looked at again, and the supplier's side.

use std::future::Future;

use super::supplier::{Answered, Mark, Sheet};
use super::{TurnFault, Turns};
use crate::message::{ChatId, Inbound, Say};

/// Who said something.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Spoken {
    /// The person, in the words that stood on the button or that they typed.
    You(String),
    /// The bot. Its files carry names and descriptions here; their bytes are asked for by [`Rooms::file`].
    Bot(Say),
}

/// One thing said in a chat.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    /// Its place in the chat: grows by one, from 1.
    pub number: u64,
    /// What was said.
    pub spoken: Spoken,
}

/// A file of a chat.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct File {
    /// Its media type.
    pub media_type: String,
    /// Its bytes.
    pub bytes: Vec<u8>,
}

/// Chats for a page.
pub trait Rooms: Turns {
    /// What a person is greeted with who has not said anything yet. Keeps nothing: looking is free.
    fn welcome(&self) -> Vec<Say>;

    /// What was said in a chat after an entry (0: from the start), oldest first; at most the last 200.
    fn said(&self, chat: ChatId, after: u64) -> impl Future<Output = Result<Vec<Entry>, TurnFault>> + Send;

    /// Works one message and keeps what was said; `shown` is how the person's own part reads.
    ///
    /// A message whose id was worked before changes nothing.
    fn hear(&self, inbound: Inbound, shown: String) -> impl Future<Output = Result<(), TurnFault>> + Send;

    /// A file of this chat by its digest; `None` where it is another's, or nobody's.
    fn file(
        &self,
        chat: ChatId,
        digest: String,
    ) -> impl Future<Output = Result<Option<File>, TurnFault>> + Send;

    /// The sheet behind a link; `None` where there is no such link, or no longer.
    fn sheet(&self, token: String) -> impl Future<Output = Result<Option<Sheet>, TurnFault>> + Send;

    /// Tells the person what a supplier marked, line by line.
    fn answer(
        &self,
        token: String,
        marks: Vec<Mark>,
    ) -> impl Future<Output = Result<Answered, TurnFault>> + Send;

    /// Whether chats can be kept just now.
    fn ready(&self) -> impl Future<Output = bool> + Send;
}
