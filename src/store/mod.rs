//! Where chats are kept: one contract, any engine.
//!
//! The contract knows bytes, not roofs: what an event or a message looks like is written and read by
//! `store/record.rs`, with a version. Nothing is written but through the functions here, and everything they
//! report as done is on the disk.

use std::future::Future;

use crate::message::ChatId;

/// How often a chat's session has been committed. 0 is a chat nobody has written to.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Revision(pub u64);

/// The key of an inbound message: unique over all channels (`telegram/00000000000000000042`), sorted by age
/// within a channel.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct InboxKey(pub String);

/// The key of an outbound message: sorted by age within a chat.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct OutboxKey {
    /// To whom.
    pub chat: ChatId,
    /// Its place in the chat.
    pub sequence: u64,
}

/// Whether a message was new.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kept {
    /// It is kept now, and will be worked.
    New,
    /// It was kept before: waiting, or worked.
    Repeat,
}

/// A session as stored.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct StoredSession {
    /// The revision to commit against.
    pub revision: Revision,
    /// Its events, oldest first, each as `record.rs` wrote it.
    pub events: Vec<Vec<u8>>,
}

/// One turn, all or nothing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Commit {
    /// Whose chat.
    pub chat: ChatId,
    /// The revision the session was read at.
    pub read_at: Revision,
    /// Events to append.
    pub events: Vec<Vec<u8>>,
    /// Messages to send, in order.
    pub says: Vec<Vec<u8>>,
    /// The inbound message that is worked by this turn.
    pub worked: Option<InboxKey>,
    /// When this is, in seconds since 1970: kept for expiry.
    pub now: u64,
}

/// A message that waits to be sent.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Waiting {
    /// Its key.
    pub key: OutboxKey,
    /// The message, as `record.rs` wrote it.
    pub say: Vec<u8>,
}

/// An inbound message that waits to be worked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Arrived {
    /// Its key.
    pub key: InboxKey,
    /// Whose chat.
    pub chat: ChatId,
    /// The message, as `record.rs` wrote it.
    pub inbound: Vec<u8>,
    /// How many times working it has been tried and failed.
    pub tries: u32,
}

/// How many things a chat's erasure removed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Erased {
    /// Events of the session.
    pub events: usize,
    /// Inbound messages, worked or not.
    pub inbox: usize,
    /// Outbound messages.
    pub outbox: usize,
    /// Everything else kept under the chat's name (shares, notes).
    pub other: usize,
}

/// What can go wrong.
#[derive(Debug, thiserror::Error)]
pub enum StoreError {
    /// Somebody else committed in between: load again and work the turn again.
    #[error("the chat was written to in between (at {found:?}, read at {read_at:?})")]
    Conflict {
        /// The revision the caller read.
        read_at: Revision,
        /// The revision that is there.
        found: Revision,
    },
    /// What is stored cannot be read.
    #[error("the store is damaged: {0}")]
    Damaged(String),
    /// The directory belongs to something else, or to a newer lapwise.
    #[error("this is not a lapwise store: {0}")]
    Foreign(String),
    /// Another process has it open.
    #[error("the store is in use by another process: {0}")]
    InUse(String),
    /// The disk said no.
    #[error("the store could not be written or read: {0}")]
    Io(String),
}

/// A place where chats are kept.
///
/// Every function that writes returns only when what it wrote would survive a power cut.
pub trait Store: Send + Sync + 'static {
    /// Keeps an inbound message before it is acknowledged. A key kept before changes nothing.
    fn keep(
        &self,
        key: InboxKey,
        chat: ChatId,
        inbound: Vec<u8>,
    ) -> impl Future<Output = Result<Kept, StoreError>> + Send;

    /// Messages kept and not yet worked, oldest first, at most `limit`.
    fn arrived(&self, limit: usize) -> impl Future<Output = Result<Vec<Arrived>, StoreError>> + Send;

    /// Notes that working a message failed once more; answers how often it has by now.
    fn failed(&self, key: InboxKey) -> impl Future<Output = Result<u32, StoreError>> + Send;

    /// Sets a message aside, out of the way of others, kept for a person to look at.
    fn set_aside(&self, key: InboxKey) -> impl Future<Output = Result<(), StoreError>> + Send;

    /// A chat's session; an unknown chat is an empty one at revision 0.
    fn load(&self, chat: ChatId) -> impl Future<Output = Result<StoredSession, StoreError>> + Send;

    /// One turn: appends events, queues messages, marks the inbound message worked, in one transaction.
    fn commit(&self, commit: Commit) -> impl Future<Output = Result<Revision, StoreError>> + Send;

    /// The oldest message of each chat that waits to be sent, at most `limit` chats.
    fn waiting(&self, limit: usize) -> impl Future<Output = Result<Vec<Waiting>, StoreError>> + Send;

    /// All messages of one chat that wait to be sent, oldest first.
    fn waiting_for(&self, chat: ChatId) -> impl Future<Output = Result<Vec<Waiting>, StoreError>> + Send;

    /// Strikes a message that has been delivered.
    fn strike(&self, key: OutboxKey) -> impl Future<Output = Result<(), StoreError>> + Send;

    /// Erases everything held of a chat.
    fn erase(&self, chat: ChatId) -> impl Future<Output = Result<Erased, StoreError>> + Send;

    /// Every chat with the time of its last commit.
    fn chats(&self) -> impl Future<Output = Result<Vec<(ChatId, u64)>, StoreError>> + Send;
}
