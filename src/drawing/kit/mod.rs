//! The drawing board: what every drawing is made of, with no knowledge of roofs.
//!
//! [`picture`] is the finished, neutral thing that renderers read; [`draft`] is how one is drawn;
//! [`dimension`], [`label`] and [`legend`] hold the drawing-office habits that all drawings share.

pub(crate) mod dimension;
pub(crate) mod draft;
pub(crate) mod label;
pub(crate) mod legend;
pub mod picture;
pub(crate) mod place;
mod text;

pub(crate) use text::amount;

use picture::Picture;

/// How long a line of words is in the usual lettering.
pub(crate) fn text_width(words: &str) -> f64 {
    text::width(words, Picture::LETTERING)
}

/// How far the baseline of the usual lettering lies below the middle of its figures.
pub(crate) fn half_rise() -> f64 {
    text::half_rise(Picture::LETTERING)
}

/// The whole part of a size on the paper; nought where it is none.
pub(crate) fn whole(size: f64) -> usize {
    // `format!` is the one way from f64 to a whole number that neither truncates silently nor needs `as`.
    format!("{:.0}", size.floor().max(0.0)).parse().unwrap_or(usize::MAX)
}
