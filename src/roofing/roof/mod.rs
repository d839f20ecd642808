//! What is there: the roof that the facts describe, where they agree.

mod contradictions;
mod lean;
mod site;
mod slips;
mod survey;

pub use crate::roofing::facts::{FactKey, FactKind, FactValue, Facts};
pub use contradictions::{Contradiction, contradictions};
pub use lean::lean;
pub use site::{Base, Form, Hand, Missing, Site, SlopeSite, Unready};
pub use slips::Slip;
pub(in crate::roofing) use survey::covering;
pub use survey::{OWN_SHEET, known_deck, known_pitches};
