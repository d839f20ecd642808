//! What kinds of measurement a roof is asked for, and which sizes of each are believable.

use super::{Angle, Length};

/// A kind of measurement, with its own band of believable sizes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Quantity {
    /// Along the eaves, 800–20 000 mm.
    Length,
    /// Across the building, 800–15 000 mm.
    Width,
    /// Up the slope, 800–10 000 mm.
    SlopeLength,
    /// From the ground or floor, 1 000–8 000 mm.
    Height,
    /// How much the roof climbs, 50–6 000 mm.
    Rise,
    /// Thickness of boards, 3–50 mm.
    DeckThickness,
    /// Centre to centre of timbers, 150–1 500 mm.
    Spacing,
    /// Past a wall or an edge, 0–300 mm.
    Overhang,
    /// Length of one bought sheet, 500–6 000 mm.
    SheetLength,
    /// Width of one bought sheet, 300–2 000 mm.
    SheetWidth,
    /// From trough to crown of one corrugation, 10–100 mm.
    CorrugationHeight,
    /// Width or depth of a timber, 20–400 mm.
    TimberSize,
    /// Steepness, 0–60°.
    Pitch,
}

impl Quantity {
    /// The believable sizes of a length, both ends included; `None` for a pitch.
    pub const fn length_band(self) -> Option<(Length, Length)> {
        let (low, high) = match self {
            Self::Length => (800, 20_000),
            Self::Width => (800, 15_000),
            Self::SlopeLength => (800, 10_000),
            Self::Height => (1_000, 8_000),
            Self::Rise => (50, 6_000),
            Self::DeckThickness => (3, 50),
            Self::Spacing => (150, 1_500),
            Self::Overhang => (0, 300),
            Self::SheetLength => (500, 6_000),
            Self::SheetWidth => (300, 2_000),
            Self::CorrugationHeight => (10, 100),
            Self::TimberSize => (20, 400),
            Self::Pitch => return None,
        };
        Some((Length::from_mm(low), Length::from_mm(high)))
    }

    /// The believable pitches, both ends included.
    pub const fn pitch_band() -> (Angle, Angle) {
        (Angle::ZERO, Angle::from_deg(60))
    }
}

/// The units a person thinks in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum UsualUnit {
    /// Millimetres for everything.
    Mm,
    /// Metres for the large, millimetres for the small.
    M,
    /// Feet and inches for the large, inches for the small.
    FtIn,
}
