//! What is there: the facts a person has given, and the roof they describe.

mod fact_key;
mod facts;
mod site;

pub use fact_key::{FactKey, FactKind};
pub use facts::{FactValue, Facts};
pub use site::{Base, Form, Hand, Missing, Site, SlopeSite};
