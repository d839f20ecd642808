//! Pictures and documents become files: SVG, PNG and PDF.
//!
//! Sees `drawing` only: nothing here knows a roof. Each format is one folder or file; PNG and PDF stand
//! behind the features of the same names.

mod palette;
#[cfg(feature = "pdf")]
pub mod pdf;
#[cfg(feature = "png")]
pub mod png;
#[cfg(feature = "png")]
pub mod screen;
pub mod svg;

/// A file could not be made.
#[derive(Debug, thiserror::Error)]
pub enum RenderError {
    /// Our own SVG was not understood by the rasteriser or the PDF writer.
    #[error("the drawing `{name}` could not be read back: {reason}")]
    Unreadable {
        /// Which drawing.
        name: String,
        /// What the reader said.
        reason: String,
    },
    /// A picture or page of no size, or larger than memory allows.
    #[error("`{name}` cannot be drawn at {width} × {height}")]
    Size {
        /// Which drawing or document.
        name: String,
        /// To the right.
        width: f64,
        /// Down.
        height: f64,
    },
    /// The shipped typeface could not be opened: without it, words would vanish silently.
    #[error("the shipped typeface could not be opened")]
    Typeface,
    /// The PNG or PDF writer gave up.
    #[error("the file could not be written: {0}")]
    Writer(String),
}
