//! What the chats in `tests/chats/` must reach between them: every topic, every kind of step, and many changes.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use crate::support;

use std::collections::BTreeSet;
use std::fs;

use lapwise::book::Book;
use lapwise::conversation::understanding::TopicId;
use lapwise::roofing::note::Note;
use lapwise::roofing::work::StepKind;
use lapwise::units::UsualUnit;
use support::root;
use support::topics::{book, understander};

fn chats() -> Vec<String> {
    let files = fs::read_dir(root().join("tests/chats")).unwrap();
    files.map(|file| fs::read_to_string(file.unwrap().path()).unwrap()).collect()
}

/// What was typed or pressed, and what was said to it.
fn turns(chat: &str) -> Vec<(&str, &str)> {
    let turns = chat.split("\nyou> ").skip(1);
    turns.map(|turn| turn.split_once('\n').unwrap_or((turn, ""))).collect()
}

fn said(book: &Book, id: &str) -> String {
    book.words.say("en", &Note::new(id), UsualUnit::M)
}

/// A chat names the topics it asks in a line of its intent, `Asks: end_lap_size, side_lap_count.`
#[test]
fn every_topic_is_asked_in_a_chat_that_names_it() {
    let understander = understander(&book());
    let mut covered = BTreeSet::new();
    for chat in chats() {
        let named = chat.lines().find_map(|line| line.strip_prefix("Asks: ")).unwrap_or_default();
        let named: BTreeSet<&str> =
            named.trim_end_matches('.').split(", ").filter(|id| !id.is_empty()).collect();
        let mut asked = BTreeSet::new();
        for (typed, _) in turns(&chat) {
            asked.extend(understander.understand(typed).topics.iter().map(|hit| hit.topic.key()));
        }
        for topic in named {
            assert!(asked.contains(topic), "a chat says it asks {topic}, and does not:\n{chat}");
            covered.insert(topic.to_owned());
        }
    }
    let all: BTreeSet<String> = TopicId::ALL.iter().map(|topic| topic.key().to_owned()).collect();
    assert_eq!(covered, all);
}

#[test]
fn every_kind_of_step_is_shown() {
    let (book, chats) = (book(), chats());
    for kind in StepKind::ALL {
        let check = said(&book, &format!("work-check-{}", kind.key()));
        assert!(chats.iter().any(|chat| chat.contains(&check)), "no chat reaches {}", kind.key());
    }
}

#[test]
fn thirty_changes_half_way_are_told() {
    let (book, chats) = (book(), chats());
    let asks = said(&book, "work-change-ask");
    let again = said(&book, "work-settle-first");
    let mut changes = BTreeSet::new();
    for chat in &chats {
        let told = turns(chat).into_iter().filter(|(_, said)| said.contains(&asks) && !said.contains(&again));
        changes.extend(told.map(|(typed, _)| typed.to_lowercase()));
    }
    assert!(changes.len() >= 30, "{} changes: {changes:?}", changes.len());
}

/// Who reads a chat finds what it is about: it takes up where that begins, and says what must hold.
#[test]
fn chats_are_about_something() {
    let chats = chats();
    for chat in &chats {
        let intent = chat.lines().next().unwrap_or_default();
        assert!(chat.contains("\ncheck> "), "nothing is checked in: {intent}");
    }
    let whole =
        chats.iter().filter(|chat| !chat.contains("\nstart> ") && chat.contains("\nbot> Your roof is "));
    assert!(whole.count() <= 10, "too many chats hold a whole interview: start them from a state");
}
