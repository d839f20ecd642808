//! Attacks on a server, counted: one row a kind of attack, one file a row, one table at the end.
//!
//! ```text
//! cargo test --release --test attack                        a few tries a row, as CI runs it
//! LAPWISE_ATTACK=whole cargo test --release --test attack   as many as deploy/README.md tells of
//! LAPWISE_ATTACK=25 cargo test --release --test attack      at most so many a row
//! cargo test --release --test attack -- killed damaged      the rows whose names hold one of these words
//! ```
//!
//! A new row is a file beside this one with a `ROW`, and its name in [`ROWS`]. A row that cannot be tried on this
//! machine says why, and fails nothing.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::print_stdout,
    unreachable_pub,
    reason = "an attack may stop where it stands, and says what it counted"
)]

mod backups;
#[cfg(feature = "telegram")]
#[path = "../telegram/botapi/mod.rs"]
#[allow(dead_code, reason = "the tests of the messenger use more of it")]
mod botapi;
#[cfg(feature = "telegram")]
#[path = "../telegram/counter.rs"]
#[allow(dead_code, reason = "the tests of the messenger use more of it")]
mod counter;
#[cfg(feature = "telegram")]
#[path = "../telegram/crash.rs"]
#[allow(dead_code, unused_imports, reason = "the tests of the messenger use more of it")]
mod crash;
#[cfg(feature = "web")]
mod crowd;
mod damages;
#[cfg(feature = "web")]
mod exports;
mod full;
#[cfg(feature = "telegram")]
#[path = "../telegram/harness.rs"]
#[allow(dead_code, unused_imports, reason = "the tests of the messenger use more of it")]
mod harness;
mod killed;
#[cfg(feature = "telegram")]
mod killed_messenger;
#[path = "../support/memory.rs"]
mod memory;
#[cfg(feature = "web")]
mod month;
mod mount;
#[cfg(feature = "web")]
mod page;
#[cfg(all(feature = "web", feature = "telegram"))]
mod poison;
#[cfg(feature = "web")]
#[allow(dead_code, reason = "the benchmark of the page uses more of it")]
mod served;
#[cfg(feature = "web")]
#[path = "../support/shed.rs"]
mod shed;
#[cfg(feature = "web")]
mod slow;
#[cfg(feature = "telegram")]
mod soak;
mod writer;

use std::process::ExitCode;
use std::time::Instant;

/// With this feature what is attacked is the server as it is deployed.
#[cfg(feature = "jemalloc")]
#[global_allocator]
static ALLOCATOR: tikv_jemallocator::Jemalloc = tikv_jemallocator::Jemalloc;

/// Every row, in the order of the table.
const ROWS: &[Row] = &[
    killed::ROW,
    #[cfg(feature = "telegram")]
    killed_messenger::POLLING,
    #[cfg(feature = "telegram")]
    killed_messenger::WEBHOOK,
    full::TMPFS,
    full::EXT4,
    damages::ROW,
    backups::ROW,
    #[cfg(feature = "web")]
    page::ROW,
    #[cfg(feature = "web")]
    slow::ROW,
    #[cfg(feature = "web")]
    crowd::ROW,
    #[cfg(all(feature = "web", feature = "telegram"))]
    poison::ROW,
    #[cfg(feature = "web")]
    exports::ROW,
    #[cfg(feature = "web")]
    month::ROW,
    #[cfg(feature = "telegram")]
    soak::ROW,
];

/// One kind of attack.
pub struct Row {
    /// What is done, in a few words.
    pub name: &'static str,
    /// How often in a short run.
    pub short: u32,
    /// How often in a whole one.
    pub whole: u32,
    /// Does it so often.
    pub run: fn(u32) -> Outcome,
}

/// What a row came to.
#[derive(Default)]
pub struct Outcome {
    /// How often it was tried; 0 where this machine cannot try it.
    pub tries: u32,
    /// What went wrong, each in a line.
    pub failures: Vec<String>,
    /// What else was counted, or why nothing was tried.
    pub note: String,
}

impl Outcome {
    /// A row that cannot be tried here.
    pub fn skipped(why: impl Into<String>) -> Self {
        Self { note: format!("not tried: {}", why.into()), ..Self::default() }
    }
}

/// How many tries a row gets in this run.
fn tries(row: &Row) -> u32 {
    match std::env::var("LAPWISE_ATTACK").as_deref() {
        Ok("whole") => row.whole,
        Ok(number) => number.parse::<u32>().expect("LAPWISE_ATTACK is `whole` or a number").min(row.whole),
        Err(_) => row.short,
    }
}

fn main() -> ExitCode {
    // Some rows start this very program again, as what is attacked.
    if writer::is_child() {
        return writer::run();
    }
    #[cfg(feature = "telegram")]
    if killed_messenger::is_child() {
        return killed_messenger::serve();
    }
    let words: Vec<String> = std::env::args().skip(1).filter(|word| !word.starts_with('-')).collect();
    let wanted = |row: &&Row| words.is_empty() || words.iter().any(|word| row.name.contains(word.as_str()));
    let mut failed = false;
    println!("| attack | tries | failures | seconds | |\n|---|---|---|---|---|");
    for row in ROWS.iter().filter(wanted) {
        let begun = Instant::now();
        let Outcome { tries, failures, note } = (row.run)(tries(row));
        let seconds = begun.elapsed().as_secs_f64();
        println!("| {} | {tries} | {} | {seconds:.0} | {note} |", row.name, failures.len());
        for failure in &failures {
            println!("  FAILED {}: {failure}", row.name);
        }
        failed |= !failures.is_empty();
    }
    if failed { ExitCode::FAILURE } else { ExitCode::SUCCESS }
}
