//! PDF.
