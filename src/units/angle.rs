//! Angle: an exact whole number of microdegrees, with the same trigonometry on every machine.

use std::fmt;
use std::ops::{Add, Sub};

use super::Length;
use super::num::{round_i64, to_f64};

/// An angle, as a roof's pitch is.
///
/// # Units
/// Whole microdegrees: 15° is exactly 15°, and a boundary is met or missed, never nearly.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Angle(i64);

const PER_DEGREE: f64 = 1_000_000.0;

impl Angle {
    /// Level.
    pub const ZERO: Self = Self(0);

    /// From whole degrees.
    pub const fn from_deg(deg: i64) -> Self {
        Self(deg.saturating_mul(1_000_000))
    }

    /// From whole microdegrees.
    pub const fn from_microdeg(microdeg: i64) -> Self {
        Self(microdeg)
    }

    /// From a measured number of degrees, to the nearest microdegree; `None` for NaN or absurd sizes.
    pub fn from_deg_f64(deg: f64) -> Option<Self> {
        round_i64(deg * PER_DEGREE).map(Self)
    }

    /// The pitch that climbs `rise` over `run` on plan; `None` where `run` is not positive.
    pub fn from_rise_run(rise: Length, run: Length) -> Option<Self> {
        if run <= Length::ZERO {
            return None;
        }
        Self::from_tan(to_f64(rise.um()) / to_f64(run.um()))
    }

    /// The pitch that climbs `rise` over `slope_length` along it; `None` where no slope is that steep.
    pub fn from_rise_slope(rise: Length, slope_length: Length) -> Option<Self> {
        if slope_length <= Length::ZERO || rise >= slope_length {
            return None;
        }
        Self::from_deg_f64(libm::asin(to_f64(rise.um()) / to_f64(slope_length.um())).to_degrees())
    }

    /// The pitch whose rise over run is `tan` (1 in 4 is 0.25, 30 % is 0.30).
    pub fn from_tan(tan: f64) -> Option<Self> {
        Self::from_deg_f64(libm::atan(tan).to_degrees())
    }

    /// Whole microdegrees.
    pub const fn microdeg(self) -> i64 {
        self.0
    }

    /// Degrees with their fraction.
    pub fn deg(self) -> f64 {
        to_f64(self.0) / PER_DEGREE
    }

    /// Cosine, the same to the last bit on every machine.
    pub fn cos(self) -> f64 {
        libm::cos(self.deg().to_radians())
    }

    /// Sine, the same to the last bit on every machine.
    pub fn sin(self) -> f64 {
        libm::sin(self.deg().to_radians())
    }

    /// Tangent, the same to the last bit on every machine.
    pub fn tan(self) -> f64 {
        libm::tan(self.deg().to_radians())
    }
}

impl Length {
    /// The length up a slope that covers this length on plan.
    pub fn run_to_slope(self, pitch: Angle) -> Self {
        let cos = pitch.cos();
        if cos <= 0.0 { Self::ZERO } else { self.scale(1.0 / cos) }
    }

    /// The length on plan that this length up a slope covers.
    pub fn slope_to_run(self, pitch: Angle) -> Self {
        self.scale(pitch.cos())
    }

    /// How much a slope of this length on plan climbs.
    pub fn rise_over(self, pitch: Angle) -> Self {
        self.scale(pitch.tan())
    }
}

impl Add for Angle {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0.saturating_add(other.0))
    }
}

impl Sub for Angle {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0.saturating_sub(other.0))
    }
}

impl fmt::Display for Angle {
    /// For logs and debugging only: people are answered by `units::saying`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}°", self.deg())
    }
}
