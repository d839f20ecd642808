//! How much room words take, without opening a font.
//!
//! The lettering is `DejaVu Sans Mono`: it tells 1, l and I, and 0 and O apart, and every letter is as wide as
//! the next, so one number stands for the whole typeface.

use super::picture::{Anchor, Bounds, Point, Text, Turn};

/// Width of one letter against the lettering's height: 1 233 of 2 048 units in `DejaVu Sans Mono` 2.37, bold
/// and regular alike (`tests/drawings.rs` reads it out of the font).
const ADVANCE: f64 = 1233.0 / 2048.0;

/// How far capitals and figures rise above the baseline, against the height.
const RISE: f64 = 0.76;

/// How far tails hang below the baseline, against the height.
const FALL: f64 = 0.21;

/// A count as a size on the paper.
pub(crate) fn amount(count: usize) -> f64 {
    f64::from(u32::try_from(count).unwrap_or(u32::MAX))
}

/// How long a line of words is.
pub(crate) fn width(words: &str, size: f64) -> f64 {
    amount(words.chars().count()) * ADVANCE * size
}

/// How far the baseline lies below the middle of figures.
pub(crate) fn half_rise(size: f64) -> f64 {
    size * 0.365
}

impl Text {
    /// The rectangle its letters stay in.
    pub fn bounds(&self) -> Bounds {
        let length = width(&self.words, self.size);
        let before = match self.anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => length / 2.0,
            Anchor::End => length,
        };
        let (rise, fall, Point { x, y }) = (RISE * self.size, FALL * self.size, self.at);
        match self.turn {
            Turn::Level => {
                Bounds { left: x - before, top: y - rise, right: x - before + length, bottom: y + fall }
            }
            Turn::Upwards => {
                Bounds { left: x - rise, top: y + before - length, right: x + fall, bottom: y + before }
            }
        }
    }
}
