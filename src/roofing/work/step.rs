//! One step of the work, and the key that says what was built when it was done.

use std::fmt;

use super::goods::Use;
use crate::roofing::note::Note;
use crate::roofing::rules::{Layer, StepKind};

/// Names a step by what is built in it.
///
/// Two plans that want the same thing built in the same place have the same key for it, whatever else differs.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct StepKey {
    /// The slope it is on, by index; 0 for what is done once.
    pub slope: usize,
    /// What it is about.
    pub kind: StepKind,
    /// What was built, as it was built: heights and lengths in micrometres, numbers of things, each with the meaning
    /// that [`StepKind::figure`] gives it for ever. The first is the height of a purlin or nail line, or the number of
    /// a course.
    pub figures: Vec<i64>,
}

impl StepKey {
    /// The key written down, as `purlin/0/at=485000/long=2400000/screw=0`.
    pub fn to_text(&self) -> String {
        self.to_string()
    }

    /// The key of a written one.
    pub fn from_text(text: &str) -> Option<Self> {
        let mut parts = text.split('/');
        let kind = parts.next()?;
        let kind = StepKind::ALL.iter().copied().find(|one| one.key() == kind)?;
        let slope = parts.next()?.parse().ok()?;
        // Before figures were written with their names, they stood in this very order.
        let figures = parts.enumerate().map(|(place, part)| match part.split_once('=') {
            Some((name, figure)) if kind.figure(place) == Some(name) => figure.parse().ok(),
            Some(_) => None,
            None => part.parse().ok(),
        });
        let figures = figures.collect::<Option<_>>()?;
        Some(Self { slope, kind, figures })
    }

    /// Whether it carries the sheets, so that it cannot be changed under them.
    pub fn is_below_sheets(&self) -> bool {
        self.kind.layer() == Layer::Below
    }

    /// Whether it lies on the roof as part of the covering, and so comes off before what is below can change.
    pub fn is_covering(&self) -> bool {
        self.kind.layer() == Layer::Covering
    }
}

impl fmt::Display for StepKey {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}/{}", self.kind.key(), self.slope)?;
        self.figures.iter().enumerate().try_for_each(|(place, figure)| match self.kind.figure(place) {
            Some(name) => write!(f, "/{name}={figure}"),
            None => write!(f, "/{figure}"),
        })
    }
}

/// One step.
#[derive(Clone, Debug, PartialEq)]
pub struct WorkStep {
    /// Names it.
    pub key: StepKey,
    /// What to do, with this roof's figures.
    pub note: Note,
    /// What it uses up.
    pub uses: Vec<Use>,
    /// How much of it there is, in the unit its [`Pace`](super::Pace) counts: sheets, nails, pieces, boards.
    pub amount: i64,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_key_reads_back_as_it_was_written() {
        let key = StepKey { kind: StepKind::Purlin, slope: 1, figures: vec![485_000, -3] };
        assert_eq!(key.to_text(), "purlin/1/at=485000/long=-3");
        assert_eq!(StepKey::from_text("purlin/1/485000/-3"), Some(key.clone()), "as it was written at first");
        assert_eq!(StepKey::from_text(&key.to_text()), Some(key));
        let course = StepKey { kind: StepKind::Course, slope: 0, figures: (1..=11).collect() };
        assert!(course.to_text().ends_with("/shift=7/first=8/wide=9/first=10/wide=11"), "{course}");
        assert_eq!(StepKey::from_text(&course.to_text()), Some(course));
        for broken in [
            "",
            "purlin",
            "purlin/x",
            "purlin/0/",
            "roof/0",
            "purlin/0/1.5",
            "purlin/0/long=4",
            "nails/0/at=x",
        ] {
            assert_eq!(StepKey::from_text(broken), None, "{broken}");
        }
    }
}
