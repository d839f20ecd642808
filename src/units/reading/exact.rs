//! An exact number as somebody wrote it: a fraction of whole numbers, so that ⅜ and 2.4 lose nothing.

use super::super::num::to_f64;

/// A number at least zero and below [`HUGE`], as a fraction in its lowest terms.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Exact {
    num: i128,
    den: i128,
}

/// Nothing on a roof comes near it; whatever is larger counts as it, so that no sum can overflow.
const HUGE: i128 = 1_000_000_000_000;

/// Digits after the point that are kept: a metre to the picometre.
const DECIMALS: usize = 12;

impl Exact {
    /// One.
    pub(super) const ONE: Self = Self { num: 1, den: 1 };

    /// A whole number.
    pub(super) fn whole(number: u32) -> Self {
        Self { num: i128::from(number), den: 1 }
    }

    /// A fraction; `None` over zero.
    pub(super) fn fraction(over: Self, under: Self) -> Option<Self> {
        Self::reduced(over.num.checked_mul(under.den)?, over.den.checked_mul(under.num)?)
    }

    /// From the digits before and after a decimal point.
    pub(super) fn from_digits(before: &str, after: &str) -> Self {
        let digits = |text: &str| {
            text.chars()
                .filter_map(|digit| digit.to_digit(10))
                .fold(0_i128, |sum, digit| (sum * 10 + i128::from(digit)).min(HUGE))
        };
        let kept: String = after.chars().take(DECIMALS).collect();
        let places = u32::try_from(kept.len()).unwrap_or(0);
        let scale = 10_i128.pow(places);
        Self::reduced(digits(before) * scale + digits(&kept), scale).unwrap_or(Self { num: HUGE, den: 1 })
    }

    /// In lowest terms and no larger than [`HUGE`].
    fn reduced(num: i128, den: i128) -> Option<Self> {
        if den <= 0 || num < 0 {
            return None;
        }
        if num / den >= HUGE {
            return Some(Self { num: HUGE, den: 1 });
        }
        let shared = greatest_shared_divisor(num, den);
        // A denominator this long cannot be told from the nearest billionth.
        let (num, den) = (num / shared, den / shared);
        if den > HUGE {
            Self::reduced(num / (den / 1_000_000_000), 1_000_000_000)
        } else {
            Some(Self { num, den })
        }
    }

    /// The sum.
    pub(super) fn plus(self, other: Self) -> Self {
        Self::reduced(self.num * other.den + other.num * self.den, self.den * other.den).unwrap_or(self)
    }

    /// The difference; `None` below zero.
    pub(super) fn minus(self, other: Self) -> Option<Self> {
        Self::reduced(self.num * other.den - other.num * self.den, self.den * other.den)
    }

    /// The product.
    pub(super) fn times(self, other: Self) -> Self {
        // Each factor is below HUGE with a denominator of at most HUGE: cancelling crosswise keeps it in range.
        let (a, b) =
            (greatest_shared_divisor(self.num, other.den), greatest_shared_divisor(other.num, self.den));
        let num = (self.num / a).checked_mul(other.num / b);
        let den = (self.den / b).checked_mul(other.den / a);
        num.zip(den).and_then(|(num, den)| Self::reduced(num, den)).unwrap_or(Self { num: HUGE, den: 1 })
    }

    /// This many of a unit worth `worth`, to the nearest whole, halves upwards.
    pub(super) fn of(self, worth: i64) -> i64 {
        let doubled = self.num.saturating_mul(2 * i128::from(worth)) + self.den;
        i64::try_from(doubled / (2 * self.den)).unwrap_or(i64::MAX)
    }

    /// As a floating-point number, for trigonometry only.
    pub(super) fn to_f64(self) -> f64 {
        let part = |whole: i128| i64::try_from(whole).map_or(f64::MAX, to_f64);
        part(self.num) / part(self.den)
    }

    /// The number itself, where it is whole and at most `limit`.
    pub(super) fn as_whole_up_to(self, limit: u32) -> Option<u32> {
        let whole = u32::try_from(self.num).ok()?;
        (self.den == 1 && whole <= limit).then_some(whole)
    }

    /// Whether it looks measured rather than thrown in: two figures that count (240, 2.4), not 500 or 3.
    pub(super) fn looks_measured(self) -> bool {
        let mut figures = self.num;
        while figures != 0 && figures % 10 == 0 {
            figures /= 10;
        }
        figures >= 10 && (self.den != 1 || self.num >= 100)
    }

    /// Whether it is zero.
    pub(super) fn is_zero(self) -> bool {
        self.num == 0
    }
}

/// By Euclid; at least 1.
fn greatest_shared_divisor(a: i128, b: i128) -> i128 {
    let (mut a, mut b) = (a, b);
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a.max(1)
}
