//! What to buy: how many are needed, spares by a stated rule, packs, what is left over, weight and price.

mod bill;
mod picking;
mod sundries;
mod take_off;

pub use bill::Bill;
pub use picking::Picking;
pub use take_off::take_off;

use crate::roofing::note::Note;
use crate::units::{Area, Length, Mass, Money};

/// How a line is counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unit {
    /// Single pieces.
    Piece,
    /// Pieces of this length.
    PieceOf(Length),
}

/// One line of the shopping list.
#[derive(Clone, Debug, PartialEq)]
pub struct MaterialLine {
    /// The catalogue entry.
    pub item: String,
    /// Its name in the catalogue.
    pub name: String,
    /// What it is for, a message id.
    pub purpose: String,
    /// Single pieces, or pieces of a length.
    pub unit: Unit,
    /// How many the plan uses.
    pub needed: i64,
    /// How many more, by `spare_rule`.
    pub spare: i64,
    /// The rule that sets the spares, where one does.
    pub spare_rule: Option<String>,
    /// How many come in a pack.
    pub pack: i64,
    /// Packs to buy.
    pub packs: i64,
    /// Pieces left over when the work is done, spares included.
    pub left_over: i64,
    /// Mass of what is bought.
    pub mass: Mass,
    /// Price of what is bought, where the catalogue has one.
    pub price: Option<Money>,
}

/// Everything to buy and to have at hand.
#[derive(Clone, Debug, PartialEq)]
pub struct Materials {
    /// What is bought for the roof.
    pub lines: Vec<MaterialLine>,
    /// Tools, protective wear and access.
    pub tools: Vec<Note>,
    /// Mass of what lies on the slopes: sheets, pieces, fixings, timber, deck. What goes with the rest is left out: it
    /// weighs next to nothing, and boards hang at the edges.
    pub covering_mass: Mass,
    /// Area of the slopes.
    pub area: Area,
    /// Mass of the covering on one square metre.
    pub mass_per_m2: Mass,
    /// Sum of all prices, where every line has one in the same currency.
    pub price: Option<Money>,
}

impl Materials {
    /// The sum of the prices there are, and for how many lines there is none. `None` where no line has a price, or
    /// they are in several currencies.
    pub fn listed(&self) -> Option<(Money, usize)> {
        let priced = self.lines.iter().filter_map(|line| line.price);
        let without = self.lines.len() - priced.clone().count();
        let sum = priced.map(Some).reduce(|sum, next| sum?.plus(next?))??;
        Some((sum, without))
    }
}
