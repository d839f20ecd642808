//! Wind on a roof, by EN 1991-1-4:2005 (with A1:2010): how hard it blows, which part of the roof it sucks at most, and
//! what presses from inside.

mod canopy;
mod coefficients;
mod internal;
mod pressure;
mod severest;
mod zones;

pub use canopy::{CanopyCoefficients, CanopyPart, NetRange, canopy, canopy_at};
pub use coefficients::{Cpe, by_area, external};
pub use internal::{dominant_opening, openings_unknown, windward_wall};
pub use pressure::{
    AIR, Exposure, Terrain, altitude_factor, basic_pressure, exposure_factor, orography_factor,
    peak_pressure, roughness_factor, terrain_factor, turbulence,
};
pub use severest::severest_at;
pub use zones::{Form, RoofPlan, Slope, WindOn, Zone, ZoneRect, reach, zone_at, zones};

use crate::units::physical::Pressure;

/// What acts on the skin of a closed building: w = qp (cpe − cpi), negative where it lifts. EN 1991-1-4 5.2(3).
///
/// The internal pressure has its own sign: what pushes from inside (+0.2) lifts, too.
pub fn net(peak: Pressure, cpe: f64, cpi: f64) -> Pressure {
    peak * (cpe - cpi)
}
