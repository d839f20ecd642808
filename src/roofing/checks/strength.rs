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

/// What one of these checks asks for, and what it says where nothing of the catalogue carries.
struct Asking {
    requirement: Requirement,
    rule: &'static str,
    refusal: &'static str,
    refused: &'static str,
}

const PURLINS: Asking = Asking {
    requirement: Requirement::MinPurlinDepth,
    rule: "check-purlins",
    refusal: "purlins-too-far-apart",
    refused: "refused-purlins-carry",
};
const DECK: Asking = Asking {
    requirement: Requirement::MinDeckSpan,
    rule: "check-deck",
    refusal: "deck-spans-too-far",
    refused: "refused-deck-carries",
};

/// What is looked at of a roof that is not laid yet.
struct Before<'a> {
    facts: &'a Facts,
    book: &'a Handbook,
    loads: Loads,
    /// From timber to timber.
    span: Length,
}

impl<'a> Before<'a> {
    /// `None` in a book that has nothing to check by.
    fn of(asking: &Asking, facts: &'a Facts, site: &Site, index: usize, book: &'a Handbook) -> Option<Self> {
        book.rules.rule(asking.rule)?;
        let loads = Loads::on(&Place::of(facts, &book.rules)?, site, index, &book.rules);
        Some(Self { facts, book, loads, span: book.rules.length_band(site.timber_spacing).1 })
    }

    /// The size of the first that carries, of sizes with what is used of each.
    fn first_that_holds(&self, asking: &Asking, tried: &[(Length, f64)]) -> Asked {
        let Some(least) = tried.iter().map(|(_, used)| *used).reduce(f64::min) else { return Ok(None) };
        if let Some((size, _)) = tried.iter().find(|(_, used)| holds(*used)) {
            let looked_at = LOOKED_AT.iter().filter_map(|key| Some((*key, self.facts.get(*key)?.clone())));
            let (rule, limit) = (asking.rule.to_owned(), Limit::Length(*size));
            return Ok(Some((asking.requirement, Contribution { rule, limit, facts: looked_at.collect() })));
        }
        let source = self.book.rules.rule(asking.rule).map(|rule| rule.source.clone());
        Err(Box::new(Refusal {
            id: asking.refusal.to_owned(),
            note: Note::new(asking.refused).length("spacing", self.span).with("used", percent(least)),
            facts: vec![FactKey::TimberSpacing],
            handover: None,
            source: source.unwrap_or_default(),
        }))
    }
}

/// The purlin that carries from rafter to rafter: the first of the catalogue that does.
///
/// `gap` is the widest from purlin to purlin.
///
/// # Errors
/// A refusal where none carries: an engineer must say, or the rafters stand closer.
pub fn purlins(facts: &Facts, site: &Site, index: usize, gap: Length, book: &Handbook) -> Asked {
    let Some(roof) = Before::of(&PURLINS, facts, site, index, book) else { return Ok(None) };
    let tried = purlins::each(&roof.loads, &book.catalogue, roof.span, gap).into_iter();
    let tried: Vec<_> = tried.map(|(timber, used)| (timber.depth, used)).collect();
    roof.first_that_holds(&PURLINS, &tried)
}

/// The new deck that carries from timber to timber: the thinnest of the catalogue that does.
///
/// # Errors
/// A refusal where none carries.
pub fn deck(facts: &Facts, site: &Site, index: usize, book: &Handbook) -> Asked {
    let Some(roof) = Before::of(&DECK, facts, site, index, book) else { return Ok(None) };
    let tried = decks::each(&book.catalogue, site, roof.span, roof.loads.on_slope, &book.rules).into_iter();
    let tried: Vec<_> = tried.map(|(board, used)| (board.thickness, used)).collect();
    roof.first_that_holds(&DECK, &tried)
}
