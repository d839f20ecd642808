//! A message that is kept with its right verdict: the source of all that is learned.

use std::collections::BTreeMap;

use super::words::terms::hash;
use super::{DangerKind, TopicId};

/// What somebody wrote, and what it is about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Message {
    /// As it was typed.
    pub says: String,
    /// The topics it is about, the first one first, none where it is about nothing here; `None` where only its danger
    /// was judged.
    pub topics: Option<Vec<TopicId>>,
    /// Topics that would be no mistake.
    pub also: Vec<TopicId>,
    /// The danger it speaks of.
    pub danger: Option<DangerKind>,
    /// Who wrote it: what is learned from some hands is measured on the others.
    pub hand: String,
}

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

/// What a message means.
pub(super) fn meaning(message: &Message) -> (u64, Meaning) {
    let topics = message.topics.clone().unwrap_or_default();
    (words(&message.says), Meaning { topics, harmless: message.danger.is_none() })
}

/// The words of a message and nothing else, as one number.
pub(super) fn words(message: &str) -> u64 {
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
