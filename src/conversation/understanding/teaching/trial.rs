//! How each hand was understood when it was held out, and what was taken for what: printed by who learns, kept nowhere.

use std::collections::BTreeMap;

use crate::conversation::understanding::learning::held_out::{HeldOut, heard_first};
use crate::conversation::understanding::message::Message;
use crate::conversation::understanding::{TopicId, Understanding};

/// The messages of held-out hands, tried.
#[derive(Clone, Debug, Default)]
pub struct Trial {
    /// The counts of each hand, by its name.
    pub hands: BTreeMap<String, HeldOut>,
    /// Topics that were taken for another, or for none, and how often.
    pub confused: BTreeMap<(TopicId, Option<TopicId>), usize>,
    /// Dangers that were passed over in silence, as they were said.
    pub missed: Vec<String>,
    /// What only sounds like danger, and was asked about or stopped.
    pub in_vain: Vec<String>,
}

impl Trial {
    /// Counts how one message was understood.
    pub(super) fn add(&mut self, message: &Message, understood: &Understanding) {
        let hand = self.hands.entry(message.hand.clone()).or_default();
        let right = hand.right_first;
        hand.add(message, understood);
        let is_wrong = hand.right_first == right;
        let about = message.topics.as_ref().and_then(|about| about.first());
        if let Some(wanted) = about.filter(|_| is_wrong) {
            *self.confused.entry((*wanted, heard_first(understood))).or_default() += 1;
        }
        if message.danger.is_some() && understood.danger.is_none() {
            self.missed.push(message.says.clone());
        }
        if message.danger.is_none() && message.topics.is_none() && understood.danger.is_some() {
            self.in_vain.push(message.says.clone());
        }
    }

    /// What was most often taken for what.
    pub fn worst(&self, most: usize) -> Vec<(TopicId, Option<TopicId>, usize)> {
        let mut all: Vec<_> =
            self.confused.iter().map(|((wanted, heard), times)| (*wanted, *heard, *times)).collect();
        all.sort_by_key(|(wanted, heard, times)| (std::cmp::Reverse(*times), *wanted, *heard));
        all.truncate(most);
        all
    }
}
