//! What a message asks: one topic, a few near ones, or none, and always why.
//!
//! A message is read into plain words (`words::reading`) and weighed by its words, pairs and letters (`words`) against all
//! that was heard before: a linear model (`learning::machine`) and the weight of evidence (`learning::evidence`), both learned from the
//! messages in `dialogs/heard/` by one command (`teaching`) into one file (`learning::learned`). A topic is answered where it is
//! far enough ahead to be right most times (`learning::confidence`). Danger is heard apart from topics (`danger`). No chance and
//! no network: the same words always give the same answer, and every answer says what gave it. Nothing a message
//! says can change a rule or a figure: it only ever chooses a topic.

mod danger;
mod decide;
mod kept;
mod learning;
mod message;
mod teaching;
mod topic;
mod topics;
mod words;

use crate::roofing::rules::Handover;

pub use danger::{BadFrame, DangerFrame, DangerHeard, DangerKind, DangerWeight, DangerWords, OtherLanguage};
pub use decide::Understander;
pub use learning::held_out::HeldOut;
pub use learning::learned::Learned;
pub use message::Message;
pub use teaching::{Lessons, Trial};
pub use topic::{Topic, TopicId, Vocabulary};
pub use topics::Topics;

/// Why a topic was heard.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Because {
    /// This pattern, as written beside the topic.
    Pattern(String),
    /// These words are used in messages about the topic.
    Words(Vec<String>),
    /// It is a kept message, or as good as one.
    Kept,
    /// It is said in this language.
    Language(String),
    /// It sounds like messages that speak of danger, by this score.
    Sounds(i32),
    /// Not a word of the message belongs to any topic.
    NothingKnown,
}

/// A topic that was heard.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hit {
    /// Which.
    pub topic: TopicId,
    /// How often it is right, of a hundred times that it is heard as clearly.
    pub confidence: u8,
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
