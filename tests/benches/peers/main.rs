//! The same six questions asked by bots of several frameworks, sessions on a disk, against one server.
//!
//! `cargo bench --bench peers` installs what is pinned beside this file into `target/tmp/peers`, measures, and
//! prints the table; `cargo bench --bench peers -- grammy` measures that one. Ours flushes to the disk before every
//! reply; the others do not. With `--features jemalloc` ours is the server as it is deployed.

#![expect(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    clippy::print_stdout,
    unreachable_pub,
    reason = "a measurement that meets what it does not expect should end there"
)]
#![allow(dead_code, reason = "the tests' server and harness can do more than is measured here")]

#[path = "../../telegram/botapi/mod.rs"]
mod botapi;
#[path = "../../telegram/counter.rs"]
mod counter;
#[path = "../../telegram/harness.rs"]
mod harness;
#[path = "../../support/memory.rs"]
mod memory;
mod peers;
#[path = "../../support/shed.rs"]
mod shed;

use std::collections::HashMap;
use std::time::{Duration, Instant};

use tokio::sync::mpsc::UnboundedReceiver;
use tokio::time::{sleep, timeout};

use botapi::{Faults, Server};
use peers::Peer;

#[cfg(feature = "jemalloc")]
#[global_allocator]
static ALLOCATOR: tikv_jemallocator::Jemalloc = tikv_jemallocator::Jemalloc;

const CHATS: i64 = 1_000;

/// The chat that floods, how much, and the one that must not notice.
const FLOODING: i64 = 50_000;
const FLOOD: usize = 300;
const NEIGHBOUR: i64 = 50_001;
const NEIGHBOURLY: usize = 20;

struct Measured {
    turns_per_second: u128,
    median: Duration,
    slowest_percent: Duration,
    quiet: Duration,
    flooded: Duration,
    peak_mb: u64,
}

fn main() {
    let runtime = tokio::runtime::Builder::new_multi_thread().enable_all().build().unwrap();
    runtime.block_on(async {
        harness::serve_as_child().await;
        let wanted: Vec<String> = std::env::args().skip(1).filter(|word| !word.starts_with('-')).collect();
        println!(
            "| bot | turns/s | p50 ms | p99 ms | neighbour quiet ms | neighbour of a flood ms | peak MB |"
        );
        println!("|---|---|---|---|---|---|---|");
        for peer in peers::all() {
            if wanted.is_empty() || wanted.iter().any(|name| peer.name.contains(name.as_str())) {
                let measured = measure(&peer).await;
                let ms = |time: Duration| format!("{:.1}", time.as_secs_f64() * 1_000.0);
                println!(
                    "| {} | {} | {} | {} | {} | {} | {} |",
                    peer.name,
                    measured.turns_per_second,
                    ms(measured.median),
                    ms(measured.slowest_percent),
                    ms(measured.quiet),
                    ms(measured.flooded),
                    measured.peak_mb
                );
            }
        }
    });
}

async fn measure(peer: &Peer) -> Measured {
    let server = Server::start(Faults::default(), None).await;
    let mut heard = server.listen();
    let dir = tempfile::tempdir().unwrap();
    let mut process = peer.start(&server.url(), dir.path());
    for said in peer.script {
        server.says(CHATS + 1, said);
        let reply = timeout(Duration::from_secs(30), heard.recv()).await;
        reply.unwrap_or_else(|_| panic!("{} does not answer", peer.name));
    }
    let (elapsed, mut times) = crowd(&server, peer.script, &mut heard).await;
    times.sort_unstable();
    let quiet = neighbour(&server, &mut heard).await;
    for turn in 0..FLOOD {
        server.says(FLOODING, &format!("flood {turn}"));
    }
    let flooded = neighbour(&server, &mut heard).await;
    let peak_mb = memory::kb(process.id(), "VmHWM:") / 1024;
    process.kill();
    let turns = u128::try_from(times.len()).unwrap();
    Measured {
        turns_per_second: turns * 1_000_000 / elapsed.as_micros(),
        median: times[times.len() / 2],
        slowest_percent: times[times.len() * 99 / 100],
        quiet,
        flooded,
        peak_mb,
    }
}

/// Everybody talks at once, each as soon as they are answered. How long it took, and every answer's wait.
async fn crowd(
    server: &Server,
    script: &[&str],
    heard: &mut UnboundedReceiver<(i64, Instant)>,
) -> (Duration, Vec<Duration>) {
    let began = Instant::now();
    let mut times = Vec::new();
    let mut waiting: HashMap<i64, (usize, Instant)> = HashMap::new();
    for chat in 1..=CHATS {
        waiting.insert(chat, (0, Instant::now()));
        server.says(chat, script[0]);
    }
    while !waiting.is_empty() {
        let (chat, at) =
            timeout(Duration::from_mins(1), heard.recv()).await.expect("it stands still").unwrap();
        let Some((turn, since)) = waiting.remove(&chat) else { continue };
        times.push(at.duration_since(since));
        if let Some(next) = script.get(turn + 1) {
            waiting.insert(chat, (turn + 1, Instant::now()));
            server.says(chat, next);
        }
    }
    (began.elapsed(), times)
}

/// One person says something now and then; the longest they waited.
async fn neighbour(server: &Server, heard: &mut UnboundedReceiver<(i64, Instant)>) -> Duration {
    let mut longest = Duration::ZERO;
    for turn in 0..NEIGHBOURLY {
        // A reply in several messages must not count as the answer to what is said next.
        while heard.try_recv().is_ok() {}
        let since = Instant::now();
        server.says(NEIGHBOUR, &format!("hello {turn}"));
        loop {
            let (chat, at) = timeout(Duration::from_mins(2), heard.recv()).await.expect("no answer").unwrap();
            if chat == NEIGHBOUR {
                longest = longest.max(at.duration_since(since));
                break;
            }
        }
        sleep(Duration::from_millis(20)).await;
    }
    longest
}
