//! Pure trade knowledge: from the facts of one roof to a plan that can be bought and built.
//!
//! Reads in the order of the work: [`roof`] (what is there), [`rules`] (what must hold),
//! [`layout`] and [`fixings`] (where everything goes), [`materials`] (what to buy), [`plan`] (all of it), [`work`] (doing it).
//! Imports `std` and [`crate::units`] only: no files, clock, chance, logging or serialisation.

pub mod catalogue;
pub mod fixings;
pub mod layout;
pub mod materials;
pub mod messages;
pub mod note;
pub mod plan;
pub mod roof;
pub mod rules;
pub mod work;
