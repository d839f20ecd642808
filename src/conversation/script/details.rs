//! What is told in a few words of the person's own: who tested, who repaired, when a line was cleared and how far it is.
//!
//! The words are kept as they are. All that is looked at is whether they tell anything: a yes names nobody, what will
//! be done tomorrow has not been done, and a day without a figure is none.

use crate::conversation::script::Script;
use crate::roofing::facts::{Detail, FactValue, Words};
use crate::roofing::note::{Arg, Note};

/// The answer that a text gives to a question that is answered in words.
///
/// # Errors
/// What is missing from it, to be said before the question is put again.
pub fn told(script: &Script, detail: Detail, text: &str) -> Result<FactValue, Note> {
    if script.tells_nothing.iter().any(|words| words.is_match(text.trim())) {
        return Err(Note::new("detail-tells-nothing"));
    }
    let most = i64::try_from(Words::MOST).unwrap_or(i64::MAX);
    let words =
        Words::new(text).ok_or_else(|| Note::new("detail-too-long").with("most", Arg::Count(most)))?;
    if detail.is_told_by(&words) {
        return Ok(FactValue::Words(words));
    }
    Err(Note::new(match detail {
        Detail::Day => "detail-lacks-a-day",
        Detail::Distance => "detail-lacks-a-distance",
        Detail::Account => "detail-tells-nothing",
    }))
}
