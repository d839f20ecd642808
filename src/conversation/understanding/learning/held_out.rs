//! How messages of hands that were held out were understood: the honest figures of a learning.

use crate::conversation::understanding::message::Message;
use crate::conversation::understanding::{TopicId, Understanding, Verdict};

macro_rules! counts {
    ($($(#[$doc:meta])* $name:ident = $key:literal),+ $(,)?) => {
        /// Counts over messages that nothing was learned from when they were tried.
        #[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
        pub struct HeldOut { $($(#[$doc])* pub $name: usize),+ }

        impl HeldOut {
            /// Every count with its name.
            pub fn counts(&self) -> Vec<(&'static str, usize)> {
                vec![$(($key, self.$name)),+]
            }

            fn count(&mut self, key: &str) -> Option<&mut usize> {
                match key { $($key => Some(&mut self.$name),)+ _ => None }
            }
        }
    };
}

counts! {
    /// Messages whose topics are known.
    messages = "messages",
    /// Of these, those whose first topic is right.
    right_first = "right first",
    /// Those that are answered, and not about what they are about.
    wrong = "answered wrongly",
    /// Those that are asked about instead of answered.
    asked_back = "asked back",
    /// Messages that speak of danger.
    dangers = "dangers",
    /// Of these, those that stop what is being done.
    stopped = "stopped",
    /// Those that stop it or are asked about.
    heard = "stopped or asked",
    /// Messages that only sound like danger.
    look_alikes = "look-alikes",
    /// Of these, those that are asked about.
    look_alikes_asked = "look-alikes asked",
    /// Those that stop what is being done.
    look_alikes_stopped = "look-alikes stopped",
}

impl HeldOut {
    /// Counts how one message was understood.
    pub(in super::super) fn add(&mut self, message: &Message, understood: &Understanding) {
        let danger = understood.danger.as_ref();
        let sure = danger.is_some_and(|danger| danger.sure);
        if let Some(about) = &message.topics {
            let first = heard_first(understood);
            let nothing = |topic: TopicId| about.is_empty() && topic.gives_way();
            let fine =
                |topic: TopicId| about.contains(&topic) || message.also.contains(&topic) || nothing(topic);
            let right = first.map_or(about.is_empty(), |first| {
                about.first() == Some(&first) || message.also.contains(&first) || nothing(first)
            });
            let answers = understood.verdict == Verdict::One || sure;
            self.messages += 1;
            self.right_first += usize::from(right);
            self.wrong += usize::from(answers && first.is_some_and(|first| !fine(first)));
            self.asked_back += usize::from(!answers);
        }
        if message.danger.is_some() {
            self.dangers += 1;
            self.stopped += usize::from(sure);
            self.heard += usize::from(danger.is_some());
        } else if message.topics.is_none() {
            self.look_alikes += 1;
            self.look_alikes_asked += usize::from(danger.is_some() && !sure);
            self.look_alikes_stopped += usize::from(sure);
        }
    }

    /// Reads counts as they are written, `messages:120`.
    pub(in super::super) fn read<'a>(fields: impl Iterator<Item = &'a str>) -> Option<Self> {
        let mut held_out = Self::default();
        for field in fields {
            let (name, count) = field.split_once(':')?;
            *held_out.count(name)? = count.parse().ok()?;
        }
        Some(held_out)
    }
}

/// The topic that is answered first: a sure danger's before any.
pub(in super::super) fn heard_first(understood: &Understanding) -> Option<TopicId> {
    let grave = understood.danger.as_ref().filter(|danger| danger.sure).map(|danger| danger.kind.topic());
    grave.or(understood.topics.first().map(|hit| hit.topic))
}
