//! Mass: a whole number of grams.

use std::iter::Sum;
use std::ops::{Add, Mul};

use super::Area;

/// The mass of something bought or carried.
///
/// # Units
/// Whole grams.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Mass(i64);

impl Mass {
    /// From whole grams.
    pub const fn from_g(g: i64) -> Self {
        Self(g)
    }

    /// Whole grams.
    pub const fn g(self) -> i64 {
        self.0
    }

    /// The mass of `part` where this is the mass of `whole`, to the nearest gram; zero where there is no whole.
    pub fn share(self, part: Area, whole: Area) -> Self {
        if whole.um2() <= 0 {
            return Self::default();
        }
        // Square micrometres are wider than needed here; square millimetres keep the product within range.
        let (part, whole) = (part.ceil_mm2(), whole.ceil_mm2().max(1));
        let grams = (i128::from(self.0).saturating_mul(part) + whole / 2).div_euclid(whole);
        Self(i64::try_from(grams).unwrap_or(i64::MAX))
    }
}

impl Add for Mass {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0.saturating_add(other.0))
    }
}

impl Mul<i64> for Mass {
    type Output = Self;
    fn mul(self, times: i64) -> Self {
        Self(self.0.saturating_mul(times))
    }
}

impl Sum for Mass {
    fn sum<I: Iterator<Item = Self>>(masses: I) -> Self {
        masses.fold(Self::default(), Add::add)
    }
}
