//! The work itself: the plan as steps, what a change does to the steps already done, what runs short, what to
//! make safe, and roofs that are out of square.
//!
//! Everything here is worked out from a [`Plan`](crate::roofing::plan::Plan) and the [`StepKey`]s that were done.
//! A key says what was built by its figures, so that progress outlives any plan: what a new plan wants built just
//! so still stands.

mod consequence;
mod foresight;
mod goods;
mod names;
mod order;
mod pace;
mod recut;
mod safe;
mod step;
mod steps;
mod taper;

pub use crate::roofing::rules::{Pace, StepKind};
pub use consequence::{Consequence, consequence};
pub use foresight::{Foresight, Tally, foresee, planned_for};
pub use goods::{Goods, Use, bought};
pub use names::names;
pub use order::{Step, work_order};
pub use pace::{Takes, hours, takes};
pub use recut::{Recut, recut};
pub use safe::{Stop, make_safe};
pub use step::{StepKey, WorkStep};
pub use steps::{steps, taper_notes};
pub use taper::{Marks, Taper, taper};
