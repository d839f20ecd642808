//! What to make safe before the work stops, given the steps done so far.

use super::{StepKey, StepKind, WorkStep};
use crate::roofing::note::{Arg, Note};
use crate::units::Length;

/// Why the work stops.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Stop {
    /// The person wants to.
    Pause,
    /// Rain, snow or frost.
    Wet,
    /// Wind.
    Wind,
}

impl Stop {
    /// Every reason.
    pub const ALL: &'static [Self] = &[Self::Pause, Self::Wet, Self::Wind];

    /// The name it has in files and in the ids of sentences.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Pause => "pause",
            Self::Wet => "wet",
            Self::Wind => "wind",
        }
    }

    /// The reason of that name.
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|stop| stop.key() == key)
    }
}

/// What to do before leaving the roof, most pressing first.
///
/// Nobody is ever sent up in wind or wet: what only the roof could make safe is then left, and people kept clear.
pub fn make_safe(stop: Stop, steps: &[WorkStep], done: impl Fn(&StepKey) -> bool) -> Vec<Note> {
    let mut notes = vec![Note::new(match stop {
        Stop::Pause => "work-safe-pause",
        Stop::Wet => "work-safe-wet",
        Stop::Wind => "work-safe-wind",
    })];
    let is_done = |kind: StepKind| steps.iter().any(|step| step.key.kind == kind && done(&step.key));
    let loose = loose_lines(steps, &done);
    if !loose.is_empty() {
        let message = match stop {
            Stop::Pause => "work-safe-nail",
            Stop::Wet | Stop::Wind => "work-safe-keep-clear",
        };
        notes.push(Note::new(message).count("count", loose.len()).with("lines", Arg::Lengths(loose)));
    }
    let laid = is_done(StepKind::FirstSheet);
    let covered = steps.iter().filter(|step| step.key.kind == StepKind::Course).all(|step| done(&step.key));
    let open = (is_done(StepKind::Strip) || laid || is_done(StepKind::Purlin)) && !(laid && covered);
    if open {
        notes.push(Note::new(match stop {
            Stop::Pause => "work-safe-cover",
            Stop::Wet => "work-safe-cover-wet",
            Stop::Wind => "work-safe-cover-wind",
        }));
    }
    let tops = [StepKind::WallTop, StepKind::TopEdge, StepKind::Ridge];
    let top_open = steps.iter().any(|step| tops.contains(&step.key.kind) && !done(&step.key));
    if laid && covered && top_open {
        notes.push(Note::new(match stop {
            Stop::Pause => "work-safe-top",
            Stop::Wet | Stop::Wind => "work-safe-top-later",
        }));
    }
    notes.push(Note::new("work-safe-stack"));
    notes.push(Note::new("work-safe-ladder"));
    notes
}

/// Lines under sheets that lie but are not nailed there.
fn loose_lines(steps: &[WorkStep], done: &impl Fn(&StepKey) -> bool) -> Vec<Length> {
    let mut lies = false;
    let mut loose = Vec::new();
    for key in steps.iter().map(|step| &step.key) {
        // The first sheet lies before the rest of its course does.
        let of_the_first = key.kind == StepKind::Course && key.figures.first() == Some(&1);
        if matches!(key.kind, StepKind::FirstSheet | StepKind::Course) {
            lies = done(key) || (of_the_first && lies);
        }
        if key.kind == StepKind::Nails && lies && !done(key) {
            loose.extend(key.figures.first().copied().map(Length::from_um));
        }
    }
    loose
}
