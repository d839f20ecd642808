//! PDF: documents laid out on pages, with vector drawings, the shipped typeface embedded, and tags for screen
//! readers (PDF/UA-1, ISO 14289-1).
//!
//! Two steps: `flow` places everything on pages, so that the number of pages is known; `write`
//! puts it into a file.

mod flow;
mod pictures;
mod tables;
mod typeface;
mod write;

use super::{RenderError, png};
use crate::drawing::document::Document;
use flow::Flow;
use typeface::Typefaces;

/// The document as a PDF file.
pub fn write(document: &Document) -> Result<Vec<u8>, RenderError> {
    let typefaces = Typefaces::shipped()?;
    let pictures = document.blocks.iter().filter_map(flow::picture);
    let trees = pictures.map(png::tree).collect::<Result<Vec<_>, _>>()?;
    let pages = Flow::new(document, &typefaces, &trees).run();
    write::write(document, &typefaces, &trees, &pages)
}
