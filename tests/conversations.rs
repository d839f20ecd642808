//! Whole conversations, as data: every file in `tests/chats/` is one chat.
//!
//! A file opens with a paragraph of intent. Then come turns:
//!
//! ```text
//! you> 2.4m
//! bot> Along the eaves: 2.4 m.
//! bot>
//! bot> How far is it up the slope?
//! bot> [How do I measure it? | Not sure]
//! ```
//!
//! - `you> [id]` presses the button with that id.
//! - `start> NAME`, before the first turn, is where the chat takes up: the turns of `tests/states/NAME.txt`, themselves
//!   one `you>` a line after a `start>` of their own, are played without being written down.
//! - `check> path = value` looks into the chat's state, as the pipe prints it: `plan.slopes.0.end_lap_mm = 170`.
//!
//! `UPDATE=1 cargo test --test conversations` writes the bot's lines anew; the difference is then reviewed.
//! Every chat runs twice: at once on a store in memory, and on the embedded store, closed and opened again between
//! any two turns, which must change nothing.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::print_stdout,
    reason = "a test may stop loudly, and says what it counted"
)]

use std::fmt::Write as _;
use std::path::Path;
use std::sync::{Arc, LazyLock};

use lapwise::app::App;
use lapwise::book::Book;
use lapwise::channel::{Replied, Turns};
use lapwise::message::{ChatId, Content, Inbound, Say};
use lapwise::store::MemoryStore;
use lapwise::store::sled::{Options, SledStore};

static BOOK: LazyLock<Arc<Book>> = LazyLock::new(|| Arc::new(Book::shipped()));

enum Line {
    Prose(String),
    Start(String),
    You(String),
    Bot,
    Check(String),
}

fn parse(text: &str) -> Vec<Line> {
    text.lines()
        .map(|line| {
            if let Some(said) = line.strip_prefix("you>") {
                Line::You(said.trim_start().to_owned())
            } else if let Some(state) = line.strip_prefix("start>") {
                Line::Start(state.trim().to_owned())
            } else if let Some(check) = line.strip_prefix("check>") {
                Line::Check(check.trim().to_owned())
            } else if line.starts_with("bot>") {
                Line::Bot
            } else {
                Line::Prose(line.to_owned())
            }
        })
        .collect()
}

fn content(said: &str) -> Content {
    match said.strip_prefix('[').and_then(|rest| rest.strip_suffix(']')) {
        Some(id) => Content::Choice { prompt: None, id: id.to_owned() },
        None => Content::Text(said.to_owned()),
    }
}

fn written(say: &Say) -> String {
    let mut out = String::new();
    for line in say.text.lines() {
        let _ = writeln!(out, "{}", format!("bot> {line}").trim_end());
    }
    if !say.choices.is_empty() {
        let labels: Vec<&str> = say.choices.iter().map(|choice| choice.label.as_str()).collect();
        let _ = writeln!(out, "bot> [{}]", labels.join(" | "));
    }
    out
}

/// The value at `a.b.0.c`, or null.
fn at<'a>(state: &'a serde_json::Value, path: &str) -> &'a serde_json::Value {
    path.split('.').fold(state, |value, part| match part.parse::<usize>() {
        Ok(index) => value.get(index).unwrap_or(&serde_json::Value::Null),
        Err(_) => value.get(part).unwrap_or(&serde_json::Value::Null),
    })
}

fn check(state: &serde_json::Value, line: &str) -> Option<String> {
    let (path, expected) = line.split_once('=').expect("check> path = value");
    let expected: serde_json::Value = serde_json::from_str(expected.trim()).expect("the value is JSON");
    let found = at(state, path.trim());
    (found != &expected).then(|| format!("check> {line}\n       found {found}"))
}

/// What was said up to a named state, first to last.
fn said_before(state: &str) -> Vec<String> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/states").join(format!("{state}.txt"));
    let text = std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    let mut said = Vec::new();
    for line in parse(&text) {
        match line {
            Line::Start(earlier) => said.extend(said_before(&earlier)),
            Line::You(text) => said.push(text),
            Line::Prose(_) | Line::Bot | Line::Check(_) => {}
        }
    }
    said
}

/// Plays a chat and writes it down as it went, with the checks that failed.
fn play(lines: &[Line], mut turn: impl FnMut(Inbound) -> Replied) -> (String, Vec<String>) {
    let mut out = String::new();
    let mut failed = Vec::new();
    let mut state = serde_json::Value::Null;
    let mut number = 0;
    let mut say = |said: &str| {
        number += 1;
        let chat = ChatId::new("test:chat").expect("a chat id");
        turn(Inbound { chat, id: number.to_string(), content: content(said) })
    };
    for line in lines {
        match line {
            Line::Start(name) => {
                let _ = writeln!(out, "start> {name}");
                for said in said_before(name) {
                    state = say(&said).state;
                }
            }
            Line::Prose(prose) => {
                let _ = writeln!(out, "{prose}");
            }
            Line::Bot => {}
            Line::Check(line) => {
                failed.extend(check(&state, line));
                let _ = writeln!(out, "check> {line}");
            }
            Line::You(said) => {
                let replied = say(said);
                let _ = writeln!(out, "{}", format!("you> {said}").trim_end());
                let says: Vec<String> = replied.says.iter().map(written).collect();
                out.push_str(&says.join("bot>\nbot> --\nbot>\n"));
                state = replied.state;
            }
        }
    }
    (out, failed)
}

const fn noon() -> u64 {
    1_795_608_000
}

fn chat(path: &Path) -> datatest_stable::Result<()> {
    let text = std::fs::read_to_string(path)?;
    let lines = parse(&text);
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build()?;

    let app = App::new(
        Arc::clone(&BOOK),
        Arc::new(MemoryStore::new(None).expect("a store in memory")),
        noon,
        "kept-on-this-computer",
    );
    let (went, failed) =
        play(&lines, |inbound| runtime.block_on(app.turn(inbound)).expect("a turn never fails"));

    let dir = tempfile::tempdir()?;
    let (resumed, _) = play(&lines, |inbound| {
        let (store, _) = SledStore::open(dir.path(), Options::default()).expect("the store opens again");
        let app = App::new(Arc::clone(&BOOK), Arc::new(store), noon, "kept-on-this-computer");
        runtime.block_on(app.turn(inbound)).expect("a turn never fails")
    });
    if std::env::var_os("UPDATE").is_some() {
        std::fs::write(path, &went)?;
    }
    assert!(failed.is_empty(), "{}", failed.join("\n"));
    assert_eq!(went, resumed, "quitting between turns changed the chat");

    if std::env::var_os("UPDATE").is_none() {
        assert_eq!(text, went, "{}: the bot says something else now", path.display());
    }
    Ok(())
}

datatest_stable::harness! {
    { test = chat, root = "tests/chats", pattern = r"\.md$" },
}
