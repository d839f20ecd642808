//! Pure trade knowledge: from the facts of one roof to a plan that can be bought and built.
//!
//! Reads in the order of the work: [`facts`] (what can be said), [`rules`] and [`handbook`] (what must hold, what can
//! be bought), [`roof`] (what is there), [`requirements`] (what holds for it), [`layout`] and [`fixings`] (where
//! everything goes), [`laid`] (slopes laid out), [`checks`] (whether it holds), [`materials`] (what to buy), [`plan`]
//! (all of it), [`work`] (doing it). Nothing looks back: `tests/architecture.rs` holds that order.
//! Imports `std` and [`crate::units`] only: no files, clock, chance, logging or serialisation.

pub mod catalogue;
pub mod checks;
pub mod facts;
pub mod findings;
pub mod fixings;
pub mod handbook;
pub mod laid;
pub mod layout;
pub mod materials;
pub mod messages;
pub mod note;
pub mod plan;
pub mod requirements;
pub mod roof;
pub mod rules;
pub mod work;
