//! Messages that are kept: met again word for word they mean what they meant, and those that were added since the
//! last learning are known by what is near to them too.

use std::collections::BTreeMap;

use super::TopicId;
use super::learned::Learned;
use super::message::Message;
use super::reading::Reader;
use super::scoring::Read;
use super::table::Table;
use super::terms::{Keys, hash};

/// How alike two messages must be to mean the same, in hundredths: the cosine of their telling words.
const ALIKE: u64 = 75;
/// How rare a term is that no learned message uses.
const UNHEARD: u16 = 140;

/// What a kept message means.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Meaning {
    /// What it is about; nothing where only its danger was judged, or it is about nothing here.
    pub(super) topics: Vec<TopicId>,
    /// Whether it speaks of no danger.
    pub(super) harmless: bool,
}

/// Meanings by the words of the message.
pub(super) type Meanings = BTreeMap<u64, Meaning>;

/// Messages that were added since the last learning: their terms and what they mean.
#[derive(Clone, Debug, Default)]
pub(super) struct Added {
    meanings: Meanings,
    terms: Vec<(Keys, Meaning)>,
}

/// What a message means.
pub(super) fn meaning(message: &Message) -> (u64, Meaning) {
    let topics = message.topics.clone().unwrap_or_default();
    (words(&message.says), Meaning { topics, harmless: message.danger.is_none() })
}

impl Added {
    /// Those of these messages that nothing was learned from.
    pub(super) fn new<'a>(
        messages: impl IntoIterator<Item = &'a Message>,
        learned: &Learned,
        reader: &Reader,
    ) -> Self {
        let mut added = Self::default();
        for message in messages {
            let (words, meaning) = meaning(message);
            if learned.kept.get(&words) != Some(&meaning) {
                let read = Read::of(reader, &reader.read(&message.says).whole);
                added.terms.push((read.terms.telling, meaning.clone()));
                added.meanings.insert(words, meaning);
            }
        }
        added
    }

    /// What the kept message means that this one is, or is as good as.
    pub(super) fn meaning_of<'a>(
        &'a self,
        said: &str,
        read: &Read,
        learned: &'a Learned,
    ) -> Option<&'a Meaning> {
        let words = words(said);
        let kept = self.meanings.get(&words).or_else(|| learned.kept.get(&words));
        kept.or_else(|| self.near_to(read, learned))
    }

    /// What the nearest of the added messages means, where one is near.
    pub(super) fn near_to(&self, read: &Read, learned: &Learned) -> Option<&Meaning> {
        let near = self.terms.iter().map(|(keys, meaning)| {
            let alike = alike(keys, &read.terms.telling, &learned.topics);
            (alike, meaning)
        });
        let near = near.filter(|(alike, _)| *alike >= ALIKE);
        near.max_by_key(|(alike, _)| *alike).map(|(_, meaning)| meaning)
    }
}

/// The words of a message and nothing else, as one number.
fn words(message: &str) -> u64 {
    let mut said = String::with_capacity(message.len());
    let parted = message.split(|c: char| !c.is_alphanumeric() && c != '\'' && c != '’');
    for word in parted.filter(|word| !word.is_empty()) {
        said.extend(word.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_lowercase));
        said.push(' ');
    }
    if said.is_empty() {
        // Pictures alone.
        message.trim().clone_into(&mut said);
    }
    hash(said.bytes())
}

/// How alike two messages are, in hundredths; rare terms count more.
fn alike(one: &Keys, other: &Keys, table: &Table) -> u64 {
    let square = |key: &u64| u64::from(table.rarity(*key).unwrap_or(UNHEARD)).pow(2);
    let squares = |keys: &Keys| keys.iter().map(square).sum::<u64>();
    let common: u64 = one.iter().filter(|key| other.binary_search(key).is_ok()).map(square).sum();
    let length = (squares(one) * squares(other)).isqrt().max(1);
    common * 100 / length
}
