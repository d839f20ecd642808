//! A long run with everything going wrong now and then: nothing is lost, the outbox drains, memory stays flat.
//!
//! `LAPWISE_SOAK=1800 cargo test --test telegram soak -- --nocapture` runs half an hour with 500 chats; without
//! the variable it is a few seconds with 50.

use std::collections::BTreeMap;
use std::time::{Duration, Instant};

use lapwise::serve::Way;
use tokio::time::sleep;

use crate::botapi::{Faults, Server};
use crate::harness::spawn;

/// How much more memory the second half may need than the first, in percent: the allocator's breathing.
const BREATH: u64 = 25;

fn seconds() -> u64 {
    std::env::var("LAPWISE_SOAK").ok().and_then(|seconds| seconds.parse().ok()).unwrap_or(6)
}

#[tokio::test(flavor = "multi_thread")]
async fn a_long_run_with_faults_loses_nothing_and_stays_flat() {
    let seconds = seconds();
    let chats: i64 = if seconds >= 60 { 500 } else { 50 };
    let server = Server::start(Faults::everywhere(99), None).await;
    let dir = tempfile::tempdir().unwrap();
    let mut bot = spawn(&server.url(), dir.path(), &Way::Polling);
    let began = Instant::now();
    let mut sent: BTreeMap<i64, usize> = BTreeMap::new();
    let mut memory = Vec::new();
    while began.elapsed() < Duration::from_secs(seconds) {
        for chat in 1..=chats {
            server.says(chat, "tick");
            *sent.entry(chat).or_default() += 1;
            sleep(Duration::from_millis(3)).await;
        }
        memory.push(memory_kb(bot.id(), "VmRSS:"));
    }
    let mut replies = 0;
    for (chat, turns) in &sent {
        let last = format!("{turns}: tick");
        let messages = server.until(*chat, &last, |m| m.iter().any(|m| m.text.starts_with(&last))).await;
        let mut numbers: Vec<usize> =
            messages.iter().map(|m| m.text.split_once(':').unwrap().0.parse().unwrap()).collect();
        replies += numbers.len();
        numbers.dedup();
        assert_eq!(numbers, (1..=*turns).collect::<Vec<_>>(), "chat {chat}");
    }
    bot.kill();
    let turns: usize = sent.values().sum();
    let (first, second) = memory.split_at(memory.len() / 2);
    let peak = |half: &[u64]| half.iter().max().copied().unwrap_or_default();
    println!(
        "{seconds} s, {chats} chats: {turns} turns, {replies} replies, {} refused, at most {} then {} kB",
        server.refused(429),
        peak(first),
        peak(second)
    );
    if seconds >= 600 {
        assert!(peak(second) * 100 <= peak(first) * (100 + BREATH), "memory grows: {memory:?}");
    }
}

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
    let peak = memory_kb(bot.id(), "VmHWM:");
    println!("10 000 new chats: {peak} kB at most");
    assert!(peak < CROWDED_KB, "{peak} kB");
}

fn memory_kb(process: u32, what: &str) -> u64 {
    let status = std::fs::read_to_string(format!("/proc/{process}/status")).unwrap();
    let line = status.lines().find(|line| line.starts_with(what)).unwrap();
    line.split_whitespace().nth(1).unwrap().parse().unwrap()
}
