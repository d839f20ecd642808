//! `kill -9` at any moment of forty chats over the messenger, with each way in: every message has one turn, in order,
//! and every reply arrives.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::process::ExitCode;

use lapwise::serve::Way;

use crate::crash::survive;
use crate::harness::{serve_as_child, webhook};
use crate::{Outcome, Row};

pub const POLLING: Row = Row {
    name: "killed, messenger, polling",
    short: 5,
    whole: 100,
    run: |tries| run(tries, &Way::Polling, 21),
};
pub const WEBHOOK: Row =
    Row { name: "killed, messenger, webhook", short: 5, whole: 100, run: |tries| run(tries, &webhook(), 22) };

/// Whether this process is a bot that is to be killed.
pub fn is_child() -> bool {
    std::env::var_os("LAPWISE_TEST_CHILD").is_some()
}

fn runtime() -> tokio::runtime::Runtime {
    tokio::runtime::Builder::new_multi_thread().worker_threads(2).enable_all().build().unwrap()
}

/// Serves until it is killed.
pub fn serve() -> ExitCode {
    runtime().block_on(serve_as_child());
    ExitCode::SUCCESS
}

fn run(tries: u32, way: &Way, seed: u64) -> Outcome {
    let mut outcome = Outcome { tries, ..Outcome::default() };
    let survived = catch_unwind(AssertUnwindSafe(|| runtime().block_on(survive(way, seed, tries))));
    match survived {
        Ok(counted) => outcome.note = counted,
        Err(why) => {
            let why = why.downcast_ref::<String>().cloned().unwrap_or_else(|| "it panicked".to_owned());
            outcome.failures.push(why);
        }
    }
    outcome
}
