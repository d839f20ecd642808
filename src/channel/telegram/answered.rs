//! A question that has been answered: its buttons go, and the choice is written where they were.

use super::address::Address;
use super::call::Call;
use super::text::{cut, escape, units};

/// The most UTF-16 units of a message, and of a label written under it.
const MOST_TEXT: usize = 4096;
const MOST_LABEL: usize = 60;

/// Writes the choice into the message that asked.
pub fn write_choice(to: Address, message: i64, words: &str, label: &str) -> Call {
    let (label, _) = cut(label, MOST_LABEL);
    let (words, _) = cut(words, MOST_TEXT.saturating_sub(units(label).saturating_add(4)));
    Call::EditText { to, message, html: format!("{}\n\n<b>✓ {}</b>", escape(words), escape(label)) }
}

/// Takes the buttons away, where the answer was typed and stands in the chat already.
pub fn take_buttons(to: Address, message: i64) -> Call {
    Call::TakeButtons { to, message }
}
