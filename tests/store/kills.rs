//! `kill -9` at 200 random moments of a piped chat: no acknowledged answer is ever lost.
//!
//! The person keeps correcting the length of the roof, a millimetre more each time. An answer is acknowledged when
//! its line has come back. After every kill the chat goes on from the same data, and must know the last length that
//! was acknowledged, or the one that was on its way when the process died.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::print_stdout,
    reason = "a test may stop loudly, and says what it counted"
)]

use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};
use std::time::Duration;

use rand::{RngExt, SeedableRng, rngs::StdRng};

const KILLS: u32 = 200;
const SEED: u64 = 20_261_125;

struct Chat {
    child: Child,
    input: ChildStdin,
    output: BufReader<ChildStdout>,
}

impl Chat {
    fn open(data: &Path) -> Self {
        let mut child = Command::new(env!("CARGO_BIN_EXE_lapwise"))
            .args(["chat", "--pipe", "--data"])
            .arg(data)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .expect("the binary starts");
        let input = child.stdin.take().expect("piped");
        let output = BufReader::new(child.stdout.take().expect("piped"));
        Self { child, input, output }
    }

    fn send(&mut self, text: &str) {
        let line = serde_json::json!({ "text": text });
        writeln!(self.input, "{line}").expect("the pipe takes a line");
        self.input.flush().expect("the pipe is flushed");
    }

    fn reply(&mut self) -> serde_json::Value {
        let mut line = String::new();
        self.output.read_line(&mut line).expect("a line comes back");
        serde_json::from_str(&line).unwrap_or_else(|error| panic!("not JSON ({error}): {line:?}"))
    }

    fn kill(mut self) {
        self.child.kill().expect("SIGKILL is sent");
        self.child.wait().expect("the process ends");
    }
}

fn length_in(state: &serde_json::Value) -> u64 {
    state["facts"]["length"]["mm"]
        .as_f64()
        .map_or(0, |mm| format!("{mm:.0}").parse().expect("whole millimetres"))
}

#[test]
fn no_acknowledged_answer_is_lost() {
    let dir = tempfile::tempdir().expect("a directory");
    let mut random = StdRng::seed_from_u64(SEED);
    let (mut acknowledged, mut sent) = (0, 0);
    let mut next = 2_000_u64;
    let (mut answers, mut in_flight_kept) = (0_u32, 0_u32);
    for kill in 0..KILLS {
        let mut chat = Chat::open(dir.path());
        chat.send("my answers");
        let known = length_in(&chat.reply());
        assert!(
            known == acknowledged || known == sent,
            "kill {kill}: knows {known} mm, but {acknowledged} mm was acknowledged and {sent} mm was on its way"
        );
        in_flight_kept += u32::from(known != acknowledged);
        acknowledged = known;
        for _ in 0..random.random_range(0..4) {
            next += 1;
            chat.send(&format!("the roof is {next} mm long"));
            acknowledged = length_in(&chat.reply());
            assert_eq!(acknowledged, next, "an acknowledged answer is the one that was sent");
            answers += 1;
        }
        // One more is on its way when the process dies, at any point of its work.
        next += 1;
        sent = next;
        chat.send(&format!("the roof is {next} mm long"));
        std::thread::sleep(Duration::from_micros(random.random_range(0..3_000)));
        chat.kill();
    }
    println!(
        "{KILLS} kills, {answers} answers acknowledged and kept, {in_flight_kept} kept before they were acknowledged"
    );
}
