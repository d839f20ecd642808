//! Area: an exact whole number of square micrometres.

use std::iter::Sum;
use std::ops::Add;

use super::num::to_f64;

/// An exact area, made by multiplying two lengths.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Area(i128);

impl Area {
    /// From whole square micrometres.
    pub const fn from_um2(um2: i128) -> Self {
        Self(um2)
    }

    /// Whole square millimetres, rounded up: what must be covered is never understated.
    pub const fn ceil_mm2(self) -> i128 {
        -((-self.0).div_euclid(1_000_000))
    }

    /// Square metres to the nearest hundredth, as a whole number of hundredths.
    pub const fn centi_m2(self) -> i128 {
        // A hundredth of a square metre is 10^10 square micrometres.
        (self.0 + 5_000_000_000).div_euclid(10_000_000_000)
    }

    /// Square metres with hundredths.
    pub fn m2(self) -> f64 {
        i64::try_from(self.centi_m2()).map_or(f64::MAX, to_f64) / 100.0
    }

    /// Square metres, to the square millimetre.
    pub fn square_metres(self) -> f64 {
        i64::try_from(self.0.div_euclid(1_000_000)).map_or(f64::MAX, to_f64) / 1e6
    }

    /// Whole square micrometres.
    pub const fn um2(self) -> i128 {
        self.0
    }
}

impl Add for Area {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0.saturating_add(other.0))
    }
}

impl Sum for Area {
    fn sum<I: Iterator<Item = Self>>(areas: I) -> Self {
        areas.fold(Self::default(), Add::add)
    }
}
