//! Snow on each slope: lying even, and blown or slid against what stands higher.

use super::super::check::{Check, CheckKind, Roof, load};
use super::super::methods::snow::{Abutment, Drift, drift, mu1, on_roof};
use super::{Place, millimetres};
use crate::roofing::facts::FactKey;
use crate::roofing::note::Note;
use crate::roofing::roof::Site;
use crate::roofing::rules::{Basis, RuleBook};
use crate::units::Angle;
use crate::units::physical::Pressure;

/// The pitch of the higher roof, while nobody has measured it.
const HIGHER_PITCH: Angle = Angle::from_deg(30);

/// Snow on a slope, on plan.
#[derive(Clone, Copy, Debug)]
pub(in crate::roofing::checks) struct Snow {
    /// Shape factor of the even snow.
    pub(in crate::roofing::checks) even: f64,
    /// The drift against what stands higher.
    pub(in crate::roofing::checks) drift: Option<Drift>,
    /// The most anywhere.
    pub(in crate::roofing::checks) most: Pressure,
}

/// The snow on one slope. Snow that could slide is not held by corrugated sheets: no guards are planned.
pub(in crate::roofing::checks) fn on(place: &Place<'_>, site: &Site, index: usize, rules: &RuleBook) -> Snow {
    let slope = site.slopes.get(index).or(site.slopes.first());
    let (pitch, rafter) =
        slope.map(|slope| (slope.pitch.value, slope.rafter_length.value)).unwrap_or_default();
    let higher = place.taller || site.wall_top || !site.walls_of(index).is_empty();
    let even = mu1(pitch, !higher);
    let behind = millimetres(rules, Basis::WallBehind);
    let run = rafter.scale(pitch.cos());
    let roof = Abutment {
        upper_width: behind,
        lower_width: if site.wall_top || place.taller { run } else { site.length.value },
        step: millimetres(rules, Basis::WallAbove),
        upper_pitch: HIGHER_PITCH,
        upper_slope: behind / 2,
    };
    let drift = higher.then(|| drift(&roof, place.snow));
    let mu = drift.map_or(even, |drift| drift.at_wall.max(even));
    Snow { even, drift, most: on_roof(mu, 1.0, 1.0, place.snow) }
}

/// The snow, as the other checks take it.
pub(in crate::roofing::checks) fn check(roof: &Roof<'_>, place: &Place<'_>, index: usize) -> Check {
    let mut check = Check::new(CheckKind::Snow, Some(index));
    let snow = on(place, roof.site, index, roof.rules);
    check.step("sum-snow-ground", "sk", "", place.snow.pa() / 1e3, "kN/m²");
    check.step("sum-snow-shape", "μ1", "", snow.even, "");
    if let Some(drift) = &snow.drift {
        check.step("sum-drift-reach", "ls", "2 h", drift.reach.mm() / 1e3, "m");
        check.step("sum-drift-blown", "μw", "(b1 + b2) / 2 h ≤ γ h / sk", drift.blown, "");
        check.step("sum-drift-slid", "μs", "μ1 bs / ls", drift.slid, "");
    }
    check.step("sum-snow-roof", "s", "μ Ce Ct sk", snow.most.pa() / 1e3, "kN/m²");
    let message = if snow.drift.is_some() { "check-snow-says-drift" } else { "check-snow-says" };
    check.says.push(Note::new(message).with("ground", load(place.snow)).with("roof", load(snow.most)));
    if roof.facts.get(FactKey::SnowLoad).is_none() && place.assumed.contains(&FactKey::Region) {
        check.says.push(Note::new("check-snow-assumed"));
    }
    check
}
