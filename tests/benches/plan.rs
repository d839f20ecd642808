//! How long planning takes, from facts to a checked plan: a 2.4 × 1.8 m shed and a 20 × 10 m barn; and how long a
//! plan made again half-way takes, with what follows for the work done.

#![expect(clippy::expect_used, reason = "a bench of a roof without a plan is none")]

#[path = "../support/common.rs"]
mod common;

use std::collections::BTreeSet;
use std::hint::black_box;

use common::{Answers, handbook, shipped};
use criterion::{Criterion, criterion_group, criterion_main};
use lapwise::roofing::plan::plan;
use lapwise::roofing::roof::FactKey;
use lapwise::roofing::work::{StepKey, consequence, steps};

fn plans(criterion: &mut Criterion) {
    let book = handbook();
    for (name, roof) in [("plan/shed", Answers::shed()), ("plan/barn", Answers::barn())] {
        criterion.bench_function(name, |bench| bench.iter(|| plan(black_box(&roof.0), black_box(&book))));
    }
}

fn changes(criterion: &mut Criterion) {
    let book = handbook();
    for (name, roof) in [("plan/change", Answers::shed()), ("plan/change-barn", Answers::barn())] {
        let flatter = roof.clone().angle(FactKey::Pitch, 12.0);
        let before = plan(&roof.0, &book).expect("a plan");
        let done: BTreeSet<StepKey> = steps(&before).into_iter().take(12).map(|step| step.key).collect();
        criterion.bench_function(name, |bench| {
            bench.iter(|| {
                let after = plan(black_box(&flatter.0), &book).expect("a plan");
                consequence(&before, &after, black_box(&done))
            });
        });
    }
}

/// Every check of strength, water and damp of a laid roof, by the shipped book.
fn checks(criterion: &mut Criterion) {
    let book = shipped();
    for (name, roof) in [("checks/shed", Answers::shed()), ("checks/barn", Answers::barn())] {
        let roof = roof.choose(FactKey::Sheet, "fennick-sheet-2000");
        let plan = plan(&roof.0, &book).expect("a plan");
        criterion.bench_function(name, |bench| bench.iter(|| plan.checks(black_box(&book.rules))));
    }
}

criterion_group!(benches, plans, changes, checks);
criterion_main!(benches);
