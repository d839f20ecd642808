//! What could be bought when a plan was made.

use super::codec::{fields, words};
use crate::roofing::catalogue::{
    AreaPiece, AreaUse, Board, Catalogue, Covering, EdgePiece, Fastener, FixingMethod, Item, Sheet,
    StockMethod, Timber,
};

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
});
fields!(Item { id, name, pack, mass, price });
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
});
fields!(Fastener { item, usage, covering, length, diameter });
fields!(EdgePiece { item, covering, edge, length, lap, wing, pitch });
fields!(Timber { item, width, depth, stock, mass_per_m, price_per_m } later { class = None });
fields!(AreaPiece { item, usage, length, width, thickness, lap } later { board = None });
fields!(Covering { id, name, fixing, stock, on_deck, edges, finials, wording });
words!(FixingMethod {
    NailThroughCrown = "nail_through_crown", ScrewInPan = "screw_in_pan",
    ScrewThroughCrown = "screw_through_crown",
});
words!(StockMethod { CutFromStock = "cut_from_sheets", OrderedToLength = "ordered_to_length" });
words!(Board { Boards = "boards", Plywood = "plywood", Osb3 = "osb3" });
words!(AreaUse { Underlay = "underlay", Insulation = "insulation", Deck = "deck" });
