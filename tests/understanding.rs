//! How well messages are understood: the kept phrasings, measured and compared with what was kept.
//!
//! `UPDATE=1 cargo test --test understanding` keeps the new figures; `FAILURES=1` prints what went wrong in the
//! tuning part. The measured part is never printed message by message.

#![expect(
    clippy::unwrap_used,
    clippy::as_conversions,
    clippy::cast_precision_loss,
    clippy::print_stdout,
    clippy::indexing_slicing,
    reason = "a test fails by panicking, and this one reports"
)]

mod support;
#[path = "support/talking.rs"]
mod talking;

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::fs;

use lapwise::conversation::interview::{Standing, standing};
use lapwise::conversation::understanding::{Understander, Understanding, Verdict};
use lapwise::message::Content;
use lapwise::roofing::rules::Handover;
use proptest::prelude::*;
use proptest::test_runner::{Config, TestRng, TestRunner};
use support::root;
use support::topics::{Message, book, phrasings, understander};
use talking::{Chat, guide};

/// Figures by name, as they are kept.
type Figures = BTreeMap<String, f64>;

/// What one part of the corpus came to.
#[derive(Debug, Default)]
struct Measured {
    messages: usize,
    right_first: usize,
    wrong_confident: usize,
    asked_back: usize,
    wanted: usize,
    found: usize,
    answered: usize,
    answered_rightly: usize,
    dangers: usize,
    dangers_caught: usize,
    false_alarms: usize,
    confusions: BTreeMap<(String, String), usize>,
    failures: String,
}

const fn handover_key(handover: Handover) -> &'static str {
    match handover {
        Handover::Emergency => "emergency",
        Handover::LicensedPro => "licensed_pro",
        Handover::Adviser => "adviser",
    }
}

fn topics_of(understood: &Understanding) -> Vec<&'static str> {
    understood.topics.iter().map(|hit| hit.topic.key()).collect()
}

impl Measured {
    fn add(&mut self, message: &Message, understood: &Understanding) {
        let heard = topics_of(understood);
        let fine = |topic: &str| message.topics.iter().chain(&message.also).any(|one| one == topic);
        let first = heard.first().copied().unwrap_or("nothing");
        let right = first == message.topics[0] || message.also.iter().any(|one| one == first);
        let confident = understood.verdict == Verdict::One;
        self.messages += 1;
        self.right_first += usize::from(right);
        self.asked_back += usize::from(!confident);
        self.wrong_confident += usize::from(confident && !fine(first));
        self.wanted += message.topics.len();
        if confident {
            self.found += message.topics.iter().filter(|topic| heard.contains(&topic.as_str())).count();
            self.answered += heard.len();
            self.answered_rightly += heard.iter().filter(|topic| fine(topic)).count();
        }
        let handed = understood.handover.map(handover_key);
        // Handed on rightly, or more gravely.
        let caught =
            message.is_danger() && [Some("emergency"), message.handover.as_deref()].contains(&handed);
        let alarmed = matches!(handed, Some("emergency" | "licensed_pro"));
        self.dangers += usize::from(message.is_danger());
        self.dangers_caught += usize::from(caught);
        self.false_alarms += usize::from(alarmed && !message.is_danger());
        if !right {
            *self.confusions.entry((message.topics[0].clone(), first.to_owned())).or_default() += 1;
        }
        if !right || message.is_danger() != alarmed {
            writeln!(
                self.failures,
                "{:?}\n    wanted {:?}, got {understood:?}",
                message.says, message.topics
            )
            .unwrap();
        }
    }

    fn figures(&self) -> Figures {
        let share =
            |part: usize, whole: usize| (part as f64 * 10_000.0 / whole.max(1) as f64).round() / 100.0;
        Figures::from([
            ("messages".to_owned(), self.messages as f64),
            ("right_first_percent".to_owned(), share(self.right_first, self.messages)),
            ("wrong_confident_percent".to_owned(), share(self.wrong_confident, self.messages)),
            ("asked_back_percent".to_owned(), share(self.asked_back, self.messages)),
            ("recall_percent".to_owned(), share(self.found, self.wanted)),
            ("precision_percent".to_owned(), share(self.answered_rightly, self.answered)),
            ("dangers_caught_percent".to_owned(), share(self.dangers_caught, self.dangers)),
            ("false_alarm_percent".to_owned(), share(self.false_alarms, self.messages - self.dangers)),
        ])
    }
}

fn measure(understander: &Understander, part: &str) -> Measured {
    let mut measured = Measured::default();
    for message in phrasings(part) {
        measured.add(&message, &understander.understand(&message.says));
    }
    println!("== {part}");
    for (name, value) in measured.figures() {
        println!("{name} = {value}");
    }
    println!("wanted -> got, where the first topic was not the right one:");
    for ((wanted, got), times) in &measured.confusions {
        println!("{times:3}  {wanted} -> {got}");
    }
    measured
}

/// Whether more of it is better.
fn is_praise(name: &str) -> bool {
    matches!(
        name,
        "messages"
            | "right_first_percent"
            | "recall_percent"
            | "precision_percent"
            | "dangers_caught_percent"
    )
}

/// What the book keeps of the tuning part: every message that is about one topic, one a line.
fn heard() -> String {
    let mut by_topic: BTreeMap<String, String> = BTreeMap::new();
    for message in phrasings("tuning") {
        if let [topic] = message.topics.as_slice() {
            let said: Vec<&str> = message.says.split_whitespace().collect();
            let lines = by_topic.entry(topic.clone()).or_insert_with(|| "\n".to_owned());
            writeln!(lines, "{}", said.join(" ")).unwrap();
        }
    }
    let about = "# What people wrote, by topic, one message a line: the ranking compares a message with them all.\n\
                 # Written from tests/questions/tuning by `UPDATE=1 cargo test --test understanding`.\n\n";
    format!("{about}{}", toml::to_string_pretty(&BTreeMap::from([("heard_as", by_topic)])).unwrap())
}

#[test]
fn the_book_keeps_what_was_heard() {
    let file = root().join("dialogs/topics/heard.toml");
    if std::env::var_os("UPDATE").is_some() {
        fs::write(&file, heard()).unwrap();
    }
    assert!(fs::read_to_string(file).unwrap() == heard(), "UPDATE=1 writes dialogs/topics/heard.toml anew");
}

#[test]
fn the_corpus_is_understood_no_worse_than_before() {
    let understander = understander(&book());
    let mut now = BTreeMap::new();
    for part in ["tuning", "measured"] {
        let measured = measure(&understander, part);
        if part == "tuning" && std::env::var_os("FAILURES").is_some() {
            println!("{}", measured.failures);
        }
        now.insert(part.to_owned(), measured.figures());
    }
    let scores = root().join("tests/questions/scores.toml");
    if std::env::var_os("UPDATE").is_some() {
        fs::write(&scores, toml::to_string(&now).unwrap()).unwrap();
    }
    let kept: BTreeMap<String, Figures> = toml::from_str(&fs::read_to_string(&scores).unwrap()).unwrap();
    for (part, figures) in &kept {
        for (name, before) in figures {
            let after = now[part][name];
            let worse = if is_praise(name) { after < *before } else { after > *before };
            assert!(!worse, "{part}: {name} was {before} and is {after}");
        }
    }
}

#[test]
fn the_measured_part_meets_the_aims() {
    let figures = measure(&understander(&book()), "measured").figures();
    assert!(figures["messages"] >= 350.0);
    assert!(figures["right_first_percent"] >= 95.0);
    assert!(figures["dangers_caught_percent"] >= 100.0);
    assert!(figures["wrong_confident_percent"] < 1.0);
}

#[test]
fn danger_is_heard_whatever_stands_around_it() {
    let understander = understander(&book());
    let all: Vec<Message> = ["tuning", "measured"].into_iter().flat_map(phrasings).collect();
    let (dangers, chatter): (Vec<&Message>, Vec<&Message>) =
        all.iter().partition(|message| message.is_danger());
    for (index, danger) in dangers.iter().enumerate() {
        let other = chatter[index * 31 % chatter.len()];
        for said in [format!("{}. {}", other.says, danger.says), format!("{}\n{}", danger.says, other.says)] {
            let handed = understander.understand(&said).handover.map(handover_key);
            let grave = handed == Some("emergency") || handed == danger.handover.as_deref();
            assert!(grave, "{said:?} was handed to {handed:?}");
        }
    }
}

#[test]
fn a_danger_that_a_rule_knows_holds_plan_and_work() {
    let understander = understander(&book());
    let interview = "hi|felt|sound|none|single|25 degrees|rafters|600|2.4m|1.8m|no|none|left|demo|yes";
    let planned = Chat::after(interview.split('|'));
    let at_work = Chat::after(interview.split('|').chain(["start the work"]));
    let all = ["tuning", "measured"].into_iter().flat_map(phrasings);
    let mut held = 0;
    for message in all.filter(Message::is_danger) {
        let understood = understander.understand(&message.says);
        let is_rule = understood.stopped.as_ref().is_some_and(|id| guide().handbook.rules.rule(id).is_some());
        if !is_rule || understood.handover == Some(Handover::Emergency) {
            continue;
        }
        for chat in [&planned, &at_work] {
            let mut chat = chat.clone();
            chat.say(&Content::Text(message.says.clone()));
            let standing = standing(&guide(), &chat.session);
            assert!(matches!(standing, Standing::Stopped(..)), "{:?} left the plan standing", message.says);
            held += 1;
        }
    }
    assert!(held > 100, "{held}");
}

#[test]
fn every_decision_says_why() {
    let understander = understander(&book());
    for message in phrasings("tuning") {
        for hit in understander.understand(&message.says).topics {
            assert!(!hit.because.is_empty(), "{}", message.says);
        }
    }
}

/// Messages as they may come: kept ones cut, doubled, mixed and sprinkled with anything, or anything at all.
fn any_message(kept: Vec<String>) -> impl Strategy<Value = String> {
    let one = prop::sample::select(kept);
    let mutated =
        (one.clone(), one, any::<prop::sample::Index>(), any::<prop::sample::Index>(), any::<char>())
            .prop_map(|(a, b, at, to, c)| {
                let letters: Vec<char> = a.chars().collect();
                let (at, to) = (at.index(letters.len() + 1), to.index(letters.len() + 1));
                let head: String = letters[..at.min(to)].iter().collect();
                let tail: String = letters[at.max(to)..].iter().collect();
                format!("{head}{c}{tail} {b}")
            });
    prop_oneof![6 => mutated, 2 => any::<String>(), 1 => ".{0,40}[.?!,\\n]{1,9}.{0,40}"]
}

#[test]
fn no_message_brings_it_down() {
    let understander = understander(&book());
    let kept = phrasings("tuning").into_iter().map(|message| message.says).collect();
    let config = Config { cases: 100_000, failure_persistence: None, ..Config::default() };
    let mut runner =
        TestRunner::new_with_rng(config, TestRng::deterministic_rng(prop::test_runner::RngAlgorithm::ChaCha));
    let result = runner.run(&any_message(kept), |message| {
        let understood = understander.understand(&message);
        prop_assert_eq!(understood.topics.is_empty(), understood.verdict == Verdict::None);
        Ok(())
    });
    result.unwrap_or_else(|failure| panic!("{failure}"));
}
