//! "55 cm of clear gap, and each timber is 5 cm thick": from the middle of one timber to the middle of the next it is
//! the sum.

use super::super::lexicon::Tag;
use super::super::readings::{Reply, fits, length, measure};
use super::super::{Given, Heard, Message, Sure, View};
use super::answer;
use crate::roofing::roof::{FactKey, FactValue};
use crate::units::{Length, Measured, Quantity};

/// A timber of a small roof is not thicker.
const THICKEST: Length = Length::from_mm(120);

/// The spacing that a clear gap and the thickness of a timber make, put back as a question.
pub(super) fn gap_and_timber(view: &View<'_, '_>, message: &Message<'_>) -> Option<Heard> {
    let asked = view.question().is_some_and(|question| question.fact == FactKey::TimberSpacing);
    let [gap, timber] = message.figures.as_slice() else { return None };
    if !asked || !message.has(Tag::ClearGap) {
        return None;
    }
    let Reply::Value(given) = measure(view.guide, view.session.usual(), FactKey::TimberSpacing, &gap.text)
    else {
        return None;
    };
    let FactValue::Length(clear) = &given.value else { return None };
    let thick = length(Quantity::DeckThickness, &timber.text).filter(|thick| *thick <= THICKEST)?;
    let value = FactValue::Length(Measured { value: clear.value + thick, doubt: clear.doubt });
    let sum = Given { value, ..given };
    fits(view.guide, sum.fact, &sum.value).then(|| answer(message, sum, Sure::Unsure, &[]))
}
