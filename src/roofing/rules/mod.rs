//! The rules engine: rules are data, requirements only tighten, and every contribution is kept.
//!
//! A rule says: *when* facts lie in a range or a set, *then* a requirement is tightened, or something is
//! advised, cautioned or refused. Nobody sets a requirement directly; its value is the strictest contribution,
//! and "why?" lists them all.

mod basis;
mod doubt;
mod evaluate;
mod pace;
mod practice;
mod requirement;
mod rule;
mod step_kind;

pub use basis::{Based, Basis, Weather};
pub use evaluate::{Contribution, Outcome, Requirements, evaluate};
pub use pace::Pace;
pub use practice::{Figure, Practice};
pub use requirement::{Limit, Requirement, Support};
pub use rule::{Again, Condition, DoubtBand, Effect, Handover, Phase, Rule, RuleBook, Source};
pub use step_kind::{Layer, StepKind};
