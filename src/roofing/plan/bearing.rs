//! What carries the sheets of one slope: the support the rules ask for, on what is there.

use super::{Facts, Fault, Finding, FindingKind, Handbook, Refusal, Unplanned};
use crate::roofing::catalogue::{AreaUse, Timber};
use crate::roofing::checks::strength;
use crate::roofing::fixings::{choose_deck_screw, deck_screw_band};
use crate::roofing::layout::SupportPlan;
use crate::roofing::note::Note;
use crate::roofing::requirements::Heard;
use crate::roofing::roof::{Base, FactKey, Site};
use crate::roofing::rules::{Requirement, Support};
use crate::units::{Length, Measured};

/// What carries the sheets, and what that means for lines and nails.
#[derive(Clone, Debug)]
pub(super) struct Bearing<'a> {
    pub(super) plan: SupportPlan,
    /// The purlins' timber, where purlins are fitted.
    pub(super) timber: Option<&'a Timber>,
    /// No gap between lines may be wider.
    pub(super) max_gap: Length,
    /// How far the first line stands from the eaves edge, and the last from what bounds it.
    pub(super) setback: Length,
    /// How deep the timber under the nails is.
    pub(super) depth: Length,
    pub(super) findings: Vec<Finding>,
}

/// Tightens what is required by what new purlins on rafters, or a new deck, must carry.
///
/// # Errors
/// A refusal where nothing of the catalogue carries it.
pub(super) fn strengthen(
    facts: &Facts,
    site: &Site,
    index: usize,
    heard: &mut Heard,
    book: &Handbook,
) -> Result<(), Unplanned> {
    let asked = match (heard.support()?, site.base) {
        (Support::Purlins, Base::Rafters) => {
            strength::purlins(facts, site, index, heard.length(Requirement::MaxPurlinSpacing)?, book)
        }
        (Support::FullDeck, Base::Rafters | Base::Purlins) if site.covering.on_deck => {
            strength::deck(facts, site, index, book)
        }
        // What old purlins or an old deck rest on is not known: the check of the laid roof says what it can.
        (Support::Purlins | Support::FullDeck, _) => Ok(None),
    }
    .map_err(|refusal| Unplanned::from(*refusal))?;
    if let Some((requirement, contribution)) = asked {
        heard.requirements.tighten(requirement, contribution);
    }
    Ok(())
}

/// Decides what carries the sheets.
///
/// # Errors
/// A refusal where the deck is too thin for the slope, or the catalogue has nothing that would carry it.
pub(super) fn bear<'a>(site: &Site, heard: &Heard, book: &'a Handbook) -> Result<Bearing<'a>, Unplanned> {
    let required = heard.support()?;
    if !site.covering.on_deck {
        return on_purlins_only(site, required, heard, book);
    }
    let least = heard.length(Requirement::MinDeckThickness)?;
    match (required, site.base) {
        (required, Base::Deck(deck)) => {
            let (thinnest, thickest) = book.rules.length_band(deck);
            if thinnest >= least {
                return on_the_deck(SupportPlan::ExistingDeck { deck: deck.value }, thinnest, heard);
            }
            match required {
                Support::FullDeck => Err(Unplanned::Refused(deck_refusals(deck, heard, book))),
                Support::Purlins => {
                    let mut bearing = over_the_deck(deck, (thinnest, thickest), heard, book)?;
                    if thickest >= least {
                        bearing.findings.push(thickness_in_doubt(deck, least, heard, book));
                    }
                    Ok(bearing)
                }
            }
        }
        (Support::FullDeck, Base::Rafters | Base::Purlins) => new_deck(site, least, heard, book),
        (Support::Purlins, Base::Rafters) => purlins(heard, book),
        (Support::Purlins, Base::Purlins) => {
            let mut bearing = purlins(heard, book)?;
            bearing.findings.push(existing_purlins(site, bearing.max_gap, heard, book));
            Ok(bearing)
        }
    }
}

/// A covering that is never fixed to a deck: a deck gets purlins over it.
fn on_purlins_only<'a>(
    site: &Site,
    required: Support,
    heard: &Heard,
    book: &'a Handbook,
) -> Result<Bearing<'a>, Unplanned> {
    match (required, site.base) {
        (Support::FullDeck, _) => {
            let detail = format!("{} wants a deck and cannot lie on one", site.covering.id);
            Err(Fault { check: "covering-on-deck", detail }.into())
        }
        (Support::Purlins, Base::Deck(deck)) => {
            let band = book.rules.length_band(deck);
            over_the_deck(deck, band, heard, book)
        }
        (Support::Purlins, Base::Rafters) => purlins(heard, book),
        (Support::Purlins, Base::Purlins) => {
            let mut bearing = purlins(heard, book)?;
            bearing.findings.push(existing_purlins(site, bearing.max_gap, heard, book));
            Ok(bearing)
        }
    }
}

fn on_the_deck<'a>(plan: SupportPlan, depth: Length, heard: &Heard) -> Result<Bearing<'a>, Unplanned> {
    Ok(Bearing {
        plan,
        timber: None,
        max_gap: heard.length(Requirement::MaxNailLineSpacing)?,
        setback: heard.length(Requirement::NailLineSetback)?,
        depth,
        findings: Vec::new(),
    })
}

fn on_purlins<'a>(plan: SupportPlan, timber: &'a Timber, heard: &Heard) -> Result<Bearing<'a>, Unplanned> {
    Ok(Bearing {
        plan,
        timber: Some(timber),
        max_gap: heard.length(Requirement::MaxPurlinSpacing)?,
        setback: timber.width / 2,
        depth: timber.depth,
        findings: Vec::new(),
    })
}

fn purlins<'a>(heard: &Heard, book: &'a Handbook) -> Result<Bearing<'a>, Unplanned> {
    // Only the check of what it carries asks for a depth: without it the first timber will do.
    let least = heard.length(Requirement::MinPurlinDepth).unwrap_or_default();
    let Some(timber) = book.catalogue.timbers.iter().find(|timber| timber.depth >= least) else {
        return Err(Refusal::no_item("no-purlin-timber", Note::new("refused-no-purlin-timber")).into());
    };
    on_purlins(SupportPlan::Purlins, timber, heard)
}

/// Purlins over a thin deck, held by screws from inside whose points stay inside whatever the deck's doubt.
fn over_the_deck<'a>(
    deck: Measured<Length>,
    (thinnest, thickest): (Length, Length),
    heard: &Heard,
    book: &'a Handbook,
) -> Result<Bearing<'a>, Unplanned> {
    let bite = heard.length(Requirement::ScrewBite)?;
    let cover = heard.length(Requirement::ScrewPointCover)?;
    let bands = book.catalogue.timbers.iter().map(|timber| {
        let longest = deck_screw_band(thinnest, timber.depth, bite, cover).1;
        (timber, (deck_screw_band(thickest, timber.depth, bite, cover).0, longest))
    });
    let bands: Vec<_> = bands.collect();
    for (timber, band) in &bands {
        if let Some(screw) = choose_deck_screw(&book.catalogue.fasteners, *band) {
            let plan = SupportPlan::PurlinsOverDeck {
                deck: deck.value,
                screw: screw.item.id.clone(),
                screw_length: screw.length,
            };
            return on_purlins(plan, timber, heard);
        }
    }
    let (shortest, longest) = bands.first().map(|(_, band)| *band).unwrap_or_default();
    let note = Note::new("refused-no-deck-screw").size("shortest", shortest).size("longest", longest);
    let refusal = Refusal::no_item("no-deck-screw", note.size("deck", deck.value));
    Err(Refusal { source: heard.source(Requirement::ScrewPointCover, book), ..refusal }.into())
}

fn new_deck<'a>(
    site: &Site,
    least: Length,
    heard: &Heard,
    book: &'a Handbook,
) -> Result<Bearing<'a>, Unplanned> {
    let least = least.max(heard.length(Requirement::MinDeckSpan).unwrap_or_default());
    let boards = book.catalogue.areas.iter().filter(|area| area.usage == AreaUse::Deck);
    let Some(board) = boards.filter(|board| board.thickness >= least).min_by_key(|board| board.thickness)
    else {
        let note = Note::new("refused-no-deck-board").size("least", least);
        return Err(Refusal::no_item("no-deck-board", note).into());
    };
    let plan = SupportPlan::NewFullDeck { board: board.item.id.clone(), thickness: board.thickness };
    let mut bearing = on_the_deck(plan, board.thickness, heard)?;
    bearing.findings.push(Finding {
        id: "deck-edges-on-timber".to_owned(),
        kind: FindingKind::Advice,
        slope: None,
        note: Note::new("advice-deck-edges-on-timber").length("spacing", site.timber_spacing.value),
        requirement: Some(Requirement::Support),
        reasons: Vec::new(),
        source: heard.source(Requirement::Support, book),
    });
    Ok(bearing)
}

/// The refusal of a deck too thin for a slope that needs a full one, as soon as both are known; and beside it what to
/// measure again, where another value within a doubt would do. Empty where the deck will do.
pub(super) fn deck_refusals(deck: Measured<Length>, heard: &Heard, book: &Handbook) -> Vec<Refusal> {
    let Ok(least) = heard.length(Requirement::MinDeckThickness) else { return Vec::new() };
    let (thinnest, _) = book.rules.length_band(deck);
    if thinnest >= least || heard.support() != Ok(Support::FullDeck) {
        return Vec::new();
    }
    let refusal = too_thin(deck, thinnest, least, heard, book);
    [refusal].into_iter().chain(heard.measure_again(Requirement::Support, book)).collect()
}

fn too_thin(
    deck: Measured<Length>,
    thinnest: Length,
    least: Length,
    heard: &Heard,
    book: &Handbook,
) -> Refusal {
    let doubtful = thinnest < deck.value;
    let message = if doubtful { "refused-deck-too-thin-in-doubt" } else { "refused-deck-too-thin" };
    let note = Note::new(message)
        .size("deck", deck.value)
        .size("least", least)
        .size("make_up", Length::from_mm((least - thinnest).ceil_mm()));
    Refusal {
        id: "deck-too-thin".to_owned(),
        note,
        facts: vec![FactKey::DeckThickness, FactKey::Pitch],
        handover: None,
        source: heard.source(Requirement::MinDeckThickness, book),
    }
}

fn thickness_in_doubt(deck: Measured<Length>, least: Length, heard: &Heard, book: &Handbook) -> Finding {
    Finding {
        id: "doubt-deck-thickness".to_owned(),
        kind: FindingKind::Doubt,
        slope: None,
        note: Note::new("doubt-deck-thickness").size("deck", deck.value).size("least", least),
        requirement: Some(Requirement::MinDeckThickness),
        reasons: heard.reasons(Requirement::MinDeckThickness, book),
        source: heard.source(Requirement::MinDeckThickness, book),
    }
}

/// Old purlins stand where they stand: they serve only where a planned line meets one.
fn existing_purlins(site: &Site, max_gap: Length, heard: &Heard, book: &Handbook) -> Finding {
    let wide = book.rules.length_band(site.timber_spacing).1 > max_gap;
    let message = if wide { "advice-existing-purlins-too-far-apart" } else { "advice-existing-purlins" };
    Finding {
        id: "existing-purlins".to_owned(),
        kind: FindingKind::Advice,
        slope: None,
        note: Note::new(message).length("spacing", site.timber_spacing.value).length("limit", max_gap),
        requirement: Some(Requirement::MaxPurlinSpacing),
        reasons: heard.reasons(Requirement::MaxPurlinSpacing, book),
        source: heard.source(Requirement::MaxPurlinSpacing, book),
    }
}
