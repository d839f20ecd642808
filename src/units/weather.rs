//! Wind and warmth.

use super::num::{round_i64, to_f64};

/// How fast the wind blows.
///
/// # Units
/// Whole micrometres a second, so that a mile an hour and a metre a second are both exact.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Speed(i64);

impl Speed {
    /// From miles an hour.
    pub const fn from_mph(mph: i64) -> Self {
        Self(mph.saturating_mul(447_040))
    }

    /// From micrometres a second.
    pub const fn from_um_per_second(um: i64) -> Self {
        Self(um)
    }

    /// Micrometres a second.
    pub const fn um_per_second(self) -> i64 {
        self.0
    }

    /// From metres a second with their fraction; `None` for NaN or absurd sizes.
    pub fn from_m_per_s_f64(m_per_s: f64) -> Option<Self> {
        round_i64(m_per_s * 1e6).map(Self)
    }

    /// Metres a second with their fraction.
    pub fn m_per_s(self) -> f64 {
        to_f64(self.0) / 1e6
    }

    /// Miles an hour, to the nearest whole one.
    pub const fn mph(self) -> i64 {
        div_round(self.0, 447_040)
    }
}

/// How warm it is.
///
/// # Units
/// Whole thousandths of a degree Celsius.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Temperature(i64);

impl Temperature {
    /// From degrees Celsius.
    pub const fn from_celsius(celsius: i64) -> Self {
        Self(celsius.saturating_mul(1_000))
    }

    /// From thousandths of a degree Celsius.
    pub const fn from_millicelsius(milli: i64) -> Self {
        Self(milli)
    }

    /// From degrees Celsius with their fraction, to the nearest thousandth; `None` for NaN or absurd sizes.
    pub fn from_celsius_f64(celsius: f64) -> Option<Self> {
        round_i64(celsius * 1_000.0).map(Self)
    }

    /// Degrees Celsius with their fraction.
    pub fn celsius_f64(self) -> f64 {
        to_f64(self.0) / 1_000.0
    }

    /// From thousandths of a degree Fahrenheit.
    pub const fn from_millifahrenheit(milli: i64) -> Self {
        Self(div_round(milli.saturating_sub(32_000).saturating_mul(5), 9))
    }

    /// Thousandths of a degree Celsius.
    pub const fn millicelsius(self) -> i64 {
        self.0
    }

    /// Degrees Celsius, to the nearest whole one.
    pub const fn celsius(self) -> i64 {
        div_round(self.0, 1_000)
    }
}

/// The nearest whole number, halves up.
const fn div_round(of: i64, by: i64) -> i64 {
    of.saturating_mul(2).saturating_add(by).div_euclid(by * 2)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn weather_is_turned_from_unit_to_unit() {
        assert_eq!(Speed::from_mph(23).um_per_second(), 10_281_920);
        assert_eq!(Speed::from_um_per_second(10_000_000).mph(), 22);
        assert_eq!(Temperature::from_millifahrenheit(95_000).celsius(), 35);
        assert_eq!(Temperature::from_millifahrenheit(14_000).celsius(), -10);
    }
}
