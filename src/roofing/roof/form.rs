//! The form of a roof, and its hands.

use crate::roofing::facts::choices::{RoofForm, YesNo};
use crate::roofing::facts::{FactKey, Facts};

/// How many slopes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// One slope, high edge at the back.
    SingleSlope,
    /// Two slopes that meet at a ridge.
    TwoSlopes,
}

/// A side, seen by somebody who faces the eaves of the slope from outside.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Hand {
    /// The left-hand side.
    Left,
    /// The right-hand side.
    Right,
}

impl Hand {
    /// The other side; also this side of the front slope as seen facing the back eaves.
    pub const fn other(self) -> Self {
        match self {
            Self::Left => Self::Right,
            Self::Right => Self::Left,
        }
    }
}

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
