//! Pressure coefficients of closed buildings: EN 1991-1-4 Tables 7.2 (sharp eaves), 7.3a, 7.3b, 7.4a, 7.4b.
//!
//! Two accounts of the tables were compared where there were two; where they differ, the severer value stands and is
//! marked. A blank cpe,1 is cpe,10.

use crate::units::{Angle, Area};

use super::zones::{Form, WindOn, Zone};

/// External pressure at a zone, for a loaded area: both cases are to be tried, never mixed on one face (7.2.4 NOTE 1).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cpe {
    /// The case that lifts: not above 0.
    pub suction: f64,
    /// The case that presses: not below 0.
    pub push: f64,
}

/// A row: pitch in degrees, and for each zone cpe,10 and cpe,1 of suction, and the pressing value.
type Row<const N: usize> = (i64, [(f64, f64, f64); N]);

/// Table 7.2, sharp eaves: F, G, H, I. I is ±0.2.
const FLAT: [(f64, f64, f64); 4] =
    [(-1.8, -2.5, 0.0), (-1.2, -2.0, 0.0), (-0.7, -1.2, 0.0), (-0.2, -0.2, 0.2)];

/// Table 7.3a, θ = 0°: F, G, H.
const MONO_EAVES: [Row<3>; 6] = [
    (5, [(-1.7, -2.5, 0.0), (-1.2, -2.0, 0.0), (-0.6, -1.2, 0.0)]),
    (15, [(-0.9, -2.0, 0.2), (-0.8, -1.5, 0.2), (-0.3, -0.3, 0.2)]),
    (30, [(-0.5, -1.5, 0.7), (-0.5, -1.5, 0.7), (-0.2, -0.2, 0.4)]),
    (45, [(0.0, 0.0, 0.7), (0.0, 0.0, 0.7), (0.0, 0.0, 0.6)]),
    (60, [(0.0, 0.0, 0.7), (0.0, 0.0, 0.7), (0.0, 0.0, 0.7)]),
    (75, [(0.0, 0.0, 0.8), (0.0, 0.0, 0.8), (0.0, 0.0, 0.8)]),
];

/// Table 7.3a, θ = 180°: F, G, H. From 45° on the accounts differ at G (cpe,1) and H: the severer stands.
const MONO_FAR: [Row<3>; 6] = [
    (5, [(-2.3, -2.5, 0.0), (-1.3, -2.0, 0.0), (-0.8, -1.2, 0.0)]),
    (15, [(-2.5, -2.8, 0.0), (-1.3, -2.0, 0.0), (-0.9, -1.2, 0.0)]),
    (30, [(-1.1, -2.3, 0.0), (-0.8, -1.5, 0.0), (-0.8, -0.8, 0.0)]),
    (45, [(-0.6, -1.3, 0.0), (-0.5, -1.0, 0.0), (-0.8, -0.8, 0.0)]),
    (60, [(-0.5, -1.0, 0.0), (-0.5, -1.0, 0.0), (-0.8, -0.8, 0.0)]),
    (75, [(-0.5, -1.0, 0.0), (-0.5, -1.0, 0.0), (-0.8, -0.8, 0.0)]),
];

/// Table 7.3b, θ = 90°: F upper, F lower, G, H, I.
const MONO_GABLE: [Row<5>; 6] = [
    (5, [(-2.1, -2.6, 0.0), (-2.1, -2.4, 0.0), (-1.8, -2.0, 0.0), (-0.6, -1.2, 0.0), (-0.5, -0.5, 0.0)]),
    (15, [(-2.4, -2.9, 0.0), (-1.6, -2.4, 0.0), (-1.9, -2.5, 0.0), (-0.8, -1.2, 0.0), (-0.7, -1.2, 0.0)]),
    (30, [(-2.1, -2.9, 0.0), (-1.3, -2.0, 0.0), (-1.5, -2.0, 0.0), (-1.0, -1.3, 0.0), (-0.8, -1.2, 0.0)]),
    (45, [(-1.5, -2.4, 0.0), (-1.3, -2.0, 0.0), (-1.4, -2.0, 0.0), (-1.0, -1.3, 0.0), (-0.9, -1.2, 0.0)]),
    (60, [(-1.2, -2.0, 0.0), (-1.2, -2.0, 0.0), (-1.2, -2.0, 0.0), (-1.0, -1.3, 0.0), (-0.7, -1.2, 0.0)]),
    (75, [(-1.2, -2.0, 0.0), (-1.2, -2.0, 0.0), (-1.2, -2.0, 0.0), (-1.0, -1.3, 0.0), (-0.5, -0.5, 0.0)]),
];

/// Table 7.4a, θ = 0°: F, G, H on the slope that meets the wind, I, J behind the ridge.
const DUO_EAVES: [Row<5>; 6] = [
    (5, [(-1.7, -2.5, 0.0), (-1.2, -2.0, 0.0), (-0.6, -1.2, 0.0), (-0.6, -0.6, 0.0), (-0.6, -0.6, 0.2)]),
    (15, [(-0.9, -2.0, 0.2), (-0.8, -1.5, 0.2), (-0.3, -0.3, 0.2), (-0.4, -0.4, 0.0), (-1.0, -1.5, 0.0)]),
    (30, [(-0.5, -1.5, 0.7), (-0.5, -1.5, 0.7), (-0.2, -0.2, 0.4), (-0.4, -0.4, 0.0), (-0.5, -0.5, 0.0)]),
    (45, [(0.0, 0.0, 0.7), (0.0, 0.0, 0.7), (0.0, 0.0, 0.6), (-0.2, -0.2, 0.0), (-0.3, -0.3, 0.0)]),
    (60, [(0.0, 0.0, 0.7), (0.0, 0.0, 0.7), (0.0, 0.0, 0.7), (-0.2, -0.2, 0.0), (-0.3, -0.3, 0.0)]),
    (75, [(0.0, 0.0, 0.8), (0.0, 0.0, 0.8), (0.0, 0.0, 0.8), (-0.2, -0.2, 0.0), (-0.3, -0.3, 0.0)]),
];

/// Table 7.4b, θ = 90°: F, G, H, I.
const DUO_GABLE: [Row<4>; 6] = [
    (5, [(-1.6, -2.2, 0.0), (-1.3, -2.0, 0.0), (-0.7, -1.2, 0.0), (-0.6, -0.6, 0.0)]),
    (15, [(-1.3, -2.0, 0.0), (-1.3, -2.0, 0.0), (-0.6, -1.2, 0.0), (-0.5, -0.5, 0.0)]),
    (30, [(-1.1, -1.5, 0.0), (-1.4, -2.0, 0.0), (-0.8, -1.2, 0.0), (-0.5, -0.5, 0.0)]),
    (45, [(-1.1, -1.5, 0.0), (-1.4, -2.0, 0.0), (-0.9, -1.2, 0.0), (-0.5, -0.5, 0.0)]),
    (60, [(-1.1, -1.5, 0.0), (-1.2, -2.0, 0.0), (-0.8, -1.0, 0.0), (-0.5, -0.5, 0.0)]),
    (75, [(-1.1, -1.5, 0.0), (-1.2, -2.0, 0.0), (-0.8, -1.0, 0.0), (-0.5, -0.5, 0.0)]),
];

/// cpe for a loaded area in m²: cpe,1 up to 1 m², cpe,10 from 10 m², in between by the logarithm. EN 1991-1-4 Fig. 7.2.
pub fn by_area(cpe1: f64, cpe10: f64, loaded: Area) -> f64 {
    let area = loaded.square_metres().clamp(1.0, 10.0);
    cpe1 - (cpe1 - cpe10) * libm::log10(area)
}

/// The zone's column at a pitch, straight between the rows that enclose it.
fn interpolate<const N: usize>(rows: &[Row<N>], column: usize, pitch: Angle) -> Option<(f64, f64, f64)> {
    let steep = pitch.deg();
    let cell = |row: &Row<N>| row.1.get(column).copied();
    for pair in rows.windows(2) {
        let [low, high] = pair else { continue };
        let (from, to) = (Angle::from_deg(low.0).deg(), Angle::from_deg(high.0).deg());
        if steep < from || steep > to {
            continue;
        }
        let share = (steep - from) / (to - from);
        let mix = |a: f64, b: f64| a + (b - a) * share;
        let (a, b) = (cell(low)?, cell(high)?);
        return Some((mix(a.0, b.0), mix(a.1, b.1), mix(a.2, b.2)));
    }
    None
}

/// External pressure coefficients of a zone, for a loaded area.
///
/// # Limits
/// Pitches to 75°; below 5° the values of flat roofs (7.2.3), never anything between +5° and −5°. `None` beyond, and
/// for a zone that this roof does not have in this wind.
///
/// # Source
/// EN 1991-1-4 7.2.3 to 7.2.5.
pub fn external(form: Form, wind: WindOn, zone: Zone, pitch: Angle, loaded: Area) -> Option<Cpe> {
    let flat_column = |zone: Zone| match zone {
        Zone::F | Zone::FUpper | Zone::FLower => Some(0),
        Zone::G => Some(1),
        Zone::H => Some(2),
        Zone::I => Some(3),
        Zone::J => None,
    };
    let on_gable = matches!(wind, WindOn::LeftGable | WindOn::RightGable);
    let (ten, one, push) = if pitch < Angle::ZERO {
        return None;
    } else if pitch < Angle::from_deg(5) {
        FLAT.get(flat_column(zone)?).copied()?
    } else if on_gable {
        match form {
            Form::Mono => {
                let column = match zone {
                    Zone::FUpper => 0,
                    Zone::FLower => 1,
                    Zone::G => 2,
                    Zone::H => 3,
                    Zone::I => 4,
                    Zone::F | Zone::J => return None,
                };
                interpolate(&MONO_GABLE, column, pitch)?
            }
            Form::Duo => interpolate(&DUO_GABLE, flat_column(zone)?, pitch)?,
        }
    } else {
        let column = match zone {
            Zone::F => 0,
            Zone::G => 1,
            Zone::H => 2,
            Zone::I if form == Form::Duo => 3,
            Zone::J if form == Form::Duo => 4,
            Zone::I | Zone::J | Zone::FUpper | Zone::FLower => return None,
        };
        match (form, wind) {
            (Form::Duo, _) => interpolate(&DUO_EAVES, column, pitch)?,
            (Form::Mono, WindOn::FarEdge) => interpolate(&MONO_FAR, column, pitch)?,
            (Form::Mono, _) => interpolate(&MONO_EAVES, column, pitch)?,
        }
    };
    Some(Cpe { suction: by_area(one, ten, loaded), push })
}
