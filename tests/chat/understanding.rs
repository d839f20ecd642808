//! How messages are understood: what was learned is what the kept messages teach, danger is heard whatever stands
//! around it, and the phrasings that are only measured are understood as well as is aimed at.
//!
//! `lapwise learn --book dialogs` learns anew. The measured part is never printed message by message.

#![expect(
    clippy::unwrap_used,
    clippy::as_conversions,
    clippy::cast_precision_loss,
    clippy::print_stdout,
    clippy::indexing_slicing,
    reason = "a test fails by panicking, and this one reports"
)]

use crate::support;

use std::fs;

use lapwise::book::{self, Book, LEARNED, Lately};
use lapwise::conversation::understanding::{DangerKind, TopicId, Understander, Understanding, Verdict};
use proptest::prelude::*;
use proptest::test_runner::{Config, TestRng, TestRunner};
use support::root;
use support::topics::{Message, book, kept, measured, understander};

/// How well messages were understood, in hundredths.
#[derive(Debug)]
struct Figures {
    right_first: f64,
    answered_wrongly: f64,
    asked_back: f64,
    emergencies_heard: f64,
}

fn share(part: usize, whole: usize) -> f64 {
    (part as f64 * 10_000.0 / whole.max(1) as f64).round() / 100.0
}

#[test]
fn the_learned_file_is_what_the_messages_teach() {
    let learned = book::learn(&root().join("dialogs")).unwrap().text();
    let file = fs::read_to_string(root().join("dialogs").join(LEARNED)).unwrap();
    assert!(learned == file, "`cargo run --release -- learn --book dialogs` learns anew");
    assert!(file.len() <= 4_000_000, "{}", file.len());
}

/// The figures of messages whose hands were held out: they say how the next stranger may fare.
#[test]
fn hands_that_were_held_out_are_understood_this_well() {
    let held_out = understander(&book()).held_out();
    println!("{:?}", held_out.counts());
    assert!(held_out.messages >= 1000 && held_out.dangers >= 150, "nothing was held out: {held_out:?}");
    assert!(share(held_out.right_first, held_out.messages) >= 80.0, "{held_out:?}");
    assert!(share(held_out.wrong, held_out.messages) <= 8.0, "{held_out:?}");
    assert!(share(held_out.heard, held_out.dangers) >= 93.0, "{held_out:?}");
}

fn first_of(understood: &Understanding) -> Option<TopicId> {
    let grave = understood.danger.as_ref().filter(|danger| danger.sure).map(|danger| danger.kind.topic());
    grave.or(understood.topics.first().map(|hit| hit.topic))
}

fn figures(understander: &Understander, messages: &[Message]) -> Figures {
    let (mut right, mut wrong, mut asked, mut dangers, mut heard) = (0, 0, 0, 0, 0);
    for message in messages {
        let understood = understander.understand(&message.says);
        let first = first_of(&understood).map_or("nothing", TopicId::key);
        let is_right = first == message.topics[0] || message.also.iter().any(|topic| topic == first);
        let answers =
            understood.verdict == Verdict::One || understood.danger.as_ref().is_some_and(|d| d.sure);
        right += usize::from(is_right);
        asked += usize::from(!answers);
        wrong += usize::from(answers && !is_right && !message.topics.iter().any(|topic| topic == first));
        if message.handover.as_deref() == Some("emergency") {
            dangers += 1;
            heard += usize::from(understood.danger.is_some());
        }
    }
    Figures {
        right_first: share(right, messages.len()),
        answered_wrongly: share(wrong, messages.len()),
        asked_back: share(asked, messages.len()),
        emergencies_heard: share(heard, dangers),
    }
}

/// What is aimed at for a first message of anybody; no run of a test writes these figures.
#[test]
fn the_measured_part_is_understood_as_well_as_is_aimed_at() {
    let now = figures(&understander(&book()), &measured());
    println!("{now:?}");
    assert!(now.right_first >= 88.0, "{now:?}");
    // Strangers say how often it is wrong and confident (`tests/heard`); this only keeps these messages from getting worse.
    assert!(now.answered_wrongly <= 5.5, "{now:?}");
    assert!(now.asked_back <= 15.0, "{now:?}");
    assert!(now.emergencies_heard >= 100.0, "{now:?}");
}

/// A copy of the shipped book with something written at the end of one of its files.
fn with_more(file: &str, more: &str) -> tempfile::TempDir {
    let dir = tempfile::tempdir().unwrap();
    let mut folders = vec![root().join("dialogs")];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()) {
            let to = dir.path().join(entry.strip_prefix(root().join("dialogs")).unwrap());
            if entry.is_dir() {
                fs::create_dir_all(&to).unwrap();
                folders.push(entry);
            } else {
                fs::copy(&entry, to).unwrap();
            }
        }
    }
    let changed = dir.path().join(file);
    let before = fs::read_to_string(&changed).unwrap();
    fs::write(changed, before + more).unwrap();
    dir
}

#[test]
fn one_more_message_is_understood_at_the_next_start() {
    let says = "does the whatsit want a thingummy underneath the doodah";
    let before = understander(&book()).understand(says);
    assert_ne!(first_of(&before), Some(TopicId::RidgeFit));
    let more = format!("\n[[message]]\nsays = \"{says}\"\ntopics = [\"ridge_fit\"]\n");
    let dir = with_more("heard/en/talk.toml", &more);
    let understander = Book::load(dir.path()).unwrap().topics.understander().clone();
    for said in [
        says,
        "Does the whatsit want a thingummy underneath, the doodah??",
        "does a whatsit want a thingummy under the doodah",
    ] {
        let understood = understander.understand(said);
        assert_eq!(
            (first_of(&understood), understood.verdict),
            (Some(TopicId::RidgeFit), Verdict::One),
            "{said}"
        );
    }
    let lately = Lately::of(dir.path()).unwrap();
    assert_eq!(lately.added, [says]);
    assert!(lately.confused.len() < 5, "{:?}", lately.confused);
}

/// Sentences that say it plainly, each with what else may stand in them: a stop or a question, never silence.
#[test]
fn no_other_matter_silences_a_danger() {
    let understander = understander(&book());
    for said in [
        "rain fell all night and this morning dad fell off the ladder",
        "the log burner set fire to the shed help",
        "he fell asleep on the ladder and fell",
        "my mate got crushed when the wall gave way last minute",
        "what nails do i need, oh and the roof is fragile",
        "it won't hold me",
        "my foot went through",
        "the boards bend when I step",
        "theres rot in the rafters but what about the laps",
        "cable right over the ridge, how many sheets?",
    ] {
        assert!(understander.understand(said).danger.is_some(), "{said:?} was passed over");
    }
}

#[test]
fn figures_of_speech_stop_nothing_and_are_mostly_not_asked_about() {
    let understander = understander(&book());
    let mut asked = 0;
    let said = [
        "nailing drawing",
        "my back is sagging after all this lifting",
        "the cable for my drill wont reach",
        "drawing pins?",
        "i overdrove a nail and its dented",
        "bleeding gutter is leaking",
        "this job will be the death of me",
        "we made a killing at the plant sale",
        "cut the waffle and give me the number",
        "im on fire, six down already",
    ];
    for said in said {
        let danger = understander.understand(said).danger;
        assert!(danger.as_ref().is_none_or(|danger| !danger.sure), "{said:?}: {danger:?}");
        asked += usize::from(danger.is_some());
    }
    assert!(asked <= 3, "{asked} of {}", said.len());
}

#[test]
fn a_harmless_sentence_beside_it_never_makes_a_danger_unheard() {
    let understander = understander(&book());
    let messages = kept();
    let chatter: Vec<&str> = messages
        .iter()
        .filter(|message| message.danger.is_none())
        .map(|message| message.says.as_str())
        .collect();
    let dangers = messages.iter().filter(|message| message.danger.is_some());
    let mut unheard = Vec::new();
    for (index, danger) in dangers.enumerate() {
        let other = chatter[index * 31 % chatter.len()];
        if understander.without_kept(&danger.says).danger.is_none() {
            continue;
        }
        for said in [format!("{other}. {}", danger.says), format!("{}\n{other}", danger.says)] {
            if understander.understand(&said).danger.is_none() {
                unheard.push(said);
            }
        }
    }
    assert!(unheard.is_empty(), "{unheard:#?}");
}

#[test]
fn danger_in_another_language_stops_and_says_so_in_it() {
    let understander = understander(&book());
    for (said, code, kind) in [
        ("Hilfe, mein Mann ist vom Dach gefallen", "de", DangerKind::Injury),
        ("au secours il y a le feu", "fr", DangerKind::Injury),
        ("se ha caído y no respira", "es", DangerKind::Injury),
        ("pali się dach", "pl", DangerKind::Fire),
        ("è caduto dal tetto", "it", DangerKind::Injury),
        ("levou um choque do cabo", "pt", DangerKind::Shock),
        ("a căzut de pe scară", "ro", DangerKind::Injury),
        ("het dak stort in", "nl", DangerKind::Collapse),
    ] {
        let danger = understander.understand(said).danger.unwrap_or_else(|| panic!("{said} was passed over"));
        assert_eq!(
            (danger.language.as_deref(), danger.kind, danger.sure),
            (Some(code), kind, true),
            "{said}"
        );
        assert!(book().words.has("en", &format!("danger-elsewhere-{code}")));
    }
}

#[test]
fn every_decision_says_why() {
    let understander = understander(&book());
    for message in measured() {
        let understood = understander.understand(&message.says);
        assert!(understood.topics.iter().all(|hit| !hit.because.is_empty()), "{}", message.says);
        assert!(understood.danger.is_none_or(|danger| !danger.because.is_empty()), "{}", message.says);
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
    let kept = kept().into_iter().map(|message| message.says).collect();
    let config = Config { cases: 20_000, failure_persistence: None, ..Config::default() };
    let mut runner =
        TestRunner::new_with_rng(config, TestRng::deterministic_rng(prop::test_runner::RngAlgorithm::ChaCha));
    let result = runner.run(&any_message(kept), |message| {
        let understood = understander.understand(&message);
        prop_assert_eq!(understood.topics.is_empty(), understood.verdict == Verdict::None);
        prop_assert_eq!(&understander.understand(&message), &understood);
        Ok(())
    });
    result.unwrap_or_else(|failure| panic!("{failure}"));
}
