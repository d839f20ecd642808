//! How long a page takes, and how much 500 open chats hold. Needs a release build to mean anything:
//! `cargo bench --bench web`.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::print_stdout,
    unreachable_pub,
    reason = "a bench that meets what it does not expect should end there"
)]
#![allow(dead_code, reason = "the attacks use more of the server they share with this")]

#[path = "../support/memory.rs"]
mod memory;
#[path = "../attack/served.rs"]
mod served;
#[path = "../support/shed.rs"]
mod shed;

use std::io::{Read, Write};
use std::net::TcpStream;
use std::time::{Duration, Instant};

use served::{Served, Visitor};
use shed::SHED;

/// The bounds that are kept to.
const PAGE_WITHIN: Duration = Duration::from_millis(5);
const OPEN_CHATS: u32 = 500;
const MEMORY_AT_MOST_KB: u64 = 100 * 1024;

/// A person who has said these things.
fn person(served: &Served, number: u32, says: &[&str]) -> Visitor {
    let mut visitor = Visitor::of(served, number * 100);
    for text in says {
        assert_eq!(visitor.say(served, text), 303, "{text}");
    }
    visitor
}

fn main() {
    let served = Served::start(&[]);
    let visitor = person(&served, 600, SHED);
    let mut times: Vec<Duration> = (0..200)
        .map(|number| {
            let begun = Instant::now();
            let page = served.ask("GET", "/", &visitor.cookie, "", 70_000 + number).body;
            assert!(page.contains("Your plan is ready"), "{page}");
            begun.elapsed()
        })
        .collect();
    times.sort();
    println!("a page with a whole chat: median {:?}, 99 % within {:?}", times[100], times[197]);

    let before = served.resident_kb();
    let mut open = Vec::new();
    for number in 0..OPEN_CHATS {
        let cookie = person(&served, number, &SHED[..3]).cookie;
        let mut stream = TcpStream::connect(served.address).expect("a connection");
        let request = format!(
            "GET /events?after=0 HTTP/1.1\r\nhost: x\r\ncookie: {cookie}\r\nx-forwarded-for: 10.1.1.{}\r\n\r\n",
            number % 250
        );
        stream.write_all(request.as_bytes()).expect("sent");
        let mut first = [0; 15];
        stream.read_exact(&mut first).expect("an answer");
        assert_eq!(&first, b"HTTP/1.1 200 OK");
        open.push(stream);
    }
    let after = served.resident_kb();
    println!(
        "{OPEN_CHATS} open chats: {} KB in all, {} KB of them for the chats",
        after,
        after.saturating_sub(before)
    );
    let met = times[100] <= PAGE_WITHIN && after <= MEMORY_AT_MOST_KB;
    assert!(met || cfg!(debug_assertions), "the bounds are not kept");
}
