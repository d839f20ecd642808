//! How events and messages are written for keeping: JSON with a version, so that every earlier version still
//! reads.
//!
//! Version 1 is the only one so far. A changed event is a new variant here, never a changed meaning;
//! `tests/records/` keeps one of each that was ever written.

mod says;
mod work;

use serde::{Deserialize, Serialize};

pub(in crate::store) use says::StoredRecipe;
pub use says::{read_say, write_say};
use work::{StoredChange, StoredMade, StoredTally};

use crate::conversation::event::{Answer, Event, Offer, Quoted, Stock};
use crate::conversation::understanding::DangerKind;
use crate::roofing::facts::{FactKey, FactValue, Words};
use crate::roofing::work::{StepKey, Stop};
use crate::units::reading::WrittenUnit;
use crate::units::{Angle, Currency, Doubt, Length, Measured, Money, UsualUnit};

/// What could not be read back.
#[derive(Debug, thiserror::Error)]
pub enum RecordError {
    /// Not one of our records, or a damaged one.
    #[error("a stored record cannot be read: {0}")]
    Unreadable(#[from] serde_json::Error),
    /// It speaks of a fact or a value this version does not know.
    #[error("a stored record speaks of something unknown: {0}")]
    Unknown(String),
}

#[derive(Serialize, Deserialize)]
#[serde(tag = "v")]
enum Versioned {
    #[serde(rename = "1")]
    V1(V1),
}

#[derive(Serialize, Deserialize)]
#[serde(rename_all = "snake_case", tag = "event")]
enum V1 {
    Greeted,
    Asked {
        fact: String,
    },
    Missed,
    Answered {
        answers: Vec<StoredAnswer>,
    },
    Suspected,
    Declined {
        fact: String,
    },
    Offered {
        options: Vec<StoredOffer>,
    },
    Reviewed,
    AskedWhatToChange,
    Reopened {
        fact: String,
    },
    Planned {
        #[serde(default, skip_serializing_if = "Option::is_none")]
        made: Option<StoredMade>,
    },
    Renewed {
        #[serde(default, skip_serializing_if = "Option::is_none")]
        made: Option<StoredMade>,
    },
    Undone,
    AskedToRestart,
    AskedToDelete,
    Restarted,
    KeptGoing,
    UnitsSeen {
        usual: StoredUnits,
        chosen: bool,
    },
    AskedToShare {
        days: u16,
    },
    Shared {
        days: u16,
    },
    Revoked,
    Quoted {
        lines: Vec<StoredQuote>,
    },
    WorkStarted,
    StepDone {
        step: String,
    },
    Counted {
        counts: Vec<StoredTally>,
    },
    Paused {
        stop: String,
    },
    Proposed(StoredChange),
    Accepted {
        undone: Vec<String>,
    },
    Unbuilt {
        undone: Vec<String>,
    },
    TakenOff,
    LeftAsItWas,
    Wondered {
        danger: String,
    },
    HeldFor {
        danger: String,
    },
    AllRight,
    Suggested {
        topics: Vec<String>,
    },
    Speaks {
        language: String,
    },
}

#[derive(Serialize, Deserialize)]
struct StoredQuote {
    item: String,
    name: String,
    pieces: i64,
    stock: StoredStock,
    /// The amount as text, `12.50`, and its currency.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    price: Option<(String, String)>,
}

#[derive(Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
enum StoredStock {
    Unsaid,
    In,
    Out,
    Instead(String),
}

#[derive(Serialize, Deserialize)]
struct StoredAnswer {
    fact: String,
    #[serde(flatten)]
    value: StoredValue,
}

#[derive(Serialize, Deserialize)]
struct StoredOffer {
    answers: Vec<StoredAnswer>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    unit: Option<String>,
}

#[derive(Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
enum StoredValue {
    Um { um: i64, doubt: StoredDoubt },
    Microdeg { microdeg: i64, doubt: StoredDoubt },
    Choice(String),
    Count(i64),
    Words(String),
}

#[derive(Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
enum StoredDoubt {
    Stated,
    About,
    JustUnder,
    JustOver,
    ByPhone,
}

#[derive(Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
enum StoredUnits {
    Mm,
    M,
    FtIn,
}

/// Writes an event.
pub fn write_event(event: &Event) -> Result<Vec<u8>, RecordError> {
    Ok(serde_json::to_vec(&Versioned::V1(V1::from_event(event)))?)
}

/// Reads an event of any version.
pub fn read_event(bytes: &[u8]) -> Result<Event, RecordError> {
    let Versioned::V1(stored) = serde_json::from_slice(bytes)?;
    stored.into_event()
}

impl V1 {
    fn from_event(event: &Event) -> Self {
        let key = |fact: &FactKey| fact.key().to_owned();
        match event {
            Event::Greeted => Self::Greeted,
            Event::Asked(fact) => Self::Asked { fact: key(fact) },
            Event::Missed => Self::Missed,
            Event::Answered(answers) => {
                Self::Answered { answers: answers.iter().map(StoredAnswer::from_answer).collect() }
            }
            Event::Suspected => Self::Suspected,
            Event::Declined(fact) => Self::Declined { fact: key(fact) },
            Event::Offered(options) => Self::Offered {
                options: options
                    .iter()
                    .map(|offer| StoredOffer {
                        answers: offer.answers.iter().map(StoredAnswer::from_answer).collect(),
                        unit: offer.unit.map(|unit| unit.sign().to_owned()),
                    })
                    .collect(),
            },
            Event::Reviewed => Self::Reviewed,
            Event::AskedWhatToChange => Self::AskedWhatToChange,
            Event::Reopened(fact) => Self::Reopened { fact: key(fact) },
            Event::Planned(made) => Self::Planned { made: made.as_ref().map(StoredMade::of) },
            Event::Renewed(made) => Self::Renewed { made: made.as_ref().map(StoredMade::of) },
            Event::Undone => Self::Undone,
            Event::AskedToRestart => Self::AskedToRestart,
            Event::AskedToDelete => Self::AskedToDelete,
            Event::Restarted => Self::Restarted,
            Event::KeptGoing => Self::KeptGoing,
            Event::UnitsSeen { usual, chosen } => Self::UnitsSeen {
                usual: match usual {
                    UsualUnit::Mm => StoredUnits::Mm,
                    UsualUnit::M => StoredUnits::M,
                    UsualUnit::FtIn => StoredUnits::FtIn,
                },
                chosen: *chosen,
            },
            Event::AskedToShare { days } => Self::AskedToShare { days: *days },
            Event::Shared { days } => Self::Shared { days: *days },
            Event::Revoked => Self::Revoked,
            Event::Quoted(lines) => {
                Self::Quoted { lines: lines.iter().map(StoredQuote::from_quoted).collect() }
            }
            Event::WorkStarted => Self::WorkStarted,
            Event::StepDone(step) => Self::StepDone { step: step.to_text() },
            Event::Counted(tallies) => {
                Self::Counted { counts: tallies.iter().map(StoredTally::from_tally).collect() }
            }
            Event::Paused(stop) => Self::Paused { stop: stop.key().to_owned() },
            Event::Proposed(change) => Self::Proposed(StoredChange::from_change(change)),
            Event::Accepted(undone) => {
                Self::Accepted { undone: undone.iter().map(StepKey::to_text).collect() }
            }
            Event::Unbuilt(undone) => Self::Unbuilt { undone: undone.iter().map(StepKey::to_text).collect() },
            Event::TakenOff => Self::TakenOff,
            Event::LeftAsItWas => Self::LeftAsItWas,
            Event::Wondered(kind) => Self::Wondered { danger: kind.key().to_owned() },
            Event::HeldFor(kind) => Self::HeldFor { danger: kind.key().to_owned() },
            Event::AllRight => Self::AllRight,
            Event::Suggested(topics) => Self::Suggested { topics: topics.clone() },
            Event::Speaks(language) => Self::Speaks { language: language.clone() },
        }
    }

    fn into_event(self) -> Result<Event, RecordError> {
        Ok(match self {
            Self::Greeted => Event::Greeted,
            Self::Asked { fact } => Event::Asked(fact_of(&fact)?),
            Self::Missed => Event::Missed,
            Self::Answered { answers } => Event::Answered(answers_of(answers)?),
            Self::Suspected => Event::Suspected,
            Self::Declined { fact } => Event::Declined(fact_of(&fact)?),
            Self::Offered { options } => {
                let options = options.into_iter().map(|offer| {
                    let unit = offer.unit.map(|sign| unit_of(&sign)).transpose()?;
                    Ok(Offer { answers: answers_of(offer.answers)?, unit })
                });
                Event::Offered(options.collect::<Result<_, RecordError>>()?)
            }
            Self::Reviewed => Event::Reviewed,
            Self::AskedWhatToChange => Event::AskedWhatToChange,
            Self::Reopened { fact } => Event::Reopened(fact_of(&fact)?),
            Self::Planned { made } => Event::Planned(made.map(StoredMade::into_made).transpose()?),
            Self::Renewed { made } => Event::Renewed(made.map(StoredMade::into_made).transpose()?),
            Self::Undone => Event::Undone,
            Self::AskedToRestart => Event::AskedToRestart,
            Self::AskedToDelete => Event::AskedToDelete,
            Self::Restarted => Event::Restarted,
            Self::KeptGoing => Event::KeptGoing,
            Self::UnitsSeen { usual, chosen } => Event::UnitsSeen {
                usual: match usual {
                    StoredUnits::Mm => UsualUnit::Mm,
                    StoredUnits::M => UsualUnit::M,
                    StoredUnits::FtIn => UsualUnit::FtIn,
                },
                chosen,
            },
            Self::AskedToShare { days } => Event::AskedToShare { days },
            Self::Shared { days } => Event::Shared { days },
            Self::Revoked => Event::Revoked,
            Self::Quoted { lines } => {
                Event::Quoted(lines.into_iter().map(StoredQuote::into_quoted).collect::<Result<_, _>>()?)
            }
            Self::WorkStarted => Event::WorkStarted,
            Self::StepDone { step } => Event::StepDone(step_of(&step)?),
            Self::Counted { counts } => {
                Event::Counted(counts.into_iter().map(StoredTally::into_tally).collect::<Result<_, _>>()?)
            }
            Self::Paused { stop } => Event::Paused(Stop::from_key(&stop).ok_or(RecordError::Unknown(stop))?),
            Self::Proposed(change) => Event::Proposed(change.into_change()?),
            Self::Accepted { undone } => {
                Event::Accepted(undone.iter().map(|step| step_of(step)).collect::<Result<_, _>>()?)
            }
            Self::Unbuilt { undone } => {
                Event::Unbuilt(undone.iter().map(|step| step_of(step)).collect::<Result<_, _>>()?)
            }
            Self::TakenOff => Event::TakenOff,
            Self::LeftAsItWas => Event::LeftAsItWas,
            Self::Wondered { danger } => Event::Wondered(danger_of(danger)?),
            Self::HeldFor { danger } => Event::HeldFor(danger_of(danger)?),
            Self::AllRight => Event::AllRight,
            Self::Suggested { topics } => Event::Suggested(topics),
            Self::Speaks { language } => Event::Speaks(language),
        })
    }
}

fn step_of(text: &str) -> Result<StepKey, RecordError> {
    StepKey::from_text(text).ok_or_else(|| RecordError::Unknown(text.to_owned()))
}

fn danger_of(key: String) -> Result<DangerKind, RecordError> {
    DangerKind::from_key(&key).ok_or(RecordError::Unknown(key))
}

fn fact_of(key: &str) -> Result<FactKey, RecordError> {
    FactKey::from_key(key).ok_or_else(|| RecordError::Unknown(key.to_owned()))
}

fn unit_of(sign: &str) -> Result<WrittenUnit, RecordError> {
    WrittenUnit::from_sign(sign).ok_or_else(|| RecordError::Unknown(sign.to_owned()))
}

fn answers_of(answers: Vec<StoredAnswer>) -> Result<Vec<Answer>, RecordError> {
    answers.into_iter().map(|answer| Ok((fact_of(&answer.fact)?, answer.value.into_value()?))).collect()
}

impl StoredQuote {
    fn from_quoted(line: &Quoted) -> Self {
        Self {
            item: line.item.clone(),
            name: line.name.clone(),
            pieces: line.pieces,
            stock: match &line.stock {
                Stock::Unsaid => StoredStock::Unsaid,
                Stock::In => StoredStock::In,
                Stock::Out => StoredStock::Out,
                Stock::Instead(what) => StoredStock::Instead(what.clone()),
            },
            price: line.price.map(|price| (price.amount.to_string(), price.currency.code().to_owned())),
        }
    }

    fn into_quoted(self) -> Result<Quoted, RecordError> {
        let price = self.price.map(|(amount, currency)| {
            let money = amount.parse().ok().zip(Currency::from_code(&currency));
            let money = money.map(|(amount, currency)| Money { amount, currency });
            money.ok_or_else(|| RecordError::Unknown(format!("{amount} {currency}")))
        });
        Ok(Quoted {
            item: self.item,
            name: self.name,
            pieces: self.pieces,
            stock: match self.stock {
                StoredStock::Unsaid => Stock::Unsaid,
                StoredStock::In => Stock::In,
                StoredStock::Out => Stock::Out,
                StoredStock::Instead(what) => Stock::Instead(what),
            },
            price: price.transpose()?,
        })
    }
}

impl StoredAnswer {
    fn from_answer((fact, value): &Answer) -> Self {
        Self { fact: fact.key().to_owned(), value: StoredValue::from_value(value) }
    }
}

impl StoredValue {
    fn from_value(value: &FactValue) -> Self {
        match value {
            FactValue::Length(Measured { value, doubt }) => {
                Self::Um { um: value.um(), doubt: StoredDoubt::from_doubt(*doubt) }
            }
            FactValue::Angle(Measured { value, doubt }) => {
                Self::Microdeg { microdeg: value.microdeg(), doubt: StoredDoubt::from_doubt(*doubt) }
            }
            FactValue::Choice(id) => Self::Choice(id.clone()),
            FactValue::Count(count) => Self::Count(*count),
            FactValue::Words(words) => Self::Words(words.as_str().to_owned()),
        }
    }

    fn into_value(self) -> Result<FactValue, RecordError> {
        Ok(match self {
            Self::Um { um, doubt } => {
                FactValue::Length(Measured { value: Length::from_um(um), doubt: doubt.into_doubt() })
            }
            Self::Microdeg { microdeg, doubt } => FactValue::Angle(Measured {
                value: Angle::from_microdeg(microdeg),
                doubt: doubt.into_doubt(),
            }),
            Self::Choice(id) => FactValue::Choice(id),
            Self::Count(count) => FactValue::Count(count),
            Self::Words(words) => FactValue::Words(Words::new(&words).ok_or(RecordError::Unknown(words))?),
        })
    }
}

impl StoredDoubt {
    const fn from_doubt(doubt: Doubt) -> Self {
        match doubt {
            Doubt::Stated => Self::Stated,
            Doubt::About => Self::About,
            Doubt::JustUnder => Self::JustUnder,
            Doubt::JustOver => Self::JustOver,
            Doubt::ByPhone => Self::ByPhone,
        }
    }

    const fn into_doubt(self) -> Doubt {
        match self {
            Self::Stated => Doubt::Stated,
            Self::About => Doubt::About,
            Self::JustUnder => Doubt::JustUnder,
            Self::JustOver => Doubt::JustOver,
            Self::ByPhone => Doubt::ByPhone,
        }
    }
}
