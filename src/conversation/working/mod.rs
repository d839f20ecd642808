//! On the job: the work step by step, what is counted, stopping, and changes half-way.
//!
//! Orders of the work are heard (`hearing`) before anything else while the work is on; `steps` leads through it,
//! `changes` says what a change does before it holds, `renewing` does so for a new book or planner, `telling` has the messages.

mod changes;
mod renewing;
mod steps;
pub(super) mod telling;
