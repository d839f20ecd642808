//! Updates that nobody can read, between those of somebody who waits for an answer.

use std::io::{BufRead as _, BufReader, Read as _, Write as _};
use std::net::{TcpListener, TcpStream};
use std::sync::Arc;
use std::sync::atomic::{AtomicU32, Ordering};
use std::time::{Duration, Instant};

use serde_json::Value;

use crate::served::Served;
use crate::{Outcome, Row};

pub const ROW: Row = Row { name: "poisoned updates", short: 300, whole: 10_000, run };

const MOST_MEMORY: u64 = 200;
/// One in so many is somebody's message.
const GOOD: u32 = 100;
const POISON: [&str; 4] = ["NaN", "\"\\ud800\"", "1e999", "[[[[[["];

/// What the platform says of the bot.
const ME: &str = r#"{"id":1,"is_bot":true,"first_name":"l","username":"lapwise_bot"}"#;

/// What the platform has seen.
#[derive(Default)]
struct Seen {
    acknowledged: AtomicU32,
    answered: AtomicU32,
}

fn run(tries: u32) -> Outcome {
    let platform = TcpListener::bind("127.0.0.1:0").unwrap();
    let url = format!("http://{}", platform.local_addr().unwrap());
    let seen = Arc::new(Seen::default());
    let told = Arc::clone(&seen);
    std::thread::spawn(move || {
        for stream in platform.incoming().flatten() {
            let seen = Arc::clone(&told);
            std::thread::spawn(move || converse(stream, tries, &seen));
        }
    });
    let dir = tempfile::tempdir().unwrap();
    let token = dir.path().join("token");
    std::fs::write(&token, "700:ATTACKED").unwrap();
    let token = token.display().to_string();
    let mut served = Served::start(&["--telegram-token-file", &token, "--api-url", &url]);
    let begun = Instant::now();
    let within = Duration::from_secs(30) + Duration::from_millis(20) * tries;
    // Each of the person's messages is another's, so that no rate is met.
    let wanted = tries / GOOD;
    while seen.acknowledged.load(Ordering::Relaxed) < tries || seen.answered.load(Ordering::Relaxed) < wanted
    {
        if begun.elapsed() > within || !served.runs() {
            break;
        }
        std::thread::sleep(Duration::from_millis(50));
    }
    let (acknowledged, answered) =
        (seen.acknowledged.load(Ordering::Relaxed), seen.answered.load(Ordering::Relaxed));
    let mut outcome = Outcome { tries, ..Outcome::default() };
    if acknowledged < tries || answered < wanted {
        outcome.failures.push(format!("{acknowledged} stepped over, {answered} of {wanted} answered"));
    }
    let memory = served.peak_mb();
    if memory >= MOST_MEMORY {
        outcome.failures.push(format!("{memory} MB of memory"));
    }
    outcome.note = format!("{answered} between them answered, {memory} MB of memory");
    outcome
}

fn update(number: u32) -> String {
    if number.is_multiple_of(GOOD) {
        let chat = 1_000 + number;
        return format!(
            "{{\"update_id\":{number},\"message\":{{\"message_id\":{number},\"date\":1,\"text\":\"felt\",\
             \"chat\":{{\"id\":{chat},\"type\":\"private\"}},\"from\":{{\"id\":{chat},\"is_bot\":false}}}}}}"
        );
    }
    let poison = POISON[usize::try_from(number).unwrap() % POISON.len()];
    format!("{{\"update_id\":{number},\"message\":{poison}}}")
}

/// The platform's end of a connection.
fn converse(stream: TcpStream, tries: u32, seen: &Seen) {
    let mut writer = stream.try_clone().unwrap();
    let mut reader = BufReader::new(stream);
    loop {
        let (mut first, mut length) = (String::new(), 0);
        if reader.read_line(&mut first).unwrap_or(0) == 0 {
            return;
        }
        loop {
            let mut line = String::new();
            if reader.read_line(&mut line).unwrap_or(0) == 0 {
                return;
            }
            if let Some(told) = line.to_lowercase().strip_prefix("content-length:") {
                length = told.trim().parse().unwrap();
            }
            if line.trim().is_empty() {
                break;
            }
        }
        let mut body = vec![0; length];
        reader.read_exact(&mut body).unwrap();
        let body = String::from_utf8_lossy(&body);
        let method = first.split(' ').nth(1).and_then(|path| path.rsplit('/').next()).unwrap_or_default();
        let result = match method.to_lowercase().as_str() {
            "getme" => ME.to_owned(),
            "getupdates" => {
                let asked: Value = serde_json::from_str(&body).unwrap();
                let number = |name: &str| u32::try_from(asked[name].as_u64().unwrap_or_default()).unwrap();
                let (offset, limit) = (number("offset").max(1), number("limit"));
                seen.acknowledged.fetch_max(offset - 1, Ordering::Relaxed);
                let last = (offset + limit).min(tries + 1);
                let updates: Vec<String> = (offset..last).map(update).collect();
                if updates.is_empty() {
                    std::thread::sleep(Duration::from_millis(100));
                }
                format!("[{}]", updates.join(","))
            }
            "sendmessage" => {
                seen.answered.fetch_add(1, Ordering::Relaxed);
                r#"{"message_id":7}"#.to_owned()
            }
            _ => "true".to_owned(),
        };
        let answer = format!("{{\"ok\":true,\"result\":{result}}}");
        let head = format!(
            "HTTP/1.1 200 OK\r\ncontent-type: application/json\r\ncontent-length: {}\r\n\r\n",
            answer.len()
        );
        if writer.write_all([head.as_bytes(), answer.as_bytes()].concat().as_slice()).is_err() {
            return;
        }
    }
}
