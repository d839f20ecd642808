//! What a person can say about one roof: the closed list of facts, and those given so far.

pub mod choices;
mod fact_key;
mod known;
mod words;

pub use choices::Choice;
pub use fact_key::{FactKey, FactKind};
pub use known::{FactValue, Facts};
pub use words::{Detail, Words};

/// The message that names a fact: `fact-slope-length`.
pub(in crate::roofing) fn fact_word(key: FactKey) -> String {
    format!("fact-{}", key.key().replace('_', "-"))
}
