//! Roofs without walls: EN 1991-1-4 7.3, Tables 7.6 and 7.7.
//!
//! φ is how far the wind below is blocked: 0 for an empty canopy, 1 where goods or a wall stand to the eaves on the
//! leeward side. Where two accounts of the tables differ (7.6 at 10°, φ = 1, part A; 7.7 at 15° and 20°), the severer
//! value stands.

use crate::units::{Angle, Length};

use super::zones::{Form, RoofPlan};

/// Net coefficients of both signs: down and up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NetRange {
    /// Pressing down: the maximum, for all φ.
    pub down: f64,
    /// Lifting: the minimum, at the blockage asked for.
    pub up: f64,
}

/// The parts of a canopy: Figs. 7.16 and 7.17.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum CanopyPart {
    /// The field.
    A,
    /// Along the gable ends, a tenth of the length.
    B,
    /// Along eaves and high edge, a tenth of the width.
    C,
    /// Along the ridge of two slopes, a fifth of the width.
    D,
}

/// Coefficients of a canopy at a pitch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CanopyCoefficients {
    /// cf of the whole roof, or of each slope; acts d/4 from the windward edge of one slope (7.3(6), from memory).
    pub force: NetRange,
    /// cp,net of the field A.
    pub a: NetRange,
    /// cp,net of the ends B.
    pub b: NetRange,
    /// cp,net of the edges C.
    pub c: NetRange,
    /// cp,net at the ridge D; two slopes only.
    pub d: Option<NetRange>,
}

impl CanopyCoefficients {
    /// cp,net of a part; the field's where this canopy has no such part.
    pub fn of(&self, part: CanopyPart) -> NetRange {
        match part {
            CanopyPart::A => self.a,
            CanopyPart::B => self.b,
            CanopyPart::C => self.c,
            CanopyPart::D => self.d.unwrap_or(self.a),
        }
    }
}

/// Down for all φ; up at φ = 0 and at φ = 1.
type Cell = (f64, f64, f64);

/// Pitch in degrees; cf, then A, B, C (and D).
type Row<const N: usize> = (i64, [Cell; N]);

/// Table 7.6.
const MONO: [Row<4>; 7] = [
    (0, [(0.2, -0.5, -1.3), (0.5, -0.6, -1.5), (1.8, -1.3, -1.8), (1.1, -1.4, -2.2)]),
    (5, [(0.4, -0.7, -1.4), (0.8, -1.1, -1.6), (2.1, -1.7, -2.2), (1.3, -1.8, -2.5)]),
    (10, [(0.5, -0.9, -1.4), (1.2, -1.5, -2.1), (2.4, -2.0, -2.6), (1.6, -2.1, -2.7)]),
    (15, [(0.7, -1.1, -1.4), (1.4, -1.8, -1.6), (2.7, -2.4, -2.9), (1.8, -2.5, -3.0)]),
    (20, [(0.8, -1.3, -1.4), (1.7, -2.2, -1.6), (2.9, -2.8, -2.9), (2.1, -2.9, -3.0)]),
    (25, [(1.0, -1.6, -1.4), (2.0, -2.6, -1.5), (3.1, -3.2, -2.5), (2.3, -3.2, -2.8)]),
    (30, [(1.2, -1.8, -1.4), (2.2, -3.0, -1.5), (3.2, -3.8, -2.2), (2.4, -3.6, -2.7)]),
];

/// Table 7.7, ridges only.
const DUO: [Row<5>; 6] = [
    (5, [(0.3, -0.6, -1.3), (0.6, -0.6, -1.3), (1.8, -1.4, -2.0), (1.3, -1.4, -1.8), (0.4, -1.1, -1.5)]),
    (10, [(0.4, -0.7, -1.3), (0.7, -0.7, -1.3), (1.8, -1.5, -2.0), (1.4, -1.4, -1.8), (0.4, -1.4, -1.8)]),
    (15, [(0.4, -0.8, -1.3), (0.9, -0.9, -1.3), (1.9, -1.7, -2.2), (1.4, -1.4, -1.6), (0.4, -1.8, -2.1)]),
    (20, [(0.6, -0.9, -1.4), (1.1, -1.2, -1.4), (1.9, -1.8, -2.2), (1.5, -2.0, -1.6), (0.4, -2.0, -2.1)]),
    (25, [(0.7, -1.0, -1.3), (1.2, -1.4, -1.4), (1.9, -1.9, -2.0), (1.6, -1.4, -1.5), (0.5, -2.0, -2.0)]),
    (30, [(0.9, -1.0, -1.3), (1.3, -1.4, -1.4), (1.9, -1.9, -1.8), (1.6, -1.4, -1.4), (0.7, -2.0, -2.0)]),
];

/// Every column at a pitch and blockage, straight between the rows that enclose it.
fn at<const N: usize>(rows: &[Row<N>], pitch: Angle, blockage: f64) -> Option<[NetRange; N]> {
    let (steep, phi) = (pitch.deg(), blockage.clamp(0.0, 1.0));
    let net = |cell: &Cell| NetRange { down: cell.0, up: cell.1 + (cell.2 - cell.1) * phi };
    for pair in rows.windows(2) {
        let [low, high] = pair else { continue };
        let (from, to) = (Angle::from_deg(low.0).deg(), Angle::from_deg(high.0).deg());
        if steep < from || steep > to {
            continue;
        }
        let share = (steep - from) / (to - from);
        let mut mixed = low.1.map(|cell| net(&cell));
        for (one, other) in mixed.iter_mut().zip(high.1.iter().map(net)) {
            one.down += (other.down - one.down) * share;
            one.up += (other.up - one.up) * share;
        }
        return Some(mixed);
    }
    None
}

/// Net coefficients of a canopy, above and below together: no internal pressure is added.
///
/// # Limits
/// 0° to 30° of one slope, 5° to 30° of two with a ridge; flatter ones of two count as one flat slope. `None` beyond.
///
/// # Source
/// EN 1991-1-4 7.3(3), (5), Tables 7.6 and 7.7; straight between pitches and blockages.
pub fn canopy(form: Form, pitch: Angle, blockage: f64) -> Option<CanopyCoefficients> {
    if form == Form::Duo && pitch >= Angle::from_deg(5) {
        let [force, a, b, c, d] = at(&DUO, pitch, blockage)?;
        return Some(CanopyCoefficients { force, a, b, c, d: Some(d) });
    }
    let pitch = if form == Form::Duo { pitch.min(Angle::ZERO) } else { pitch };
    let [force, a, b, c] = at(&MONO, pitch, blockage)?;
    Some(CanopyCoefficients { force, a, b, c, d: None })
}

/// The part of a canopy that a place lies in: `along` from the left gable, `up` the slope from its eaves.
///
/// # Source
/// EN 1991-1-4 Figs. 7.16 and 7.17; the widths (a tenth, a fifth at the ridge) from memory.
pub fn canopy_at(plan: &RoofPlan, along: Length, up: Length) -> CanopyPart {
    let across = up.slope_to_run(plan.pitch);
    let (end, edge) = (plan.length / 10, plan.width / 10);
    if along <= end || along >= plan.length - end {
        return CanopyPart::B;
    }
    if across <= edge {
        return CanopyPart::C;
    }
    match plan.form {
        Form::Mono if across >= plan.width - edge => CanopyPart::C,
        Form::Duo if across >= plan.width / 2 - edge => CanopyPart::D,
        Form::Mono | Form::Duo => CanopyPart::A,
    }
}
