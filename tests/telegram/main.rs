//! Telegram, end to end: real HTTP against Bot API servers that keep state, fail and are killed in between.
#![expect(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::print_stdout,
    unreachable_pub,
    reason = "a test that meets what it does not expect should end there"
)]

#[expect(dead_code, reason = "the measurements use what the tests do not")]
mod botapi;
mod chats;
mod counter;
mod crash;
mod crowd;
#[cfg(feature = "outside")]
mod emulator;
#[expect(dead_code, reason = "the measurements use what the tests do not")]
mod harness;
#[path = "../support/memory.rs"]
mod memory;
mod operation;
mod served;
mod trouble;
mod updates;
mod written_chats;
