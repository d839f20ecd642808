//! How plans, counts and changes of the work are written for keeping.

use serde::{Deserialize, Serialize};

use super::{RecordError, StoredAnswer, answers_of};
use crate::conversation::event::Change;
use crate::roofing::handbook::{Made, Version};
use crate::roofing::layout::cutting::Part;
use crate::roofing::work::{Goods, Tally};
use crate::units::{Day, Length};

#[derive(Serialize, Deserialize)]
pub(super) struct StoredTally {
    goods: String,
    count: i64,
    left: bool,
    finished: i64,
    planned: i64,
}

/// By what a plan was made; the facts' mark in hexadecimal, as numbers of JSON are shorter than it.
#[derive(Serialize, Deserialize)]
pub(super) struct StoredMade {
    book: String,
    planner: u32,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    day: Option<String>,
    facts: String,
}

#[derive(Serialize, Deserialize)]
pub(super) struct StoredVersion {
    book: String,
    planner: u32,
}

#[derive(Serialize, Deserialize)]
pub(super) struct StoredChange {
    answers: Vec<StoredAnswer>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    renews: Option<StoredVersion>,
    #[serde(default)]
    spoilt: i64,
    #[serde(default)]
    kept: Vec<StoredPart>,
}

#[derive(Serialize, Deserialize)]
pub(super) struct StoredPart {
    um: i64,
    corrugations: i64,
}

impl StoredMade {
    pub(super) fn of(made: &Made) -> Self {
        let Made { by: Version { book, planner }, day, facts } = made;
        let day = day.map(|day| day.to_string());
        Self { book: book.clone(), planner: *planner, day, facts: format!("{facts:016x}") }
    }

    pub(super) fn into_made(self) -> Result<Made, RecordError> {
        let Self { book, planner, day, facts } = self;
        let day = day.map(|day| Day::from_text(&day).ok_or(RecordError::Unknown(day))).transpose()?;
        let facts = u64::from_str_radix(&facts, 16).map_err(|_| RecordError::Unknown(facts))?;
        Ok(Made { by: Version { book, planner }, day, facts })
    }
}

impl StoredTally {
    pub(super) fn from_tally((goods, tally): &(Goods, Tally)) -> Self {
        let Tally { count, left, finished, planned } = *tally;
        Self { goods: goods.key().to_owned(), count, left, finished, planned }
    }

    pub(super) fn into_tally(self) -> Result<(Goods, Tally), RecordError> {
        let Self { goods, count, left, finished, planned } = self;
        let goods = Goods::from_key(&goods).ok_or(RecordError::Unknown(goods))?;
        Ok((goods, Tally { count, left, finished, planned }))
    }
}

impl StoredChange {
    pub(super) fn from_change(change: &Change) -> Self {
        let kept = change.kept.iter();
        let renews = change.renews.clone();
        Self {
            renews: renews.map(|Version { book, planner }| StoredVersion { book, planner }),
            answers: change.answers.iter().map(StoredAnswer::from_answer).collect(),
            spoilt: change.spoilt,
            kept: kept
                .map(|part| StoredPart { um: part.length.um(), corrugations: part.corrugations })
                .collect(),
        }
    }

    pub(super) fn into_change(self) -> Result<Change, RecordError> {
        let kept = self.kept.into_iter();
        Ok(Change {
            renews: self.renews.map(|StoredVersion { book, planner }| Version { book, planner }),
            answers: answers_of(self.answers)?,
            spoilt: self.spoilt,
            kept: kept
                .map(|part| Part { length: Length::from_um(part.um), corrugations: part.corrugations })
                .collect(),
        })
    }
}
