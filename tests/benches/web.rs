//! How long a page takes, and how much 500 open chats hold. Needs a release build to mean anything:
//! `cargo bench --bench web`.

#![allow(
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::print_stdout,
    reason = "a bench that meets what it does not expect should end there"
)]

use std::fs;
use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

/// The bounds that are kept to.
const PAGE_WITHIN: Duration = Duration::from_millis(5);
const OPEN_CHATS: usize = 500;
const MEMORY_AT_MOST_KB: u64 = 100 * 1024;

const SHED: &[&str] = &[
    "It's felt on 12mm boards, one slope of 25 degrees, 2.4m long, 1.8m up the slope",
    "felt",
    "sound",
    "none",
    "600",
    "no",
    "none",
    "left",
    "no",
    "demo",
    "yes",
];

struct Served {
    process: Child,
    address: String,
    _data: tempfile::TempDir,
}

impl Drop for Served {
    fn drop(&mut self) {
        let _ = self.process.kill();
        let _ = self.process.wait();
    }
}

fn serve() -> Served {
    let data = tempfile::tempdir().expect("a directory");
    let mut process = Command::new(env!("CARGO_BIN_EXE_lapwise"))
        .args(["serve", "--web", "127.0.0.1:0", "--data"])
        .arg(data.path())
        .stdout(Stdio::piped())
        .spawn()
        .expect("the server");
    let mut line = String::new();
    BufReader::new(process.stdout.take().expect("its output")).read_line(&mut line).expect("its address");
    let address = line.trim().trim_start_matches("http://").trim_end_matches('/').to_owned();
    Served { process, address, _data: data }
}

/// One request; each person comes from an address of their own, as behind a proxy.
fn ask(served: &Served, person: usize, head: &str, body: &str) -> String {
    let mut stream = TcpStream::connect(&served.address).expect("a connection");
    let from = format!("10.0.{}.{}", person / 250, person % 250);
    let length = body.len();
    let request = format!(
        "{head}\r\nhost: x\r\nconnection: close\r\nx-forwarded-for: {from}\r\n\
         content-type: application/x-www-form-urlencoded\r\ncontent-length: {length}\r\n\r\n{body}"
    );
    stream.write_all(request.as_bytes()).expect("sent");
    let mut answer = String::new();
    stream.read_to_string(&mut answer).expect("an answer");
    answer
}

fn between<'a>(text: &'a str, start: &str, end: &str) -> &'a str {
    let rest = text.split_once(start).expect(start).1;
    rest.split_once(end).expect(end).0
}

/// A person who has said these things: their cookie.
fn person(served: &Served, number: usize, says: &[&str]) -> String {
    let page = ask(served, number, "GET / HTTP/1.1", "");
    let cookie = between(&page, "set-cookie: ", ";").to_owned();
    let token = between(&page, "name=\"token\" value=\"", "\"").to_owned();
    for (turn, text) in says.iter().enumerate() {
        let body = format!("token={token}&id=m{turn}&text={}", text.replace(' ', "+").replace('\'', "%27"));
        let answer = ask(served, number, &format!("POST /say HTTP/1.1\r\ncookie: {cookie}"), &body);
        assert!(answer.starts_with("HTTP/1.1 303"), "{answer}");
    }
    cookie
}

fn resident_kb(served: &Served) -> u64 {
    let status = fs::read_to_string(format!("/proc/{}/status", served.process.id())).expect("its status");
    between(&status, "VmRSS:", "kB").trim().parse().expect("a number")
}

fn main() {
    let served = serve();
    let cookie = person(&served, 600, SHED);
    let head = format!("GET / HTTP/1.1\r\ncookie: {cookie}");
    let mut times: Vec<Duration> = (0..200)
        .map(|number| {
            let begun = Instant::now();
            let page = ask(&served, 700 + number, &head, "");
            assert!(page.contains("Your plan is ready"), "{page}");
            begun.elapsed()
        })
        .collect();
    times.sort();
    println!("a page with a whole chat: median {:?}, 99 % within {:?}", times[100], times[197]);

    let before = resident_kb(&served);
    let mut open = Vec::new();
    for number in 0..OPEN_CHATS {
        let cookie = person(&served, number, &SHED[..3]);
        let mut stream = TcpStream::connect(&served.address).expect("a connection");
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
    let after = resident_kb(&served);
    println!(
        "{OPEN_CHATS} open chats: {} KB in all, {} KB of them for the chats",
        after,
        after.saturating_sub(before)
    );
    let met = times[100] <= PAGE_WITHIN && after <= MEMORY_AT_MOST_KB;
    assert!(met || cfg!(debug_assertions), "the bounds are not kept");
}
