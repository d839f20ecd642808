//! What a message asks: one topic, a few near ones, or none, and always why.
//!
//! A message is read into plain words (`reading`), gone through by the patterns kept beside each topic
//! (`patterns`), danger before anything else, and ranked by its words against all that was heard before
//! (`ranking`); a topic is answered where both together put it clearly first. No chance, no model, no network: the
//! same words always give the same answer, and every answer says which pattern or which words gave it. Nothing a
//! message says can change a rule or a figure: it only ever chooses a topic.

mod danger;
mod decide;
mod normalise;
mod patterns;
mod ranking;
mod reading;
mod spelling;
mod topic;
mod topics;

use crate::roofing::rules::Handover;

pub use danger::{DangerHeard, DangerKind};
pub use decide::Understander;
pub use topic::{Topic, TopicId, Vocabulary};
pub use topics::Topics;

/// Why a topic was heard.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Because {
    /// This pattern, as written beside the topic.
    Pattern(String),
    /// These words are used in phrasings of the topic.
    Words(Vec<String>),
    /// A word was read as another one.
    Mended {
        /// As it was typed.
        typed: String,
        /// As it was read.
        read: String,
    },
    /// Not a word of the message belongs to any topic.
    NothingKnown,
}

/// A topic that was heard.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hit {
    /// Which.
    pub topic: TopicId,
    /// How strongly, by patterns and ranking together.
    pub score: i32,
    /// Whether a pattern was heard that hands the person on.
    pub handed_on: bool,
    /// Why.
    pub because: Vec<Because>,
}

/// How sure the understanding is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// Every topic listed was asked about: answer each.
    One,
    /// The topics listed are near: ask which is meant.
    Near,
    /// Nothing is near.
    None,
}

/// What a message asks.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Understanding {
    /// The gravest danger that is spoken of, whatever the message asks beside it.
    pub danger: Option<DangerHeard>,
    /// Topics in the order asked; with [`Verdict::Near`] the nearest first.
    pub topics: Vec<Hit>,
    /// How sure.
    pub verdict: Verdict,
    /// To whom the person must be handed.
    pub handover: Option<Handover>,
    /// Why the plan must be stopped, by the reason's id.
    pub stopped: Option<String>,
}
