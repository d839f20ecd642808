//! Roofs that are out of square: how far a slope leans.

use super::Site;
use crate::units::Length;

/// How far the top edge stands to the right of the eaves, seen facing the eaves, from the two diagonals.
///
/// # Units
/// `a` from the lower left corner to the upper right one, `b` the other; `length` along the eaves.
///
/// # Source
/// Plane geometry: in a parallelogram with base `w` and lean `s`, `a² - b² = 4 w s`.
pub fn lean(a: Length, b: Length, length: Length) -> Option<Length> {
    let (a, b, w) = (a.mm(), b.mm(), length.mm());
    if w <= 0.0 {
        return None;
    }
    let lean = Length::from_mm_f64((a - b) * (a + b) / (4.0 * w))?;
    Some(Length::from_mm(lean.round_mm()))
}

impl Site {
    /// How far a slope's top edge stands to the right of its eaves, seen facing those; zero where nobody can see it
    /// for the overhang at the verge.
    ///
    /// Only the front slope's diagonals are asked for. The end walls are taken to run straight under both slopes:
    /// then the back slope leans to the same hand, in proportion to its run.
    pub fn lean_on(&self, slope: usize, verge: Length) -> Length {
        let run = |index: usize| {
            let slope = self.slopes.get(index)?;
            Some(slope.rafter_length.value.slope_to_run(slope.pitch.value).mm())
        };
        let share = match (run(0), run(slope)) {
            (Some(front), Some(here)) if front > 0.0 => here / front,
            _ => 1.0,
        };
        let lean = Length::from_mm(self.lean.scale(share).round_mm());
        if lean.abs() < verge.max(Length::from_mm(1)) { Length::ZERO } else { lean }
    }
}
