//! How long planning takes, from facts to a checked plan: a 2.4 × 1.8 m shed and a 20 × 10 m barn.

#[path = "../common/mod.rs"]
mod common;

use std::hint::black_box;

use common::{Answers, handbook};
use criterion::{Criterion, criterion_group, criterion_main};
use lapwise::roofing::plan::plan;

fn plans(criterion: &mut Criterion) {
    let book = handbook();
    for (name, roof) in [("plan/shed", Answers::shed()), ("plan/barn", Answers::barn())] {
        criterion.bench_function(name, |bench| bench.iter(|| plan(black_box(&roof.0), black_box(&book))));
    }
}

criterion_group!(benches, plans);
criterion_main!(benches);
