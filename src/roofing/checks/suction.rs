//! How hard the wind lifts each place of a slope.

use super::methods::wind::{
    self, CanopyCoefficients, CanopyPart, Form as Shape, RoofPlan, Slope, WindOn, Zone, ZoneRect, canopy, canopy_at,
    dominant_opening, external, windward_wall, zones,
};
use super::place::{Open, Place};
use crate::roofing::roof::{Form, Site};
use crate::units::physical::Pressure;
use crate::units::{Area, Length};

/// A zone of a roof, whether it has walls or not.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Zoned {
    /// Of a roof on walls.
    Walled(Zone),
    /// Of one without.
    Open(CanopyPart),
}

impl Zoned {
    /// Its letter in the standard.
    pub(super) const fn letter(self) -> &'static str {
        match self {
            Self::Walled(Zone::F | Zone::FUpper | Zone::FLower) => "F",
            Self::Walled(Zone::G) => "G",
            Self::Walled(Zone::H) => "H",
            Self::Walled(Zone::I) => "I",
            Self::Walled(Zone::J) => "J",
            Self::Open(CanopyPart::A) => "A",
            Self::Open(CanopyPart::B) => "B",
            Self::Open(CanopyPart::C) => "C",
            Self::Open(CanopyPart::D) => "D",
        }
    }

    /// Whether it lies along an edge of the slope.
    pub(super) const fn is_edge(self) -> bool {
        match self {
            Self::Walled(Zone::F | Zone::FUpper | Zone::FLower | Zone::G | Zone::J) => true,
            Self::Open(CanopyPart::B | CanopyPart::C | CanopyPart::D) => true,
            Self::Walled(Zone::H | Zone::I) | Self::Open(CanopyPart::A) => false,
        }
    }
}

/// The wind on one slope.
#[derive(Clone, Debug)]
pub(super) struct Suction {
    plan: RoofPlan,
    slope: Slope,
    /// Peak pressure.
    pub(super) peak: Pressure,
    /// What pushes from inside, as a coefficient.
    pub(super) inside: f64,
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
    pub(super) fn of(place: &Place<'_>, site: &Site, index: usize) -> Option<Self> {
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
    pub(super) fn at(&self, along: Length, up: Length) -> Option<(f64, Zoned)> {
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

    /// The hardest lift of any fixing in the edge zones, or in the field, as a coefficient.
    pub(super) fn hardest(&self, in_edge: bool) -> f64 {
        match &self.coefficients {
            Coefficients::Open(open) => {
                let edges = [Some(open.b), Some(open.c), open.d].into_iter().flatten();
                if in_edge { edges.map(|range| -range.up).fold(0.0, f64::max) } else { -open.a.up }
            }
            Coefficients::Walled(rects) => {
                let wanted = rects.iter().filter(|(rect, _)| Zoned::Walled(rect.zone).is_edge() == in_edge);
                wanted.map(|(_, suction)| self.inside - suction).fold(0.0, f64::max)
            }
        }
    }

    /// The hardest lift anywhere on a part of this loaded area, as a coefficient: for timbers, that carry more than a
    /// fixing.
    pub(super) fn over(&self, loaded: Area) -> f64 {
        match &self.coefficients {
            Coefficients::Open(open) => -open.force.up.min(open.a.up),
            Coefficients::Walled(_) => {
                let rects = walled(&self.plan, self.slope, loaded).unwrap_or_default();
                rects.iter().map(|(_, suction)| self.inside - suction).fold(0.0, f64::max)
            }
        }
    }

    /// How wide the edge zones are, up the slope and along it: a tenth of e, or of the roof where it has no walls.
    pub(super) fn strip(&self) -> Length {
        match &self.coefficients {
            Coefficients::Open(_) => (self.plan.length / 10).max(self.plan.width / 10),
            Coefficients::Walled(_) => {
                let reach = WindOn::ALL.iter().map(|wind| wind::reach(&self.plan, *wind)).max();
                (reach.unwrap_or_default() / 10).run_to_slope(self.plan.pitch)
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
