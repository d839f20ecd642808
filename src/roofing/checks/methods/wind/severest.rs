//! The wind that is worst for one place of a roof.

use crate::units::{Area, Length};

use super::coefficients::external;
use super::zones::{RoofPlan, Slope, WindOn, Zone, zones};

/// The hardest suction at a place from any direction, for a part of this loaded area, and the zone and wind it comes
/// from. On a border of zones the harder one counts. `None` above 75°, where no table reaches.
pub fn severest_at(
    plan: &RoofPlan,
    slope: Slope,
    (along, up): (Length, Length),
    loaded: Area,
) -> Option<(f64, Zone, WindOn)> {
    let mut hardest: Option<(f64, Zone, WindOn)> = None;
    for wind in WindOn::ALL {
        for rect in zones(plan, wind) {
            if rect.slope != slope || !rect.holds(along, up) {
                continue;
            }
            let suction = external(plan.form, wind, rect.zone, plan.pitch, loaded)?.suction;
            if hardest.is_none_or(|(so_far, _, _)| suction < so_far) {
                hardest = Some((suction, rect.zone, wind));
            }
        }
    }
    hardest
}
