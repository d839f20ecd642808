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
    /// What a counter must know beside name and sizes, in the adviser's words: kind, grade, treatment, shank, head,
    /// coating. Empty where the name says it all.
    pub spec: String,
    /// How many come in one pack (1 for what is sold singly).
    pub pack: i64,
    /// Mass of one piece.
    pub mass: Mass,
    /// Price of one pack, where the catalogue has one.
    pub price: Option<Money>,
}

/// How the sheets of a covering are held down.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum FixingMethod {
    /// Nailed through the tops of the corrugations.
    NailThroughCrown,
    /// Screwed, with a washer, in the hollows between them.
    ScrewInPan,
    /// Screwed, with a washer, through the tops.
    ScrewThroughCrown,
}

impl FixingMethod {
    /// The nail or screw it takes.
    pub const fn fastener(self) -> FastenerUse {
        match self {
            Self::NailThroughCrown => FastenerUse::SheetNail,
            Self::ScrewInPan | Self::ScrewThroughCrown => FastenerUse::SheetScrew,
        }
    }

    /// Whether it stands in the hollows.
    pub const fn is_in_pan(self) -> bool {
        match self {
            Self::ScrewInPan => true,
            Self::NailThroughCrown | Self::ScrewThroughCrown => false,
        }
    }

    /// How much of the nail or screw is above the timber.
    pub const fn above_timber(self, corrugation_height: Length) -> Length {
        if self.is_in_pan() { Length::ZERO } else { corrugation_height }
    }
}

/// How the sheets of a covering are bought.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum StockMethod {
    /// In one length, and cut by hand.
    CutFromStock,
    /// In the length that is wanted, up to the sheet's; mass and price of the sheet are those of a metre.
    OrderedToLength,
}

/// A kind of covering: how its sheets are fixed and bought, and what belongs to it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Covering {
    /// The id that sheets, pieces, fixings and rules refer to.
    pub id: String,
    /// What people call it.
    pub name: String,
    /// How its sheets are held down.
    pub fixing: FixingMethod,
    /// How its sheets are bought.
    pub stock: StockMethod,
    /// Whether its sheets may lie on a deck and be fixed into that; else they want purlins.
    pub on_deck: bool,
    /// The edges that are closed by a piece.
    pub edges: Vec<EdgeUse>,
    /// Whether a finial closes each free end of a ridge.
    pub finials: bool,
    /// The sentences that differ for it, as a variant of a language: `screwed` for `words/en-screwed/`.
    pub wording: Option<String>,
}

/// A corrugated sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Sheet {
    /// Id, name, pack, mass, price.
    pub item: Item,
    /// The covering it is of, by id.
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
    /// Through it: each layer lifts a nail's head by so much.
    pub thickness: Length,
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
    /// Screw with a washer through the sheet into timber.
    SheetScrew,
    /// Screw through a deck into a purlin from inside.
    DeckScrew,
    /// Screw through a purlin into the timber below, from outside.
    PurlinScrew,
}

/// What holds a fastener in the wood.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Shank {
    /// A plain round nail.
    Smooth,
    /// A nail with rings.
    Ringed,
    /// A nail that is twisted.
    Twisted,
    /// The thread of a screw.
    Threaded,
}

/// What keeps rust off a fastener.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Coating {
    /// Nothing.
    Bare,
    /// A thin, electroplated coat of zinc.
    ZincPlated,
    /// A thick, hot-dipped coat of zinc.
    HotDipGalvanised,
    /// It is of stainless steel.
    Stainless,
}

/// A characteristic withdrawal parameter, f<sub>ax,k</sub> of EN 14592, as a maker declares it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Withdrawal {
    kpa: i64,
}

impl Withdrawal {
    /// From whole kilopascals: 4 500 for 4.5 N/mm².
    pub const fn from_kpa(kpa: i64) -> Self {
        Self { kpa }
    }

    /// In whole kilopascals.
    pub const fn kpa(self) -> i64 {
        self.kpa
    }

    /// In N/mm².
    pub fn n_per_mm2(self) -> f64 {
        f64::from(i32::try_from(self.kpa).unwrap_or(i32::MAX)) / 1e3
    }
}

/// A nail or a screw.
#[derive(Clone, Debug, PartialEq)]
pub struct Fastener {
    /// Id, name, pack, mass, price.
    pub item: Item,
    /// What it is for.
    pub usage: FastenerUse,
    /// The covering whose sheets it holds, by id; `None` where it holds no sheets.
    pub covering: Option<String>,
    /// Under the head to the point.
    pub length: Length,
    /// Of the shank.
    pub diameter: Length,
    /// What holds it in the wood.
    pub shank: Shank,
    /// Across the head, or across the washer or cap under it.
    pub head: Length,
    /// What keeps rust off it.
    pub coating: Coating,
    /// How hard it is to pull out, where its maker declares that.
    pub withdrawal: Option<Withdrawal>,
}

/// A formed piece that is laid along an edge, lapped one over the next.
#[derive(Clone, Debug, PartialEq)]
pub struct EdgePiece {
    /// Id, name, pack, mass, price.
    pub item: Item,
    /// The covering it is made for, by id.
    pub covering: String,
    /// Which edge it is for.
    pub edge: EdgeUse,
    /// As bought.
    pub length: Length,
    /// How far one laps the next.
    pub lap: Length,
    /// From its fold to its edge: up or down the slope, or across it.
    pub wing: Length,
    /// Through it.
    pub thickness: Length,
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
    /// The strength class printed on it, `C24`, where the catalogue has one.
    pub class: Option<String>,
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
    /// What a board of deck is made of, where the catalogue says so.
    pub board: Option<Board>,
}

/// What a deck is made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Board {
    /// Sawn boards side by side.
    Boards,
    /// Plies.
    Plywood,
    /// Oriented strands, type 3 of EN 300: for damp places.
    Osb3,
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

/// Something small that goes with the rest, and is counted along with it.
#[derive(Clone, Debug, PartialEq)]
pub struct Sundry {
    /// Id, name, pack, mass, price.
    pub item: Item,
    /// What it is for.
    pub usage: SundryUse,
    /// How long one is: a nail under its head, a board, the tape on a roll, the bead out of one cartridge.
    pub length: Length,
}

/// What a sundry is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum SundryUse {
    /// Holds the underlay to the deck.
    UnderlayStaple,
    /// Closes the laps of the underlay.
    UnderlayTape,
    /// Holds the boards of a new deck.
    DeckBoardScrew,
    /// Covers the ends of purlins and the sheets' edge at a free verge.
    BargeBoard,
    /// Covers the ends of rafters at the eaves.
    Fascia,
    /// Holds barge boards and fascia.
    EdgeBoardScrew,
    /// Holds a flashing to its wall.
    FlashingFixing,
    /// Closes a flashing against its wall.
    FlashingSealant,
    /// Holds a finial.
    FinialNail,
}

impl SundryUse {
    /// Every use, by the name the adviser writes, in the order of the list.
    pub const NAMED: [(&'static str, Self); 9] = [
        ("underlay_staple", Self::UnderlayStaple),
        ("underlay_tape", Self::UnderlayTape),
        ("deck_board_screw", Self::DeckBoardScrew),
        ("barge_board", Self::BargeBoard),
        ("fascia", Self::Fascia),
        ("edge_board_screw", Self::EdgeBoardScrew),
        ("flashing_fixing", Self::FlashingFixing),
        ("flashing_sealant", Self::FlashingSealant),
        ("finial_nail", Self::FinialNail),
    ];

    /// The message that says what it is for.
    pub const fn purpose(self) -> &'static str {
        match self {
            Self::UnderlayStaple => "material-underlay-staples",
            Self::UnderlayTape => "material-underlay-tape",
            Self::DeckBoardScrew => "material-deck-board-screws",
            Self::BargeBoard => "material-barge-boards",
            Self::Fascia => "material-fascia",
            Self::EdgeBoardScrew => "material-edge-board-screws",
            Self::FlashingFixing => "material-flashing-fixings",
            Self::FlashingSealant => "material-flashing-sealant",
            Self::FinialNail => "material-finial-nails",
        }
    }
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
    /// The coverings there are rules and goods for.
    pub coverings: Vec<Covering>,
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
    /// What goes with the rest: staples, tape, sealant, boards for the edges.
    pub sundries: Vec<Sundry>,
    /// Message ids of the tools to have at hand.
    pub tools: Vec<String>,
    /// Message ids of what to wear and to stand on.
    pub protective: Vec<String>,
}

impl Catalogue {
    /// The covering of that id.
    pub fn covering(&self, id: &str) -> Option<&Covering> {
        self.coverings.iter().find(|covering| covering.id == id)
    }

    /// The covering there is no choice about.
    pub fn only_covering(&self) -> Option<&Covering> {
        match self.coverings.as_slice() {
            [only] => Some(only),
            _ => None,
        }
    }
}
