//! How many slopes the facts speak of.

use super::site::Form;
use crate::roofing::facts::choices::{RoofForm, YesNo};
use crate::roofing::facts::{FactKey, Facts};

pub(super) fn form(facts: &Facts) -> Option<Form> {
    Some(match facts.chosen(FactKey::Form)? {
        RoofForm::SingleSlope => Form::SingleSlope,
        RoofForm::TwoSlopes => Form::TwoSlopes,
    })
}

pub(super) fn slopes_unequal(facts: &Facts) -> bool {
    let differ = facts.chosen(FactKey::SlopesEqual) == Some(YesNo::No);
    form(facts) == Some(Form::TwoSlopes) && differ
}

/// How many slopes share the span, where they share it evenly.
pub(super) fn slopes_across(facts: &Facts) -> Option<i64> {
    match form(facts)? {
        Form::SingleSlope => Some(1),
        Form::TwoSlopes => (!slopes_unequal(facts)).then_some(2),
    }
}
