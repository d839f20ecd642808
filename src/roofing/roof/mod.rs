//! What is there: the facts a person has given, and the roof they describe.

mod contradictions;
mod fact_key;
mod facts;
mod lean;
mod site;
mod slips;
mod survey;

pub use contradictions::{Contradiction, contradictions};
pub use fact_key::{FactKey, FactKind};
pub use facts::{FactValue, Facts};
pub use lean::lean;
pub use site::{Base, Form, Hand, Missing, Site, SlopeSite, Unready};
pub use slips::Slip;
pub(in crate::roofing) use survey::covering;
pub use survey::{OWN_SHEET, known_deck, known_pitches};
