//! Where chats are kept: one contract, any engine.
//!
//! The contract knows bytes, not roofs: what an event or a message looks like is written and read by
//! `store/record.rs`, with a version. Nothing is written but through the functions here, and everything they
//! report as done is on the disk.
//!
//! What is kept where is decided once, in the ledger, over any ordered map of bytes; [`MemoryStore`] and
//! [`SledStore`] are such maps. [`seal`] closes what is kept to everybody who has not got the key.

mod engine;
mod ledger;
mod memory;
pub mod record;
pub mod seal;
pub mod sled;
mod suspects;
pub mod transcript;

use std::future::Future;
use std::io::Write;

pub use memory::MemoryStore;
pub use seal::Keyring;
pub use sled::SledStore;
pub use suspects::Alone;

use crate::message::ChatId;

/// How often a chat's session has been committed. 0 is a chat nobody has written to.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Revision(pub u64);

/// The key of an inbound message: unique over all channels (`telegram/00000000000000000042`), sorted by age
/// within a channel, and always of the same chat. It stands unsealed in the store's files: a channel's own number,
/// nothing personal.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct InboxKey(pub String);

/// The key of an outbound message: sorted by age within a chat.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct OutboxKey {
    /// To whom.
    pub chat: ChatId,
    /// Its place: grows over the whole store and is never given twice, not even after an erasure.
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

/// Anything else that has to outlive the process: a share, a note, a mark.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Other {
    /// Its name, unique in the store. Kept sealed: a secret token may serve as a name.
    pub name: String,
    /// The chat it is erased with; `None` where it belongs to nobody.
    pub owner: Option<ChatId>,
    /// What it holds.
    pub value: Vec<u8>,
}

/// A change to something else, made in the same transaction as a turn.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Beside {
    /// Keeps it, in place of what had its name.
    Put(Other),
    /// Removes what has this name, if anything has.
    Remove(String),
}

/// Something told to a person who has been quiet, outside any turn: the chat stays as idle as it was.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Notice {
    /// Whose chat.
    pub chat: ChatId,
    /// When its last commit was. One that was committed to since is no longer quiet, and is told nothing.
    pub last: u64,
    /// What is kept of having told it.
    pub others: Vec<Other>,
    /// Messages to send, in order.
    pub says: Vec<Vec<u8>>,
}

/// What a backup holds.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct BackedUp {
    /// Records of every kind.
    pub records: u64,
    /// Chats among them.
    pub chats: u64,
}

/// What a whole store holds, every record of it opened.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Checked {
    /// Chats.
    pub chats: usize,
    /// Events of all sessions.
    pub events: usize,
    /// Inbound messages, worked or not.
    pub inbox: usize,
    /// Outbound messages.
    pub outbox: usize,
    /// Everything else.
    pub other: usize,
}

/// How many bytes are held, keys and seals included; what the engine's files take is more.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct HeldBytes {
    /// Of one chat: events, what was worked or set aside, everything kept under its name. A message that waits to be
    /// worked or sent only passes through.
    pub chat: u64,
    /// Of everybody.
    pub all: u64,
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
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum StoreError {
    /// Somebody else committed in between: load again and work the turn again.
    #[error("the chat was written to in between (at {found:?}, read at {read_at:?})")]
    Conflict {
        /// The revision the caller read.
        read_at: Revision,
        /// The revision that is there.
        found: Revision,
    },
    /// The message is not waiting to be worked: it was worked, set aside, erased, or never kept for that chat.
    #[error("the message {0:?} is not waiting to be worked")]
    NotWaiting(InboxKey),
    /// The key does not fit the store.
    #[error("the key does not open the store: {0}")]
    Key(String),
    /// What is stored cannot be read.
    #[error("the store is damaged: {0}")]
    Damaged(String),
    /// The directory belongs to something else, or to a newer lapwise.
    #[error("this is not a lapwise store: {0}")]
    Foreign(String),
    /// Another process has it open.
    #[error("the store is in use by another process: {0}")]
    InUse(String),
    /// There is too little room on the disk: nothing is lost, and nothing is taken until there is more.
    #[error("the disk is full: {0}")]
    Full(String),
    /// The disk said no.
    #[error("the store could not be written or read: {0}")]
    Io(String),
}

/// A place where chats are kept.
///
/// Every function that writes returns only when what it wrote would survive a power cut. A call that is dropped
/// half way may still be carried out.
pub trait Store: Send + Sync + 'static {
    /// Whether what is to be kept now would be taken: the disk has room, and the engine is well.
    fn ready(&self) -> impl Future<Output = Result<(), StoreError>> + Send;

    /// Keeps an inbound message before it is acknowledged. A key kept before changes nothing.
    fn keep(
        &self,
        key: InboxKey,
        chat: ChatId,
        inbound: Vec<u8>,
    ) -> impl Future<Output = Result<Kept, StoreError>> + Send;

    /// Messages kept and not yet worked, at most `limit`, in the order of their keys: oldest first in a channel.
    fn arrived(&self, limit: usize) -> impl Future<Output = Result<Vec<Arrived>, StoreError>> + Send;

    /// Waits until a message that failed so often may be tried: at once where it never failed. One that did may be what
    /// ended the process, and waits until this one has stood for a while, and until no other such is being tried.
    fn may_try(&self, tries: u32) -> impl Future<Output = Alone<'_>> + Send;

    /// Writes down that a message is about to be worked, before it is: should working it end the process, whatever
    /// way, the next opening counts that as a failure. Struck out by [`Store::end_try`], and when the store is closed.
    fn begin_try(&self, key: InboxKey) -> impl Future<Output = Result<(), StoreError>> + Send;

    /// The message is no longer being worked, however that went.
    fn end_try(&self, key: InboxKey) -> impl Future<Output = ()> + Send;

    /// Notes that working a message failed once more; answers how often it has by now.
    fn failed(&self, key: InboxKey) -> impl Future<Output = Result<u32, StoreError>> + Send;

    /// Sets a message aside, out of the way of others, kept for a person to look at.
    fn set_aside(&self, key: InboxKey) -> impl Future<Output = Result<(), StoreError>> + Send;

    /// Sets a message aside and says so, in one transaction: queues what is to be sent to its chat, and keeps the rest
    /// beside it.
    fn set_aside_saying(
        &self,
        key: InboxKey,
        says: Vec<Vec<u8>>,
        beside: Vec<Beside>,
    ) -> impl Future<Output = Result<(), StoreError>> + Send;

    /// Messages set aside, in the order of their keys, at most `limit`.
    fn aside(&self, limit: usize) -> impl Future<Output = Result<Vec<Arrived>, StoreError>> + Send;

    /// Puts a message that was set aside back into the queue, as one that was never tried.
    fn put_back(&self, key: InboxKey) -> impl Future<Output = Result<(), StoreError>> + Send;

    /// How many messages have been put back since the store was opened: whoever works them looks whether it grew.
    fn times_put_back(&self) -> usize;

    /// Lets go of a message that was set aside. Delivered again it is known as a repeat, as one worked now.
    fn drop_aside(&self, key: InboxKey, now: u64) -> impl Future<Output = Result<(), StoreError>> + Send;

    /// How many bytes are held of a chat, and of everybody.
    fn held(&self, chat: ChatId) -> impl Future<Output = Result<HeldBytes, StoreError>> + Send;

    /// Forgets the keys of messages worked before a time (seconds since 1970); answers how many.
    ///
    /// Until then a message delivered again is known as a repeat: keep twice as long as the channel redelivers.
    fn forget_worked(&self, before: u64) -> impl Future<Output = Result<usize, StoreError>> + Send;

    /// A chat's session; an unknown chat is an empty one at revision 0.
    fn load(&self, chat: ChatId) -> impl Future<Output = Result<StoredSession, StoreError>> + Send;

    /// One turn: appends events, queues messages, marks the inbound message worked, in one transaction.
    fn commit(&self, commit: Commit) -> impl Future<Output = Result<Revision, StoreError>> + Send;

    /// One turn with what is kept beside it, in one transaction.
    fn commit_with(
        &self,
        commit: Commit,
        beside: Vec<Beside>,
    ) -> impl Future<Output = Result<Revision, StoreError>> + Send;

    /// The oldest message of each chat that waits to be sent, at most `limit` chats, longest waiting first.
    fn waiting(&self, limit: usize) -> impl Future<Output = Result<Vec<Waiting>, StoreError>> + Send;

    /// All messages of one chat that wait to be sent, oldest first.
    fn waiting_for(&self, chat: ChatId) -> impl Future<Output = Result<Vec<Waiting>, StoreError>> + Send;

    /// Strikes a message that has been delivered. One struck before changes nothing.
    fn strike(&self, key: OutboxKey) -> impl Future<Output = Result<(), StoreError>> + Send;

    /// Keeps something else, in place of what had its name.
    fn put_other(&self, other: Other) -> impl Future<Output = Result<(), StoreError>> + Send;

    /// Something else by its name.
    fn get_other(&self, name: String) -> impl Future<Output = Result<Option<Other>, StoreError>> + Send;

    /// Everything else of one owner (`None`: of nobody), by name.
    fn list_other(
        &self,
        owner: Option<ChatId>,
    ) -> impl Future<Output = Result<Vec<Other>, StoreError>> + Send;

    /// Removes something else; answers whether it was there.
    fn remove_other(&self, name: String) -> impl Future<Output = Result<bool, StoreError>> + Send;

    /// Erases everything held of a chat. Its bytes are gone from the files after [`Store::compact`].
    fn erase(&self, chat: ChatId) -> impl Future<Output = Result<Erased, StoreError>> + Send;

    /// Keeps what a notice says and queues its messages, in one transaction, where the chat is as quiet as it
    /// says and none of its messages waits to be worked; answers whether it is.
    fn notify(&self, notice: Notice) -> impl Future<Output = Result<bool, StoreError>> + Send;

    /// Erases a chat whose last commit was before a time (seconds since 1970), unless a message of it waits to be
    /// worked; `None` where it was left alone.
    fn expire(
        &self,
        chat: ChatId,
        before: u64,
    ) -> impl Future<Output = Result<Option<Erased>, StoreError>> + Send;

    /// Every chat that was ever committed to, with the time of its last commit.
    fn chats(&self) -> impl Future<Output = Result<Vec<(ChatId, u64)>, StoreError>> + Send;

    /// Writes all that is held, as of one moment, for `restore`. What is sealed stays sealed.
    fn backup(
        &self,
        to: impl Write + Send + 'static,
    ) -> impl Future<Output = Result<BackedUp, StoreError>> + Send;

    /// Opens every record and follows every mark; an error says what does not fit. Writing waits meanwhile.
    fn check(&self) -> impl Future<Output = Result<Checked, StoreError>> + Send;

    /// Wraps the key of every chat again with the newest key of the ring; answers how many. What was wrapped with
    /// older keys is gone from the files after [`Store::compact`], and only then may those leave the ring.
    fn rotate(&self) -> impl Future<Output = Result<usize, StoreError>> + Send;

    /// Leaves no byte in the files that is not held any more. Writing waits meanwhile.
    fn compact(&self) -> impl Future<Output = Result<(), StoreError>> + Send;
}
