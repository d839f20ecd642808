//! What could be bought when a plan was made.

use super::codec::{fields, words};
use crate::roofing::catalogue::{AreaPiece, AreaUse, Catalogue, EdgePiece, Fastener, Item, Sheet, Timber};

fields!(Catalogue {
    version,
    demo,
    prices_from,
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
fields!(Fastener { item, usage, length, diameter });
fields!(EdgePiece { item, edge, length, lap, wing, pitch });
fields!(Timber { item, width, depth, stock, mass_per_m, price_per_m });
fields!(AreaPiece { item, usage, length, width, thickness, lap });
words!(AreaUse { Underlay = "underlay", Insulation = "insulation", Deck = "deck" });
