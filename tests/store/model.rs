//! A thousand random histories against the simplest thing that keeps the contract.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::print_stdout,
    reason = "a test may stop where it stands"
)]

use std::collections::BTreeMap;
use std::path::PathBuf;

use lapwise::message::ChatId;
use lapwise::store::sled::Options;
use lapwise::store::{
    Arrived, Commit, Erased, InboxKey, Kept, Keyring, MemoryStore, Other, OutboxKey, Revision, SledStore,
    Store, StoreError, StoredSession,
};
use proptest::prelude::*;
use proptest::test_runner::{Config, TestRunner};

/// What may happen, with chats, keys and words out of a few.
#[derive(Clone, Debug)]
enum Step {
    Keep(u8),
    Failed(u8),
    SetAside(u8),
    Commit { chat: u8, stale: bool, events: u8, says: u8, worked: Option<u8>, now: u64 },
    StrikeOldest(u8),
    StrikeNewest(u8),
    PutOther { name: u8, owner: Option<u8> },
    RemoveOther(u8),
    Erase(u8),
    Expire(u8, u64),
    ForgetWorked(u64),
    Again,
    Compact,
}

fn step() -> impl Strategy<Value = Step> {
    let (chat, key, now) = (0..4_u8, 0..8_u8, 0..20_u64);
    prop_oneof![
        4 => key.clone().prop_map(Step::Keep),
        1 => key.clone().prop_map(Step::Failed),
        1 => key.clone().prop_map(Step::SetAside),
        6 => (chat.clone(), prop::bool::weighted(0.1), 0..3_u8, 0..3_u8, prop::option::of(key.clone()), now.clone())
            .prop_map(|(chat, stale, events, says, worked, now)| Step::Commit {
                chat, stale, events, says, worked, now
            }),
        2 => chat.clone().prop_map(Step::StrikeOldest),
        1 => chat.clone().prop_map(Step::StrikeNewest),
        2 => (key.clone(), prop::option::of(chat.clone())).prop_map(|(name, owner)| Step::PutOther { name, owner }),
        1 => key.prop_map(Step::RemoveOther),
        1 => chat.clone().prop_map(Step::Erase),
        2 => (chat, now.clone()).prop_map(|(chat, before)| Step::Expire(chat, before)),
        1 => now.prop_map(Step::ForgetWorked),
        1 => Just(Step::Again),
        1 => Just(Step::Compact),
    ]
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Fate {
    Waits,
    Worked(u64),
    Aside,
}

#[derive(Default)]
struct Session {
    revision: u64,
    events: Vec<Vec<u8>>,
    last: u64,
}

/// Lists, searched from end to end.
#[derive(Default)]
struct Model {
    sessions: BTreeMap<ChatId, Session>,
    inbox: Vec<(Arrived, Fate)>,
    outbox: Vec<(OutboxKey, Vec<u8>)>,
    others: BTreeMap<String, Other>,
    next: u64,
}

fn chat(number: u8) -> ChatId {
    ChatId::new(format!("chat {number}")).unwrap()
}

fn key(number: u8) -> InboxKey {
    InboxKey(format!("k/{number}"))
}

fn words(kind: &str, number: u8) -> Vec<Vec<u8>> {
    (0..number).map(|at| format!("{kind} {at} of {number}").into_bytes()).collect()
}

impl Model {
    fn keep(&mut self, key: InboxKey, chat: ChatId, inbound: Vec<u8>) -> Kept {
        if self.inbox.iter().any(|(kept, _)| kept.key == key) {
            return Kept::Repeat;
        }
        self.inbox.push((Arrived { key, chat, inbound, tries: 0 }, Fate::Waits));
        self.inbox.sort_by(|(a, _), (b, _)| a.key.cmp(&b.key));
        Kept::New
    }

    fn waiting_message(&mut self, key: &InboxKey) -> Result<&mut (Arrived, Fate), StoreError> {
        let found = self.inbox.iter_mut().find(|(kept, fate)| kept.key == *key && *fate == Fate::Waits);
        found.ok_or_else(|| StoreError::NotWaiting(key.clone()))
    }

    fn commit(&mut self, commit: Commit) -> Result<Revision, StoreError> {
        let found = self.sessions.get(&commit.chat).map_or(0, |session| session.revision);
        if found != commit.read_at.0 {
            return Err(StoreError::Conflict { read_at: commit.read_at, found: Revision(found) });
        }
        if let Some(key) = &commit.worked {
            let (message, fate) = self.waiting_message(key)?;
            if message.chat != commit.chat {
                return Err(StoreError::NotWaiting(key.clone()));
            }
            *fate = Fate::Worked(commit.now);
        }
        for say in commit.says {
            self.outbox.push((OutboxKey { chat: commit.chat.clone(), sequence: self.next }, say));
            self.next += 1;
        }
        let session = self.sessions.entry(commit.chat).or_default();
        session.events.extend(commit.events);
        session.revision += 1;
        session.last = commit.now;
        Ok(Revision(session.revision))
    }

    fn erase(&mut self, chat: &ChatId) -> Erased {
        let before = (self.inbox.len(), self.outbox.len(), self.others.len());
        self.inbox.retain(|(kept, _)| kept.chat != *chat);
        self.outbox.retain(|(key, _)| key.chat != *chat);
        self.others.retain(|_, other| other.owner.as_ref() != Some(chat));
        Erased {
            events: self.sessions.remove(chat).map_or(0, |session| session.events.len()),
            inbox: before.0 - self.inbox.len(),
            outbox: before.1 - self.outbox.len(),
            other: before.2 - self.others.len(),
        }
    }

    fn expire(&mut self, chat: &ChatId, before: u64) -> Option<Erased> {
        let idle = self.sessions.get(chat).is_some_and(|session| session.last < before);
        let busy = self.inbox.iter().any(|(kept, fate)| kept.chat == *chat && *fate == Fate::Waits);
        (idle && !busy).then(|| self.erase(chat))
    }

    fn says(&self, chat: &ChatId) -> Vec<(OutboxKey, Vec<u8>)> {
        self.outbox.iter().filter(|(key, _)| key.chat == *chat).cloned().collect()
    }

    fn with_fate(&self, fate: Fate) -> Vec<Arrived> {
        self.inbox.iter().filter(|(_, found)| *found == fate).map(|(kept, _)| kept.clone()).collect()
    }
}

/// Does a step in both, and compares the answers.
async fn take(step: Step, store: &impl Store, model: &mut Model) {
    match step {
        Step::Keep(number) => {
            let of = number % 4;
            let inbound = format!("from {of}").into_bytes();
            let kept = store.keep(key(number), chat(of), inbound.clone()).await;
            assert_eq!(kept, Ok(model.keep(key(number), chat(of), inbound)));
        }
        Step::Failed(number) => {
            let expected = model.waiting_message(&key(number)).map(|(message, _)| {
                message.tries += 1;
                message.tries
            });
            assert_eq!(store.failed(key(number)).await, expected);
        }
        Step::SetAside(number) => {
            let expected = model.waiting_message(&key(number)).map(|(_, fate)| *fate = Fate::Aside);
            assert_eq!(store.set_aside(key(number)).await, expected);
        }
        Step::Commit { chat: of, stale, events, says, worked, now } => {
            let read_at = model.sessions.get(&chat(of)).map_or(0, |session| session.revision);
            let commit = Commit {
                chat: chat(of),
                read_at: Revision(read_at + u64::from(stale)),
                events: words("event", events),
                says: words("say", says),
                worked: worked.map(key),
                now,
            };
            assert_eq!(store.commit(commit.clone()).await, model.commit(commit));
        }
        Step::StrikeOldest(of) => strike(model.says(&chat(of)).first(), store, model).await,
        Step::StrikeNewest(of) => strike(model.says(&chat(of)).last(), store, model).await,
        Step::PutOther { name, owner } => {
            let other = Other { name: format!("n/{name}"), owner: owner.map(chat), value: vec![name] };
            assert_eq!(store.put_other(other.clone()).await, Ok(()));
            model.others.insert(other.name.clone(), other);
        }
        Step::RemoveOther(name) => {
            let name = format!("n/{name}");
            let expected = model.others.remove(&name).is_some();
            assert_eq!(store.remove_other(name).await, Ok(expected));
        }
        Step::Erase(of) => assert_eq!(store.erase(chat(of)).await, Ok(model.erase(&chat(of)))),
        Step::Expire(of, before) => {
            assert_eq!(store.expire(chat(of), before).await, Ok(model.expire(&chat(of), before)));
        }
        Step::ForgetWorked(before) => {
            let was = model.inbox.len();
            model.inbox.retain(|(_, fate)| !matches!(fate, Fate::Worked(at) if *at < before));
            assert_eq!(store.forget_worked(before).await, Ok(was - model.inbox.len()));
        }
        Step::Again => {}
        Step::Compact => assert_eq!(store.compact().await, Ok(())),
    }
}

async fn strike(say: Option<&(OutboxKey, Vec<u8>)>, store: &impl Store, model: &mut Model) {
    if let Some((key, _)) = say {
        assert_eq!(store.strike(key.clone()).await, Ok(()));
        model.outbox.retain(|(kept, _)| kept != key);
    }
}

/// Compares all that can be asked for.
async fn compare(store: &impl Store, model: &Model) {
    assert_eq!(store.arrived(99).await.unwrap(), model.with_fate(Fate::Waits));
    assert_eq!(store.aside(99).await.unwrap(), model.with_fate(Fate::Aside));
    let last: Vec<_> = model.sessions.iter().map(|(id, session)| (id.clone(), session.last)).collect();
    assert_eq!(store.chats().await.unwrap(), last);
    let mut oldest = Vec::new();
    for id in (0..4).map(chat) {
        let expected = model.sessions.get(&id).map_or_else(StoredSession::default, |session| StoredSession {
            revision: Revision(session.revision),
            events: session.events.clone(),
        });
        assert_eq!(store.load(id.clone()).await.unwrap(), expected);
        let waiting = store.waiting_for(id.clone()).await.unwrap().into_iter();
        assert_eq!(waiting.map(|waits| (waits.key, waits.say)).collect::<Vec<_>>(), model.says(&id));
        oldest.extend(model.says(&id).into_iter().next());
        let owned: Vec<_> =
            model.others.values().filter(|other| other.owner.as_ref() == Some(&id)).cloned().collect();
        assert_eq!(store.list_other(Some(id)).await.unwrap(), owned);
    }
    oldest.sort_by_key(|(key, _)| key.sequence);
    let waiting = store.waiting(99).await.unwrap().into_iter();
    assert_eq!(waiting.map(|waits| (waits.key, waits.say)).collect::<Vec<_>>(), oldest);
    for name in (0..8).map(|name| format!("n/{name}")) {
        assert_eq!(store.get_other(name.clone()).await.unwrap(), model.others.get(&name).cloned());
    }
    let checked = store.check().await.unwrap();
    assert_eq!((checked.inbox, checked.outbox), (model.inbox.len(), model.outbox.len()));
}

fn histories(cases: u32, run: impl Fn(Vec<Step>)) {
    let config = Config { cases, failure_persistence: None, ..Config::default() };
    let steps = prop::collection::vec(step(), 1..60);
    TestRunner::new(config)
        .run(&steps, |steps| {
            run(steps);
            Ok(())
        })
        .unwrap();
}

fn runtime() -> tokio::runtime::Runtime {
    tokio::runtime::Builder::new_multi_thread().worker_threads(1).build().unwrap()
}

/// Where syncing costs nothing: what is compared here does not depend on the disk.
fn fast_place() -> PathBuf {
    Some(PathBuf::from("/dev/shm")).filter(|path| path.is_dir()).unwrap_or_else(std::env::temp_dir)
}

fn ring() -> Keyring {
    Keyring::new([9; 32], [])
}

#[test]
fn memory_agrees_with_the_model() {
    let runtime = runtime();
    histories(1_000, |steps| {
        runtime.block_on(async {
            let store = MemoryStore::new(Some(ring())).unwrap();
            let mut model = Model::default();
            for step in steps {
                take(step, &store, &mut model).await;
            }
            compare(&store, &model).await;
        });
    });
}

#[test]
fn sled_agrees_with_the_model() {
    let runtime = runtime();
    histories(1_000, |steps| {
        let sealed = steps.len() % 2 == 0;
        let dir = tempfile::tempdir_in(fast_place()).unwrap();
        let options = Options { keyring: sealed.then(ring), cache_bytes: 1 << 20, ..Options::default() };
        let open = || SledStore::open(dir.path(), options.clone()).unwrap().0;
        runtime.block_on(async {
            let mut store = open();
            let mut model = Model::default();
            for step in steps {
                if matches!(step, Step::Again) {
                    drop(store);
                    store = open();
                }
                take(step, &store, &mut model).await;
            }
            drop(store);
            compare(&open(), &model).await;
        });
    });
}
