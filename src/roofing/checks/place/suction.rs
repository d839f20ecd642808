//! How hard the wind lifts each place of a slope.

use super::super::methods::wind::{
    CanopyCoefficients, CanopyPart, Form as Shape, RoofPlan, Slope, WindOn, Zone, ZoneRect, canopy,
    canopy_at, dominant_opening, external, windward_wall, zones,
};
use super::{Open, Place};
use crate::roofing::roof::{Form, Site};
use crate::units::physical::Pressure;
use crate::units::{Area, Length};

/// A zone of a roof, whether it has walls or not.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(in crate::roofing::checks) enum Zoned {
    /// Of a roof on walls.
    Walled(Zone),
    /// Of one without.
    Open(CanopyPart),
}

impl Zoned {
    /// Its coefficient, by its letter in the standard.
    pub(in crate::roofing::checks) const fn symbol(self) -> &'static str {
        match self {
            Self::Walled(Zone::F | Zone::FUpper | Zone::FLower) => "cp,F",
            Self::Walled(Zone::G) => "cp,G",
            Self::Walled(Zone::H) => "cp,H",
            Self::Walled(Zone::I) => "cp,I",
            Self::Walled(Zone::J) => "cp,J",
            Self::Open(CanopyPart::A) => "cp,A",
            Self::Open(CanopyPart::B) => "cp,B",
            Self::Open(CanopyPart::C) => "cp,C",
            Self::Open(CanopyPart::D) => "cp,D",
        }
    }

    /// Whether it lies along an edge of the slope.
    pub(in crate::roofing::checks) const fn is_edge(self) -> bool {
        match self {
            Self::Walled(Zone::F | Zone::FUpper | Zone::FLower | Zone::G | Zone::J)
            | Self::Open(CanopyPart::B | CanopyPart::C | CanopyPart::D) => true,
            Self::Walled(Zone::H | Zone::I) | Self::Open(CanopyPart::A) => false,
        }
    }
}

/// The wind on one slope.
#[derive(Clone, Debug)]
pub(in crate::roofing::checks) struct Suction {
    plan: RoofPlan,
    slope: Slope,
    /// Peak pressure.
    pub(in crate::roofing::checks) peak: Pressure,
    /// What pushes from inside, as a coefficient.
    pub(in crate::roofing::checks) inside: f64,
    coefficients: Coefficients,
}

#[derive(Clone, Debug)]
enum Coefficients {
    /// Each zone's rectangle and suction for fixings, in every wind.
    Walled(Vec<(ZoneRect, f64)>),
    Open(CanopyCoefficients),
}

impl Suction {
    /// The wind on a slope; `None` where no table reaches.
    pub(in crate::roofing::checks) fn of(place: &Place<'_>, site: &Site, index: usize) -> Option<Self> {
        let own = site.slopes.get(index).or(site.slopes.first())?;
        let (pitch, rafter) = (own.pitch.value, own.rafter_length.value);
        let (run, rise) = (rafter.scale(pitch.cos()), rafter.scale(pitch.sin()));
        let (form, width) = match site.form {
            Form::SingleSlope => (Shape::Mono, run),
            Form::TwoSlopes => (Shape::Duo, run * 2),
        };
        let plan = RoofPlan { form, length: site.length.value, width, height: place.top(rise), pitch };
        let slope = if index == 0 { Slope::First } else { Slope::Second };
        // Nothing loads more than a square metre of a fixing: cpe,1.
        let fixing = Length::from_mm(1_000).by(Length::from_mm(1_000));
        let inside = match place.open {
            Open::Closed => 0.2,
            Open::OneSide => dominant_opening(3.0, windward_wall(1.0))?,
            Open::Canopy => 0.0,
        };
        let coefficients = if place.open == Open::Canopy {
            Coefficients::Open(canopy(form, pitch, place.blockage)?)
        } else {
            Coefficients::Walled(walled(&plan, slope, fixing)?)
        };
        Some(Self { plan, slope, peak: place.peak(rise), inside, coefficients })
    }

    /// How hard a fixing at a place is lifted, as a coefficient that is positive where it lifts, and in which zone.
    pub(in crate::roofing::checks) fn at(&self, along: Length, up: Length) -> Option<(f64, Zoned)> {
        let along = along.clamp(Length::ZERO, self.plan.length);
        let up = up.clamp(Length::ZERO, self.plan.rafter());
        match &self.coefficients {
            Coefficients::Open(open) => {
                let part = canopy_at(&self.plan, along, up);
                Some((-open.of(part).up, Zoned::Open(part)))
            }
            Coefficients::Walled(rects) => {
                let here = rects.iter().filter(|(rect, _)| rect.holds(along, up));
                let hardest = here.min_by(|a, b| a.1.total_cmp(&b.1))?;
                Some((self.inside - hardest.1, Zoned::Walled(hardest.0.zone)))
            }
        }
    }

    /// The hardest lift anywhere on a part of this loaded area, as a coefficient: for timbers, that carry more than a
    /// fixing.
    pub(in crate::roofing::checks) fn over(&self, loaded: Area) -> f64 {
        match &self.coefficients {
            Coefficients::Open(open) => -open.force.up.min(open.a.up),
            Coefficients::Walled(_) => {
                let rects = walled(&self.plan, self.slope, loaded).unwrap_or_default();
                rects.iter().map(|(_, suction)| self.inside - suction).fold(0.0, f64::max)
            }
        }
    }
}

/// Every zone of a slope in every wind, with its suction for a loaded area.
fn walled(plan: &RoofPlan, slope: Slope, loaded: Area) -> Option<Vec<(ZoneRect, f64)>> {
    let mut rects = Vec::new();
    for wind in WindOn::ALL {
        for rect in zones(plan, wind).into_iter().filter(|rect| rect.slope == slope) {
            rects.push((rect, external(plan.form, wind, rect.zone, plan.pitch, loaded)?.suction));
        }
    }
    Some(rects)
}
