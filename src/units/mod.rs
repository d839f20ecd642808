//! Quantities a roof is measured in, reading them from what people type, and saying them back.
//!
//! Every number in lapwise carries its unit in its type. Nothing here knows roofs, chats or files:
//! this module imports `std`, `libm` and `rust_decimal` only (`tests/architecture.rs` holds that).

mod angle;
mod area;
mod day;
mod length;
mod mass;
mod measured;
mod money;
mod num;
pub mod physical;
mod quantity;
pub mod reading;
pub mod saying;
mod weather;

pub use angle::Angle;
pub use area::Area;
pub use day::Day;
pub use length::Length;
pub use mass::Mass;
pub use measured::{Doubt, Measured};
pub use money::{Currency, Money};
pub use quantity::{Quantity, UsualUnit};
pub use weather::{Speed, Temperature};
