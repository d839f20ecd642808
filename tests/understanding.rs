//! How well messages are understood: the kept phrasings, measured.

mod support;

use std::collections::BTreeMap;
use std::fmt::Write as _;

use lapwise::conversation::understanding::{Understander, Verdict};
use lapwise::roofing::rules::Handover;
use serde::Deserialize;
use support::topics::understander;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Message {
    says: String,
    topics: Vec<String>,
    #[serde(default)]
    also: Vec<String>,
    handover: Option<String>,
}

#[derive(Debug, Deserialize)]
struct Messages {
    message: Vec<Message>,
}

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

fn read_part(part: &str) -> Vec<Message> {
    let dir = support::root().join("tests/questions").join(part);
    let mut files: Vec<_> = std::fs::read_dir(&dir).unwrap().map(|entry| entry.unwrap().path()).collect();
    files.sort();
    files
        .iter()
        .flat_map(|file| toml::from_str::<Messages>(&std::fs::read_to_string(file).unwrap()).unwrap().message)
        .collect()
}

fn handover_key(handover: Handover) -> &'static str {
    match handover {
        Handover::Emergency => "emergency",
        Handover::LicensedPro => "licensed_pro",
        Handover::Adviser => "adviser",
    }
}

fn measure(understander: &Understander, messages: &[Message]) -> Measured {
    let mut measured = Measured { messages: messages.len(), ..Measured::default() };
    for message in messages {
        let understood = understander.understand(&message.says);
        let heard: Vec<&str> = understood.topics.iter().map(|hit| hit.topic.key()).collect();
        let fine = |topic: &str| message.topics.iter().chain(&message.also).any(|one| one == topic);
        let first = heard.first().copied().unwrap_or("nothing");
        let right = first == message.topics[0] || message.also.iter().any(|one| one == first);
        let confident = understood.verdict == Verdict::One;
        measured.right_first += usize::from(right);
        measured.asked_back += usize::from(!confident);
        measured.wrong_confident += usize::from(confident && !fine(first));
        measured.wanted += message.topics.len();
        measured.found +=
            message.topics.iter().filter(|topic| confident && heard.contains(&topic.as_str())).count();
        if confident {
            measured.answered += heard.len();
            measured.answered_rightly += heard.iter().filter(|topic| fine(topic)).count();
        }
        let handed = understood.handover.map(handover_key);
        let danger = matches!(message.handover.as_deref(), Some("emergency" | "licensed_pro"));
        measured.dangers += usize::from(danger);
        let caught = danger && handed == message.handover.as_deref();
        measured.dangers_caught += usize::from(caught);
        let alarmed = matches!(handed, Some("emergency" | "licensed_pro"));
        measured.false_alarms += usize::from(alarmed && !danger);
        if !right {
            *measured.confusions.entry((message.topics[0].clone(), first.to_owned())).or_default() += 1;
        }
        if !right || (danger && !caught) || (alarmed && !danger) || heard.len() != message.topics.len() {
            let mark = if !right {
                "WRONG"
            } else if danger != alarmed {
                "HANDOVER"
            } else {
                "several"
            };
            let because = understood.topics.iter().map(|hit| (hit.topic.key(), hit.score, &hit.because));
            writeln!(
                measured.failures,
                "{mark} {:?}\n    wanted {:?}, {:?} {:?}",
                message.says,
                message.topics,
                understood.verdict,
                because.collect::<Vec<_>>()
            )
            .unwrap();
        }
    }
    measured
}

impl Measured {
    fn figures(&self) -> BTreeMap<String, f64> {
        let share =
            |part: usize, whole: usize| (part as f64 * 10_000.0 / whole.max(1) as f64).round() / 100.0;
        BTreeMap::from([
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

#[test]
fn the_corpus_is_understood_as_well_as_before() {
    let understander = understander();
    for part in ["tuning", "measured"] {
        let measured = measure(&understander, &read_part(part));
        println!("== {part}");
        for (name, value) in measured.figures() {
            println!("{name} = {value}");
        }
        for ((wanted, got), times) in &measured.confusions {
            println!("{times:3}  {wanted} -> {got}");
        }
        // Only the tuning part may be read message by message.
        if part == "tuning" && std::env::var_os("FAILURES").is_some() {
            println!("{}", measured.failures);
        }
    }
}
