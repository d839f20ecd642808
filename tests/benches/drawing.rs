//! How long drawings and papers take: a shed's six drawings as PNG, and its roof pack as PDF.
#![allow(clippy::unwrap_used, clippy::panic, clippy::indexing_slicing, reason = "a fault stops the bench")]

#[path = "../support/common.rs"]
mod common;
#[path = "../drawings/roofs.rs"]
mod roofs;
#[path = "../drawings/words.rs"]
mod words;

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use lapwise::drawing::document::Paper;
use lapwise::drawing::of_plan;
use lapwise::export::pack::{self, PackOrder};
use lapwise::render::{pdf, png, svg};
use words::English;

/// As wide as a phone shows sharply.
const PIXELS: u32 = 1_000;

fn drawings(criterion: &mut Criterion) {
    let english = English::shipped();
    let book = &english.0.handbook;
    for (name, plan) in roofs::all(book).into_iter().filter(|(name, _)| ["shed", "barn"].contains(name)) {
        let draw = || of_plan(black_box(&plan), &english);
        criterion.bench_function(&format!("drawings/{name}/svg"), |bench| {
            bench.iter(|| draw().iter().map(svg::write).collect::<Vec<_>>());
        });
        criterion.bench_function(&format!("drawings/{name}/png"), |bench| {
            bench.iter(|| {
                draw().iter().map(|picture| png::write(picture, PIXELS)).collect::<Result<Vec<_>, _>>()
            });
        });
        let order =
            PackOrder { facts: &[], checks: &[], date: "2026-11-25", language: "en", paper: Paper::A4 };
        criterion.bench_function(&format!("pack/{name}"), |bench| {
            bench.iter(|| pdf::write(&pack::document(black_box(&plan), &english, order)));
        });
    }
}

criterion_group!(benches, drawings);
criterion_main!(benches);
