//! How a ladder stands: the 1 in 4 rule of the Health and Safety Executive (Great Britain), OSHA 29 CFR 1926.1053 for
//! what stands above.

use crate::units::{Angle, Length};

/// A ladder that leans against an edge.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Ladder {
    /// How far its foot stands out.
    pub foot: Length,
    /// Its whole length, with what stands above the edge.
    pub length: Length,
    /// From level.
    pub leans: Angle,
}

/// A ladder to an edge so high, out at the foot by one in `one_in` of the height, and `above` it along the ladder.
///
/// One in four is 75.96° from level, by the height and not by the ladder's length. `None` for no height.
pub fn ladder(height: Length, one_in: i64, above: Length) -> Option<Ladder> {
    if height <= Length::ZERO || one_in <= 0 {
        return None;
    }
    let foot = height / one_in;
    let leans = Angle::from_rise_run(height, foot)?;
    Some(Ladder { foot, length: height.hypot(foot) + above, leans })
}
