//! Colours, on light and on dark. Colour only ever helps: every meaning is also carried by a line kind, a
//! hatch or a word, so a black-and-white print says the same.

use crate::drawing::picture::{Fill, Pen};

/// The colours of one background.
pub(crate) struct Palette {
    pub(crate) paper: &'static str,
    pub(crate) ink: &'static str,
    pub(crate) dimension: &'static str,
    pub(crate) sheet: &'static str,
    pub(crate) timber: &'static str,
    pub(crate) deck: &'static str,
}

/// On white paper.
pub(crate) const LIGHT: Palette = Palette {
    paper: "#ffffff",
    ink: "#1a1a1a",
    dimension: "#234f8c",
    sheet: "#e3ebe6",
    timber: "#ead6b4",
    deck: "#f5ecda",
};

/// On a dark screen.
pub(crate) const DARK: Palette = Palette {
    paper: "#15191c",
    ink: "#ededed",
    dimension: "#93bbf0",
    sheet: "#2b3934",
    timber: "#5a4a2e",
    deck: "#3b3426",
};

impl Palette {
    /// The colour of a line.
    pub(crate) const fn line(&self, pen: Pen) -> &'static str {
        match pen {
            Pen::Edge | Pen::Fine | Pen::Hidden | Pen::Centre | Pen::Cut | Pen::Bold => self.ink,
            Pen::Dimension => self.dimension,
        }
    }

    /// The colour of an area; `None` where it is empty or hatched.
    pub(crate) const fn area(&self, fill: Fill) -> Option<&'static str> {
        match fill {
            Fill::None | Fill::Hatch(_) => None,
            Fill::Paper => Some(self.paper),
            Fill::Ink => Some(self.ink),
            Fill::Sheet => Some(self.sheet),
            Fill::Timber => Some(self.timber),
            Fill::Deck => Some(self.deck),
        }
    }
}
