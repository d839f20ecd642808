//! Which nail or screw holds the sheets of a slope: its layers count, and what it bites into.

use crate::roofing::catalogue::{Fastener, FixingMethod, Shank};
use crate::roofing::fixings::{Above, Bite, Layers, choose_nail, choose_sheet_screw};
use crate::roofing::laid::LongNail;
use crate::roofing::note::Note;
use crate::roofing::plan::bearing::Bearing;
use crate::roofing::plan::{Handbook, Refusal, Unplanned};
use crate::roofing::requirements::Heard;
use crate::roofing::roof::{FactKey, Site};
use crate::roofing::rules::{Contribution, Limit, Requirement};
use crate::units::Length;

/// A nail or screw where it is used.
#[derive(Clone, Copy, Debug)]
pub(in crate::roofing::plan) struct Driven<'a> {
    pub(in crate::roofing::plan) fastener: &'a Fastener,
    above: Above,
}

impl Driven<'_> {
    /// How deep it bites at least.
    pub(in crate::roofing::plan) fn bite(&self) -> Length {
        self.fastener.length - self.above.most
    }

    /// How deep it bites at most.
    pub(in crate::roofing::plan) fn deepest(&self) -> Length {
        self.fastener.length - self.above.fewest
    }
}

/// What holds the sheets of a slope.
#[derive(Clone, Copy, Debug)]
pub(in crate::roofing::plan) struct Nailing<'a> {
    pub(in crate::roofing::plan) nail: Driven<'a>,
    /// For end laps and under pieces, where one nail does not do for all.
    pub(in crate::roofing::plan) long: Option<Driven<'a>>,
}

impl Nailing<'_> {
    /// How deep any of it bites at most.
    pub(in crate::roofing::plan) fn deepest(&self) -> Length {
        self.long.map_or(self.nail.deepest(), |long| long.deepest().max(self.nail.deepest()))
    }

    pub(in crate::roofing::plan) fn long_nail(&self) -> Option<LongNail> {
        self.long.map(|long| LongNail {
            nail: long.fastener.item.id.clone(),
            length: long.fastener.length,
            bite: long.bite(),
        })
    }

    fn all(&self) -> impl Iterator<Item = &Fastener> {
        [Some(self.nail), self.long].into_iter().flatten().map(|one| one.fastener)
    }

    /// How far all of it stays from the ends of a timber.
    pub(in crate::roofing::plan) fn clear_of_end(&self, heard: &Heard) -> Result<Length, Unplanned> {
        let diameters = heard.count(Requirement::NailEndDistance)?;
        Ok(self.all().map(|one| one.diameter).max().unwrap_or_default() * diameters)
    }

    /// What the nails themselves ask of the least bite into a purlin, as the rule for their kind has it.
    pub(in crate::roofing::plan) fn contribute(&self, bearing: &Bearing, heard: &mut Heard) {
        if bearing.timber.is_none() {
            return;
        }
        for nail in self.all() {
            let by_kind = match nail.shank {
                Shank::Smooth => Requirement::SmoothNailBite,
                Shank::Ringed | Shank::Twisted => Requirement::RingedNailBite,
                Shank::Threaded => continue,
            };
            let Some(decides) = heard.requirements.deciding(by_kind) else { continue };
            let Limit::Count(diameters) = decides.limit else { continue };
            let contribution =
                Contribution { limit: Limit::Length(nail.diameter * diameters), ..decides.clone() };
            heard.requirements.tighten(Requirement::PurlinNailBite, contribution);
        }
    }
}

/// Chooses what holds the sheets.
///
/// # Errors
/// A refusal where the catalogue has nothing that would hold, or whose point would stay inside.
pub(in crate::roofing::plan) fn nailing<'a>(
    layers: &Layers,
    bearing: &Bearing,
    site: &Site,
    heard: &Heard,
    book: &'a Handbook,
) -> Result<Nailing<'a>, Unplanned> {
    match site.covering.fixing {
        FixingMethod::NailThroughCrown => nails(layers, bearing, site, heard, book),
        FixingMethod::ScrewInPan | FixingMethod::ScrewThroughCrown => screw(layers, site, heard, book),
    }
}

fn screw<'a>(
    layers: &Layers,
    site: &Site,
    heard: &Heard,
    book: &'a Handbook,
) -> Result<Nailing<'a>, Unplanned> {
    let (above, bite) = (layers.anywhere(), heard.length(Requirement::SheetScrewBite)?);
    let screws = &book.catalogue.fasteners;
    let fastener = choose_sheet_screw(screws, &site.sheet.covering, above.most, bite).ok_or_else(|| {
        let note = Note::new("refused-no-sheet-screw").size("shortest", above.most + bite);
        refusal("no-sheet-screw", note, Requirement::SheetScrewBite, heard, book)
    })?;
    Ok(Nailing { nail: Driven { fastener, above }, long: None })
}

/// One nail that does everywhere; else one for plain lines, and a longer one where layers are stacked.
fn nails<'a>(
    layers: &Layers,
    bearing: &Bearing,
    site: &Site,
    heard: &Heard,
    book: &'a Handbook,
) -> Result<Nailing<'a>, Unplanned> {
    let (bite, rule) = bite(bearing, heard)?;
    let on_deck = bearing.timber.is_none();
    let covering = &site.sheet.covering;
    let within = |above: Above| {
        let fastener = choose_nail(&book.catalogue.fasteners, covering, above, bite)?;
        Some(Driven { fastener, above })
    };
    if let Some(nail) = within(layers.anywhere()) {
        return Ok(Nailing { nail, long: None });
    }
    // Holding comes first: on a deck a nail that bites right where most layers lie may go deeper where fewer do, and
    // the plan says where its point may show.
    let holding = |above: Above| {
        let where_most_lie = Above { fewest: above.most, ..above };
        let deeper = || Some(Driven { fastener: within(where_most_lie)?.fastener, above });
        within(above).or_else(|| deeper().filter(|_| on_deck))
    };
    let wanted = |above: Above| {
        holding(above).ok_or_else(|| {
            let nails = book.catalogue.fasteners.iter().filter(|one| one.covering.as_ref() == Some(covering));
            let least = nails.map(|nail| bite.least_of(nail)).min().unwrap_or(bite.least);
            let (shortest, longest) = (above.most + least, above.fewest + bite.most);
            let id = if shortest > longest { "refused-no-nail-for-timber" } else { "refused-no-nail" };
            let note = Note::new(id)
                .size("height", site.sheet.corrugation_height)
                .size("depth", bearing.depth)
                .size("shortest", shortest)
                .size("longest", longest);
            refusal("no-nail", note, rule, heard, book)
        })
    };
    let plain = wanted(layers.plain())?;
    let long = layers.stacked().map(wanted).transpose()?;
    let long = long.filter(|long| long.fastener.item.id != plain.fastener.item.id);
    let above = if long.is_none() { layers.anywhere() } else { plain.above };
    Ok(Nailing { nail: Driven { above, ..plain }, long })
}

/// How deep a nail bites into a purlin, or into a deck; and what asks for it.
fn bite(bearing: &Bearing, heard: &Heard) -> Result<(Bite, Requirement), Unplanned> {
    if bearing.timber.is_none() {
        let least = heard.length(Requirement::NailBiteMin)?;
        let most = heard.length(Requirement::NailBiteMax)?;
        return Ok((Bite { least, diameters: (0, 0), most, deep: false }, Requirement::NailBiteMin));
    }
    let diameters = (heard.count(Requirement::SmoothNailBite)?, heard.count(Requirement::RingedNailBite)?);
    let least = heard.length(Requirement::PurlinNailBite)?;
    let most = bearing.depth - heard.length(Requirement::NailPointCover)?;
    Ok((Bite { least, diameters, most, deep: true }, Requirement::PurlinNailBite))
}

fn refusal(id: &str, note: Note, rule: Requirement, heard: &Heard, book: &Handbook) -> Unplanned {
    let facts = vec![FactKey::CorrugationHeight, FactKey::Sheet];
    Refusal { facts, source: heard.source(rule, book), ..Refusal::no_item(id, note) }.into()
}
