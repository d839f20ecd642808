//! What closes the edges: ridge, top edge, verges, walls, eaves, and the finials.

use super::refusals::CATALOGUE;
use super::{EdgeRun, Finding, FindingKind, Handbook, SlopePlan};
use crate::roofing::catalogue::{EdgePiece, EdgeUse};
use crate::roofing::layout::pieces_along;
use crate::roofing::note::Note;
use crate::roofing::roof::{Form, Hand, Site, SlopeSite};
use crate::units::Length;

/// What closes the top of a slope.
#[derive(Clone, Copy, Debug)]
pub(super) struct Top<'a> {
    pub(super) edge: EdgeUse,
    pub(super) piece: Option<&'a EdgePiece>,
}

/// The piece over the top of a slope, where the catalogue has one that fits its pitch.
pub(super) fn top_of<'a>(site: &Site, index: usize, book: &'a Handbook) -> Top<'a> {
    let edge = match (site.form, site.wall_top) {
        (Form::TwoSlopes, _) => EdgeUse::Ridge,
        (Form::SingleSlope, true) => EdgeUse::WallTop,
        (Form::SingleSlope, false) => EdgeUse::TopEdge,
    };
    Top { edge, piece: piece_for(edge, index, site, book) }
}

fn piece_for<'a>(edge: EdgeUse, index: usize, site: &Site, book: &'a Handbook) -> Option<&'a EdgePiece> {
    // One ridge piece covers both slopes, so it must suit both.
    let covered = |slope: &usize| edge == EdgeUse::Ridge || *slope == index;
    let pitches = || {
        let slopes = site.slopes.iter().enumerate().filter(|(slope, _)| covered(slope));
        slopes.map(|(_, slope)| slope.pitch.value)
    };
    let suits = |piece: &&EdgePiece| {
        let (a, b) = piece.pitch;
        pitches().all(|pitch| (a.min(b)..=a.max(b)).contains(&pitch))
    };
    let made_for = |piece: &&EdgePiece| piece.edge == edge && piece.covering == site.covering.id;
    book.catalogue.edges.iter().filter(made_for).find(suits)
}

/// Every run of pieces, the finials, and what the catalogue has no piece for.
pub(super) fn close_edges(
    site: &Site,
    slopes: &[SlopePlan],
    book: &Handbook,
) -> (Vec<EdgeRun>, i64, Vec<Finding>) {
    let mut runs = Vec::new();
    let mut findings = Vec::new();
    let mut add =
        |edge: EdgeUse, slope: usize, hand: Option<Hand>, run: Length, own_fixings: i64| match piece_for(
            edge, slope, site, book,
        ) {
            Some(piece) => runs.push(EdgeRun {
                piece: piece.item.id.clone(),
                edge,
                slope,
                hand,
                run,
                lap: piece.lap,
                pieces: pieces_along(run, piece.length, piece.lap),
                own_fixings,
            }),
            None if site.covering.edges.contains(&edge) => findings.push(no_piece(edge, slope)),
            None => {}
        };
    for (index, plan) in slopes.iter().enumerate() {
        let eaves_to_top = plan.rafter_length + plan.eaves_overhang;
        let lines = i64::try_from(plan.lines.len()).unwrap_or(i64::MAX);
        let walls = site.walls_of(index);
        add(EdgeUse::EavesFiller, index, None, plan.covered_width, 0);
        for hand in [Hand::Left, Hand::Right] {
            let edge = if walls.contains(&hand) { EdgeUse::WallSide } else { EdgeUse::Verge };
            // A verge or side piece is held at every fixing line.
            add(edge, index, Some(hand), eaves_to_top, lines);
        }
        let top = top_of(site, index, book).edge;
        if top != EdgeUse::Ridge || index == 0 {
            add(top, index, None, plan.covered_width, 0);
        }
    }
    // A finial closes each free end of a ridge.
    let finials = match site.form {
        Form::SingleSlope => 0,
        Form::TwoSlopes if !site.covering.finials => 0,
        Form::TwoSlopes => 2 - i64::try_from(site.walls_of(0).len()).unwrap_or(0),
    };
    (runs, finials, findings)
}

/// Two slopes meet at one ridge: they climb alike, or one eaves is lower than the other.
pub(super) fn ridge_heights(site: &Site, book: &Handbook) -> Option<Finding> {
    let [front, back] = site.slopes.as_slice() else { return None };
    let climb = |slope: &SlopeSite| slope.rafter_length.value.scale(slope.pitch.value.sin());
    let (front, back) = (climb(front), climb(back));
    let agree = &book.rules.agree;
    let apart = (front - back).abs() > front.max(back) * agree.length_per_mille / 1_000;
    let whole = |length: Length| Length::from_mm(length.round_mm());
    apart.then(|| Finding {
        id: "ridge-heights-differ".to_owned(),
        kind: FindingKind::Advice,
        slope: None,
        note: Note::new("advice-ridge-heights-differ")
            .length("front", whole(front))
            .length("back", whole(back)),
        requirement: None,
        reasons: Vec::new(),
        source: agree.source.clone(),
    })
}

fn no_piece(edge: EdgeUse, slope: usize) -> Finding {
    Finding {
        id: format!("no-piece-{}", edge_word(edge)),
        kind: FindingKind::Advice,
        slope: Some(slope),
        note: Note::new("advice-no-edge-piece").word("edge", format!("edge-{}", edge_word(edge))),
        requirement: None,
        reasons: Vec::new(),
        source: CATALOGUE.to_owned(),
    }
}

/// The name of an edge in the wording.
pub(super) const fn edge_word(edge: EdgeUse) -> &'static str {
    match edge {
        EdgeUse::Ridge => "ridge",
        EdgeUse::TopEdge => "top-edge",
        EdgeUse::Verge => "verge",
        EdgeUse::WallTop => "wall-top",
        EdgeUse::WallSide => "wall-side",
        EdgeUse::EavesFiller => "eaves-filler",
    }
}
