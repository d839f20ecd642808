//! Which part of a roof is which zone: EN 1991-1-4 7.2.3 to 7.2.5, Figs. 7.6 to 7.8.
//!
//! A rectangle stands on its slope: along the eaves from the left gable as seen from the eaves, and up from the lower
//! edge. e/4, e/10 and e/2 are measured on plan, as the figures draw them, and turned up the slope here.

use crate::units::{Angle, Area, Length};

/// One slope or two equal ones.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Form {
    /// One slope.
    Mono,
    /// Two slopes with a ridge.
    Duo,
}

/// Which of two slopes; a roof of one slope has the first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Slope {
    /// The only one, or the first.
    First,
    /// Across the ridge.
    Second,
}

/// Which edge of the roof the wind meets first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum WindOn {
    /// θ = 0°: the lower edge of the first slope.
    Eaves,
    /// θ = 180°: the high edge of one slope; the eaves of the second of two.
    FarEdge,
    /// θ = 90°: the left gable, as seen from the first slope's eaves.
    LeftGable,
    /// θ = 90° from the other side.
    RightGable,
}

impl WindOn {
    /// Every direction.
    pub const ALL: [Self; 4] = [Self::Eaves, Self::FarEdge, Self::LeftGable, Self::RightGable];
}

/// A zone of a roof, by its letter.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Zone {
    /// Corner.
    F,
    /// Corner at the high edge of one slope, wind on the gable.
    FUpper,
    /// Corner at the low edge of one slope, wind on the gable.
    FLower,
    /// Edge between the corners.
    G,
    /// Field behind them.
    H,
    /// Field further off; the slope that the wind leaves.
    I,
    /// Behind the ridge.
    J,
}

/// A roof in the wind, overhangs included.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RoofPlan {
    /// One slope or two.
    pub form: Form,
    /// Along the eaves.
    pub length: Length,
    /// Across, on plan, over all slopes.
    pub width: Length,
    /// Height of its top above the ground: h.
    pub height: Length,
    /// Pitch of its slopes.
    pub pitch: Angle,
}

impl RoofPlan {
    /// Up each slope.
    pub fn rafter(&self) -> Length {
        self.run().run_to_slope(self.pitch)
    }

    /// Of each slope on plan.
    fn run(&self) -> Length {
        match self.form {
            Form::Mono => self.width,
            Form::Duo => self.width / 2,
        }
    }

    /// Below 5° a roof counts as flat: 7.2.3(1).
    fn is_flat(&self) -> bool {
        self.pitch < Angle::from_deg(5)
    }
}

/// e = min(b, 2h), b across the wind. EN 1991-1-4 Figs. 7.6 to 7.8.
pub fn reach(plan: &RoofPlan, wind: WindOn) -> Length {
    let across = match wind {
        WindOn::Eaves | WindOn::FarEdge => plan.length,
        WindOn::LeftGable | WindOn::RightGable => plan.width,
    };
    across.min(plan.height * 2)
}

/// One zone's rectangle on its slope.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ZoneRect {
    /// Which zone.
    pub zone: Zone,
    /// On which slope.
    pub slope: Slope,
    /// From the left gable, as seen from the first slope's eaves, to its near and far side.
    pub along: (Length, Length),
    /// Up the slope from its eaves, to its lower and upper side.
    pub up: (Length, Length),
}

impl ZoneRect {
    /// Its area on the slope.
    pub fn area(&self) -> Area {
        (self.along.1 - self.along.0).by(self.up.1 - self.up.0)
    }

    /// Whether a place lies in it; on a border it lies in both.
    pub fn holds(&self, along: Length, up: Length) -> bool {
        along >= self.along.0 && along <= self.along.1 && up >= self.up.0 && up <= self.up.1
    }
}

/// Zones as they are laid on one slope after the other.
struct Laid<'a> {
    plan: &'a RoofPlan,
    slope: Slope,
    rects: Vec<ZoneRect>,
}

impl Laid<'_> {
    /// A rectangle, where it is one; distances across are on plan, from the slope's eaves.
    fn put(&mut self, zone: Zone, along: (Length, Length), across: (Length, Length)) {
        let run = self.plan.run();
        let clip = |from: Length, most: Length| from.clamp(Length::ZERO, most);
        let along = (clip(along.0, self.plan.length), clip(along.1, self.plan.length));
        let across = (clip(across.0, run), clip(across.1, run));
        let top = |at: Length| {
            if at >= run { self.plan.rafter() } else { at.run_to_slope(self.plan.pitch) }
        };
        if along.1 > along.0 && across.1 > across.0 {
            let up = (top(across.0), top(across.1));
            self.rects.push(ZoneRect { zone, slope: self.slope, along, up });
        }
    }

    /// Wind on an edge along the slope: F G F in a strip of e/10, then what follows. `from_top` measures from the top.
    fn edge(&mut self, reach: Length, from_top: bool, then: &[(Zone, Length)]) {
        let (length, run) = (self.plan.length, self.plan.run());
        let turn = |from: Length, to: Length| if from_top { (run - to, run - from) } else { (from, to) };
        let (strip, corner) = ((reach / 10).min(run), reach / 4);
        let edge = turn(Length::ZERO, strip);
        self.put(Zone::F, (Length::ZERO, corner), edge);
        self.put(Zone::G, (corner, length - corner), edge);
        self.put(Zone::F, (length - corner, length), edge);
        let mut from = strip;
        for (zone, to) in then {
            let to = (*to).clamp(from, run);
            self.put(*zone, (Length::ZERO, length), turn(from, to));
            from = to;
        }
    }

    /// Wind on the left gable, mirrored for the right one.
    fn gable(&mut self, reach: Length, from_right: bool, corners: &[(Zone, (Length, Length))]) {
        let length = self.plan.length;
        let run = self.plan.run();
        let turn =
            |from: Length, to: Length| if from_right { (length - to, length - from) } else { (from, to) };
        let strip = (reach / 10).min(length);
        for (zone, across) in corners {
            self.put(*zone, turn(Length::ZERO, strip), *across);
        }
        let half = (reach / 2).clamp(strip, length);
        self.put(Zone::H, turn(strip, half), (Length::ZERO, run));
        self.put(Zone::I, turn(half, length), (Length::ZERO, run));
    }
}

/// Every zone of a roof in a wind, slope by slope. They cover it whole and do not overlap.
///
/// # Source
/// EN 1991-1-4 Fig. 7.6 (below 5°), 7.7 (one slope), 7.8 (two); e/4, e/10 and e/2 as the figures have it.
pub fn zones(plan: &RoofPlan, wind: WindOn) -> Vec<ZoneRect> {
    let reach = reach(plan, wind);
    let mut laid = Laid { plan, slope: Slope::First, rects: Vec::new() };
    let run = plan.run();
    match wind {
        WindOn::LeftGable | WindOn::RightGable => {
            let right = wind == WindOn::RightGable;
            let corner = reach / 4;
            match plan.form {
                Form::Mono => {
                    // Below 5° both corners are plain ones.
                    let (low, high) =
                        if plan.is_flat() { (Zone::F, Zone::F) } else { (Zone::FLower, Zone::FUpper) };
                    let corners = [
                        (low, (Length::ZERO, corner)),
                        (Zone::G, (corner, run - corner)),
                        (high, (run - corner, run)),
                    ];
                    laid.gable(reach, right, &corners);
                }
                Form::Duo => {
                    let corners = [(Zone::F, (Length::ZERO, corner)), (Zone::G, (corner, run))];
                    for slope in [Slope::First, Slope::Second] {
                        laid.slope = slope;
                        laid.gable(reach, right, &corners);
                    }
                }
            }
        }
        WindOn::Eaves | WindOn::FarEdge => {
            let half = reach / 2;
            match (plan.form, plan.is_flat()) {
                (Form::Mono, false) => laid.edge(reach, wind == WindOn::FarEdge, &[(Zone::H, run)]),
                (Form::Mono, true) => {
                    laid.edge(reach, wind == WindOn::FarEdge, &[(Zone::H, half), (Zone::I, run)]);
                }
                (Form::Duo, flat) => {
                    let (windward, leeward) = if wind == WindOn::Eaves {
                        (Slope::First, Slope::Second)
                    } else {
                        (Slope::Second, Slope::First)
                    };
                    laid.slope = windward;
                    let whole = (Length::ZERO, plan.length);
                    if flat {
                        laid.edge(reach, false, &[(Zone::H, half), (Zone::I, run)]);
                        laid.slope = leeward;
                        let still = (half - run).max(Length::ZERO).min(run);
                        laid.put(Zone::H, whole, (run - still, run));
                        laid.put(Zone::I, whole, (Length::ZERO, run - still));
                    } else {
                        laid.edge(reach, false, &[(Zone::H, run)]);
                        laid.slope = leeward;
                        let strip = (reach / 10).min(run);
                        laid.put(Zone::J, whole, (run - strip, run));
                        laid.put(Zone::I, whole, (Length::ZERO, run - strip));
                    }
                }
            }
        }
    }
    laid.rects
}

/// The zone that a place of a slope lies in; on a border, the first that holds it.
pub fn zone_at(plan: &RoofPlan, wind: WindOn, slope: Slope, along: Length, up: Length) -> Option<Zone> {
    let zones = zones(plan, wind);
    zones.iter().find(|rect| rect.slope == slope && rect.holds(along, up)).map(|rect| rect.zone)
}
