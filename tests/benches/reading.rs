//! How long one answer takes to read: a plain one, a spoken one, and a long muddle.

use criterion::{Criterion, criterion_group, criterion_main};
use lapwise::units::Quantity;
use lapwise::units::reading::{Context, read};
use std::hint::black_box;

fn reading(criterion: &mut Criterion) {
    let length = Context { quantity: Quantity::Length, usual: None, boundaries: &[] };
    let texts = [
        ("plain", "2.4m"),
        ("feet and inches", "8'6 1/2\""),
        ("number words", "two thousand four hundred and ten millimetres"),
        ("muddle", "it's about 2.4m I think mate, no wait, sorry, make that eight foot six and a half"),
    ];
    for (name, text) in texts {
        criterion.bench_function(&format!("reading/{name}"), |bench| {
            bench.iter(|| read(black_box(text), black_box(&length)));
        });
    }
    let longest = "about 2.4 m ".repeat(166);
    criterion.bench_function("reading/2000 characters", |bench| {
        bench.iter(|| read(black_box(&longest), black_box(&length)));
    });
}

criterion_group!(benches, reading);
criterion_main!(benches);
