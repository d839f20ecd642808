//! Slopes laid out, as a kept plan has them.

use serde_json::Value;

use super::codec::{Keep, fields, words};
use crate::roofing::catalogue::{EdgeUse, FastenerUse};
use crate::roofing::fixings::Fixing;
use crate::roofing::laid::{EdgeRun, LongNail, Screws, SlopePlan};
use crate::roofing::layout::{
    BoughtSheet, Column, Course, CutPlan, Line, LineKind, Piece, PurlinPiece, SupportPlan,
};

fields!(SlopePlan {
    requirements,
    support,
    covered_width,
    rafter_length,
    eaves_overhang,
    verge_overhang,
    far_verge_overhang,
    end_lap,
    side_lap,
    lines,
    courses,
    columns,
    staggered,
    start_from,
    cuts,
    fixings,
    fixed_by,
    nail,
    nail_length,
    nail_bite,
    purlin_timber,
    purlin_pieces,
    screws,
    deck_boards,
} later { long_nail = None });
fields!(LongNail { nail, length, bite });
fields!(Line { y, kind });
fields!(Course { from, to, top_is_lapped });
fields!(Column { number, first_corrugation, corrugations, from, to });
fields!(CutPlan { sheets, cuts, sheets_at_least, cuts_proven });
fields!(BoughtSheet { number, length, pieces, for_back, cuts });
fields!(Piece { course, column, length, corrugations, at, at_corrugation });
fields!(PurlinPiece { line, from, to, stock, stock_number });
fields!(Fixing { x, y, line, through_edge_piece });
fields!(Screws { screw, length, usage, count });
fields!(EdgeRun { piece, edge, slope, hand, run, lap, pieces, own_fixings });
words!(LineKind { Eaves = "eaves", EndLap = "end_lap", Intermediate = "between", Top = "top" });
words!(FastenerUse {
    SheetNail = "sheet_nail", SheetScrew = "sheet_screw", DeckScrew = "deck_screw", PurlinScrew = "purlin_screw",
});
words!(EdgeUse {
    Ridge = "ridge", TopEdge = "top_edge", Verge = "verge", WallTop = "wall_top", WallSide = "wall_side",
    EavesFiller = "eaves_filler",
});

impl Keep for SupportPlan {
    fn keep(&self) -> Value {
        match self {
            Self::Purlins => Value::Array(vec![Value::from("purlins")]),
            Self::PurlinsOverDeck { deck, screw, screw_length } => {
                Value::Array(vec![Value::from("over_deck"), deck.keep(), screw.keep(), screw_length.keep()])
            }
            Self::ExistingDeck { deck } => Value::Array(vec![Value::from("deck"), deck.keep()]),
            Self::NewFullDeck { board, thickness } => {
                Value::Array(vec![Value::from("new_deck"), board.keep(), thickness.keep()])
            }
        }
    }

    fn again(value: &Value) -> Option<Self> {
        let (kind, parts) = value.as_array()?.split_first()?;
        match (kind.as_str()?, parts) {
            ("purlins", []) => Some(Self::Purlins),
            ("over_deck", [deck, screw, length]) => Some(Self::PurlinsOverDeck {
                deck: Keep::again(deck)?,
                screw: Keep::again(screw)?,
                screw_length: Keep::again(length)?,
            }),
            ("deck", [deck]) => Some(Self::ExistingDeck { deck: Keep::again(deck)? }),
            ("new_deck", [board, thickness]) => {
                Some(Self::NewFullDeck { board: Keep::again(board)?, thickness: Keep::again(thickness)? })
            }
            _ => None,
        }
    }
}
