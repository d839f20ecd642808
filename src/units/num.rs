//! The few conversions between whole numbers and floating point that exact types cannot avoid.
//!
//! They stand here once, so that `as` appears nowhere else.

/// A whole number as `f64`. Exact up to 2^53: a length of 9 000 km in micrometres.
#[expect(
    clippy::as_conversions,
    clippy::cast_precision_loss,
    reason = "std offers no From<i64> for f64; every quantity stays far below 2^53"
)]
pub(crate) fn to_f64(whole: i64) -> f64 {
    whole as f64
}

/// The nearest whole number, halves away from zero; `None` for NaN or out of range.
#[expect(
    clippy::as_conversions,
    clippy::cast_possible_truncation,
    reason = "the range is checked on the line before"
)]
pub(crate) fn round_i64(value: f64) -> Option<i64> {
    let rounded = libm::round(value);
    (rounded.abs() < 9.0e15).then_some(rounded as i64)
}
