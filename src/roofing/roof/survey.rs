//! From facts to a site: what can be worked out is worked out, what cannot is missing.

use super::form::{Form, Hand, form, slopes_across, slopes_unequal};
use super::lean::lean;
use super::site::{Base, Missing, Site, SlopeSite, Unready};
use super::{Face, FactKey, Facts, contradictions};
use crate::roofing::catalogue::{Catalogue, Covering, Item, Sheet};
use crate::roofing::facts::choices::{CoveringNow, Support, WallSide, WindFrom};
use crate::roofing::handbook::Handbook;
use crate::roofing::rules::{Limit, Requirement, evaluate};
use crate::units::{Angle, Doubt, Length, Measured};

/// The sheet id that says: the person reads their own sheet's label. Where there are several coverings the id of its
/// own follows, as `label-corrugated_bitumen`: nobody's sheet is taken to be of one without a word.
pub const OWN_SHEET: &str = "label";

/// The ids for own sheets, each with what it is of.
pub fn own_sheets(catalogue: &Catalogue) -> Vec<(String, &Covering)> {
    if let Some(only) = catalogue.only_covering() {
        return vec![(OWN_SHEET.to_owned(), only)];
    }
    let coverings = catalogue.coverings.iter();
    coverings.map(|covering| (format!("{OWN_SHEET}-{}", covering.id), covering)).collect()
}

/// Whether a sheet id says: the person's own.
pub fn is_own_sheet(id: &str) -> bool {
    id.strip_prefix(OWN_SHEET).is_some_and(|rest| rest.is_empty() || rest.starts_with('-'))
}

impl Site {
    /// The roof that the facts describe.
    ///
    /// # Errors
    /// What is missing, in asking order; else what disagrees.
    pub fn from_facts(facts: &Facts, book: &Handbook) -> Result<Self, Unready> {
        let disagree = contradictions(facts, book);
        if !disagree.is_empty() {
            return Err(Unready::Contradictions(disagree));
        }
        let missing = missing(facts, book);
        if !missing.is_empty() {
            return Err(Unready::Missing(Missing(missing)));
        }
        // Every `?` below was looked for by `missing`; were one ever forgotten there, it is asked for, not guessed.
        build(facts, book).map_err(|key| Unready::Missing(Missing(vec![key])))
    }
}

fn build(facts: &Facts, book: &Handbook) -> Result<Site, FactKey> {
    let form = form(facts).ok_or(FactKey::Form)?;
    let front = SlopeSite {
        pitch: pitch(facts).ok_or(FactKey::Pitch)?,
        rafter_length: slope_length(facts).ok_or(FactKey::SlopeLength)?,
    };
    let of_face = |face: &Face| match face {
        Face::Back if slopes_unequal(facts) => Ok(SlopeSite {
            pitch: facts.angle(FactKey::PitchBack).ok_or(FactKey::PitchBack)?,
            rafter_length: facts.length(FactKey::SlopeLengthBack).ok_or(FactKey::SlopeLengthBack)?,
        }),
        Face::Front | Face::Back => Ok(front),
    };
    let slopes = form.faces().iter().map(of_face).collect::<Result<_, FactKey>>()?;
    let sheet = sheet(facts, book).ok_or(FactKey::Sheet)?;
    let covering = book.catalogue.covering(&sheet.covering).cloned().ok_or(FactKey::Sheet)?;
    Ok(Site {
        form,
        slopes,
        length: facts.length(FactKey::Length).ok_or(FactKey::Length)?,
        lean: front_lean(facts).unwrap_or_default(),
        base: base(facts)?,
        timber_spacing: facts.length(FactKey::TimberSpacing).ok_or(FactKey::TimberSpacing)?,
        wall_top: form == Form::SingleSlope && facts.says_yes(FactKey::WallTop),
        wall_sides: match facts.chosen(FactKey::WallSide).ok_or(FactKey::WallSide)? {
            WallSide::None => Vec::new(),
            WallSide::Left => vec![Hand::Left],
            WallSide::Right => vec![Hand::Right],
            WallSide::Both => vec![Hand::Left, Hand::Right],
        },
        wind_from: match facts.chosen(FactKey::WindFrom).ok_or(FactKey::WindFrom)? {
            WindFrom::Left => Some(Hand::Left),
            WindFrom::Right => Some(Hand::Right),
            WindFrom::Front | WindFrom::Back | WindFrom::NotSure => None,
        },
        insulation: facts.says_yes(FactKey::Insulation),
        sheet,
        covering,
    })
}

/// How far the front slope leans by its diagonals.
fn front_lean(facts: &Facts) -> Option<Length> {
    let (a, b) = (facts.length(FactKey::DiagonalA)?, facts.length(FactKey::DiagonalB)?);
    lean(a.value, b.value, facts.length(FactKey::Length)?.value)
}

/// What is still to be asked, in asking order.
fn missing(facts: &Facts, book: &Handbook) -> Vec<FactKey> {
    FactKey::ALL.iter().copied().filter(|key| needed(*key, facts, book)).collect()
}

fn needed(key: FactKey, facts: &Facts, book: &Handbook) -> bool {
    if facts.get(key).is_some() {
        // A sheet that the catalogue no longer lists is asked for again, and one of which nobody knows what it is of.
        let unknown = || sheet(facts, book).is_none() && !own_sheet(facts);
        return key == FactKey::Sheet && (unknown() || covering(facts, book).is_none());
    }
    match key {
        FactKey::CoveringNow
        | FactKey::Structure
        | FactKey::OverheadLines
        | FactKey::Form
        | FactKey::Base
        | FactKey::TimberSpacing
        | FactKey::Length
        | FactKey::WallSide
        | FactKey::WindFrom
        | FactKey::Sheet => true,
        FactKey::AsbestosTest => facts.chosen(FactKey::CoveringNow).is_some_and(may_hold_asbestos),
        FactKey::SlopesEqual => form(facts) == Some(Form::TwoSlopes),
        FactKey::PitchBack | FactKey::SlopeLengthBack => slopes_unequal(facts),
        FactKey::Pitch => pitch(facts).is_none() && facts.length(FactKey::Rise).is_none(),
        FactKey::SlopeLength => slope_length(facts).is_none() && !span_leads_on(facts),
        FactKey::RafterOverhang => {
            (slope_length(facts).is_none() || pitch(facts).is_none()) && span_leads_on(facts)
        }
        FactKey::DeckThickness => on_deck(facts),
        FactKey::WallTop => form(facts) == Some(Form::SingleSlope),
        FactKey::Insulation => thin_deck(facts, book),
        FactKey::SheetLength
        | FactKey::SheetWidth
        | FactKey::SheetCorrugations
        | FactKey::CorrugationHeight => own_sheet(facts),
        // Who tested, who repaired: asked for, but a plan does not wait for it. What a cleared line lacks stops it.
        FactKey::AsbestosTestedBy
        | FactKey::RepairedBy
        | FactKey::LinesClearedWhen
        | FactKey::LinesDistance
        | FactKey::AsbestosSuspicion
        | FactKey::Span
        | FactKey::Rise
        | FactKey::DiagonalA
        | FactKey::DiagonalB
        // What only the checks of strength look at has the book's cautious value until it is told.
        | FactKey::Region
        | FactKey::Surroundings
        | FactKey::WindSpeed
        | FactKey::SnowLoad
        | FactKey::EavesHeight
        | FactKey::OpenSides
        | FactKey::TallerBeside
        | FactKey::RafterWidth
        | FactKey::RafterDepth
        | FactKey::RafterSpan
        | FactKey::Heated => false,
    }
}

/// Whether the span is known and says something about this form: the way over span, overhang and steepness.
fn span_leads_on(facts: &Facts) -> bool {
    facts.length(FactKey::Span).is_some() && !slopes_unequal(facts)
}

const fn may_hold_asbestos(covering: CoveringNow) -> bool {
    match covering {
        CoveringNow::GreyCementSheets | CoveringNow::NotSure => true,
        CoveringNow::Nothing
        | CoveringNow::Felt
        | CoveringNow::BitumenSheets
        | CoveringNow::MetalSheets
        | CoveringNow::TilesOrSlates
        | CoveringNow::PlasticOrGlass => false,
    }
}

/// Steepness of the front slope: measured, or from the rise and what it climbs along.
fn pitch(facts: &Facts) -> Option<Measured<Angle>> {
    if let Some(pitch) = facts.angle(FactKey::Pitch) {
        return Some(pitch);
    }
    let rise = facts.length(FactKey::Rise)?;
    if let Some(run) = run(facts) {
        let value = Angle::from_rise_run(rise.value, run.value)?;
        return Some(Measured { value, doubt: worse(rise.doubt, run.doubt) });
    }
    let slope = facts.length(FactKey::SlopeLength)?;
    let value = Angle::from_rise_slope(rise.value, slope.value)?;
    Some(Measured { value, doubt: worse(rise.doubt, slope.doubt) })
}

/// The front slope from eaves edge to top: measured, or from its run and rise or pitch.
fn slope_length(facts: &Facts) -> Option<Measured<Length>> {
    if let Some(slope) = facts.length(FactKey::SlopeLength) {
        return Some(slope);
    }
    let run = run(facts)?;
    if let Some(pitch) = facts.angle(FactKey::Pitch) {
        let value = run.value.run_to_slope(pitch.value);
        return Some(Measured { value, doubt: worse(run.doubt, pitch.doubt) });
    }
    let rise = facts.length(FactKey::Rise)?;
    Some(Measured { value: run.value.hypot(rise.value), doubt: worse(run.doubt, rise.doubt) })
}

/// The front slope on plan, eaves overhang included.
fn run(facts: &Facts) -> Option<Measured<Length>> {
    let span = facts.length(FactKey::Span)?;
    let overhang = facts.length(FactKey::RafterOverhang)?;
    let value = span.value / slopes_across(facts)? + overhang.value;
    Some(Measured { value, doubt: worse(span.doubt, overhang.doubt) })
}

/// The doubt of a figure worked out from two others.
const fn worse(a: Doubt, b: Doubt) -> Doubt {
    match (a, b) {
        (Doubt::Stated, Doubt::Stated) => Doubt::Stated,
        (Doubt::Stated | Doubt::ByPhone, Doubt::Stated | Doubt::ByPhone) => Doubt::ByPhone,
        // "Just under" says which way for the figure itself, not for what is worked out from it.
        _ => Doubt::About,
    }
}

/// The pitch of each slope that is known so far, front first, whether or not the rest is.
pub fn known_pitches(facts: &Facts) -> Vec<Measured<Angle>> {
    let back = if slopes_unequal(facts) { facts.angle(FactKey::PitchBack) } else { None };
    pitch(facts).into_iter().chain(back).collect()
}

/// The deck, where one is known to be there and how thick it is.
pub fn known_deck(facts: &Facts) -> Option<Measured<Length>> {
    if on_deck(facts) { facts.length(FactKey::DeckThickness) } else { None }
}

fn on_deck(facts: &Facts) -> bool {
    facts.chosen(FactKey::Base).is_some_and(|base| match base {
        Support::Boards | Support::Plywood | Support::Osb => true,
        Support::Purlins | Support::Rafters => false,
    })
}

fn base(facts: &Facts) -> Result<Base, FactKey> {
    match facts.chosen(FactKey::Base).ok_or(FactKey::Base)? {
        Support::Rafters => Ok(Base::Rafters),
        Support::Purlins => Ok(Base::Purlins),
        Support::Boards | Support::Plywood | Support::Osb => {
            facts.length(FactKey::DeckThickness).map(Base::Deck).ok_or(FactKey::DeckThickness)
        }
    }
}

/// Whether purlins may have to go over the deck, so that insulation could lie between them.
fn thin_deck(facts: &Facts, book: &Handbook) -> bool {
    let Some(deck) = facts.length(FactKey::DeckThickness).filter(|_| on_deck(facts)) else { return false };
    let Some(covering) = covering(facts, book) else { return false };
    if !covering.on_deck {
        return true;
    }
    let outcome = evaluate(&book.rules, Some(&covering.id), facts);
    let least = outcome.requirements.deciding(Requirement::MinDeckThickness).map(|decides| decides.limit);
    matches!(least, Some(Limit::Length(least)) if book.rules.length_band(deck).0 < least)
}

/// The covering whose rules hold: that of the sheet that was named, or the only one there is. While several may be
/// meant, none holds: no roof is refused by the rules of another covering.
pub fn covering<'b>(facts: &Facts, book: &'b Handbook) -> Option<&'b Covering> {
    let catalogue = &book.catalogue;
    let Some(chosen) = facts.choice(FactKey::Sheet) else { return catalogue.only_covering() };
    if is_own_sheet(chosen) {
        return own_sheets(catalogue).into_iter().find(|(id, _)| id == chosen).map(|(_, covering)| covering);
    }
    match catalogue.sheets.iter().find(|sheet| sheet.item.id == chosen) {
        Some(sheet) => catalogue.covering(&sheet.covering),
        None => catalogue.only_covering(),
    }
}

fn own_sheet(facts: &Facts) -> bool {
    facts.choice(FactKey::Sheet).is_some_and(is_own_sheet)
}

fn sheet(facts: &Facts, book: &Handbook) -> Option<Sheet> {
    let sheets = &book.catalogue.sheets;
    if !own_sheet(facts) {
        let id = facts.choice(FactKey::Sheet)?;
        return sheets.iter().find(|sheet| sheet.item.id == id).cloned();
    }
    let like = like(facts, book)?;
    let corrugations = facts.count(FactKey::SheetCorrugations)?;
    let corrugation_pitch = facts.length(FactKey::SheetWidth)?.value / corrugations;
    let length = facts.length(FactKey::SheetLength)?.value;
    let width = corrugation_pitch * corrugations;
    let mass = like.item.mass.share(length.by(width), like.length.by(like.width));
    Some(Sheet {
        item: Item {
            id: facts.choice(FactKey::Sheet)?.to_owned(),
            name: String::new(),
            spec: String::new(),
            pack: 1,
            mass,
            price: None,
        },
        length,
        width,
        corrugations,
        corrugation_pitch,
        corrugation_height: facts.length(FactKey::CorrugationHeight)?.value,
        ..like.clone()
    })
}

/// The label says how large an own sheet is. How it may be cut and laid, and what it weighs, is taken from the first
/// sheet of the same covering, and the plan says so.
pub(in crate::roofing) fn like<'b>(facts: &Facts, book: &'b Handbook) -> Option<&'b Sheet> {
    let covering = covering(facts, book).filter(|_| own_sheet(facts))?;
    book.catalogue.sheets.iter().find(|sheet| sheet.covering == covering.id)
}
