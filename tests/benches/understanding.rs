//! How long understanding and answering take: `cargo bench --bench understanding`.

#![expect(clippy::unwrap_used, reason = "a bench fails by panicking")]

#[path = "../support/mod.rs"]
mod support;
#[path = "../support/talking.rs"]
mod talking;

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use lapwise::book::Book;
use lapwise::conversation::answers::{Roof, answer};
use lapwise::conversation::ears::{View, interpret};
use lapwise::conversation::understanding::TopicId;
use lapwise::roofing::roof::Facts;
use support::topics::{book, measured, understander};
use talking::{Chat, guide};

fn understanding(criterion: &mut Criterion) {
    let book = book();
    let understander = understander(&book);
    let messages = measured();
    let mut next = messages.iter().cycle();
    criterion.bench_function("understand one message of the corpus", |bencher| {
        bencher.iter(|| understander.understand(black_box(&next.next().unwrap().says)));
    });
    let long = messages.iter().take(40).map(|message| message.says.as_str()).collect::<Vec<_>>().join(". ");
    criterion.bench_function("understand forty sentences in one message", |bencher| {
        bencher.iter(|| understander.understand(black_box(&long)));
    });
    criterion.bench_function("read a book and make its topics ready", |bencher| {
        bencher.iter(|| {
            // A fresh book has not made its topics ready.
            black_box(Book::shipped()).topics.understander().topics().len()
        });
    });
    let facts = Facts::default();
    let roof = Roof {
        book: &book.handbook,
        facts: &facts,
        plan: None,
        refusals: &[],
        topics: book.topics.understander().topics(),
        before: None,
    };
    criterion.bench_function("answer every topic before there is a plan", |bencher| {
        bencher.iter(|| TopicId::ALL.iter().map(|topic| answer(*topic, false, &roof)).collect::<Vec<_>>());
    });
}

/// The ears alone: a message as people write them, and the longest that is listened to, full of names and figures,
/// beside a quarter of it: four times the words must not take sixteen times as long.
fn hearing(criterion: &mut Criterion) {
    let (guide, chat) = (guide(), Chat::default());
    let view = View { guide: &guide, session: &chat.session };
    let messages = measured();
    let mut next = messages.iter().cycle();
    criterion.bench_function("hear one message of the corpus", |bencher| {
        bencher.iter(|| interpret(&view, black_box(&next.next().unwrap().says)));
    });
    for words in ["ridge 8'6\" ", "deck1 purlin2 slab3 the roof is 2 m long "] {
        for length in [500, 2_000] {
            let text: String = words.chars().cycle().take(length).collect();
            criterion.bench_function(&format!("hear {length} characters of {words}"), |bencher| {
                bencher.iter(|| interpret(&view, black_box(&text)));
            });
        }
    }
}

criterion_group!(benches, understanding, hearing);
criterion_main!(benches);
