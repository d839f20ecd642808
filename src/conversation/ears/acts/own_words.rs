//! Facts that are told in the person's own words: who tested, who repaired, when a line was cleared, how far it is.

use super::super::choices::Chosen;
use super::super::clauses::Mood;
use super::super::{Act, Given, Heard, Message, Sure, View, orders};
use super::{answer, unclear};
use crate::conversation::details;
use crate::roofing::roof::FactKind;

/// What is told in the person's own words is taken whole, as long as it tells anything; else the message may say
/// something else of the matter that it belongs to: "no, there is none near after all".
pub(super) fn in_own_words(view: &View<'_, '_>, message: &Message<'_>, chosen: &[Chosen]) -> Option<Heard> {
    let question = view.question()?;
    let FactKind::Words(detail) = question.fact.kind() else { return None };
    let asks = message.clauses.iter().any(|clause| clause.mood == Mood::Asks);
    if asks || orders::order(message).is_some() {
        return None;
    }
    if let Some(not_sure) = chosen.iter().find(|one| one.fact == question.fact) {
        return not_sure.given().map(|given| answer(message, given, Sure::Sure, &[]));
    }
    match details::told(view.guide.script, detail, message.text) {
        Ok(value) => Some(answer(message, Given::plain(question.fact, value), Sure::Sure, &[])),
        Err(_) if chosen.iter().any(|one| one.fact.is_safety()) => None,
        Err(why) => Some(unclear(message, Act::Answer, Sure::Unreadable(why))),
    }
}
