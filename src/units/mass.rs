//! Mass: a whole number of grams.

use std::iter::Sum;
use std::ops::{Add, Mul};

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
