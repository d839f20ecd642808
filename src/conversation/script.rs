//! The script: which questions there are, the fact each fills, and when it is asked. Data, read by `book`.
//!
//! The order of the file is the order of asking; a question whose fact is known, or whose guard does not hold,
//! is passed over. Wording stands in `dialogs/words/` under ids made from the question's own:
//! `ask-ID`, `why-ID`, `how-ID`, `example-ID`, `unsure-ID`, `fact-ID`, and `choice-ID-CHOICE` for each choice.

use std::sync::OnceLock;

use regex::{Match, Regex};

use super::holds::Hold;
use crate::roofing::roof::{FactKey, FactValue, Facts};

/// A whole script.
#[derive(Clone, Debug, Default)]
pub struct Script {
    /// The adviser's version of it.
    pub version: String,
    /// Words that tell nothing, where a fact is told in words: a yes, or what has not been done yet.
    pub tells_nothing: Vec<Pattern>,
    /// Words that say, and say nothing else, that everybody is all right again.
    pub all_right: Vec<Pattern>,
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

/// Words that mean something when typed: a regular expression, capitals or not.
///
/// It is compiled when first used: a script has hundreds, and one answer looks at few.
#[derive(Clone, Debug)]
pub struct Pattern {
    written: String,
    compiled: OnceLock<Option<Regex>>,
}

/// One answer that can be pressed.
#[derive(Clone, Debug)]
pub struct ScriptChoice {
    /// The id the fact takes.
    pub id: String,
    /// Words that mean it when typed.
    pub words: Vec<Pattern>,
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
    /// Words that name this fact in a sentence: "slope", "pitch".
    pub mentions: Vec<Pattern>,
    /// What follows "not sure".
    pub unsure: Unsure,
    /// Whether it is only asked as part of another way (see [`Unsure::AskInstead`]), never by itself; what it
    /// asks for may still be told unasked.
    pub only_instead: bool,
    /// Whether it is asked, where its guards hold, though no plan waits for it.
    pub asked_besides: bool,
}

impl Pattern {
    /// A pattern as written in the script.
    pub fn new(written: impl Into<String>) -> Self {
        Self { written: written.into(), compiled: OnceLock::new() }
    }

    /// As it stands in the script.
    pub fn as_str(&self) -> &str {
        &self.written
    }

    /// What is wrong with it, where it is no regular expression. Much quicker than compiling it.
    pub fn fault(&self) -> Option<regex_syntax::Error> {
        regex_syntax::parse(&self.either_case()).err()
    }

    /// Wherever it stands in a text.
    pub fn find_iter<'t>(&self, text: &'t str) -> impl Iterator<Item = Match<'t>> {
        let compiled = self.compiled.get_or_init(|| Regex::new(&self.either_case()).ok());
        compiled.iter().flat_map(|regex| regex.find_iter(text))
    }

    /// Where it first stands in a text.
    pub fn find<'t>(&self, text: &'t str) -> Option<Match<'t>> {
        self.find_iter(text).next()
    }

    /// Whether it stands in a text.
    pub fn is_match(&self, text: &str) -> bool {
        self.find(text).is_some()
    }

    /// A text without what it finds there.
    pub fn without(&self, text: &str) -> String {
        let mut left = String::with_capacity(text.len());
        let mut after = 0;
        for hit in self.find_iter(text) {
            left.push_str(text.get(after..hit.start()).unwrap_or_default());
            after = hit.end();
        }
        left + text.get(after..).unwrap_or_default()
    }

    fn either_case(&self) -> String {
        format!("(?i){}", self.written)
    }
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
}
