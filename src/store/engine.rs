//! What an engine adds to the ledger: an ordered map, and changes that are applied together and last.

use std::io::Write;
use std::sync::atomic::{AtomicUsize, Ordering};

use super::ledger::{Changes, Ledger};
use super::suspects::Suspects;
use super::{
    Alone, Arrived, BackedUp, Beside, Checked, Commit, Erased, HeldBytes, InboxKey, Kept, Notice, Other,
    OutboxKey, Revision, Store, StoreError, StoredSession, Waiting,
};
use crate::message::ChatId;

/// An ordered map that lasts; everything else of the contract is the ledger's.
pub(in crate::store) trait Engine: Send + Sync + 'static {
    /// Notes that a message is being worked, so that the next opening finds it if this process ends meanwhile.
    fn note_try(&self, key: &InboxKey) -> Result<(), StoreError>;

    /// Strikes that out.
    fn strike_try(&self, key: &InboxKey);

    /// Those that may have ended a process before.
    fn suspects(&self) -> &Suspects;

    /// How many messages have been put back.
    fn put_backs(&self) -> &AtomicUsize;

    /// See [`Store::ready`].
    fn takes_writes(&self) -> impl Future<Output = Result<(), StoreError>> + Send;

    /// Looks up a little.
    fn look<T: Send + 'static>(
        &self,
        look: impl FnOnce(&Ledger<'_>) -> Result<T, StoreError> + Send + 'static,
    ) -> impl Future<Output = Result<T, StoreError>> + Send;

    /// Looks through much, without holding up others.
    fn look_through<T: Send + 'static>(
        &self,
        look: impl FnOnce(&Ledger<'_>) -> Result<T, StoreError> + Send + 'static,
    ) -> impl Future<Output = Result<T, StoreError>> + Send;

    /// Works out changes, one caller after the other, and answers when they are durable.
    fn change<T: Send + 'static>(
        &self,
        work: impl FnOnce(&Ledger<'_>) -> Result<(Changes, T), StoreError> + Send + 'static,
    ) -> impl Future<Output = Result<T, StoreError>> + Send;

    /// Looks at everything while nothing changes.
    fn look_at_all<T: Send + 'static>(
        &self,
        look: impl FnOnce(&Ledger<'_>) -> Result<T, StoreError> + Send + 'static,
    ) -> impl Future<Output = Result<T, StoreError>> + Send;

    /// See [`Store::backup`].
    fn write_backup(
        &self,
        to: impl Write + Send + 'static,
    ) -> impl Future<Output = Result<BackedUp, StoreError>> + Send;

    /// See [`Store::compact`].
    fn write_anew(&self) -> impl Future<Output = Result<(), StoreError>> + Send;
}

impl<E: Engine> Store for E {
    async fn ready(&self) -> Result<(), StoreError> {
        self.takes_writes().await
    }

    async fn keep(&self, key: InboxKey, chat: ChatId, inbound: Vec<u8>) -> Result<Kept, StoreError> {
        self.change(move |ledger| ledger.keep(&key, &chat, &inbound)).await
    }

    async fn arrived(&self, limit: usize) -> Result<Vec<Arrived>, StoreError> {
        self.look_through(move |ledger| ledger.arrived(limit)).await
    }

    async fn may_try(&self, tries: u32) -> Alone<'_> {
        self.suspects().may_try(tries).await
    }

    async fn begin_try(&self, key: InboxKey) -> Result<(), StoreError> {
        self.note_try(&key)
    }

    async fn end_try(&self, key: InboxKey) {
        self.strike_try(&key);
    }

    async fn held(&self, chat: ChatId) -> Result<HeldBytes, StoreError> {
        self.look(move |ledger| ledger.held(&chat)).await
    }

    async fn failed(&self, key: InboxKey) -> Result<u32, StoreError> {
        self.change(move |ledger| ledger.failed(&key)).await
    }

    async fn set_aside(&self, key: InboxKey) -> Result<(), StoreError> {
        self.change(move |ledger| ledger.set_aside(&key)).await
    }

    async fn set_aside_saying(
        &self,
        key: InboxKey,
        says: Vec<Vec<u8>>,
        beside: Vec<Beside>,
    ) -> Result<(), StoreError> {
        self.change(move |ledger| ledger.set_aside_saying(&key, &says, &beside)).await
    }

    async fn aside(&self, limit: usize) -> Result<Vec<Arrived>, StoreError> {
        self.look_through(move |ledger| ledger.aside(limit)).await
    }

    async fn put_back(&self, key: InboxKey) -> Result<(), StoreError> {
        self.change(move |ledger| ledger.put_back(&key)).await?;
        self.put_backs().fetch_add(1, Ordering::Relaxed);
        Ok(())
    }

    fn times_put_back(&self) -> usize {
        self.put_backs().load(Ordering::Relaxed)
    }

    async fn drop_aside(&self, key: InboxKey, now: u64) -> Result<(), StoreError> {
        self.change(move |ledger| ledger.drop_aside(&key, now)).await
    }

    async fn forget_worked(&self, before: u64) -> Result<usize, StoreError> {
        let mut forgotten = 0;
        // The marks are sought beside the writer, and some at a time, so that turns go on meanwhile.
        let worked = self.look_through(move |ledger| ledger.worked_before(before)).await?;
        for marks in worked.chunks(SOME) {
            let marks = marks.to_vec();
            forgotten += self.change(move |ledger| ledger.forget_worked(&marks, before)).await?;
        }
        Ok(forgotten)
    }

    async fn load(&self, chat: ChatId) -> Result<StoredSession, StoreError> {
        self.look(move |ledger| ledger.load(&chat)).await
    }

    async fn commit(&self, commit: Commit) -> Result<Revision, StoreError> {
        self.change(move |ledger| ledger.commit(&commit)).await
    }

    async fn commit_with(&self, commit: Commit, beside: Vec<Beside>) -> Result<Revision, StoreError> {
        self.change(move |ledger| ledger.commit_with(&commit, &beside)).await
    }

    async fn waiting(&self, limit: usize) -> Result<Vec<Waiting>, StoreError> {
        self.look_through(move |ledger| ledger.waiting(limit)).await
    }

    async fn waiting_for(&self, chat: ChatId) -> Result<Vec<Waiting>, StoreError> {
        self.look(move |ledger| ledger.waiting_for(&chat)).await
    }

    async fn strike(&self, key: OutboxKey) -> Result<(), StoreError> {
        self.change(move |ledger| ledger.strike(&key)).await
    }

    async fn put_other(&self, other: Other) -> Result<(), StoreError> {
        self.change(move |ledger| ledger.put_other(&other)).await
    }

    async fn get_other(&self, name: String) -> Result<Option<Other>, StoreError> {
        self.look(move |ledger| ledger.get_other(&name)).await
    }

    async fn list_other(&self, owner: Option<ChatId>) -> Result<Vec<Other>, StoreError> {
        self.look_through(move |ledger| ledger.list_other(owner.as_ref())).await
    }

    async fn remove_other(&self, name: String) -> Result<bool, StoreError> {
        self.change(move |ledger| ledger.remove_other(&name)).await
    }

    async fn erase(&self, chat: ChatId) -> Result<Erased, StoreError> {
        self.change(move |ledger| ledger.erase(&chat)).await
    }

    async fn notify(&self, notice: Notice) -> Result<bool, StoreError> {
        self.change(move |ledger| ledger.notify(&notice)).await
    }

    async fn expire(&self, chat: ChatId, before: u64) -> Result<Option<Erased>, StoreError> {
        self.change(move |ledger| ledger.expire(&chat, before)).await
    }

    #[expect(clippy::redundant_closure_for_method_calls, reason = "the method is of one lifetime only")]
    async fn chats(&self) -> Result<Vec<(ChatId, u64)>, StoreError> {
        self.look_through(|ledger| ledger.chats()).await
    }

    async fn backup(&self, to: impl Write + Send + 'static) -> Result<BackedUp, StoreError> {
        self.write_backup(to).await
    }

    #[expect(clippy::redundant_closure_for_method_calls, reason = "the method is of one lifetime only")]
    async fn check(&self) -> Result<Checked, StoreError> {
        self.look_at_all(|ledger| ledger.check()).await
    }

    #[expect(clippy::redundant_closure_for_method_calls, reason = "the method is of one lifetime only")]
    async fn rotate(&self) -> Result<usize, StoreError> {
        self.change(|ledger| ledger.rotate()).await
    }

    async fn compact(&self) -> Result<(), StoreError> {
        self.write_anew().await
    }
}

/// How many messages are forgotten at a time.
const SOME: usize = 500;
