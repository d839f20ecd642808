//! A message that is kept with its right verdict: the source of all that is learned.

use super::{DangerKind, TopicId};

/// What somebody wrote, and what it is about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Message {
    /// As it was typed.
    pub says: String,
    /// The topics it is about, the first one first; none where it is about nothing here.
    pub topics: Vec<TopicId>,
    /// Topics that would be no mistake.
    pub also: Vec<TopicId>,
    /// The danger it speaks of.
    pub danger: Option<DangerKind>,
    /// Who wrote it: what is learned from some hands is measured on the others.
    pub hand: String,
}

impl Message {
    /// A message by its hand, about these topics.
    pub fn new(hand: &str, says: &str, topics: &[TopicId]) -> Self {
        Self { says: says.to_owned(), topics: topics.to_vec(), also: Vec::new(), danger: None, hand: hand.to_owned() }
    }
}
