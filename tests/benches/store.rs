//! What a durable turn costs: alone, with 63 others, and how long a store of 10 000 chats takes to open.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::print_stdout,
    reason = "a test may stop where it stands"
)]

use std::hint::black_box;
use std::sync::Arc;
use std::time::{Duration, Instant};

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use lapwise::message::ChatId;
use lapwise::store::sled::Options;
use lapwise::store::{Commit, InboxKey, Keyring, Revision, SledStore, Store};
use tempfile::TempDir;
use tokio::runtime::Runtime;

/// About what a turn of the conversation leaves: 300 bytes of events, 600 of words.
const EVENT: usize = 300;
const SAY: usize = 600;

fn options() -> Options {
    Options { keyring: Some(Keyring::new([1; 32], [])), ..Options::default() }
}

fn turn(chat: &ChatId, read_at: u64, worked: Option<InboxKey>) -> Commit {
    Commit {
        chat: chat.clone(),
        read_at: Revision(read_at),
        events: vec![vec![b'e'; EVENT]],
        says: vec![vec![b's'; SAY]],
        worked,
        now: 1,
    }
}

fn chat(number: u64) -> ChatId {
    ChatId::new(format!("telegram:{number}")).expect("a chat id")
}

fn sled() -> (TempDir, Arc<SledStore>) {
    let dir = tempfile::tempdir().expect("a directory");
    let store = SledStore::open(dir.path(), options()).expect("a store").0;
    (dir, Arc::new(store))
}

/// Kept, worked and struck: three durable writes.
async fn whole_turn(store: &SledStore, chat: &ChatId, number: u64) {
    let key = InboxKey(format!("{chat}/{number:020}"));
    store.keep(key.clone(), chat.clone(), vec![b'i'; 60]).await.expect("kept");
    store.commit(turn(chat, number, Some(key))).await.expect("committed");
    for waits in store.waiting_for(chat.clone()).await.expect("what waits") {
        store.strike(waits.key).await.expect("struck");
    }
}

fn one_commit(criterion: &mut Criterion) {
    let runtime = Runtime::new().expect("a runtime");
    let (_dir, store) = sled();
    let mut at = 0;
    criterion.bench_function("one durable commit", |bench| {
        bench.iter(|| {
            let committed = runtime.block_on(store.commit(turn(&chat(1), at, None)));
            at = committed.expect("committed").0;
        });
    });
}

fn many_writers(criterion: &mut Criterion) {
    let runtime = Runtime::new().expect("a runtime");
    let (_dir, store) = sled();
    let mut done = 0;
    let mut group = criterion.benchmark_group("64 writers");
    group.throughput(Throughput::Elements(64));
    group.bench_function("one whole turn each", |bench| {
        bench.iter_custom(|rounds| {
            let started = Instant::now();
            runtime.block_on(async {
                let mut writers = tokio::task::JoinSet::new();
                for writer in 0..64 {
                    let store = Arc::clone(&store);
                    writers.spawn(async move {
                        for round in 0..rounds {
                            whole_turn(&store, &chat(writer), done + round).await;
                        }
                    });
                }
                writers.join_all().await;
            });
            done += rounds;
            started.elapsed()
        });
    });
    group.finish();
    let written = store.written();
    println!("{} changes shared {} syncs", written.changes, written.syncs);
}

fn opening(criterion: &mut Criterion) {
    let runtime = Runtime::new().expect("a runtime");
    let (dir, store) = sled();
    runtime.block_on(async {
        let mut writers = tokio::task::JoinSet::new();
        for number in 0..10_000 {
            let store = Arc::clone(&store);
            writers.spawn(async move {
                for at in 0..10 {
                    store.commit(turn(&chat(number), at, None)).await.expect("committed");
                }
            });
        }
        writers.join_all().await;
    });
    let mut group = criterion.benchmark_group("10 000 chats of 10 turns");
    group.sample_size(10).measurement_time(Duration::from_secs(5));
    group.bench_function("the oldest message of 100 chats", |bench| {
        bench.iter(|| black_box(runtime.block_on(store.waiting(100)).expect("what waits").len()));
    });
    group.bench_function("load a session", |bench| {
        bench.iter(|| black_box(runtime.block_on(store.load(chat(5_000))).expect("a session").events.len()));
    });
    drop(store);
    group.bench_function("open", |bench| {
        bench.iter(|| black_box(SledStore::open(dir.path(), options()).expect("a store").1));
    });
    group.finish();
}

criterion_group!(benches, one_commit, many_writers, opening);
criterion_main!(benches);
