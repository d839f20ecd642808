//! The script: which questions there are, the fact each fills, and when it is asked. Data, read by `book`.
//!
//! The order of the file is the order of asking; a question whose fact is known, or whose guard does not hold,
//! is passed over. Wording stands in `dialogs/words/` under ids made from the question's own:
//! `ask-ID`, `why-ID`, `how-ID`, `example-ID`, `unsure-ID`, `fact-ID`, and `choice-ID-CHOICE` for each choice.

pub mod details;
pub mod interview;

use crate::conversation::holds::Hold;
use crate::conversation::pattern::Pattern;
use crate::roofing::roof::{FactKey, FactValue, Facts};

/// A whole script.
#[derive(Clone, Debug, Default)]
pub struct Script {
    /// The adviser's version of it.
    pub version: String,
    /// Words that tell nothing, where a fact is told in words: a yes, or what has not been done yet.
    pub tells_nothing: Vec<Pattern>,
    /// What each stop answers while it holds.
    pub holds: Vec<Hold>,
    /// The questions in asking order.
    pub questions: Vec<Question>,
}

/// When a question is asked: every guard must hold.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Guard {
    /// A choice is known and is one of these.
    OneOf(FactKey, Vec<String>),
    /// A fact is known.
    Known(FactKey),
    /// A fact is not known.
    Unknown(FactKey),
}

/// One answer that can be pressed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ScriptChoice {
    /// The id the fact takes.
    pub id: String,
}

/// What follows "not sure".
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Unsure {
    /// It is an answer of its own: the fact takes this choice.
    Answer(String),
    /// Other facts lead to it: they are asked instead.
    AskInstead(Vec<FactKey>),
    /// A value that is safe to go on with stands in, and the plan says so. Never for a safety fact.
    Assume(FactValue),
    /// Only looking or asking a person helps: the wording says how, and the question stays open.
    FindOut,
}

/// One question.
#[derive(Clone, Debug)]
pub struct Question {
    /// Names it, and its wording.
    pub id: String,
    /// The fact it fills.
    pub fact: FactKey,
    /// When it is asked.
    pub when: Vec<Guard>,
    /// Its choices, where the fact is one.
    pub choices: Vec<ScriptChoice>,
    /// What follows "not sure".
    pub unsure: Unsure,
    /// Whether it is only asked as part of another way (see [`Unsure::AskInstead`]), never by itself; what it
    /// asks for may still be told unasked.
    pub only_instead: bool,
    /// Whether it is asked, where its guards hold, though no plan waits for it.
    pub asked_besides: bool,
}

impl Question {
    /// The ids of the sentences it needs.
    pub fn messages(&self) -> impl Iterator<Item = String> {
        let parts = ["ask", "why", "how", "example", "unsure", "fact"];
        let own = parts.into_iter().map(|part| format!("{part}-{}", self.id));
        own.chain(self.choices.iter().map(|choice| self.choice_message(&choice.id)))
    }

    /// The id of the words on a choice.
    pub fn choice_message(&self, choice: &str) -> String {
        format!("choice-{}-{choice}", self.id)
    }
}

impl Guard {
    /// Whether it holds.
    pub fn holds(&self, facts: &Facts) -> bool {
        match self {
            Self::OneOf(fact, any) => facts.choice(*fact).is_some_and(|id| any.iter().any(|one| one == id)),
            Self::Known(fact) => facts.get(*fact).is_some(),
            Self::Unknown(fact) => facts.get(*fact).is_none(),
        }
    }

    /// Whether what is known of the roof says that it has nothing of what is asked for.
    pub fn rules_out(&self, facts: &Facts) -> bool {
        match self {
            Self::OneOf(fact, _) => facts.choice(*fact).is_some() && !self.holds(facts),
            Self::Known(_) | Self::Unknown(_) => false,
        }
    }
}
