//! A message that is kept with its right verdict: the source of all that is learned.

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
