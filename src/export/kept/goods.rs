//! What could be bought when a plan was made.

use super::codec::{Keep, fields, words};
use crate::roofing::catalogue::{
    AreaPiece, AreaUse, Board, Catalogue, Coating, Covering, EdgePiece, Fastener, FixingMethod, Item, Shank,
    Sheet, StockMethod, Sundry, SundryUse, Timber, Withdrawal,
};
use crate::units::Length;

fields!(Catalogue {
    version,
    demo,
    prices_from,
    coverings,
    sheets,
    fasteners,
    edges,
    timbers,
    areas,
    finial,
    tools,
    protective,
} later { sundries = Vec::new() });
fields!(Item { id, name, pack, mass, price } later { spec = String::new() });
fields!(Sheet {
    item,
    covering,
    length,
    width,
    corrugations,
    corrugation_pitch,
    corrugation_height,
    min_piece,
    max_extra_lap,
    extra_side_lap,
    stagger,
} later { thickness = Length::ZERO });
// Nobody wrote down then of what kind a nail was: it counts as the weakest.
fields!(Fastener { item, usage, covering, length, diameter } later {
    shank = Shank::Smooth, head = Length::ZERO, coating = Coating::Bare, withdrawal = None,
});
fields!(Timber { item, width, depth, stock, mass_per_m, price_per_m } later { class = None });
fields!(AreaPiece { item, usage, length, width, thickness, lap } later { board = None });
fields!(Sundry { item, usage, length });
fields!(EdgePiece { item, covering, edge, length, lap, wing, pitch } later { thickness = Length::ZERO });
fields!(Covering { id, name, fixing, stock, on_deck, edges, finials, wording });
words!(FixingMethod {
    NailThroughCrown = "nail_through_crown", ScrewInPan = "screw_in_pan",
    ScrewThroughCrown = "screw_through_crown",
});
words!(StockMethod { CutFromStock = "cut_from_sheets", OrderedToLength = "ordered_to_length" });
words!(Board { Boards = "boards", Plywood = "plywood", Osb3 = "osb3" });
words!(AreaUse { Underlay = "underlay", Insulation = "insulation", Deck = "deck" });
words!(SundryUse {
    UnderlayStaple = "underlay_staple", UnderlayTape = "underlay_tape", DeckBoardScrew = "deck_board_screw",
    BargeBoard = "barge_board", Fascia = "fascia", EdgeBoardScrew = "edge_board_screw",
    FlashingFixing = "flashing_fixing", FlashingSealant = "flashing_sealant", FinialNail = "finial_nail",
});
words!(Shank { Smooth = "smooth", Ringed = "ringed", Twisted = "twisted", Threaded = "threaded" });
words!(Coating {
    Bare = "bare", ZincPlated = "zinc_plated", HotDipGalvanised = "hot_dip_galvanised", Stainless = "stainless",
});

impl Keep for Withdrawal {
    fn keep(&self) -> serde_json::Value {
        self.kpa().keep()
    }

    fn again(value: &serde_json::Value) -> Option<Self> {
        i64::again(value).map(Self::from_kpa)
    }
}
