//! How long one message takes: in memory, and kept on the disk.
//!
//! `turn/memory` is the conversation alone, in the middle of the questions and with a finished plan.
//! `turn/durable` is the same message through the app on the embedded store. What that takes beyond `turn/flush`, a
//! commit of the same size that waits for the same disk, is our own work.

#![expect(clippy::expect_used, reason = "a benchmark that cannot start has nothing to say")]

#[path = "../support/guide.rs"]
mod guide;

use std::hint::black_box;
use std::sync::Arc;

use criterion::{Criterion, criterion_group, criterion_main};
use guide::guide_of;
use lapwise::app::App;
use lapwise::book::Book;
use lapwise::conversation::session::Session;
use lapwise::conversation::turn;
use lapwise::message::{ChatId, Content, Inbound};
use lapwise::store::sled::{Options, SledStore};
use lapwise::store::{Commit, MemoryStore, Store};

const SHED: &[&str] = &[
    "hi",
    "felt",
    "sound",
    "none",
    "one slope",
    "25 degrees",
    "boards",
    "12 mm",
    "600 mm",
    "2.4 m",
    "1.8 m",
    "no",
    "none",
    "left",
    "no",
    "demo",
    "yes",
];

fn inbound(text: &str) -> Inbound {
    let chat = ChatId::new("bench:chat").expect("an id");
    Inbound { chat, id: "1".to_owned(), content: Content::Text(text.to_owned()) }
}

const fn noon() -> u64 {
    1_795_608_000
}

fn in_memory(criterion: &mut Criterion) {
    let book = Book::shipped();
    let guide = guide_of(&book);
    let after = |messages: &[&str]| {
        messages.iter().fold(Session::default(), |mut session, text| {
            for event in turn(&guide, &session, &Content::Text((*text).to_owned())).events {
                session.apply(&event);
            }
            session
        })
    };
    let length = after(SHED.get(..9).expect("messages"));
    let planned = after(SHED);
    assert!(planned.planned(), "the shed is planned");
    for (name, session, text) in [
        ("turn/memory, an answer", &length, "2.4 m"),
        ("turn/memory, a changed plan", &planned, "the roof is 2.6 m long"),
        ("turn/memory, noise", &length, "my nan had one of these"),
    ] {
        let content = Content::Text(text.to_owned());
        criterion.bench_function(name, |bench| bench.iter(|| turn(&guide, black_box(session), &content)));
    }
}

fn through_the_app(criterion: &mut Criterion) {
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().expect("a runtime");
    let book = Arc::new(Book::shipped());
    // A new chat each time: one that grows would take longer each time.
    let message = inbound("why?");
    let memory = MemoryStore::new(None).expect("a store");
    let app = App::new(Arc::clone(&book), Arc::new(memory), noon, "kept-on-this-computer");
    criterion.bench_function("turn/app in memory", |bench| {
        let mut chat = 0_u32;
        bench.iter(|| {
            chat += 1;
            let chat = ChatId::new(format!("bench:{chat}")).expect("an id");
            let message = Inbound { chat, ..message.clone() };
            runtime.block_on(app.work(black_box(&message), None, false)).expect("a turn")
        });
    });

    let dir = tempfile::tempdir().expect("a directory");
    let (store, _) = SledStore::open(dir.path(), Options::default()).expect("a store");
    let store = Arc::new(store);
    let app = App::new(book, Arc::clone(&store), noon, "kept-on-this-computer");
    criterion.bench_function("turn/durable", |bench| {
        let mut chat = 0_u32;
        bench.iter(|| {
            chat += 1;
            let chat = ChatId::new(format!("bench:{chat}")).expect("an id");
            let message = Inbound { chat, ..message.clone() };
            runtime.block_on(app.work(&message, None, false)).expect("a turn")
        });
    });
    criterion.bench_function("turn/flush", |bench| {
        let mut chat = 0_u32;
        bench.iter(|| {
            chat += 1;
            let chat = ChatId::new(format!("flush:{chat}")).expect("an id");
            runtime.block_on(async {
                let read_at = store.load(chat.clone()).await.expect("a session").revision;
                let events = vec![
                    br#"{"v":"1","event":"greeted"}"#.to_vec(),
                    br#"{"v":"1","event":"asked"}"#.to_vec(),
                ];
                let commit = Commit { chat, read_at, events, says: Vec::new(), worked: None, now: noon() };
                store.commit(commit).await.expect("kept")
            })
        });
    });
}

criterion_group!(benches, in_memory, through_the_app);
criterion_main!(benches);
