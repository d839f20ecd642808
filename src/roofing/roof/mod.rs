//! What is there: the roof that the facts describe, where they agree.

mod contradictions;
mod faces;
mod form;
mod lean;
mod relations;
mod site;
mod slips;
mod survey;

pub use crate::roofing::facts::{FactKey, FactKind, FactValue, Facts};
pub use contradictions::{Contradiction, contradictions};
pub use faces::{Edge, Face};
pub use form::{Form, Hand};
pub use lean::lean;
pub use site::{Base, Missing, Site, SlopeSite, Unready};
pub use slips::Slip;
pub(in crate::roofing) use survey::like;
pub use survey::{OWN_SHEET, covering, is_own_sheet, known_deck, known_pitches, own_sheets};
