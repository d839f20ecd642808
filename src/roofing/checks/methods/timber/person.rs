//! A person on a beam, wherever it is worst.

use crate::units::Length;
use crate::units::physical::{Force, Moment, Stiffness};

use super::beams::{PointLoad, Span, analyse, worked_out};

/// The worst that one load does as it walks over a beam, together with what lies on it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Walked {
    /// Most that bends it hollow.
    pub sagging: Moment,
    /// Most that bends it round.
    pub hogging: Moment,
    /// Hardest shear: the load beside a support.
    pub shear: Force,
    /// Hardest push on a support.
    pub reaction: Force,
    /// Largest deflection.
    pub deflection: Length,
}

impl Walked {
    /// The larger moment of either sign.
    pub const fn moment(&self) -> Moment {
        self.sagging.max(self.hogging)
    }
}

/// The worst over twentieths of each span; nothing stands between two of them that is worse by half a per cent. It sags
/// most with the load about the middle of a span. What is alike from both ends is gone over to its middle.
///
/// # Source
/// Concentrated load of EN 1991-1-1 6.3.4.2, at the least favourable place. `None` as [`analyse`] has it.
pub fn walked(spans: &[Span], load: Force, stiffness: Stiffness) -> Option<Walked> {
    const STEPS: i64 = 20;
    let empty = analyse(spans, stiffness)?;
    let mut worst = Walked {
        sagging: empty.sagging,
        hogging: empty.hogging,
        shear: empty.shear,
        reaction: empty.reaction(),
        deflection: empty.deflection,
    };
    let mut laden = spans.to_vec();
    let mirrored = spans.iter().eq(spans.iter().rev()) && spans.iter().all(|span| span.points.is_empty());
    let places = if mirrored { spans.len().div_ceil(2) } else { spans.len() };
    for place in 0..places {
        for step in 0..=STEPS {
            let Some(span) = laden.get_mut(place) else { continue };
            let at = span.length * step / STEPS;
            span.points.push(PointLoad { at, force: load });
            let there = worked_out(&laden, stiffness, (7..=13).contains(&step))?;
            worst.sagging = worst.sagging.max(there.sagging);
            worst.hogging = worst.hogging.max(there.hogging);
            worst.shear = worst.shear.max(there.shear);
            worst.reaction = worst.reaction.max(there.reaction());
            worst.deflection = worst.deflection.max(there.deflection);
            if let Some(span) = laden.get_mut(place) {
                span.points.pop();
            }
        }
    }
    Some(worst)
}
