//! What one message led to.

use crate::conversation::event::Event;
use crate::conversation::saying::Draft;
use crate::roofing::plan::Plan;

/// What one message led to.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Turn {
    /// What happened, to be appended to the session.
    pub events: Vec<Event>,
    /// What to say.
    pub says: Vec<Draft>,
    /// What the person wants done with what is kept of them, once the turn is.
    pub wish: Option<Wish>,
    /// The plan that stands from now on, to be kept: the events only name it.
    pub plan: Option<Box<Plan>>,
    /// What went wrong on our side, for the log.
    pub faults: Vec<String>,
}

/// What only those who keep the chat can do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Wish {
    /// Hand over everything that is kept.
    Export,
    /// Delete everything that is kept, for good.
    Delete,
}
