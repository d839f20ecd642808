//! What a roof wants to be strong enough, before its sheets are laid: purlins and deck that carry from timber to timber.
//!
//! What is found tightens the same requirements as the rules do, under the id of the check in the book, which says it and
//! names its source. Where nothing of the catalogue carries, the roof is refused, and the person told whom to ask.

use super::check::percent;
use super::decks;
use super::place::Place;
use super::purlins::{self, Loads, holds};
use crate::roofing::facts::{FactKey, Facts};
use crate::roofing::findings::Refusal;
use crate::roofing::handbook::Handbook;
use crate::roofing::note::Note;
use crate::roofing::roof::Site;
use crate::roofing::rules::{Contribution, Limit, Requirement};
use crate::units::Length;

/// What a check asks for; `None` where it has nothing to look at.
pub type Asked = Result<Option<(Requirement, Contribution)>, Box<Refusal>>;

/// What the checks of timber look at, as far as it was told.
const LOOKED_AT: [FactKey; 5] =
    [FactKey::TimberSpacing, FactKey::Region, FactKey::SnowLoad, FactKey::TallerBeside, FactKey::Pitch];

fn asks(rule: &str, limit: Length, facts: &Facts) -> Contribution {
    let facts = LOOKED_AT.iter().filter_map(|key| Some((*key, facts.get(*key)?.clone()))).collect();
    Contribution { rule: rule.to_owned(), limit: Limit::Length(limit), facts }
}

fn refused(id: &str, rule: &str, note: Note, book: &Handbook) -> Refusal {
    let source = book.rules.rule(rule).map(|rule| rule.source.clone()).unwrap_or_default();
    Refusal { id: id.to_owned(), note, facts: vec![FactKey::TimberSpacing], handover: None, source }
}

/// The purlin that carries from rafter to rafter: the first of the catalogue that does.
///
/// `gap` is the widest from purlin to purlin.
///
/// # Errors
/// A refusal where none carries: an engineer must say, or the rafters stand closer.
pub fn purlins(facts: &Facts, site: &Site, index: usize, gap: Length, book: &Handbook) -> Asked {
    const RULE: &str = "check-purlins";
    let (Some(place), Some(_)) = (Place::of(facts, &book.rules), book.rules.rule(RULE)) else {
        return Ok(None);
    };
    let loads = Loads::on(&place, site, index, &book.rules);
    let span = book.rules.length_band(site.timber_spacing).1;
    let tried = purlins::each(&loads, &book.catalogue, span, gap);
    let Some(least) = tried.iter().map(|(_, used)| *used).reduce(f64::min) else { return Ok(None) };
    let chosen = tried.iter().find(|(_, used)| holds(*used));
    let Some((timber, _)) = chosen else {
        let note = Note::new("refused-purlins-carry").length("spacing", span).with("used", percent(least));
        return Err(Box::new(refused("purlins-too-far-apart", RULE, note, book)));
    };
    Ok(Some((Requirement::MinPurlinDepth, asks(RULE, timber.depth, facts))))
}

/// The new deck that carries from timber to timber: the thinnest of the catalogue that does.
///
/// # Errors
/// A refusal where none carries.
pub fn deck(facts: &Facts, site: &Site, index: usize, book: &Handbook) -> Asked {
    const RULE: &str = "check-deck";
    let (Some(place), Some(_)) = (Place::of(facts, &book.rules), book.rules.rule(RULE)) else {
        return Ok(None);
    };
    let loads = Loads::on(&place, site, index, &book.rules);
    let span = book.rules.length_band(site.timber_spacing).1;
    let tried = decks::each(&book.catalogue, site, span, loads.on_slope, &book.rules);
    let Some(least) = tried.iter().map(|(_, used)| *used).reduce(f64::min) else { return Ok(None) };
    let chosen = tried.iter().find(|(_, used)| holds(*used));
    let Some((board, _)) = chosen else {
        let note = Note::new("refused-deck-carries").length("spacing", span).with("used", percent(least));
        return Err(Box::new(refused("deck-spans-too-far", RULE, note, book)));
    };
    Ok(Some((Requirement::MinDeckSpan, asks(RULE, board.thickness, facts))))
}
