//! The screws that hold the purlins: from outside into the timbers below, or from inside through a thin deck.

use crate::roofing::catalogue::{Fastener, FastenerUse, Timber};
use crate::roofing::fixings::choose_purlin_screw;
use crate::roofing::layout::{Line, PurlinPiece, SupportPlan};
use crate::roofing::note::Note;
use crate::roofing::plan::bearing::Bearing;
use crate::roofing::plan::{Handbook, Refusal, Screws, Unplanned};
use crate::roofing::requirements::Heard;
use crate::roofing::roof::Site;
use crate::roofing::rules::Requirement;
use crate::units::Length;

/// Counts the screws of one slope.
///
/// Purlins on bare timbers: one at every timber each piece of purlin crosses. Purlins over a thin deck: one at
/// each verge from outside first, then from inside, spaced by the rule, so that no point comes through.
pub(in crate::roofing::plan) fn screws(
    site: &Site,
    bearing: &Bearing,
    lines: &[Line],
    pieces: &[PurlinPiece],
    spacing_below: Length,
    heard: &Heard,
    book: &Handbook,
) -> Result<Vec<Screws>, Unplanned> {
    let Some(timber) = bearing.timber else { return Ok(Vec::new()) };
    let bite = heard.length(Requirement::ScrewBite)?;
    match &bearing.plan {
        SupportPlan::Purlins => {
            let screw = from_outside(timber, timber.depth, bite, heard, book)?;
            let count = pieces.iter().map(|piece| crossings(piece, site.length.value, spacing_below)).sum();
            Ok(vec![some(screw, count)])
        }
        SupportPlan::PurlinsOverDeck { deck, screw, screw_length } => {
            let verge = from_outside(timber, timber.depth + *deck, bite, heard, book)?;
            let spacing = heard.length(Requirement::DeckScrewSpacing)?;
            let rows = i64::try_from(lines.len()).unwrap_or(i64::MAX);
            let inside = pieces.iter().map(|piece| (piece.to - piece.from).div_ceil(spacing) + 1).sum();
            Ok(vec![
                some(verge, rows * 2),
                Screws {
                    screw: screw.clone(),
                    length: *screw_length,
                    usage: FastenerUse::DeckScrew,
                    count: inside,
                },
            ])
        }
        SupportPlan::ExistingDeck { .. } | SupportPlan::NewFullDeck { .. } => Ok(Vec::new()),
    }
}

fn some(screw: &Fastener, count: i64) -> Screws {
    Screws { screw: screw.item.id.clone(), length: screw.length, usage: screw.usage, count }
}

/// Timbers under one piece, both its ends included; the last timber stands at the roof's right end.
fn crossings(piece: &PurlinPiece, length: Length, spacing: Length) -> i64 {
    let within = piece.to.div_floor(spacing) - piece.from.div_ceil(spacing) + 1;
    let end = piece.to == length && spacing * length.div_floor(spacing) != length;
    within + i64::from(end)
}

fn from_outside<'a>(
    timber: &Timber,
    through: Length,
    bite: Length,
    heard: &Heard,
    book: &'a Handbook,
) -> Result<&'a Fastener, Unplanned> {
    choose_purlin_screw(&book.catalogue.fasteners, through, bite).ok_or_else(|| {
        let note = Note::new("refused-no-purlin-screw")
            .size("shortest", through + bite)
            .text("timber", timber.item.name.as_str());
        let refusal = Refusal::no_item("no-purlin-screw", note);
        Refusal { source: heard.source(Requirement::ScrewBite, book), ..refusal }.into()
    })
}
