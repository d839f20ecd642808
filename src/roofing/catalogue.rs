//! What can be bought, as the adviser's catalogue lists it.
//!
//! Sizes are nominal, as printed on labels. Names are the adviser's own text. The shipped catalogue is an
//! invented demo range.

use crate::units::{Angle, Length, Mass, Money};

/// What every entry has.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// The id other entries and the plan refer to.
    pub id: String,
    /// What the supplier's picker reads.
    pub name: String,
    /// How many come in one pack (1 for what is sold singly).
    pub pack: i64,
    /// Mass of one piece.
    pub mass: Mass,
    /// Price of one pack, where the catalogue has one.
    pub price: Option<Money>,
}

/// A corrugated sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Sheet {
    /// Id, name, pack, mass, price.
    pub item: Item,
    /// The rules file that governs it, `corrugated_bitumen` for one.
    pub covering: String,
    /// Up the slope.
    pub length: Length,
    /// Across, edge to edge.
    pub width: Length,
    /// Corrugations across the whole width.
    pub corrugations: i64,
    /// Crown to crown; `width` is `corrugations` times this.
    pub corrugation_pitch: Length,
    /// Trough to crown.
    pub corrugation_height: Length,
    /// The shortest piece worth laying.
    pub min_piece: Length,
    /// How much longer than needed a piece may be left where the extra is hidden under a lap.
    pub max_extra_lap: Length,
    /// Whether the last column may lap further instead of being ripped.
    pub extra_side_lap: bool,
    /// Whether side joints of one course are staggered against the next.
    pub stagger: bool,
}

impl Sheet {
    /// What one sheet covers across, with this many corrugations lapped.
    pub fn cover_width(&self, side_lap: i64) -> Length {
        self.corrugation_pitch * (self.corrugations - side_lap)
    }
}

/// What a fastener is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum FastenerUse {
    /// Nail through the sheet's crown into timber.
    SheetNail,
    /// Screw through a deck into a purlin from inside.
    DeckScrew,
    /// Screw through a purlin into the timber below, from outside.
    PurlinScrew,
}

/// A nail or a screw.
#[derive(Clone, Debug, PartialEq)]
pub struct Fastener {
    /// Id, name, pack, mass, price.
    pub item: Item,
    /// What it is for.
    pub usage: FastenerUse,
    /// Under the head to the point.
    pub length: Length,
    /// Of the shank.
    pub diameter: Length,
}

/// A formed piece that is laid along an edge, lapped one over the next.
#[derive(Clone, Debug, PartialEq)]
pub struct EdgePiece {
    /// Id, name, pack, mass, price.
    pub item: Item,
    /// Which edge it is for.
    pub edge: EdgeUse,
    /// As bought.
    pub length: Length,
    /// How far one laps the next.
    pub lap: Length,
    /// How far it reaches over the sheet, along the slope from the edge.
    pub wing: Length,
    /// The steepest and flattest pitch it fits.
    pub pitch: (Angle, Angle),
}

/// Which edge a piece is made for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum EdgeUse {
    /// Over the ridge of two slopes.
    Ridge,
    /// Over the top edge of a single slope.
    TopEdge,
    /// Down a verge.
    Verge,
    /// Where the top edge meets a wall.
    WallTop,
    /// Where a side meets a wall.
    WallSide,
    /// Under the sheets at the eaves, closing the corrugations.
    EavesFiller,
}

/// A length of timber.
#[derive(Clone, Debug, PartialEq)]
pub struct Timber {
    /// Id, name, pack, mass per metre is `mass_per_m`; the item's own mass is not used.
    pub item: Item,
    /// Across the slope's line: the face the sheet lies on.
    pub width: Length,
    /// Square to the slope.
    pub depth: Length,
    /// The lengths it is sold in, shortest first.
    pub stock: Vec<Length>,
    /// Mass of one metre.
    pub mass_per_m: Mass,
    /// Price of one metre, where the catalogue has one.
    pub price_per_m: Option<Money>,
}

/// Something that covers an area: underlay on a roll, a board of insulation, a board of deck.
#[derive(Clone, Debug, PartialEq)]
pub struct AreaPiece {
    /// Id, name, pack, mass, price.
    pub item: Item,
    /// What it is for.
    pub usage: AreaUse,
    /// The longer side.
    pub length: Length,
    /// The shorter side.
    pub width: Length,
    /// Through it.
    pub thickness: Length,
    /// How far one laps the next, both ways.
    pub lap: Length,
}

/// What an area piece is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum AreaUse {
    /// Membrane laid on the deck.
    Underlay,
    /// Boards between the purlins.
    Insulation,
    /// Boards that make a full deck.
    Deck,
}

/// Everything that can be bought.
#[derive(Clone, Debug, PartialEq)]
pub struct Catalogue {
    /// The adviser's version of it, printed on every plan.
    pub version: String,
    /// Whether it is the invented demo range, said on every plan that uses it.
    pub demo: bool,
    /// Prices as of this date, `2026-11-25`.
    pub prices_from: String,
    /// Sheets on offer; the first stands in where the person has none.
    pub sheets: Vec<Sheet>,
    /// Nails and screws.
    pub fasteners: Vec<Fastener>,
    /// Ridge, verge, wall and eaves pieces.
    pub edges: Vec<EdgePiece>,
    /// Purlin timber; the first is used unless a rule asks otherwise.
    pub timbers: Vec<Timber>,
    /// Underlay, insulation, deck.
    pub areas: Vec<AreaPiece>,
    /// The finial at each ridge end.
    pub finial: Item,
    /// Message ids of the tools to have at hand.
    pub tools: Vec<String>,
    /// Message ids of what to wear and to stand on.
    pub protective: Vec<String>,
}
