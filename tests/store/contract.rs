//! One suite for every engine, sealed and plain: what the contract promises.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::print_stdout,
    reason = "a test may stop where it stands"
)]

use std::path::Path;
use std::sync::Arc;

use lapwise::message::ChatId;
use lapwise::store::sled::Options;
use lapwise::store::{
    Arrived, Beside, Commit, Erased, HeldBytes, InboxKey, Kept, Keyring, MemoryStore, Notice, Other,
    OutboxKey, Revision, SledStore, Store, StoreError, StoredSession,
};
use tempfile::TempDir;

/// A store that can be closed and opened again.
trait Place {
    type Kind: Store;
    fn open(&self) -> Self::Kind;
    fn again(&self, store: Self::Kind) -> Self::Kind;
}

struct InMemory(Option<Keyring>);

impl Place for InMemory {
    type Kind = MemoryStore;
    fn open(&self) -> MemoryStore {
        MemoryStore::new(self.0.clone()).unwrap()
    }
    fn again(&self, store: MemoryStore) -> MemoryStore {
        store
    }
}

struct InSled(Option<Keyring>, TempDir);

impl Place for InSled {
    type Kind = SledStore;
    fn open(&self) -> SledStore {
        let options = Options { keyring: self.0.clone(), ..Options::default() };
        SledStore::open(self.1.path(), options).unwrap().0
    }
    fn again(&self, store: SledStore) -> SledStore {
        drop(store);
        self.open()
    }
}

fn ring() -> Keyring {
    Keyring::new([7; 32], [])
}

macro_rules! on_every_engine {
    ($($scenario:ident),* $(,)?) => {
        mod memory_plain {
            $(#[tokio::test] async fn $scenario() { super::$scenario(super::InMemory(None)).await; })*
        }
        mod memory_sealed {
            $(#[tokio::test] async fn $scenario() { super::$scenario(super::InMemory(Some(super::ring()))).await; })*
        }
        mod sled_plain {
            $(#[tokio::test] async fn $scenario() {
                super::$scenario(super::InSled(None, tempfile::tempdir().unwrap())).await;
            })*
        }
        mod sled_sealed {
            $(#[tokio::test] async fn $scenario() {
                super::$scenario(super::InSled(Some(super::ring()), tempfile::tempdir().unwrap())).await;
            })*
        }
    };
}

on_every_engine!(
    keeps_once_and_in_order,
    counts_failures_and_sets_aside,
    says_what_it_sets_aside_or_neither,
    puts_back_or_drops_what_was_set_aside,
    counts_the_bytes_of_each_chat,
    commits_all_or_nothing,
    reports_a_conflict_with_what_is_there,
    works_a_message_once,
    sends_the_oldest_of_each_chat_first,
    strikes_in_any_order,
    keeps_other_things_by_name_and_owner,
    erases_everything_of_a_chat_and_counts_it,
    starts_again_after_an_erasure_without_reusing_places,
    expires_idle_chats_only,
    tells_quiet_chats_something_without_waking_them,
    forgets_worked_messages_after_a_time,
    holds_long_and_odd_values,
    backs_up_and_restores,
    survives_many_writers,
);

fn chat(name: &str) -> ChatId {
    ChatId::new(name).unwrap()
}

fn key(number: u32) -> InboxKey {
    InboxKey(format!("telegram/{number:020}"))
}

fn commit(name: &str, read_at: u64) -> Commit {
    Commit {
        chat: chat(name),
        read_at: Revision(read_at),
        events: Vec::new(),
        says: Vec::new(),
        worked: None,
        now: 1_000,
    }
}

fn says(words: &[&str]) -> Vec<Vec<u8>> {
    words.iter().map(|word| word.as_bytes().to_vec()).collect()
}

/// The words that wait, in order, with their chats.
async fn words_waiting(store: &impl Store, limit: usize) -> Vec<String> {
    let waiting = store.waiting(limit).await.unwrap().into_iter();
    waiting.map(|waits| format!("{} {}", waits.key.chat, String::from_utf8(waits.say).unwrap())).collect()
}

async fn keeps_once_and_in_order(place: impl Place) {
    let store = place.open();
    for number in [3, 1, 2] {
        let kept = store.keep(key(number), chat("a"), format!("words {number}").into_bytes()).await;
        assert_eq!(kept, Ok(Kept::New));
    }
    assert_eq!(store.keep(key(2), chat("b"), b"other words".to_vec()).await, Ok(Kept::Repeat));
    let store = place.again(store);
    let arrived = store.arrived(10).await.unwrap();
    let seen: Vec<_> = arrived.iter().map(|message| (message.key.clone(), message.tries)).collect();
    assert_eq!(seen, [(key(1), 0), (key(2), 0), (key(3), 0)]);
    assert!(arrived.iter().all(|message| message.chat == chat("a")));
    assert_eq!(arrived[1].inbound, b"words 2");
    assert_eq!(store.arrived(2).await.unwrap(), arrived[..2]);
    assert_eq!(store.keep(key(2), chat("a"), Vec::new()).await, Ok(Kept::Repeat));
    assert_eq!(store.load(chat("a")).await, Ok(StoredSession::default()));
}

async fn counts_failures_and_sets_aside(place: impl Place) {
    let store = place.open();
    for number in [1, 2] {
        store.keep(key(number), chat("a"), b"poison".to_vec()).await.unwrap();
    }
    assert_eq!(store.failed(key(1)).await, Ok(1));
    assert_eq!(store.failed(key(1)).await, Ok(2));
    let store = place.again(store);
    assert_eq!(store.arrived(1).await.unwrap()[0].tries, 2);
    store.set_aside(key(1)).await.unwrap();
    let store = place.again(store);
    assert_eq!(store.arrived(9).await.unwrap().len(), 1);
    let aside = store.aside(9).await.unwrap();
    assert_eq!((aside.len(), &aside[0].key, aside[0].inbound.as_slice()), (1, &key(1), b"poison".as_slice()));
    assert_eq!(store.keep(key(1), chat("a"), Vec::new()).await, Ok(Kept::Repeat));
    assert_eq!(store.set_aside(key(1)).await, Err(StoreError::NotWaiting(key(1))));
    assert_eq!(store.failed(key(9)).await, Err(StoreError::NotWaiting(key(9))));
}

async fn says_what_it_sets_aside_or_neither(place: impl Place) {
    let store = place.open();
    store.keep(key(1), chat("a"), b"poison".to_vec()).await.unwrap();
    let other = Other { name: "shown".into(), owner: Some(chat("a")), value: b"sorry".to_vec() };
    let says = || (vec![b"sorry".to_vec()], vec![Beside::Put(other.clone())]);
    let (sent, shown) = says();
    store.set_aside_saying(key(1), sent, shown).await.unwrap();
    let store = place.again(store);
    assert_eq!(words_waiting(&store, 9).await, ["a sorry"]);
    assert_eq!(store.get_other("shown".into()).await, Ok(Some(other.clone())));
    assert_eq!(store.aside(9).await.unwrap().len(), 1);
    // Said once: what no longer waits is not set aside again.
    let (sent, shown) = says();
    assert_eq!(store.set_aside_saying(key(1), sent, shown).await, Err(StoreError::NotWaiting(key(1))));
    assert_eq!(store.waiting_for(chat("a")).await.unwrap().len(), 1);
    store.check().await.unwrap();
}

async fn puts_back_or_drops_what_was_set_aside(place: impl Place) {
    let store = place.open();
    for number in [1, 2, 3] {
        store.keep(key(number), chat("a"), b"poison".to_vec()).await.unwrap();
        store.failed(key(number)).await.unwrap();
    }
    for number in [1, 2] {
        store.set_aside(key(number)).await.unwrap();
    }
    assert_eq!(store.times_put_back(), 0);
    store.put_back(key(1)).await.unwrap();
    store.drop_aside(key(2), 50).await.unwrap();
    assert_eq!(store.times_put_back(), 1);
    for gone in [1, 2, 3] {
        assert_eq!(store.put_back(key(gone)).await, Err(StoreError::NotWaiting(key(gone))));
        assert_eq!(store.drop_aside(key(gone), 50).await, Err(StoreError::NotWaiting(key(gone))));
    }
    let store = place.again(store);
    let waiting: Vec<_> =
        store.arrived(9).await.unwrap().into_iter().map(|one| (one.key, one.tries, one.inbound)).collect();
    assert_eq!(waiting, [(key(1), 0, b"poison".to_vec()), (key(3), 1, b"poison".to_vec())]);
    assert_eq!(store.aside(9).await, Ok(Vec::new()));
    assert_eq!(store.keep(key(2), chat("a"), Vec::new()).await, Ok(Kept::Repeat));
    assert_eq!(store.forget_worked(51).await, Ok(1));
    store.check().await.unwrap();
}

async fn counts_the_bytes_of_each_chat(place: impl Place) {
    let store = place.open();
    let held = |name: &'static str| {
        let held = store.held(chat(name));
        async move { held.await.unwrap() }
    };
    assert_eq!(held("a").await, HeldBytes::default());
    store.keep(key(1), chat("a"), vec![0; 1_000]).await.unwrap();
    let kept = held("a").await;
    // The chat's own key. What waits to be worked or sent only passes through.
    assert!((1..300).contains(&kept.chat) && kept.all == kept.chat, "{kept:?}");
    let turn = Commit {
        events: vec![vec![1; 2_000]],
        says: vec![vec![2; 4_000]],
        worked: Some(key(1)),
        ..commit("a", 0)
    };
    store.commit(turn).await.unwrap();
    let worked = held("a").await.chat;
    assert!((2_000..2_600).contains(&worked), "{worked}");
    // In place of what had its name: only the longer one counts.
    for length in [500, 8_000] {
        let value = vec![3; length];
        store.put_other(Other { name: "note".into(), owner: Some(chat("a")), value }).await.unwrap();
    }
    let noted = held("a").await.chat;
    assert!((8_000..8_300).contains(&(noted - worked)), "{noted}");
    store.put_other(other("own", None, "nobody's")).await.unwrap();
    store.keep(key(2), chat("b"), vec![0; 100]).await.unwrap();
    store.set_aside(key(2)).await.unwrap();
    let (a, b) = (held("a").await, held("b").await);
    assert!(a.chat == noted && a.all == b.all && a.all > noted + b.chat && b.chat > 100, "{a:?} {b:?}");
    store.check().await.unwrap();
    let store = place.again(store);
    assert_eq!(store.held(chat("a")).await, Ok(a));
    let waiting = store.waiting_for(chat("a")).await.unwrap().remove(0).key;
    store.strike(waiting).await.unwrap();
    assert_eq!(store.held(chat("a")).await, Ok(a));
    store.remove_other("note".into()).await.unwrap();
    store.erase(chat("a")).await.unwrap();
    assert_eq!(store.held(chat("a")).await.unwrap().chat, 0);
    assert_eq!(store.held(chat("b")).await.unwrap().chat, b.chat);
    store.check().await.unwrap();
}

async fn commits_all_or_nothing(place: impl Place) {
    let store = place.open();
    store.keep(key(1), chat("a"), b"hello".to_vec()).await.unwrap();
    let turn = Commit {
        events: says(&["first", "second"]),
        says: says(&["one", "two"]),
        worked: Some(key(1)),
        ..commit("a", 0)
    };
    assert_eq!(store.commit(turn.clone()).await, Ok(Revision(1)));
    assert!(matches!(store.commit(turn).await, Err(StoreError::Conflict { .. })));
    // Nothing of a turn whose message does not wait.
    let again =
        Commit { events: says(&["third"]), says: says(&["three"]), worked: Some(key(1)), ..commit("a", 1) };
    assert_eq!(store.commit(again).await, Err(StoreError::NotWaiting(key(1))));
    let store = place.again(store);
    let session = store.load(chat("a")).await.unwrap();
    assert_eq!(session, StoredSession { revision: Revision(1), events: says(&["first", "second"]) });
    assert_eq!(store.arrived(9).await, Ok(Vec::new()));
    let waiting = store.waiting_for(chat("a")).await.unwrap();
    assert_eq!(waiting.iter().map(|waits| waits.say.clone()).collect::<Vec<_>>(), says(&["one", "two"]));
    let next = Commit { events: says(&["third"]), now: 2_000, ..commit("a", 1) };
    assert_eq!(store.commit(next).await, Ok(Revision(2)));
    assert_eq!(store.load(chat("a")).await.unwrap().events, says(&["first", "second", "third"]));
    assert_eq!(store.chats().await, Ok(vec![(chat("a"), 2_000)]));
}

async fn reports_a_conflict_with_what_is_there(place: impl Place) {
    let store = place.open();
    for at in 0..3 {
        store.commit(commit("a", at)).await.unwrap();
    }
    let found = store.commit(commit("a", 1)).await;
    assert_eq!(found, Err(StoreError::Conflict { read_at: Revision(1), found: Revision(3) }));
    let ahead = store.commit(commit("b", 1)).await;
    assert_eq!(ahead, Err(StoreError::Conflict { read_at: Revision(1), found: Revision(0) }));
    assert_eq!(store.load(chat("b")).await, Ok(StoredSession::default()));
}

async fn works_a_message_once(place: impl Place) {
    let store = place.open();
    store.keep(key(1), chat("a"), b"hello".to_vec()).await.unwrap();
    let wrong_chat = Commit { worked: Some(key(1)), ..commit("b", 0) };
    assert_eq!(store.commit(wrong_chat).await, Err(StoreError::NotWaiting(key(1))));
    let never_kept = Commit { worked: Some(key(2)), ..commit("a", 0) };
    assert_eq!(store.commit(never_kept).await, Err(StoreError::NotWaiting(key(2))));
    store.commit(Commit { worked: Some(key(1)), ..commit("a", 0) }).await.unwrap();
    let store = place.again(store);
    assert_eq!(store.keep(key(1), chat("a"), b"hello".to_vec()).await, Ok(Kept::Repeat));
    assert_eq!(store.arrived(9).await, Ok(Vec::new()));
}

async fn sends_the_oldest_of_each_chat_first(place: impl Place) {
    let store = place.open();
    store.commit(Commit { says: says(&["z1", "z2"]), ..commit("z", 0) }).await.unwrap();
    store.commit(Commit { says: says(&["a1"]), ..commit("a", 0) }).await.unwrap();
    store.commit(Commit { says: says(&["z3"]), ..commit("z", 1) }).await.unwrap();
    store.commit(commit("silent", 0)).await.unwrap();
    assert_eq!(words_waiting(&store, 9).await, ["z z1", "a a1"]);
    assert_eq!(words_waiting(&store, 1).await, ["z z1"]);
    let first = store.waiting(1).await.unwrap().remove(0).key;
    store.strike(first.clone()).await.unwrap();
    store.strike(first).await.unwrap();
    let store = place.again(store);
    assert_eq!(words_waiting(&store, 9).await, ["z z2", "a a1"]);
    let rest: Vec<_> = store.waiting_for(chat("z")).await.unwrap();
    assert_eq!(rest.iter().map(|waits| waits.say.as_slice()).collect::<Vec<_>>(), [b"z2", b"z3"]);
}

async fn strikes_in_any_order(place: impl Place) {
    let store = place.open();
    store.commit(Commit { says: says(&["1", "2", "3"]), ..commit("a", 0) }).await.unwrap();
    let keys: Vec<_> =
        store.waiting_for(chat("a")).await.unwrap().into_iter().map(|waits| waits.key).collect();
    store.strike(keys[1].clone()).await.unwrap();
    assert_eq!(words_waiting(&store, 9).await, ["a 1"]);
    store.strike(keys[0].clone()).await.unwrap();
    assert_eq!(words_waiting(&store, 9).await, ["a 3"]);
    store.strike(keys[2].clone()).await.unwrap();
    assert_eq!(words_waiting(&store, 9).await, [""; 0]);
    store.strike(OutboxKey { chat: chat("nobody"), sequence: 0 }).await.unwrap();
    store.commit(Commit { says: says(&["4"]), ..commit("a", 1) }).await.unwrap();
    assert_eq!(words_waiting(&store, 9).await, ["a 4"]);
}

fn other(name: &str, owner: Option<&str>, value: &str) -> Other {
    Other { name: name.to_owned(), owner: owner.map(chat), value: value.as_bytes().to_vec() }
}

async fn keeps_other_things_by_name_and_owner(place: impl Place) {
    let store = place.open();
    let share = other("share/abc", Some("a"), "plan");
    let note = other("", None, "nobody's");
    for kept in [&note, &share, &other("share/abd", Some("a"), "second")] {
        store.put_other(kept.clone()).await.unwrap();
    }
    let store = place.again(store);
    assert_eq!(store.get_other("share/abc".into()).await, Ok(Some(share.clone())));
    assert_eq!(store.get_other("share".into()).await, Ok(None));
    assert_eq!(store.list_other(None).await, Ok(vec![note]));
    assert_eq!(store.list_other(Some(chat("a"))).await.unwrap().len(), 2);
    let moved = other("share/abc", Some("b"), "plan, again");
    store.put_other(moved.clone()).await.unwrap();
    assert_eq!(store.list_other(Some(chat("b"))).await, Ok(vec![moved]));
    assert_eq!(store.list_other(Some(chat("a"))).await.unwrap().len(), 1);
    assert_eq!(store.remove_other("share/abc".into()).await, Ok(true));
    assert_eq!(store.remove_other("share/abc".into()).await, Ok(false));
    assert_eq!(store.list_other(Some(chat("b"))).await, Ok(Vec::new()));
}

async fn erases_everything_of_a_chat_and_counts_it(place: impl Place) {
    let store = place.open();
    for (number, name) in [(1, "a"), (2, "a"), (3, "a"), (4, "b")] {
        store.keep(key(number), chat(name), b"words".to_vec()).await.unwrap();
    }
    store.set_aside(key(3)).await.unwrap();
    let turn = |name, worked| Commit {
        events: says(&["e1", "e2"]),
        says: says(&["s1", "s2", "s3"]),
        worked: Some(key(worked)),
        ..commit(name, 0)
    };
    store.commit(turn("a", 1)).await.unwrap();
    store.commit(turn("b", 4)).await.unwrap();
    for (name, owner) in [("share/a", Some("a")), ("share/b", Some("b")), ("own", None)] {
        store.put_other(other(name, owner, "value")).await.unwrap();
    }
    let erased = store.erase(chat("a")).await;
    assert_eq!(erased, Ok(Erased { events: 2, inbox: 3, outbox: 3, other: 1 }));
    assert_eq!(store.erase(chat("a")).await, Ok(Erased::default()));
    let store = place.again(store);
    store.compact().await.unwrap();
    let store = place.again(store);
    assert_eq!(store.load(chat("a")).await, Ok(StoredSession::default()));
    assert_eq!((store.arrived(9).await, store.aside(9).await), (Ok(Vec::new()), Ok(Vec::new())));
    assert_eq!(store.waiting_for(chat("a")).await, Ok(Vec::new()));
    assert_eq!(words_waiting(&store, 9).await, ["b s1"]);
    assert_eq!(store.get_other("share/a".into()).await, Ok(None));
    assert_eq!(store.chats().await, Ok(vec![(chat("b"), 1_000)]));
    assert_eq!(store.load(chat("b")).await.unwrap().events.len(), 2);
    assert_eq!(store.list_other(None).await.unwrap().len(), 1);
}

async fn starts_again_after_an_erasure_without_reusing_places(place: impl Place) {
    let store = place.open();
    store.commit(Commit { says: says(&["old"]), ..commit("a", 0) }).await.unwrap();
    let old = store.waiting(1).await.unwrap().remove(0).key;
    store.erase(chat("a")).await.unwrap();
    let store = place.again(store);
    assert!(matches!(store.commit(commit("a", 1)).await, Err(StoreError::Conflict { .. })));
    store.commit(Commit { says: says(&["new"]), ..commit("a", 0) }).await.unwrap();
    store.strike(old).await.unwrap();
    assert_eq!(words_waiting(&store, 9).await, ["a new"]);
}

async fn expires_idle_chats_only(place: impl Place) {
    let store = place.open();
    store.commit(Commit { now: 10, events: says(&["e"]), ..commit("idle", 0) }).await.unwrap();
    store.commit(Commit { now: 10, ..commit("back", 0) }).await.unwrap();
    store.commit(Commit { now: 20, ..commit("busy", 0) }).await.unwrap();
    store.keep(key(1), chat("back"), b"I am back".to_vec()).await.unwrap();
    let erased = Erased { events: 1, ..Erased::default() };
    assert_eq!(store.expire(chat("idle"), 10).await, Ok(None));
    assert_eq!(store.expire(chat("idle"), 20).await, Ok(Some(erased)));
    for other in ["idle", "back", "busy", "nobody"] {
        assert_eq!(store.expire(chat(other), 20).await, Ok(None), "{other}");
    }
    assert_eq!(store.chats().await, Ok(vec![(chat("back"), 10), (chat("busy"), 20)]));
}

async fn tells_quiet_chats_something_without_waking_them(place: impl Place) {
    let store = place.open();
    let notice = |id: &str, last| Notice {
        chat: chat(id),
        last,
        others: vec![Other { name: format!("told/{id}"), owner: Some(chat(id)), value: b"told".to_vec() }],
        says: says(&["mind"]),
    };
    for id in ["quiet", "back", "answered"] {
        store.commit(Commit { now: 10, ..commit(id, 0) }).await.unwrap();
    }
    store.commit(Commit { now: 20, ..commit("answered", 1) }).await.unwrap();
    store.keep(key(1), chat("back"), b"I am back".to_vec()).await.unwrap();
    assert_eq!(store.notify(notice("quiet", 10)).await, Ok(true));
    for id in ["back", "answered", "nobody"] {
        assert_eq!(store.notify(notice(id, 10)).await, Ok(false), "{id}");
    }
    let store = place.again(store);
    assert_eq!(words_waiting(&store, 9).await, ["quiet mind"]);
    assert_eq!(store.get_other("told/quiet".into()).await.unwrap().unwrap().value, b"told");
    assert_eq!(store.get_other("told/answered".into()).await, Ok(None));
    let (chats, revision) = (store.chats().await.unwrap(), store.load(chat("quiet")).await.unwrap().revision);
    assert_eq!((&chats[2], revision), (&(chat("quiet"), 10), Revision(1)));
    let erased = Erased { outbox: 1, other: 1, ..Erased::default() };
    assert_eq!(store.expire(chat("quiet"), 11).await, Ok(Some(erased)));
    store.check().await.unwrap();
}

async fn forgets_worked_messages_after_a_time(place: impl Place) {
    let store = place.open();
    for number in 1..=3 {
        store.keep(key(number), chat("a"), b"words".to_vec()).await.unwrap();
    }
    store.commit(Commit { now: 10, worked: Some(key(1)), ..commit("a", 0) }).await.unwrap();
    store.commit(Commit { now: 20, worked: Some(key(2)), ..commit("a", 1) }).await.unwrap();
    assert_eq!(store.forget_worked(20).await, Ok(1));
    let store = place.again(store);
    assert_eq!(store.keep(key(2), chat("a"), Vec::new()).await, Ok(Kept::Repeat));
    assert_eq!(store.keep(key(3), chat("a"), Vec::new()).await, Ok(Kept::Repeat));
    assert_eq!(store.keep(key(1), chat("a"), Vec::new()).await, Ok(Kept::New));
    assert_eq!(store.erase(chat("a")).await.unwrap().inbox, 3);
}

async fn holds_long_and_odd_values(place: impl Place) {
    let store = place.open();
    let long: Vec<u8> = (0..3_000_000_u32).map(|n| n.to_le_bytes()[1] ^ n.to_le_bytes()[0]).collect();
    let events = vec![Vec::new(), vec![0; 3], long.clone(), vec![255]];
    store
        .commit(Commit { events: events.clone(), says: vec![long.clone()], ..commit("ä/ö\u{202e}", 0) })
        .await
        .unwrap();
    let store = place.again(store);
    store.compact().await.unwrap();
    let store = place.again(store);
    assert_eq!(store.load(chat("ä/ö\u{202e}")).await.unwrap().events, events);
    assert_eq!(store.waiting(1).await.unwrap()[0].say, long);
}

async fn backs_up_and_restores(place: impl Place) {
    let store = place.open();
    for at in 0..3 {
        let turn = Commit { events: says(&["event"]), says: says(&["say"]), ..commit("a", at) };
        store.commit(turn).await.unwrap();
    }
    store.put_other(other("own", None, "value")).await.unwrap();
    let file = tempfile::NamedTempFile::new().unwrap();
    let backed_up = store.backup(file.reopen().unwrap()).await.unwrap();
    assert_eq!(backed_up.chats, 1);
    let read = || std::io::BufReader::new(file.reopen().unwrap());
    let (dir, sealed) = (tempfile::tempdir().unwrap(), std::fs::read_to_string(file.path()).unwrap());
    assert_eq!(SledStore::restore(read(), dir.path()), Ok(backed_up));
    assert!(matches!(SledStore::restore(read(), dir.path()), Err(StoreError::Foreign(_))));
    let keyring = if SledStore::open(dir.path(), Options::default()).is_ok() { None } else { Some(ring()) };
    let (restored, report) = SledStore::open(dir.path(), Options { keyring, ..Options::default() }).unwrap();
    assert_eq!((report.created, report.recovered.len()), (false, 0));
    assert_eq!(restored.load(chat("a")).await, store.load(chat("a")).await);
    assert_eq!(restored.waiting_for(chat("a")).await, store.waiting_for(chat("a")).await);
    assert_eq!(restored.list_other(None).await, store.list_other(None).await);
    assert!(sealed.starts_with("{\"lapwise_backup\":1"));
}

/// 64 writers on 200 chats: every turn counts, in every chat.
async fn survives_many_writers(place: impl Place) {
    let store = Arc::new(place.open());
    let mut writers = tokio::task::JoinSet::new();
    for writer in 0..64_u64 {
        let store = Arc::clone(&store);
        writers.spawn(async move {
            for turn in 0..10_u64 {
                turn_in(&*store, &format!("chat {}", (writer * 7 + turn * 13) % 200)).await;
            }
        });
    }
    writers.join_all().await;
    let store = place.again(Arc::into_inner(store).unwrap());
    let mut turns = 0;
    for (id, _) in store.chats().await.unwrap() {
        let session = store.load(id.clone()).await.unwrap();
        assert_eq!(session.revision.0, u64::try_from(session.events.len()).unwrap());
        assert_eq!(store.waiting_for(id).await.unwrap().len(), session.events.len());
        turns += session.revision.0;
    }
    assert_eq!(turns, 640);
}

/// One turn, worked again until nobody came in between.
async fn turn_in(store: &impl Store, name: &str) {
    loop {
        let read_at = store.load(chat(name)).await.unwrap().revision.0;
        let turn = Commit { events: says(&["event"]), says: says(&["say"]), ..commit(name, read_at) };
        match store.commit(turn).await {
            Ok(_) => return,
            Err(StoreError::Conflict { .. }) => {}
            Err(fault) => panic!("{fault}"),
        }
    }
}

#[tokio::test]
async fn shares_syncs_between_writers() {
    let dir = tempfile::tempdir().unwrap();
    let store = Arc::new(SledStore::open(dir.path(), Options::default()).unwrap().0);
    let mut writers = tokio::task::JoinSet::new();
    for writer in 0..64 {
        let store = Arc::clone(&store);
        writers.spawn(async move {
            for _ in 0..10 {
                turn_in(&*store, &format!("chat {writer}")).await;
            }
        });
    }
    writers.join_all().await;
    let written = store.written();
    assert_eq!(written.changes, 640);
    assert!(written.syncs * 4 < written.changes, "{written:?}");
}

/// A process that ends while it works a message is played by a copy of its files, taken meanwhile.
#[tokio::test]
async fn a_message_that_was_being_worked_when_the_process_ended_has_failed_once() {
    let dir = tempfile::tempdir().unwrap();
    let open = |dir: &Path| SledStore::open(dir, Options::default()).unwrap();
    let (store, _) = open(&dir.path().join("first"));
    for number in 1..=3 {
        store.keep(key(number), chat("a"), b"words".to_vec()).await.unwrap();
        store.begin_try(key(number)).await.unwrap();
    }
    store.commit(Commit { worked: Some(key(1)), ..commit("a", 0) }).await.unwrap();
    store.end_try(key(2)).await;
    copy_all(&dir.path().join("first"), &dir.path().join("second"));
    drop(store);
    let (store, report) = open(&dir.path().join("second"));
    assert_eq!(report.cut_short, [(key(3), 1)]);
    let tries =
        |arrived: Vec<Arrived>| arrived.into_iter().map(|one| (one.key, one.tries)).collect::<Vec<_>>();
    assert_eq!(tries(store.arrived(9).await.unwrap()), [(key(2), 0), (key(3), 1)]);
    store.begin_try(key(2)).await.unwrap();
    drop(store);
    // Closed in order: whatever was being worked is not to blame.
    assert_eq!(open(&dir.path().join("second")).1.cut_short, []);
    assert_eq!(open(&dir.path().join("first")).1.cut_short, []);
}

fn copy_all(from: &Path, to: &Path) {
    std::fs::create_dir_all(to).unwrap();
    for entry in std::fs::read_dir(from).unwrap() {
        let path = entry.unwrap().path();
        let copy = to.join(path.file_name().unwrap());
        if path.is_dir() {
            copy_all(&path, &copy);
        } else {
            std::fs::copy(&path, &copy).unwrap();
        }
    }
}

#[cfg(unix)]
#[tokio::test]
async fn nobody_else_can_read_the_files() {
    use std::os::unix::fs::PermissionsExt as _;
    let dir = tempfile::tempdir().unwrap();
    // A directory that somebody else made, and files from when a laxer mask held.
    std::fs::set_permissions(dir.path(), std::fs::Permissions::from_mode(0o755)).unwrap();
    for _ in 0..2 {
        let (store, _) = SledStore::open(dir.path(), Options::default()).unwrap();
        turn_in(&store, "a").await;
        drop(store);
        let (store, _) = SledStore::open(dir.path(), Options::default()).unwrap();
        for entry in std::fs::read_dir(dir.path()).unwrap() {
            let entry = entry.unwrap();
            let mode = entry.metadata().unwrap().permissions().mode() & 0o077;
            assert_eq!(mode, 0, "{}", entry.path().display());
        }
        store.compact().await.unwrap();
        drop(store);
        for entry in std::fs::read_dir(dir.path()).unwrap() {
            let path = entry.unwrap().path();
            let lax = if path.is_dir() { 0o755 } else { 0o644 };
            std::fs::set_permissions(&path, std::fs::Permissions::from_mode(lax)).unwrap();
        }
    }
}
