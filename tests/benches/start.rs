//! How long it takes from the start of the process to the first question: `lapwise chat --pipe`, on a new store and on
//! one that is there.

#![expect(clippy::expect_used, reason = "a benchmark that cannot start has nothing to say")]

use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use criterion::{Criterion, criterion_group, criterion_main};

/// Starts a chat, says hi, and waits for the question.
fn first_question(data: &Path) -> Duration {
    let started = Instant::now();
    let mut child = Command::new(env!("CARGO_BIN_EXE_lapwise"))
        .args(["chat", "--pipe", "--data"])
        .arg(data)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("it starts");
    let mut input = child.stdin.take().expect("piped");
    input.write_all(b"{\"text\": \"hi\"}\n").expect("written");
    let mut line = String::new();
    BufReader::new(child.stdout.take().expect("piped")).read_line(&mut line).expect("a line");
    let took = started.elapsed();
    assert!(line.contains("ask-covering-now"), "{line}");
    drop(input);
    child.wait().expect("it ends");
    took
}

fn start(criterion: &mut Criterion) {
    criterion.bench_function("start/new store", |bench| {
        bench.iter_custom(|times| {
            let new = || tempfile::tempdir().expect("a directory");
            (0..times).map(|_| first_question(new().path())).sum()
        });
    });
    let dir = tempfile::tempdir().expect("a directory");
    criterion.bench_function("start/kept store", |bench| {
        bench.iter_custom(|times| (0..times).map(|_| first_question(dir.path())).sum());
    });
}

criterion_group! {
    name = benches;
    config = Criterion::default().sample_size(20);
    targets = start
}
criterion_main!(benches);
