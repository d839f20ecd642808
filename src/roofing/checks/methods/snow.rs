//! Snow on a roof, by EN 1991-1-3:2003 (with A1:2015), and on the ground where a formula gives it.
//!
//! Every load here lies on the plan of the roof, not along its slope; [`on_slope`] turns it.

use crate::units::physical::Pressure;
use crate::units::{Angle, Length};

/// What a cubic metre of drifted snow weighs: EN 1991-1-3 (5.8), 2 kN/m³.
const DRIFT_PER_M: f64 = 2_000.0;

/// Shape factor μ1 of a slope: 0.8 to 30°, less to 60°, none above. EN 1991-1-3 5.3.2, Table 5.2.
///
/// Where the snow cannot slide off (snow guards, a parapet, another roof below) it never falls under 0.8: 5.3.2(2).
pub fn mu1(pitch: Angle, may_slide: bool) -> f64 {
    let steep = pitch.deg();
    if !may_slide || steep <= 30.0 { 0.8 } else { (0.8 * (60.0 - steep) / 30.0).max(0.0) }
}

/// Shape factor μ2 of the valley between slopes: 0.8 + 0.8 α/30 to 30°, 1.6 above. EN 1991-1-3 5.3.4, Table 5.2.
///
/// Take the mean of the two pitches that meet.
pub fn mu2(pitch: Angle) -> f64 {
    if pitch.deg() <= 30.0 { 0.8 + 0.8 * pitch.deg().max(0.0) / 30.0 } else { 1.6 }
}

/// Snow on a roof: s = μ · Ce · Ct · sk on plan. EN 1991-1-3 (5.1).
///
/// `exposure` is Ce (0.8 windswept, 1.0, 1.2 sheltered) and `thermal` Ct (1.0 unless much heat gets through).
pub fn on_roof(mu: f64, exposure: f64, thermal: f64, ground: Pressure) -> Pressure {
    ground * (mu * exposure * thermal)
}

/// Exceptional snow on the ground: sAd = Cesl · sk, an accidental action. EN 1991-1-3 (4.3), Cesl 2.0 recommended.
pub fn exceptional(ground: Pressure, cesl: f64) -> Pressure {
    ground * cesl
}

/// The three uneven cases of a roof of two slopes: even, half on the first, half on the second. EN 1991-1-3 5.3.3,
/// Fig. 5.3.
pub fn duopitch(first: f64, second: f64) -> [(f64, f64); 3] {
    [(first, second), (first / 2.0, second), (first, second / 2.0)]
}

/// A load on plan, as it acts on each square metre of the slope: straight into it, and down along it.
///
/// s cos² α and s cos α sin α: the plan of a square metre of slope is cos α of one.
pub fn on_slope(on_plan: Pressure, pitch: Angle) -> (Pressure, Pressure) {
    (on_plan * (pitch.cos() * pitch.cos()), on_plan * (pitch.cos() * pitch.sin()))
}

/// A roof that lies against a higher one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Abutment {
    /// How wide the higher building is, away from the wall: b1.
    pub upper_width: Length,
    /// How wide this roof is on plan, away from the wall: b2.
    pub lower_width: Length,
    /// How far the higher roof's eaves stand above this roof: h.
    pub step: Length,
    /// Pitch of the higher roof's slope that faces this roof.
    pub upper_pitch: Angle,
    /// How wide that slope is on plan: what lies on it may slide down.
    pub upper_slope: Length,
}

/// Snow that drifts and slides against a wall.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drift {
    /// How far it reaches: ls.
    pub reach: Length,
    /// What slides down from above: μs.
    pub slid: f64,
    /// What the wind drops: μw.
    pub blown: f64,
    /// At the wall: μs + μw.
    pub at_wall: f64,
    /// At this roof's lower edge, or `None` where the drift ends before it: then it is 0.8 there.
    pub at_edge: Option<f64>,
}

impl Drift {
    /// Shape factor so far from the wall: straight from the wall's down to 0.8 at the end of the drift.
    pub fn at(&self, from_wall: Length) -> f64 {
        if from_wall >= self.reach {
            return 0.8;
        }
        let share = from_wall.mm().max(0.0) / self.reach.mm();
        self.at_wall + (0.8 - self.at_wall) * share
    }

    /// Mean shape factor over the roof between two distances from the wall.
    pub fn mean(&self, from: Length, to: Length) -> f64 {
        if to <= from {
            return self.at(from);
        }
        let bent = self.reach.min(to).max(from);
        let drifted = f64::midpoint(self.at(from), self.at(bent)) * (bent - from).mm();
        (drifted + 0.8 * (to - bent).mm()) / (to - from).mm()
    }
}

/// Drift and slide on a roof that abuts a higher one: EN 1991-1-3 5.3.6, (5.6) to (5.9).
///
/// ls = 2h within 5 m and 15 m; μw = (b1 + b2)/2h, at most γh/sk, within 0.8 and 4; μs is half of what lies on the
/// facing slope where that is steeper than 15°, spread as a triangle over ls. Where this roof is narrower than ls the
/// triangle is cut there, never squeezed: 5.3.6(1), Fig. 5.7.
pub fn drift(roof: &Abutment, ground: Pressure) -> Drift {
    let step = roof.step.max(Length::ZERO);
    let reach = (step * 2).clamp(Length::from_mm(5_000), Length::from_mm(15_000));
    let blown = if step <= Length::ZERO {
        0.8
    } else {
        let widths = (roof.upper_width + roof.lower_width).mm() / (2.0 * step.mm());
        let most = if ground.pa() > 0.0 { DRIFT_PER_M * step.mm() / 1_000.0 / ground.pa() } else { 4.0 };
        widths.min(most).clamp(0.8, 4.0)
    };
    let slid = if roof.upper_pitch > Angle::from_deg(15) {
        mu1(roof.upper_pitch, true) * roof.upper_slope.mm() / reach.mm()
    } else {
        0.0
    };
    let at_wall = slid + blown;
    let drift = Drift { reach, slid, blown, at_wall, at_edge: None };
    let at_edge = (roof.lower_width < reach).then(|| drift.at(roof.lower_width));
    Drift { at_edge, ..drift }
}

/// Exceptional drift behind an obstacle of this height: μ = 2h/sk, at most 5. EN 1991-1-3 Annex B, B.4 and Fig. B3 (a
/// canopy over a door, a parapet). The load is μ · sk, an accidental action.
pub fn exceptional_drift(height: Length, ground: Pressure) -> f64 {
    if ground.pa() > 0.0 { (DRIFT_PER_M * height.mm() / 1_000.0 / ground.pa()).clamp(0.0, 5.0) } else { 0.0 }
}

/// Snow on the ground by the zone number of the British map and the height above the sea: sk = 0.15 + (0.1 Z + 0.05) +
/// (A − 100)/525 kN/m². NA to BS EN 1991-1-3, NA.2.8 (NA.1); below 100 m the last part is left in as printed.
pub fn ground_by_zone_uk(zone: f64, altitude: Length) -> Pressure {
    let height = altitude.mm() / 1_000.0;
    Pressure::from_pa(1_000.0 * (0.15 + (0.1 * zone + 0.05) + (height - 100.0) / 525.0)).max(Pressure::ZERO)
}

/// The zones of DIN EN 1991-1-3/NA.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GermanZone {
    /// Zone 1.
    One,
    /// Zone 1a: a quarter more.
    OneA,
    /// Zone 2.
    Two,
    /// Zone 2a: a quarter more.
    TwoA,
    /// Zone 3.
    Three,
}

/// Snow on the ground by DIN EN 1991-1-3/NA, (NA.1) to (NA.3): a + c ((A + 140)/760)², and never less than the zone's
/// least.
pub fn ground_by_zone_de(zone: GermanZone, altitude: Length) -> Pressure {
    let (start, rise, least, more) = match zone {
        GermanZone::One => (0.19, 0.91, 0.65, 1.0),
        GermanZone::OneA => (0.19, 0.91, 0.65, 1.25),
        GermanZone::Two => (0.25, 1.91, 0.85, 1.0),
        GermanZone::TwoA => (0.25, 1.91, 0.85, 1.25),
        GermanZone::Three => (0.31, 2.91, 1.10, 1.0),
    };
    let height = (altitude.mm() / 1_000.0 + 140.0) / 760.0;
    Pressure::from_pa(1_000.0 * more * f64::max(start + rise * height * height, least))
}

/// Snow on the ground in the Alpine region: (0.642 Z + 0.009)(1 + (A/728)²) kN/m². EN 1991-1-3 Annex C, Table C.1.
/// Austria has replaced it with a map (ÖNORM B 1991-1-3:2022).
pub fn ground_by_zone_alpine(zone: f64, altitude: Length) -> Pressure {
    let height = altitude.mm() / 1_000.0 / 728.0;
    Pressure::from_pa(1_000.0 * (0.642 * zone + 0.009) * (1.0 + height * height))
}
