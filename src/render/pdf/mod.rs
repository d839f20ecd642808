//! PDF: documents laid out on pages, with vector drawings, the shipped typeface embedded, and tags for screen
//! readers (PDF/UA-1, ISO 14289-1).
//!
//! Two steps: `flow` places everything on pages, so that the number of pages is known; `write`
//! puts it into a file.

mod flow;
mod tables;
mod typeface;
mod write;

use super::{RenderError, png};
use crate::drawing::document::{Block, Document};
use crate::drawing::picture::Picture;
use flow::Flow;
use typeface::Typefaces;

/// The document as a PDF file.
pub fn write(document: &Document) -> Result<Vec<u8>, RenderError> {
    let typefaces = Typefaces::shipped()?;
    let pictures: Vec<&Picture> = document
        .blocks
        .iter()
        .filter_map(|block| match block {
            Block::Picture(picture) => Some(&**picture),
            Block::Heading(_)
            | Block::Subheading(_)
            | Block::Paragraph(_)
            | Block::Notice(_)
            | Block::Small(_)
            | Block::List(_)
            | Block::Steps(_)
            | Block::Facts(_)
            | Block::Table { .. }
            | Block::NewPage => None,
        })
        .collect();
    let trees = pictures.iter().map(|picture| png::tree(picture)).collect::<Result<Vec<_>, _>>()?;
    let pages = Flow::new(document, &typefaces, &trees).run();
    write::write(document, &typefaces, &trees, &pages)
}
