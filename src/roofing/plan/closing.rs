//! What closes the edges: ridge, top edge, verges, walls, eaves, and the finials.

use super::refusals::CATALOGUE;
use super::{EdgeRun, Finding, FindingKind, Handbook, SlopePlan};
use crate::roofing::catalogue::{EdgePiece, EdgeUse};
use crate::roofing::layout::pieces_along;
use crate::roofing::note::Note;
use crate::roofing::roof::{Edge, Face, Form, Hand, Site, SlopeSite};
use crate::units::{Angle, Length};

/// What closes an edge of a face; `None` where no piece is made for it.
pub(super) const fn closed_by(edge: Edge) -> Option<EdgeUse> {
    match edge {
        Edge::Eaves => Some(EdgeUse::EavesFiller),
        Edge::Ridge => Some(EdgeUse::Ridge),
        Edge::Top => Some(EdgeUse::TopEdge),
        Edge::TopAbutment => Some(EdgeUse::WallTop),
        Edge::Verge(_) => Some(EdgeUse::Verge),
        Edge::SideAbutment(_) => Some(EdgeUse::WallSide),
        Edge::Hip(_) | Edge::Valley(_) => None,
    }
}

/// The pieces for an edge that suit the pitch, the first listed first.
pub(super) fn pieces_for<'a>(
    edge: EdgeUse,
    index: usize,
    site: &Site,
    book: &'a Handbook,
) -> impl Iterator<Item = &'a EdgePiece> {
    // One ridge piece covers both slopes, so it must suit both.
    let slopes = site.slopes.iter().enumerate();
    let covered = slopes.filter(|(slope, _)| edge == EdgeUse::Ridge || *slope == index);
    let pitches: Vec<Angle> = covered.map(|(_, slope)| slope.pitch.value).collect();
    let covering = site.covering.id.clone();
    book.catalogue.edges.iter().filter(move |piece| {
        let (a, b) = piece.pitch;
        let suits = pitches.iter().all(|pitch| (a.min(b)..=a.max(b)).contains(pitch));
        piece.edge == edge && piece.covering == covering && suits
    })
}

/// Through the thickest piece along an end of a slope, where there is one: its nails go through the sheets.
pub(super) fn thickest_end(site: &Site, index: usize, book: &Handbook) -> Option<Length> {
    let ends = site.edges(Face::at(index)).into_iter().filter_map(|edge| match edge {
        Edge::Verge(_) | Edge::SideAbutment(_) => closed_by(edge),
        Edge::Eaves | Edge::Ridge | Edge::Top | Edge::TopAbutment | Edge::Hip(_) | Edge::Valley(_) => None,
    });
    ends.filter_map(|edge| pieces_for(edge, index, site, book).next()).map(|piece| piece.thickness).max()
}

/// Every run of pieces, the finials, and what the catalogue has no piece for.
pub(super) fn close_edges(
    site: &Site,
    slopes: &[SlopePlan],
    top: Option<&EdgePiece>,
    book: &Handbook,
) -> (Vec<EdgeRun>, i64, Vec<Finding>) {
    let mut runs = Vec::new();
    let mut findings = Vec::new();
    let mut add =
        |edge: EdgeUse, slope: usize, hand: Option<Hand>, run: Length, own_fixings: i64| match piece_of(
            edge, slope, top, site, book,
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
        for edge in site.edges(Face::at(index)) {
            let Some(piece) = closed_by(edge) else { continue };
            match edge {
                Edge::Eaves | Edge::Top | Edge::TopAbutment => {
                    add(piece, index, None, plan.covered_width, 0);
                }
                // One run closes the ridge for both faces.
                Edge::Ridge if Face::at(index) == Face::Front => {
                    add(piece, index, None, plan.covered_width, 0);
                }
                Edge::Ridge => {}
                // A piece along an end is held at every fixing line.
                Edge::Verge(hand) | Edge::SideAbutment(hand) | Edge::Hip(hand) | Edge::Valley(hand) => {
                    add(piece, index, Some(hand), eaves_to_top, lines);
                }
            }
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

/// The piece for an edge: along the top the one that was found to reach, else the first that suits.
fn piece_of<'a>(
    edge: EdgeUse,
    slope: usize,
    top: Option<&'a EdgePiece>,
    site: &Site,
    book: &'a Handbook,
) -> Option<&'a EdgePiece> {
    match edge {
        EdgeUse::Ridge | EdgeUse::TopEdge | EdgeUse::WallTop => top,
        EdgeUse::Verge | EdgeUse::WallSide | EdgeUse::EavesFiller => {
            pieces_for(edge, slope, site, book).next()
        }
    }
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
