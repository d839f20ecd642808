//! What a message says of danger: its own stage, apart from topics.
//!
//! A danger that is heard is never put aside again: what speaks against it makes it a possible one, which is asked
//! about in one line.

mod frames;
mod hearing;

pub(super) use frames::Frames;
pub use frames::{BadFrame, DangerFrame, DangerWeight, DangerWords, OtherLanguage};
pub(super) use hearing::{Alarm, hear};

use super::{Because, TopicId};
use crate::roofing::rules::Handover;

/// What kind of danger is spoken of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum DangerKind {
    /// Somebody is hurt or ill.
    Injury,
    /// Something burns that should not.
    Fire,
    /// A current went through somebody.
    Shock,
    /// Something comes down.
    Collapse,
    /// An electric line is near.
    Line,
    /// Something may hold asbestos.
    Asbestos,
    /// Timber is rotten, split or sagging.
    Rot,
    /// A roof may not hold a person.
    Fragile,
}

/// A danger that was heard.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DangerHeard {
    /// Of what kind.
    pub kind: DangerKind,
    /// Whether it is to stop what is being done; else it is asked about in one line.
    pub sure: bool,
    /// The language it was spoken of in, where lapwise does not speak it: `de`.
    pub language: Option<String>,
    /// Why it was heard.
    pub because: Vec<Because>,
}

impl DangerHeard {
    /// Whether no word tells of it: the message only sounds like others that did.
    pub fn only_sounds_so(&self) -> bool {
        self.because.iter().all(|because| matches!(because, Because::Sounds(_)))
    }
}

impl DangerKind {
    /// Every kind, the gravest first.
    pub const ALL: &'static [Self] = &[
        Self::Injury,
        Self::Fire,
        Self::Shock,
        Self::Collapse,
        Self::Line,
        Self::Asbestos,
        Self::Rot,
        Self::Fragile,
    ];

    /// The name it has in files.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Injury => "injury",
            Self::Fire => "fire",
            Self::Shock => "shock",
            Self::Collapse => "collapse",
            Self::Line => "line",
            Self::Asbestos => "asbestos",
            Self::Rot => "rot",
            Self::Fragile => "fragile",
        }
    }

    /// The kind of that name.
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|kind| kind.key() == key)
    }

    /// The topic whose answer says what to do.
    pub const fn topic(self) -> TopicId {
        match self {
            Self::Injury | Self::Fire | Self::Shock | Self::Collapse => TopicId::InjuryEmergency,
            Self::Line => TopicId::ElectricityCableOverhead,
            Self::Asbestos => TopicId::AsbestosSuspect,
            Self::Rot => TopicId::WeightLimits,
            Self::Fragile => TopicId::FragileRoof,
        }
    }

    /// To whom the person is handed.
    pub const fn handover(self) -> Handover {
        match self {
            Self::Injury | Self::Fire | Self::Shock | Self::Collapse => Handover::Emergency,
            Self::Line | Self::Asbestos | Self::Rot | Self::Fragile => Handover::LicensedPro,
        }
    }

    /// The reason that what is being done stops for: the id of the rule that knows the danger, where one does.
    pub const fn stops(self) -> &'static str {
        match self {
            Self::Injury | Self::Fire | Self::Shock | Self::Collapse => "injury",
            Self::Line => "overhead-lines-near",
            Self::Asbestos => "asbestos-suspected",
            Self::Rot => "structure-rotten",
            Self::Fragile => "structure-weak",
        }
    }

    /// The message that asks, in one line, whether it is so.
    pub const fn asks(self) -> &'static str {
        match self {
            Self::Injury => "danger-ask-injury",
            Self::Fire => "danger-ask-fire",
            Self::Shock => "danger-ask-shock",
            Self::Collapse => "danger-ask-collapse",
            Self::Line => "danger-ask-line",
            Self::Asbestos => "danger-ask-asbestos",
            Self::Rot => "danger-ask-rot",
            Self::Fragile => "danger-ask-fragile",
        }
    }
}
