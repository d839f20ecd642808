//! The pipe, fed with anything: 100 000 messages through the conversation behind it, and thousands of broken lines
//! through the binary itself. Nothing panics, every line has its answer, and no chat is lost.

#![expect(clippy::expect_used, reason = "helpers of tests")]

use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Command, Stdio};

use lapwise::conversation::session::Session;
use lapwise::store::record::{read_event, write_event};
use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::{Config, RngAlgorithm, RngSeed, TestRunner};
use rand::{RngExt, SeedableRng, rngs::StdRng};
use serde_json::{Value, json};

use crate::people;
use crate::talking;

use talking::{Chat, content};

const SEED: u64 = 20_261_125;
const CHATS: u32 = 400;
const MESSAGES: u32 = 250;
const BROKEN_LINES: u32 = 3_000;

fn people() -> TestRunner {
    let config =
        Config { rng_seed: RngSeed::Fixed(SEED), rng_algorithm: RngAlgorithm::ChaCha, ..Config::default() };
    TestRunner::new(config)
}

#[test]
fn a_hundred_thousand_messages_do_no_harm() {
    let mut people = people();
    let message = people::message();
    let mut answered = 0_u32;
    for _ in 0..CHATS {
        let mut chat = Chat::default();
        for _ in 0..MESSAGES {
            let message = message.new_tree(&mut people).expect("a message").current();
            let (_, says) = chat.say(&content(&message));
            assert!(
                says.iter().all(|say| !say.text.is_empty()) && !says.is_empty(),
                "no answer to {message:?}"
            );
        }
        answered += u32::from(chat.session.answers() > 0);
        // What is kept of it is the chat.
        let kept = chat.events.iter().map(|event| write_event(event).expect("written"));
        let read: Vec<_> = kept.map(|bytes| read_event(&bytes).expect("read")).collect();
        assert_eq!(Session::fold(&read), chat.session);
    }
    assert!(answered > CHATS / 2, "only {answered} chats know anything: they prove little");
}

/// A line that is no message: broken JSON, wrong fields, bytes that are no text, or far too much of it.
fn broken_line(random: &mut StdRng) -> Vec<u8> {
    let whole = json!({ "text": "the roof is 9 m long" }).to_string().into_bytes();
    let mut line = match random.random_range(0..12) {
        0 => whole.get(..random.random_range(0..whole.len())).expect("a part").to_vec(),
        1 => b"{\"text\": \"\xff\xfe 2.4 m\"}".to_vec(),
        2 => b"{\"text\": \"2.4\0m\"}".to_vec(),
        3 => vec![0; random.random_range(1..40)],
        4 => (0..random.random_range(1..200)).map(|_| random.random()).collect(),
        5 => b"{\"text\": \"a\", \"choice\": \"yes\"}".to_vec(),
        6 => b"{\"txet\": \"2.4 m\"}".to_vec(),
        7 => b"{\"text\": 2.4}".to_vec(),
        8 => "[".repeat(random.random_range(1..5_000)).into_bytes(),
        9 => b"{\"text\": \"\\ud800\"}".to_vec(),
        10 => b"   \t ".to_vec(),
        _ => Vec::new(),
    };
    line.retain(|byte| *byte != b'\n');
    line
}

/// A pipe that takes these lines, and what it answers to each.
fn pipe(data: &Path, lines: Vec<Vec<u8>>) -> Vec<Value> {
    let mut child = Command::new(env!("CARGO_BIN_EXE_lapwise"))
        .args(["chat", "--pipe", "--data"])
        .arg(data)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("the binary starts");
    let mut input = child.stdin.take().expect("piped");
    let output = BufReader::new(child.stdout.take().expect("piped"));
    let writer = std::thread::spawn(move || {
        for line in lines {
            input.write_all(&line).and_then(|()| input.write_all(b"\n")).expect("the pipe takes every line");
        }
    });
    let answers =
        output.lines().map(|line| serde_json::from_str(&line.expect("text")).expect("JSON")).collect();
    writer.join().expect("all lines are written");
    assert!(child.wait().expect("it ends").success());
    answers
}

fn text(text: &str) -> Vec<u8> {
    json!({ "text": text }).to_string().into_bytes()
}

#[test]
fn broken_lines_are_answered_and_the_chat_goes_on() {
    let dir = tempfile::tempdir().expect("a directory");
    let mut random = StdRng::seed_from_u64(SEED);
    let mut lines = vec![text("hi"), text("felt"), text("the roof is 2.4 m long")];
    lines.extend((0..BROKEN_LINES).map(|_| broken_line(&mut random)));
    for bytes in [1 << 20, (1 << 20) + 1, 5 << 20] {
        lines.push(text(&"9 ".repeat(bytes / 2)));
        lines.push(vec![b'x'; bytes]);
    }
    lines.push(text("my answers"));
    let sent = lines.len();
    let answers = pipe(dir.path(), lines);
    assert_eq!(answers.len(), sent, "one line out for each line in");
    let broken = answers.get(3..answers.len() - 1).expect("the broken ones");
    for answer in broken {
        let is_error = answer["error"].is_string();
        assert!(is_error || answer["says"].is_array(), "{answer}");
    }
    let errors = broken.iter().filter(|answer| answer["error"].is_string()).count();
    assert!(errors * 10 > broken.len() * 8, "only {errors} of {} lines were broken", broken.len());
    for last in [answers.last().expect("an answer"), &pipe(dir.path(), vec![text("my answers")])[0]] {
        assert_eq!(last["facts"]["covering_now"], "felt", "{last}");
        assert_eq!(last["facts"]["length"]["mm"], 2_400, "{last}");
    }
}

#[test]
fn a_last_line_without_an_end_is_a_line() {
    let dir = tempfile::tempdir().expect("a directory");
    let run = |input: &[u8]| {
        let mut command = assert_cmd::Command::new(env!("CARGO_BIN_EXE_lapwise"));
        let output = command.args(["chat", "--pipe", "--data"]).arg(dir.path()).write_stdin(input).output();
        String::from_utf8(output.expect("it ran").stdout).expect("text")
    };
    assert_eq!(run(b"").lines().count(), 0);
    assert_eq!(run(b"{\"text\": \"felt\"}").lines().count(), 1);
    assert_eq!(run(b"{\"text\": \"felt\"}\n\n{").lines().count(), 3);
}
