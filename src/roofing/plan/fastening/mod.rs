//! What holds sheets, pieces and purlins: which nail and screw, how many, and whether each of them holds.

mod held;
mod nailing;
mod screws;

pub(super) use held::{check, held, required};
pub(super) use nailing::{Nailing, nailing};
pub(super) use screws::screws;
