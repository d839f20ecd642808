//! How long understanding and answering take: `cargo bench --bench understanding`.

#![expect(clippy::unwrap_used, reason = "a bench fails by panicking")]

#[path = "../support/mod.rs"]
mod support;

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use lapwise::book::Book;
use lapwise::conversation::answers::{Roof, answer};
use lapwise::conversation::understanding::TopicId;
use lapwise::roofing::roof::Facts;
use support::topics::{book, measured, understander};

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

criterion_group!(benches, understanding);
criterion_main!(benches);
