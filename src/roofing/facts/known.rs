//! The facts given so far: a plain map, in a fixed order, so that the order of answers cannot matter.

use std::collections::BTreeMap;

use super::choices::{Choice, YesNo};
use super::{FactKey, FactKind, Words};
use crate::units::{Angle, Length, Measured};

/// The value of one fact.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum FactValue {
    /// A measured length.
    Length(Measured<Length>),
    /// A measured angle.
    Angle(Measured<Angle>),
    /// The id of a choice, or of a sheet.
    Choice(String),
    /// A counted number.
    Count(i64),
    /// The person's own words.
    Words(Words),
}

/// What is known about one roof.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Facts(BTreeMap<FactKey, FactValue>);

impl Facts {
    /// Sets a fact; `false`, and nothing changes, where the value is not of the fact's kind.
    pub fn set(&mut self, key: FactKey, value: FactValue) -> bool {
        let fits = match (key.kind(), &value) {
            (FactKind::Quantity(quantity), FactValue::Length(_)) => quantity.length_band().is_some(),
            (FactKind::Quantity(quantity), FactValue::Angle(_)) => quantity.length_band().is_none(),
            (FactKind::Choice(ids), FactValue::Choice(id)) => ids.contains(&id.as_str()),
            (FactKind::Count(low, high), FactValue::Count(count)) => (low..=high).contains(count),
            (FactKind::Sheet, FactValue::Choice(id)) => !id.is_empty(),
            (FactKind::Words(detail), FactValue::Words(words)) => detail.is_told_by(words),
            (FactKind::Words(detail), FactValue::Choice(id)) => detail.choices().contains(&id.as_str()),
            _ => false,
        };
        if fits {
            self.0.insert(key, value);
        }
        fits
    }

    /// Forgets a fact.
    pub fn remove(&mut self, key: FactKey) -> Option<FactValue> {
        self.0.remove(&key)
    }

    /// The value of a fact.
    pub fn get(&self, key: FactKey) -> Option<&FactValue> {
        self.0.get(&key)
    }

    /// A length, where the fact is one and known.
    pub fn length(&self, key: FactKey) -> Option<Measured<Length>> {
        match self.0.get(&key)? {
            FactValue::Length(length) => Some(*length),
            FactValue::Angle(_) | FactValue::Choice(_) | FactValue::Count(_) | FactValue::Words(_) => None,
        }
    }

    /// An angle, where the fact is one and known.
    pub fn angle(&self, key: FactKey) -> Option<Measured<Angle>> {
        match self.0.get(&key)? {
            FactValue::Angle(angle) => Some(*angle),
            FactValue::Length(_) | FactValue::Choice(_) | FactValue::Count(_) | FactValue::Words(_) => None,
        }
    }

    /// The id of a choice, where the fact is one and known.
    pub fn choice(&self, key: FactKey) -> Option<&str> {
        match self.0.get(&key)? {
            FactValue::Choice(id) => Some(id),
            FactValue::Length(_) | FactValue::Angle(_) | FactValue::Count(_) | FactValue::Words(_) => None,
        }
    }

    /// A choice as its type, where the fact is one and known.
    pub fn chosen<C: Choice>(&self, key: FactKey) -> Option<C> {
        C::from_id(self.choice(key)?)
    }

    /// Whether a question of yes or no was answered yes.
    pub fn says_yes(&self, key: FactKey) -> bool {
        self.chosen(key) == Some(YesNo::Yes)
    }

    /// A count, where the fact is one and known.
    pub fn count(&self, key: FactKey) -> Option<i64> {
        match self.0.get(&key)? {
            FactValue::Count(count) => Some(*count),
            FactValue::Length(_) | FactValue::Angle(_) | FactValue::Choice(_) | FactValue::Words(_) => None,
        }
    }

    /// The person's own words, where the fact is told by them and known.
    pub fn words(&self, key: FactKey) -> Option<&Words> {
        match self.0.get(&key)? {
            FactValue::Words(words) => Some(words),
            FactValue::Length(_) | FactValue::Angle(_) | FactValue::Choice(_) | FactValue::Count(_) => None,
        }
    }

    /// Every known fact, in the order of [`FactKey::ALL`].
    pub fn iter(&self) -> impl Iterator<Item = (FactKey, &FactValue)> {
        self.0.iter().map(|(key, value)| (*key, value))
    }

    /// Whether nothing is known yet.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
}
