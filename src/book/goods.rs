//! Checks across the catalogue: whatever the rules may ask for can be bought.

use super::catalogue::CatalogueRead;
use super::fault::Faults;
use super::rules::bands::flattest;
use crate::roofing::catalogue::{
    AreaUse, Catalogue, Covering, EdgeUse, FastenerUse, FixingMethod, Sheet, SundryUse,
};
use crate::roofing::fixings::{Above, Bite, choose_nail, choose_sheet_screw};
use crate::roofing::roof::{FactKey, FactValue, Facts};
use crate::roofing::rules::{Effect, Limit, Requirement, Rule, RuleBook, evaluate};
use crate::units::{Angle, Length, Quantity};

/// Checks what the catalogue offers against the rules.
pub(super) fn check(read: &CatalogueRead<'_>, rules: &RuleBook, faults: &mut Faults) {
    let range = read.range;
    let catalogue = &read.catalogue;
    let mut missing = |what: String| faults.at(range, what);
    if catalogue.sheets.is_empty() {
        missing("the catalogue has no sheet: add a [[sheet]].".to_owned());
    }
    if catalogue.timbers.is_empty() {
        missing("the catalogue has no purlin timber: add a [[timber]].".to_owned());
    }
    for (usage, name) in [(FastenerUse::DeckScrew, "deck_screw"), (FastenerUse::PurlinScrew, "purlin_screw")]
    {
        if !catalogue.fasteners.iter().any(|fastener| fastener.usage == usage) {
            missing(format!("the catalogue has no {name}: add a [[fastener]] with `use = \"{name}\"`."));
        }
    }
    for (usage, name) in
        [(AreaUse::Underlay, "underlay"), (AreaUse::Insulation, "insulation"), (AreaUse::Deck, "deck")]
    {
        if !catalogue.areas.iter().any(|area| area.usage == usage) {
            missing(format!("the catalogue has no {name}: add an [[area_piece]] with `use = \"{name}\"`."));
        }
    }
    for (name, usage) in SundryUse::NAMED {
        if !catalogue.sundries.iter().any(|sundry| sundry.usage == usage) {
            missing(format!("the catalogue has no {name}: add a [[sundry]] with `use = \"{name}\"`."));
        }
    }
    for (sheet, place) in catalogue.sheets.iter().zip(&read.sheets) {
        let Some(covering) = catalogue.covering(&sheet.covering) else { continue };
        let no_fixing = match covering.fixing {
            FixingMethod::NailThroughCrown => no_nail(sheet, catalogue, rules),
            FixingMethod::ScrewInPan | FixingMethod::ScrewThroughCrown => {
                no_screw(sheet, covering, catalogue, rules)
            }
        };
        for what in no_fixing.into_iter().chain(laps_too_far(sheet, rules)) {
            faults.at(*place, what);
        }
        for (edge, name) in EDGES.into_iter().filter(|(edge, _)| covering.edges.contains(edge)) {
            if let Some(pitch) = no_edge_piece(sheet, edge, catalogue, rules) {
                let what =
                    format!("no {name} piece fits a pitch of {pitch}: add an [[edge_piece]] that does.");
                faults.at(range, what);
            }
        }
    }
    for thickness in
        catalogue.coverings.iter().filter_map(|covering| no_deck_screw(covering, catalogue, rules))
    {
        let what = format!(
            "no deck screw holds in the first timber through a deck of {} mm with its point inside: add one.",
            thickness.mm()
        );
        faults.at(range, what);
    }
    for board in catalogue.coverings.iter().filter_map(|covering| thin_deck_board(covering, catalogue, rules))
    {
        faults.at(range, format!("the deck board `{board}` is too thin to hold the nails."));
    }
}

const EDGES: [(EdgeUse, &str); 6] = [
    (EdgeUse::Ridge, "ridge"),
    (EdgeUse::TopEdge, "top_edge"),
    (EdgeUse::Verge, "verge"),
    (EdgeUse::WallTop, "wall_top"),
    (EdgeUse::WallSide, "wall_side"),
    (EdgeUse::EavesFiller, "eaves_filler"),
];

/// A length that the rules ask for whatever the facts are.
fn always(rules: &RuleBook, covering: &str, requirement: Requirement) -> Option<Length> {
    let outcome = evaluate(rules, Some(covering), &Facts::default());
    match outcome.requirements.deciding(requirement)?.limit {
        Limit::Length(length) => Some(length),
        Limit::Count(_) | Limit::Support(_) => None,
    }
}

/// A sheet that no nail holds in the first timber, one sheet thick.
fn no_nail(sheet: &Sheet, catalogue: &Catalogue, rules: &RuleBook) -> Option<String> {
    let always = |requirement| always(rules, &sheet.covering, requirement);
    let timber = catalogue.timbers.first()?;
    let above = sheet.corrugation_height + sheet.thickness;
    let least = always(Requirement::PurlinNailBite)?;
    let most = timber.depth - always(Requirement::NailPointCover)?;
    let bite = Bite { least, diameters: (0, 0), most, deep: true };
    let one_sheet = Above { fewest: above, most: above };
    if choose_nail(&catalogue.fasteners, &sheet.covering, one_sheet, bite).is_some() {
        return None;
    }
    Some(format!(
        "no nail fits `{}`: add a sheet_nail from {} to {} mm long.",
        sheet.item.id,
        (above + least).mm(),
        (above + most).mm()
    ))
}

fn no_screw(sheet: &Sheet, covering: &Covering, catalogue: &Catalogue, rules: &RuleBook) -> Option<String> {
    let bite = always(rules, &sheet.covering, Requirement::SheetScrewBite)?;
    let above = covering.fixing.above_timber(sheet.corrugation_height) + sheet.thickness;
    if choose_sheet_screw(&catalogue.fasteners, &sheet.covering, above, bite).is_some() {
        return None;
    }
    let least = (above + bite).mm();
    Some(format!("no screw fits `{}`: add a sheet_screw of {least} mm or longer.", sheet.item.id))
}

/// The rules whose laps would leave nothing of this sheet showing.
fn laps_too_far(sheet: &Sheet, rules: &RuleBook) -> impl Iterator<Item = String> {
    let mut chosen = Facts::default();
    chosen.set(FactKey::Sheet, FactValue::Choice(sheet.item.id.clone()));
    let governs = move |rule: &&Rule| rule.governs(Some(&sheet.covering), &chosen);
    rules.rules.iter().filter(governs).filter_map(|rule| {
        let too_far = rule.then.iter().any(|effect| match effect {
            Effect::Require(Requirement::EndLap, Limit::Length(lap)) => *lap >= sheet.length,
            Effect::Require(Requirement::SideLap, Limit::Count(lap)) => *lap >= sheet.corrugations,
            Effect::Require(..)
            | Effect::Check
            | Effect::Advise
            | Effect::Caution(_)
            | Effect::Refuse
            | Effect::Stop(_) => false,
        });
        let (id, sheet) = (&rule.id, &sheet.item.id);
        too_far
            .then(|| format!("the rule `{id}` laps `{sheet}` further than it reaches: mend one of the two."))
    })
}

/// The flattest pitch that may be asked for and that no piece of this edge fits.
fn no_edge_piece(sheet: &Sheet, edge: EdgeUse, catalogue: &Catalogue, rules: &RuleBook) -> Option<Angle> {
    let (_, steepest) = Quantity::pitch_band();
    let mut bands: Vec<(Angle, Angle)> = catalogue
        .edges
        .iter()
        .filter(|piece| piece.edge == edge && piece.covering == sheet.covering)
        .map(|piece| piece.pitch)
        .collect();
    bands.sort_unstable();
    let mut reached = Angle::from_microdeg(flattest(rules, &sheet.covering));
    let mut fits_reached = false;
    for (from, to) in bands {
        if from <= reached && to >= reached {
            reached = to;
            fits_reached = true;
        }
    }
    (!fits_reached || reached < steepest).then_some(reached)
}

/// The thinnest deck too thin for nails that no deck screw suits, with the first timber on it.
fn no_deck_screw(covering: &Covering, catalogue: &Catalogue, rules: &RuleBook) -> Option<Length> {
    let timber = catalogue.timbers.first()?;
    let covering = &covering.id;
    let cover = always(rules, covering, Requirement::ScrewPointCover)?;
    let bite = always(rules, covering, Requirement::ScrewBite)?;
    let deck = always(rules, covering, Requirement::MinDeckThickness)?;
    let (thinnest, _) = Quantity::DeckThickness.length_band()?;
    let suits = |thickness: Length| {
        catalogue.fasteners.iter().any(|screw| {
            screw.usage == FastenerUse::DeckScrew
                && screw.length >= thickness + bite
                && screw.length <= thickness + timber.depth - cover
        })
    };
    (thinnest.ceil_mm()..deck.ceil_mm()).map(Length::from_mm).find(|thickness| !suits(*thickness))
}

fn thin_deck_board<'c>(covering: &Covering, catalogue: &'c Catalogue, rules: &RuleBook) -> Option<&'c str> {
    let least = always(rules, &covering.id, Requirement::MinDeckThickness)?;
    let mut boards = catalogue.areas.iter().filter(|area| area.usage == AreaUse::Deck);
    boards.find(|board| board.thickness < least).map(|board| board.item.id.as_str())
}
