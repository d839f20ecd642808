//! Messages that are kept: met again word for word they mean what they meant, and those that were added since the
//! last learning are known by what is near to them.

use std::collections::BTreeMap;

use super::TopicId;
use super::learned::Learned;
use super::message::Message;
use super::reading::Reader;
use super::scoring::{Read, mark};
use super::table::Table;
use super::terms::Keys;

/// How alike two messages must be to mean the same, in hundredths: the cosine of their telling words.
const ALIKE: u64 = 75;

/// A kept message.
#[derive(Clone, Debug)]
pub(super) struct KeptMessage {
    /// As it was typed.
    pub(super) says: String,
    /// What it is about.
    pub(super) topics: Vec<TopicId>,
    /// Whether it speaks of no danger.
    pub(super) harmless: bool,
}

/// All of them.
#[derive(Clone, Debug, Default)]
pub(super) struct Kept {
    by_words: BTreeMap<String, KeptMessage>,
    /// The terms of those that were added since the last learning.
    added: Vec<(Keys, KeptMessage)>,
}

impl Kept {
    pub(super) fn new(messages: &[Message], learned: &Learned, reader: &Reader) -> Self {
        let mut kept = Self::default();
        for message in messages {
            let one = KeptMessage {
                says: message.says.clone(),
                topics: message.topics.clone(),
                harmless: message.danger.is_none(),
            };
            if !learned.marks.contains(&mark(message)) {
                let read = Read::of(reader, &reader.read(&message.says).whole);
                kept.added.push((read.terms.telling, one.clone()));
            }
            kept.by_words.entry(words(&message.says)).or_insert(one);
        }
        kept
    }

    /// The kept message that this one is, or is as good as.
    pub(super) fn find(&self, message: &str, read: &Read, learned: &Learned) -> Option<&KeptMessage> {
        let near = || {
            let near = self.added.iter().map(|(keys, kept)| {
                let alike = alike(keys, &read.terms.telling, &learned.topics);
                (alike, kept)
            });
            let near = near.filter(|(alike, _)| *alike >= ALIKE);
            near.max_by_key(|(alike, _)| *alike).map(|(_, kept)| kept)
        };
        self.by_words.get(&words(message)).or_else(near)
    }
}

/// The words of a message and nothing else.
fn words(message: &str) -> String {
    let mut said = String::with_capacity(message.len());
    for word in message.split(|c: char| !c.is_alphanumeric() && c != '\'' && c != '’').filter(|word| !word.is_empty()) {
        said.extend(word.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_lowercase));
        said.push(' ');
    }
    said
}

/// How alike two messages are, in hundredths; rare terms count more.
fn alike(one: &Keys, other: &Keys, table: &Table) -> u64 {
    let rare = |key| u64::from(table.rarity(key).unwrap_or(UNHEARD));
    let squares = |keys: &Keys| keys.iter().map(|key| rare(*key).pow(2)).sum::<u64>();
    let common: u64 = one.iter().filter(|key| other.binary_search(key).is_ok()).map(|key| rare(*key).pow(2)).sum();
    let length = (squares(one) * squares(other)).isqrt().max(1);
    common * 100 / length
}

/// How rare a term is that no learned message uses.
const UNHEARD: u16 = 140;
