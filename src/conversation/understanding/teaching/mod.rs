//! Learns from the kept messages: by one command, the same bytes from the same messages each time.
//!
//! How far to trust what was learned is counted on hands held out: hands that wrote no more than a third of the
//! messages are left out in turn, everything is learned from the others, and their messages are tried.

mod trial;

use std::collections::{BTreeMap, BTreeSet};

use super::learning::confidence::Confidence;
use super::learning::evidence;
use super::learning::held_out::HeldOut;
use super::learning::learned::{Learned, Written};
use super::learning::machine::{self, Lesson};
use super::learning::scoring::{Read, scores_of, stretches};
use super::message::{Message, meaning};
use super::topic::Topic;
use super::words::reading::Reader;
use super::words::terms::{Key, Keys, hash, named};
use super::{DangerKind, TopicId, Understander};
pub use trial::Trial;

/// A hand is held out where it wrote no more than this part of all messages.
const MOST_HELD_OUT: usize = 3;
/// Hands are held out in so many groups at most.
const GROUPS: usize = 4;
/// So many of a hundred messages without danger may be asked about.
const ASKED_IN_VAIN: usize = 3;
/// The column of any danger at all, after those of the kinds.
const ANY: usize = DangerKind::ALL.len();

/// What was learned, ready to be written.
#[derive(Clone, Debug)]
pub struct Lessons {
    written: Written,
    trial: Trial,
}

impl Lessons {
    /// Learns from messages, read as `by` reads them; `heard` marks the text they stood in.
    pub fn learn(by: &Understander, messages: &[Message], heard: u64) -> Self {
        let (topics, reader) = (by.topics(), by.reader());
        let mut written = weights(topics, reader, messages);
        let mut folds: Vec<(Understander, Vec<Message>)> = Vec::new();
        for hands in groups(messages) {
            let (out, kept): (Vec<Message>, Vec<Message>) =
                messages.iter().cloned().partition(|message| hands.contains(&message.hand.as_str()));
            folds.push((by.with(weights(topics, reader, &kept).ready()), out));
        }
        let tries = |(judge, out): &(Understander, Vec<Message>)| {
            out.iter().filter_map(|message| tried(judge.learned(), reader, message)).collect::<Vec<_>>()
        };
        written.confidence = Confidence::counted(folds.iter().flat_map(tries).collect());
        let alarms = |(judge, out): &(Understander, Vec<Message>)| {
            let harmless = out.iter().filter(|message| is_harmless(message));
            harmless.filter_map(|message| Some(judge.alarm(&message.says)?.score)).collect::<Vec<_>>()
        };
        let mut harmless: Vec<i32> = folds.iter().flat_map(alarms).collect();
        harmless.sort_unstable();
        let at = harmless.len() - harmless.len() * ASKED_IN_VAIN / 100;
        written.asks_from = harmless.get(at).copied().unwrap_or(0);
        let mut trial = Trial::default();
        for (judge, out) in folds {
            let judge = judge.trusting(&written.confidence, written.asks_from);
            for message in &out {
                let understood = judge.understand(&message.says);
                written.held_out.add(message, &understood);
                trial.add(message, &understood);
            }
        }
        written.reader = by.reader_mark();
        written.heard = heard;
        written.kept = messages.iter().map(meaning).collect();
        Self { written, trial }
    }

    /// A mark of the texts that messages stand in: another one where a letter is.
    pub fn mark<'a>(texts: impl Iterator<Item = &'a str>) -> u64 {
        hash(texts.flat_map(str::bytes))
    }

    /// As the learned file holds it.
    pub fn text(&self) -> String {
        self.written.text()
    }

    /// How messages were understood that were held out.
    pub fn held_out(&self) -> HeldOut {
        self.written.held_out
    }

    /// The same, hand by hand, and what was taken for what.
    pub const fn trial(&self) -> &Trial {
        &self.trial
    }

    /// Ready for use.
    pub fn ready(&self) -> Learned {
        self.written.ready()
    }
}

/// Hands that can be held out, in groups that are held out together.
fn groups(messages: &[Message]) -> Vec<BTreeSet<&str>> {
    let mut wrote: BTreeMap<&str, usize> = BTreeMap::new();
    for message in messages {
        *wrote.entry(&message.hand).or_default() += 1;
    }
    let few = wrote.into_iter().filter(|(_, wrote)| wrote * MOST_HELD_OUT <= messages.len());
    let mut groups = vec![BTreeSet::new(); GROUPS];
    for (index, (hand, _)) in few.enumerate() {
        groups.get_mut(index % GROUPS).into_iter().for_each(|group: &mut BTreeSet<&str>| {
            group.insert(hand);
        });
    }
    groups.retain(|group| !group.is_empty());
    groups
}

/// How far ahead the first topic of a message is, and whether it is right.
fn tried(learned: &Learned, reader: &Reader, message: &Message) -> Option<(i32, bool)> {
    let about = message.topics.as_ref()?;
    let scores = scores_of(learned, &Read::of(reader, &reader.read(&message.says).whole));
    let first = scores.first()?;
    let right = about.iter().chain(&message.also).any(|topic| *topic == first.topic);
    Some((first.score - scores.get(1).map_or(0, |next| next.score), right))
}

/// Whether a message neither speaks of danger nor asks about one.
fn is_harmless(message: &Message) -> bool {
    let grave = |topic: &TopicId| {
        *topic == TopicId::DangerousRequest || DangerKind::ALL.iter().any(|kind| kind.topic() == *topic)
    };
    message.danger.is_none() && !message.topics.iter().flatten().chain(&message.also).any(grave)
}

/// Weights from messages, and from the phrasings of the topics themselves.
fn weights(topics: &[Topic], reader: &Reader, messages: &[Message]) -> Written {
    let columns: Vec<TopicId> = topics.iter().map(|topic| topic.id).collect();
    let column = |topic: &TopicId| columns.iter().position(|known| known == topic);
    let mut names: BTreeMap<Key, String> = BTreeMap::new();
    let (mut about, mut telling, mut grave): (Vec<Lesson>, Vec<(Keys, usize)>, Vec<Lesson>) =
        Default::default();
    let asked = topics.iter().flat_map(|topic| topic.asked_as.iter().map(move |said| (said, topic.id)));
    for (said, topic) in asked {
        let read = learn_from(reader, said, &mut names);
        let is: Vec<usize> = column(&topic).into_iter().collect();
        telling.extend(is.iter().map(|column| (read.terms.telling.clone(), *column)));
        about.push(Lesson { blocks: [read.terms.read, read.terms.letters], is, may_be: Vec::new() });
    }
    for message in messages {
        let read = learn_from(reader, &message.says, &mut names);
        let is: Vec<usize> = message.topics.iter().flatten().filter_map(column).collect();
        if let [only] = is.as_slice() {
            telling.push((read.terms.telling.clone(), *only));
        }
        let may_be = message.also.iter().filter_map(column).collect();
        let kind = message.danger.and_then(|kind| DangerKind::ALL.iter().position(|known| *known == kind));
        if message.danger.is_none() {
            // No part of a harmless message sounds like danger either.
            let parts = stretches(reader, &reader.read(&message.says))
                .map(|part| part.danger_blocks())
                .collect::<Vec<_>>();
            grave.extend(parts.into_iter().map(|blocks| Lesson {
                blocks,
                is: Vec::new(),
                may_be: Vec::new(),
            }));
        }
        grave.push(Lesson {
            blocks: read.danger_blocks(),
            is: kind.into_iter().chain(kind.map(|_| ANY)).collect(),
            may_be: Vec::new(),
        });
        if message.topics.is_some() {
            about.push(Lesson { blocks: [read.terms.read, read.terms.letters], is, may_be });
        }
    }
    Written {
        topics: machine::learn(&about, columns.len(), &names),
        evidence: evidence::learn(&telling, &names),
        dangers: machine::learn(&grave, ANY + 1, &names),
        columns,
        ..Written::default()
    }
}

fn learn_from(reader: &Reader, said: &str, names: &mut BTreeMap<Key, String>) -> Read {
    let heard = reader.read(said);
    names.extend(named(&heard.whole, |word| reader.is_filler(word)));
    Read::of(reader, &heard.whole)
}
