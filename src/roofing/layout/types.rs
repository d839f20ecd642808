//! What a laid-out slope is made of.
//!
//! # Units
//! `x` runs along the eaves from the left-hand barge board, seen by somebody facing the eaves from outside;
//! `y` runs up the slope from the eaves edge of the roof (the end of rafters or deck). Sheets start below zero
//! by their overhangs.

use crate::units::Length;

/// What carries the sheets of one slope.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum SupportPlan {
    /// New purlins across rafters, or beside the purlins that are there.
    Purlins,
    /// New purlins laid over a deck too thin to hold the nails, screwed from inside.
    PurlinsOverDeck {
        /// The deck as found.
        deck: Length,
        /// The deck screw's catalogue id.
        screw: String,
        /// The screw's length.
        screw_length: Length,
    },
    /// The deck that is there takes the nails.
    ExistingDeck {
        /// The deck as found.
        deck: Length,
    },
    /// A full deck is to be fitted first.
    NewFullDeck {
        /// The deck board's catalogue id.
        board: String,
        /// Its thickness.
        thickness: Length,
    },
}

/// What a fixing line is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum LineKind {
    /// The lowest line.
    Eaves,
    /// Under an end lap.
    EndLap,
    /// Between the others.
    Intermediate,
    /// The highest line, under the ridge piece's wing, the top edge or the wall flashing.
    Top,
}

/// A purlin's centre line, or a nail line on a deck.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Line {
    /// Height up the slope of its centre; a whole number of millimetres.
    pub y: Length,
    /// What it is.
    pub kind: LineKind,
}

/// One course of sheets, lowest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Course {
    /// Lower edge of its pieces.
    pub from: Length,
    /// Upper edge of its pieces.
    pub to: Length,
    /// Whether its upper edge lies under the next course.
    pub top_is_lapped: bool,
}

impl Course {
    /// How long its pieces are.
    pub fn length(&self) -> Length {
        self.to - self.from
    }

    /// Whether its pieces lie at this height, their edges included.
    pub fn lies_at(&self, height: Length) -> bool {
        (self.from..=self.to).contains(&height)
    }
}

/// One column of sheets.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Column {
    /// Its number in laying order, from 1.
    pub number: usize,
    /// The corrugation of the roof it starts with, counted from the left from 0.
    pub first_corrugation: i64,
    /// How many corrugations wide its pieces are laid.
    pub corrugations: i64,
    /// Left edge.
    pub from: Length,
    /// Right edge.
    pub to: Length,
}

/// One piece of sheet, and where it goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Piece {
    /// Index into the slope's courses.
    pub course: usize,
    /// Index into the slope's columns.
    pub column: usize,
    /// Cut length (may exceed the course's length by what a lap hides).
    pub length: Length,
    /// Cut width in corrugations.
    pub corrugations: i64,
    /// Where it lies on its bought sheet: from the sheet's lower end.
    pub at: Length,
    /// Where it lies on its bought sheet: first corrugation from the sheet's left edge.
    pub at_corrugation: i64,
}

/// One bought sheet and what is cut from it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BoughtSheet {
    /// Its number, from 1, in the order of laying its first piece, course by course; the back slope's sheets are
    /// numbered on from the front slope's.
    pub number: usize,
    /// How long it is bought, to the millimetre.
    pub length: Length,
    /// Its pieces on the slope it is begun for.
    pub pieces: Vec<Piece>,
    /// The pieces that the back slope gets out of what the front one leaves over.
    pub for_back: Vec<Piece>,
    /// Straight edge-to-edge cuts it takes.
    pub cuts: usize,
}

impl BoughtSheet {
    /// Every piece that is cut from it, in laying order.
    pub fn all_pieces(&self) -> impl Iterator<Item = &Piece> + Clone {
        self.pieces.iter().chain(&self.for_back)
    }

    /// What is written on each of [`Self::all_pieces`]: the sheet's number, with a letter where there are several.
    pub fn labels(&self) -> impl Iterator<Item = String> {
        let (number, pieces) = (self.number, self.pieces.len() + self.for_back.len());
        (0..pieces).map(move |place| {
            let letter = u8::try_from(place).ok().and_then(|place| b'a'.checked_add(place));
            match letter.filter(u8::is_ascii_lowercase) {
                Some(letter) if pieces > 1 => format!("{number}{}", char::from(letter)),
                None if pieces > 1 => format!("{number}-{}", place + 1),
                Some(_) | None => number.to_string(),
            }
        })
    }
}

/// How the pieces of a slope come out of bought sheets.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CutPlan {
    /// The sheets to buy for this slope.
    pub sheets: Vec<BoughtSheet>,
    /// Straight cuts in all.
    pub cuts: usize,
    /// No way needs fewer sheets than this; equal to `sheets.len()` when proven the least. Where slopes share
    /// offcuts: no way, with as many sheets on the other slope.
    pub sheets_at_least: usize,
    /// Whether the number of cuts is proven the least for that number of sheets.
    pub cuts_proven: bool,
}

/// One length of purlin timber as it is cut and laid.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PurlinPiece {
    /// Index into the slope's lines.
    pub line: usize,
    /// Left end.
    pub from: Length,
    /// Right end.
    pub to: Length,
    /// The stock length it is cut from.
    pub stock: Length,
    /// The number of that stock length, from 1: pieces with the same number share it.
    pub stock_number: usize,
}
