//! A neutral document: headings, paragraphs, lists, tables and pictures in reading order. What it becomes on
//! paper is `render`'s business; what it says is its maker's.

use super::picture::Picture;

/// A sheet of paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Paper {
    /// 210 × 297 mm (ISO 216).
    A4,
    /// 8½ × 11 in (ANSI/ASME Y14.1).
    Letter,
}

/// A column of a table.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TableColumn {
    /// Its heading.
    pub head: String,
    /// Its share of the width, against the other columns' shares.
    pub share: u16,
    /// What stands in it.
    pub holds: Holds,
}

/// What stands in a column.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Holds {
    /// Words.
    Words,
    /// Figures, set to the right.
    Figures,
    /// Nothing yet: boxes to be filled in by hand.
    Boxes,
}

impl TableColumn {
    /// A column of words.
    pub fn words(head: impl Into<String>, share: u16) -> Self {
        Self { head: head.into(), share, holds: Holds::Words }
    }

    /// A column of figures.
    pub fn figures(head: impl Into<String>, share: u16) -> Self {
        Self { head: head.into(), share, holds: Holds::Figures }
    }

    /// A column of boxes to fill in.
    pub fn boxes(head: impl Into<String>, share: u16) -> Self {
        Self { head: head.into(), share, holds: Holds::Boxes }
    }
}

/// One thing in a document.
#[derive(Clone, Debug, PartialEq)]
pub enum Block {
    /// A heading within the document.
    Heading(String),
    /// A heading under a heading.
    Subheading(String),
    /// A paragraph.
    Paragraph(String),
    /// A paragraph that must not be overlooked, in a frame.
    Notice(String),
    /// A paragraph in small letters.
    Small(String),
    /// Entries, each after a bullet.
    List(Vec<String>),
    /// Numbered steps, each with a box to tick.
    Steps(Vec<String>),
    /// What is known, in two columns.
    Facts(Vec<(String, String)>),
    /// A table; its heading comes again on every page it reaches.
    Table {
        /// Its columns.
        columns: Vec<TableColumn>,
        /// Its rows, each as long as there are columns.
        rows: Vec<Vec<String>>,
    },
    /// A picture, with its description for those who cannot see it.
    Picture(Box<Picture>),
    /// What follows starts on a new page.
    NewPage,
}

/// A whole document.
#[derive(Clone, Debug, PartialEq)]
pub struct Document {
    /// What it is called: on its first page and in its file.
    pub title: String,
    /// The language it is written in, as a BCP 47 tag.
    pub language: String,
    /// What stands at the foot of every page, beside the page's number.
    pub footer: String,
    /// The paper.
    pub paper: Paper,
    /// What it says, in reading order.
    pub blocks: Vec<Block>,
}
