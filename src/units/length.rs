//! Length: an exact whole number of micrometres.

use std::fmt;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub, SubAssign};

use super::Area;
use super::num::{round_i64, to_f64};

/// An exact length.
///
/// # Units
/// Whole micrometres, so that millimetres, inches (25 400 µm) and sixteenths of an inch
/// (1 587.5 µm is the only one that rounds) add up without drift.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Length(i64);

impl Length {
    /// No length at all.
    pub const ZERO: Self = Self(0);

    /// From whole micrometres.
    pub const fn from_um(um: i64) -> Self {
        Self(um)
    }

    /// From whole millimetres; saturates far outside anything that stands on the ground.
    pub const fn from_mm(mm: i64) -> Self {
        Self(mm.saturating_mul(1_000))
    }

    /// From a measured number of millimetres, to the nearest micrometre; `None` for NaN or absurd sizes.
    pub fn from_mm_f64(mm: f64) -> Option<Self> {
        round_i64(mm * 1_000.0).map(Self)
    }

    /// From a measured number of inches, to the nearest micrometre (1 in = 25.4 mm exactly).
    pub fn from_inches_f64(inches: f64) -> Option<Self> {
        round_i64(inches * 25_400.0).map(Self)
    }

    /// Whole micrometres.
    pub const fn um(self) -> i64 {
        self.0
    }

    /// Millimetres with their fraction.
    pub fn mm(self) -> f64 {
        to_f64(self.0) / 1_000.0
    }

    /// The nearest whole millimetre, halves upwards.
    pub const fn round_mm(self) -> i64 {
        (self.0 + 500).div_euclid(1_000)
    }

    /// The whole millimetres not above this length.
    pub const fn floor_mm(self) -> i64 {
        self.0.div_euclid(1_000)
    }

    /// The whole millimetres not below this length.
    pub const fn ceil_mm(self) -> i64 {
        -((-self.0).div_euclid(1_000))
    }

    /// Whether this is a whole number of millimetres.
    pub const fn is_whole_mm(self) -> bool {
        self.0 % 1_000 == 0
    }

    /// How many whole `other` fit; 0 where `other` is not positive.
    pub const fn div_floor(self, other: Self) -> i64 {
        if other.0 <= 0 { 0 } else { self.0.div_euclid(other.0) }
    }

    /// How many `other` it takes to reach this length; 0 where `other` is not positive.
    pub const fn div_ceil(self, other: Self) -> i64 {
        if other.0 <= 0 { 0 } else { -((-self.0).div_euclid(other.0)) }
    }

    /// The size without its sign.
    pub const fn abs(self) -> Self {
        Self(self.0.abs())
    }

    /// Scaled by a factor (a cosine, a share), to the nearest micrometre; zero where that is no number.
    pub fn scale(self, factor: f64) -> Self {
        Self(round_i64(to_f64(self.0) * factor).unwrap_or(0))
    }

    /// The rectangle of this by `other`.
    pub fn by(self, other: Self) -> Area {
        Area::from_um2(i128::from(self.0) * i128::from(other.0))
    }

    /// The longest side of a right-angled triangle with these two short ones.
    pub fn hypot(self, other: Self) -> Self {
        Self(round_i64(libm::hypot(to_f64(self.0), to_f64(other.0))).unwrap_or(0))
    }
}

impl Add for Length {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0.saturating_add(other.0))
    }
}

impl AddAssign for Length {
    fn add_assign(&mut self, other: Self) {
        *self = *self + other;
    }
}

impl Sub for Length {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0.saturating_sub(other.0))
    }
}

impl SubAssign for Length {
    fn sub_assign(&mut self, other: Self) {
        *self = *self - other;
    }
}

impl Neg for Length {
    type Output = Self;
    fn neg(self) -> Self {
        Self(self.0.saturating_neg())
    }
}

impl Mul<i64> for Length {
    type Output = Self;
    fn mul(self, times: i64) -> Self {
        Self(self.0.saturating_mul(times))
    }
}

impl Div<i64> for Length {
    type Output = Self;
    /// To the micrometre below; zero parts give zero rather than a panic.
    fn div(self, parts: i64) -> Self {
        if parts == 0 { Self::ZERO } else { Self(self.0.div_euclid(parts)) }
    }
}

impl Sum for Length {
    fn sum<I: Iterator<Item = Self>>(lengths: I) -> Self {
        lengths.fold(Self::ZERO, Add::add)
    }
}

impl fmt::Display for Length {
    /// For logs and debugging only: people are answered by `units::saying`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} mm", self.mm())
    }
}
