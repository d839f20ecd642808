//! What a nail or screw goes through before it reaches timber: sheets that lap, and pieces on top of them.

use crate::units::Length;

/// How much of a nail or screw is above the timber: where the fewest layers lie, and where the most do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Above {
    /// Where the fewest lie.
    pub fewest: Length,
    /// Where the most lie.
    pub most: Length,
}

impl Above {
    /// Both places together.
    fn and(self, other: Self) -> Self {
        Self { fewest: self.fewest.min(other.fewest), most: self.most.max(other.most) }
    }
}

/// The layers of one slope.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Layers {
    /// How much of a nail or screw is above the timber, the sheets thought away: the height of the corrugations, where
    /// it goes through their tops.
    pub base: Length,
    /// Through one sheet.
    pub sheet: Length,
    /// Whether sheets lap at their sides.
    pub side_laps: bool,
    /// Whether sheets lap at their ends.
    pub end_laps: bool,
    /// Whether the top line stands where they do.
    pub top_on_lap: bool,
    /// Through the piece along the top that shares the nails of the top line, where there is one.
    pub top_piece: Option<Length>,
    /// Through the thickest piece along an end, where there is one.
    pub end_piece: Option<Length>,
}

impl Layers {
    /// On a line without end laps or pieces: one sheet, and two where they lap.
    pub fn plain(&self) -> Above {
        let courses = if self.top_piece.is_none() { self.at_top() } else { 1 };
        Above { fewest: self.base + self.sheet, most: self.base + self.sheet * courses * self.side_by_side() }
    }

    /// On end laps and under pieces: each course counts, and pieces lap one another.
    pub fn stacked(&self) -> Option<Above> {
        let end_laps = self.end_laps.then(|| Above {
            fewest: self.base + self.sheet * 2,
            most: self.base + self.sheet * 2 * self.side_by_side(),
        });
        let under = |piece: Length, most_sheets: i64| Above {
            fewest: self.base + self.sheet + piece,
            most: self.base + self.sheet * most_sheets + piece * 2,
        };
        let top = self.top_piece.map(|piece| under(piece, self.at_top() * self.side_by_side()));
        let courses = if self.end_laps { 2 } else { 1 };
        let ends = self.end_piece.map(|piece| under(piece, courses));
        [end_laps, top, ends].into_iter().flatten().reduce(Above::and)
    }

    /// Anywhere on the slope.
    pub fn anywhere(&self) -> Above {
        self.stacked().map_or(self.plain(), |stacked| stacked.and(self.plain()))
    }

    /// How many courses lie on the top line.
    const fn at_top(&self) -> i64 {
        if self.top_on_lap { 2 } else { 1 }
    }

    const fn side_by_side(&self) -> i64 {
        if self.side_laps { 2 } else { 1 }
    }
}
