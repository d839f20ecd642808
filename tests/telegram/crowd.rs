//! Many new people at once: all are answered, and memory stays bounded.
//!
//! A long run with everything going wrong is a row of `tests/attack` (`soak.rs`).

use lapwise::serve::Way;

use crate::botapi::{Faults, Server};
use crate::harness::spawn;
use crate::memory;

/// The most memory a crowd may cost, in kB; the store's cache is most of it.
const CROWDED_KB: u64 = 200_000;

#[tokio::test(flavor = "multi_thread")]
async fn ten_thousand_new_chats_are_all_answered_within_bounded_memory() {
    let server = Server::start(Faults::default(), None).await;
    let dir = tempfile::tempdir().unwrap();
    let bot = spawn(&server.url(), dir.path(), &Way::Polling);
    let long = "x".repeat(100_000);
    for chat in 1..=10_000 {
        server.says(chat, if chat % 100 == 0 { &long } else { "hello" });
    }
    for chat in 1..=10_000 {
        server.message(chat, 1).await;
    }
    let peak = memory::kb(bot.id(), "VmHWM:");
    println!("10 000 new chats: {peak} kB at most");
    assert!(peak < CROWDED_KB, "{peak} kB");
}
