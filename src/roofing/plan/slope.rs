//! One slope: what must hold, then support, lines, courses, columns, cuts, fixings and timber, in that order.

use super::bearing::{Bearing, bear};
use super::closing::{Top, top_of};
use super::laying::{Laid, Outline, lay, lay_to_length};
use super::refusals::CATALOGUE;
use super::screws::screws;
use super::{Fault, Finding, FindingKind, Handbook, Refusal, SlopePlan, Unplanned};
use crate::roofing::catalogue::{AreaUse, Fastener, FixingMethod, Sheet, StockMethod};
use crate::roofing::fixings::{Crowns, Every, choose_nail, choose_sheet_screw, nail};
use crate::roofing::layout::cutting::Stock;
use crate::roofing::layout::{Column, Line, LineRule, Piece, PurlinPiece, Rise, SupportPlan, cut_purlins};
use crate::roofing::note::{Arg, Note};
use crate::roofing::requirements::Heard;
use crate::roofing::roof::{Base, FactKey, Hand, Site};
use crate::roofing::rules::Requirement;
use crate::units::Length;

/// Along the eaves: which end comes first, and how far sheets pass either end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Across {
    start_from: Hand,
    near: Length,
    far: Length,
    /// From the first sheet's outer edge to the last one's.
    width: Length,
    corrugations: i64,
}

/// A slope whose sheets are laid and cut; nails and timber are still to come.
pub(super) struct Begun<'a> {
    bearing: Bearing<'a>,
    top: Top<'a>,
    across: Across,
    pub(super) laid: Laid,
}

/// Lays the sheets of one slope of a site; as those of the slope before where the same binds them.
pub(super) fn begin<'a>(
    site: &Site,
    index: usize,
    before: Option<&Begun>,
    heard: &Heard,
    book: &'a Handbook,
) -> Result<Begun<'a>, Unplanned> {
    let bearing = bear(site, heard, book)?;
    let top = top_of(site, index, book);
    let rise = rise(site, index, &bearing, top, heard)?;
    let side_lap = heard.count(Requirement::SideLap)?;
    let stock = stock(site);
    let across = across(site, index, heard, &stock)?;
    // Extra width laps over the column before; with a single column it would stand out at the verge.
    let extra_side_lap = stock.extra_side_lap && across.corrugations > stock.corrugations;
    let stock = Stock { extra_side_lap, ..stock };
    let outline = Outline { rise, width: across.width, side_lap, stock };
    let laid = match before {
        Some(before) if before.laid.outline == outline => before.laid.clone(),
        _ => match site.covering.stock {
            StockMethod::CutFromStock => lay(outline, site.sheet.stagger),
            StockMethod::OrderedToLength => lay_to_length(outline),
        }
        .ok_or_else(|| does_not_fit(site))?,
    };
    Ok(Begun { bearing, top, across, laid })
}

impl Begun<'_> {
    /// Nails the slope, cuts its timber, and says what was found on the way. `pieces` are those that lie on it.
    pub(super) fn finish(
        self,
        pieces: &[Piece],
        site: &Site,
        index: usize,
        heard: &Heard,
        book: &Handbook,
    ) -> Result<(SlopePlan, Vec<Finding>), Unplanned> {
        let Self { bearing, top, across, laid } = self;
        let Laid { outline: Outline { rise, side_lap, stock, .. }, way, cuts, columns, shifted, .. } = laid;
        let crowns = Crowns {
            count: across.corrugations,
            pitch: stock.pitch,
            edge: match across.start_from {
                Hand::Left => -across.near,
                Hand::Right => site.length.value + across.near,
            },
            start_from: across.start_from,
            timber: site.length.value,
            in_pan: site.covering.fixing.is_in_pan(),
        };
        let every = Every {
            eaves: heard.count(Requirement::FixEaves)?,
            end_lap: heard.count(Requirement::FixEndLap)?,
            intermediate: heard.count(Requirement::FixIntermediate)?,
            top: heard.count(Requirement::FixRidge)?,
        };
        let fixings = nail(
            &way.lines,
            &way.courses,
            [&columns, if shifted.is_empty() { &columns } else { &shifted }],
            pieces,
            &crowns,
            every,
            top.piece.is_some(),
        );
        let nail = choose(site, heard, book)?;
        let (purlin_pieces, spacing_below) = timber(site, &bearing, &way.lines, heard)?;
        let mut findings = findings(site, index, &across, &bearing, nail, heard, book);
        findings.extend(side_by_side(index, &bearing, &way.lines, heard, book));
        let plan = SlopePlan {
            requirements: heard.requirements.clone(),
            screws: screws(site, &bearing, &way.lines, &purlin_pieces, spacing_below, heard, book)?,
            deck_boards: deck_boards(site, &bearing.plan, rise.rafter_length, book),
            support: bearing.plan,
            covered_width: across.width,
            rafter_length: rise.rafter_length,
            eaves_overhang: rise.eaves_overhang,
            verge_overhang: across.near,
            far_verge_overhang: across.far,
            end_lap: rise.end_lap,
            side_lap,
            columns: on_the_roof(&columns, &crowns, &across),
            staggered: on_the_roof(&shifted, &crowns, &across),
            lines: way.lines,
            courses: way.courses,
            start_from: across.start_from,
            cuts,
            fixings,
            fixed_by: nail.usage,
            nail: nail.item.id.clone(),
            nail_length: nail.length,
            nail_bite: nail.length - above_timber(site),
            purlin_timber: bearing.timber.map(|timber| timber.item.id.clone()),
            purlin_pieces,
        };
        Ok((plan, findings))
    }
}

/// The heights that bind courses and lines. Setting-out is in whole millimetres: a slope worked out to a fraction
/// is taken to the millimetre above, so that it is covered to its end.
fn rise(site: &Site, index: usize, bearing: &Bearing, top: Top, heard: &Heard) -> Result<Rise, Unplanned> {
    let missing = Fault { check: "slope-is-there", detail: index.to_string() };
    let rafter_length = site.slopes.get(index).ok_or(missing)?.rafter_length.value;
    let rafter_length = Length::from_mm(rafter_length.ceil_mm());
    let end_lap = heard.length(Requirement::EndLap)?;
    let setback = Length::from_mm(bearing.setback.ceil_mm());
    // The last line stands as far inside the wing as inside an edge, so that the nail has wing all round it.
    let reach = top.piece.map_or(Length::ZERO, |piece| piece.wing - setback).max(setback);
    let first = setback;
    Ok(Rise {
        rafter_length,
        eaves_overhang: heard.length(Requirement::EavesOverhang)?,
        end_lap: Length::from_mm((end_lap / 2).ceil_mm() * 2),
        sheet_length: Length::from_mm(site.sheet.length.floor_mm()),
        min_piece: site.sheet.min_piece,
        lines: LineRule {
            first,
            top: Length::from_mm((rafter_length - reach).floor_mm()).max(first),
            top_highest: Length::from_mm((rafter_length - setback).floor_mm()).max(first),
            max_gap: bearing.max_gap,
            min_gap: bearing.timber.map_or(Length::from_mm(1), |timber| timber.width),
        },
    })
}

fn stock(site: &Site) -> Stock {
    // A tape on the roof shows whole millimetres: a sheet is not counted on for a fraction more.
    Stock { length: Length::from_mm(site.sheet.length.floor_mm()), ..Stock::from(&site.sheet) }
}

fn across(site: &Site, index: usize, heard: &Heard, stock: &Stock) -> Result<Across, Unplanned> {
    let verge = heard.length(Requirement::VergeOverhang)?;
    let walls = site.walls_of(index);
    // A wall shelters its end, and only a free verge can take what a whole corrugation is too much: laying starts
    // at the wall where there is one, else at the end away from the wind.
    let start_from = match walls.as_slice() {
        [wall] => *wall,
        _ => site.wind_on(index).map_or(Hand::Left, Hand::other),
    };
    let past = |hand: Hand| if walls.contains(&hand) { Length::ZERO } else { verge };
    let near = past(start_from);
    // Sheets run square to the eaves: a slope that leans takes as much more from verge to verge.
    let lean = if walls.len() < 2 { site.lean_on(index, verge).abs() } else { Length::ZERO };
    let width = site.length.value + near + past(start_from.other()) + lean;
    let corrugations = width.div_ceil(stock.pitch);
    if walls.contains(&start_from.other()) {
        return Ok(Across { start_from, near, far: Length::ZERO, width, corrugations });
    }
    let whole = stock.pitch * corrugations;
    Ok(Across { start_from, near, far: whole - near - site.length.value, width: whole, corrugations })
}

fn does_not_fit(site: &Site) -> Unplanned {
    let note = Note::new("refused-sheet-does-not-fit").length("sheet", site.sheet.length);
    let facts = vec![FactKey::Sheet, FactKey::SheetLength, FactKey::SheetWidth, FactKey::SheetCorrugations];
    Refusal { facts, ..Refusal::no_item("sheet-does-not-fit", note) }.into()
}

/// Columns in laying order, put where they lie: corrugations count from the left, a wall trims what passes it.
fn on_the_roof(columns: &[Column], crowns: &Crowns, across: &Across) -> Vec<Column> {
    let place = |column: &Column| {
        let near = crowns.pitch * column.first_corrugation;
        let far = (near + crowns.pitch * column.corrugations).min(across.width);
        match across.start_from {
            Hand::Left => Column { from: crowns.edge + near, to: crowns.edge + far, ..*column },
            Hand::Right => Column {
                first_corrugation: across.corrugations - column.first_corrugation - column.corrugations,
                from: crowns.edge - far,
                to: crowns.edge - near,
                ..*column
            },
        }
    };
    columns.iter().map(place).collect()
}

/// How much of a nail or screw through a sheet is above the timber.
fn above_timber(site: &Site) -> Length {
    site.covering.fixing.above_timber(site.sheet.corrugation_height)
}

fn choose<'a>(site: &'a Site, heard: &Heard, book: &'a Handbook) -> Result<&'a Fastener, Unplanned> {
    match site.covering.fixing {
        FixingMethod::NailThroughCrown => the_nail(site, heard, book),
        FixingMethod::ScrewInPan | FixingMethod::ScrewThroughCrown => the_screw(site, heard, book),
    }
}

fn the_screw<'a>(site: &'a Site, heard: &Heard, book: &'a Handbook) -> Result<&'a Fastener, Unplanned> {
    let (above, bite) = (above_timber(site), heard.length(Requirement::SheetScrewBite)?);
    choose_sheet_screw(&book.catalogue.fasteners, &site.sheet.covering, above, bite).ok_or_else(|| {
        let note = Note::new("refused-no-sheet-screw").size("shortest", above + bite);
        let refusal = Refusal::no_item("no-sheet-screw", note);
        let facts = vec![FactKey::CorrugationHeight, FactKey::Sheet];
        Refusal { facts, source: heard.source(Requirement::SheetScrewBite, book), ..refusal }.into()
    })
}

fn the_nail<'a>(site: &'a Site, heard: &Heard, book: &'a Handbook) -> Result<&'a Fastener, Unplanned> {
    let bite = (heard.length(Requirement::NailBiteMin)?, heard.length(Requirement::NailBiteMax)?);
    let height = site.sheet.corrugation_height;
    choose_nail(&book.catalogue.fasteners, &site.sheet.covering, height, bite).ok_or_else(|| {
        let note = Note::new("refused-no-nail")
            .size("height", height)
            .size("shortest", height + bite.0)
            .size("longest", height + bite.1);
        let refusal = Refusal::no_item("no-nail", note);
        let facts = vec![FactKey::CorrugationHeight, FactKey::Sheet];
        Refusal { facts, source: heard.source(Requirement::NailBiteMin, book), ..refusal }.into()
    })
}

/// The purlin timber, and how far apart the timbers are that it is screwed to.
fn timber(
    site: &Site,
    bearing: &Bearing,
    lines: &[Line],
    heard: &Heard,
) -> Result<(Vec<PurlinPiece>, Length), Unplanned> {
    let Some(timber) = bearing.timber else { return Ok((Vec::new(), site.timber_spacing.value)) };
    // Under old purlins the rafters' spacing is not known; the screws' own spacing stands in, and is said to.
    let spacing = match site.base {
        Base::Deck(_) | Base::Rafters => site.timber_spacing.value,
        Base::Purlins => heard.length(Requirement::DeckScrewSpacing)?,
    };
    let pieces = cut_purlins(lines, site.length.value, spacing, &timber.stock).ok_or_else(|| {
        let note = Note::new("refused-timber-too-short").length("spacing", spacing);
        Refusal { facts: vec![FactKey::TimberSpacing], ..Refusal::no_item("timber-too-short", note) }
    })?;
    Ok((pieces, spacing))
}

/// Deck boards, their long side across the timbers (rafters run up the slope, purlins along it), each end on one;
/// cut ends are not reused.
fn deck_boards(site: &Site, support: &SupportPlan, rafter_length: Length, book: &Handbook) -> i64 {
    let SupportPlan::NewFullDeck { board, .. } = support else { return 0 };
    let boards = book.catalogue.areas.iter().filter(|area| area.usage == AreaUse::Deck);
    let Some(board) = boards.into_iter().find(|area| area.item.id == *board) else { return 0 };
    let spacing = site.timber_spacing.value;
    let reach = (spacing * board.length.div_floor(spacing)).max(spacing.min(board.length));
    let (across_timbers, along_timbers) = match site.base {
        Base::Rafters | Base::Deck(_) => (site.length.value, rafter_length),
        Base::Purlins => (rafter_length, site.length.value),
    };
    along_timbers.div_ceil(board.width) * across_timbers.div_ceil(reach)
}

/// Says of what sheet the rest is taken that no label says.
pub(super) fn taken_from(sheet: &Sheet) -> Finding {
    Finding {
        id: "own-sheet-like".to_owned(),
        kind: FindingKind::Advice,
        slope: None,
        note: Note::new("advice-own-sheet-like").text("sheet", sheet.item.name.as_str()),
        requirement: None,
        reasons: Vec::new(),
        source: CATALOGUE.to_owned(),
    }
}

/// Says that it is meant so, where two purlins stand closer than one is wide.
fn side_by_side(
    index: usize,
    bearing: &Bearing,
    lines: &[Line],
    heard: &Heard,
    book: &Handbook,
) -> Option<Finding> {
    let width = bearing.timber?.width;
    let pairs = lines.iter().zip(lines.iter().skip(1)).zip(1..);
    let (number, gap) = pairs
        .map(|((below, above), number)| (number, above.y - below.y))
        .find(|(_, gap)| *gap < width * 2)?;
    Some(Finding {
        id: "purlins-side-by-side".to_owned(),
        kind: FindingKind::Advice,
        slope: Some(index),
        note: Note::new("advice-purlins-side-by-side")
            .with("lower", Arg::Count(number))
            .with("upper", Arg::Count(number + 1))
            .length("gap", gap),
        requirement: Some(Requirement::MaxPurlinSpacing),
        reasons: Vec::new(),
        source: heard.source(Requirement::MaxPurlinSpacing, book),
    })
}

fn findings(
    site: &Site,
    index: usize,
    across: &Across,
    bearing: &Bearing,
    nail: &Fastener,
    heard: &Heard,
    book: &Handbook,
) -> Vec<Finding> {
    let advice = |id: &str, note: Note, requirement: Requirement| Finding {
        id: id.to_owned(),
        kind: FindingKind::Advice,
        slope: Some(index),
        note,
        requirement: Some(requirement),
        reasons: Vec::new(),
        source: heard.source(requirement, book),
    };
    let mut findings = bearing.findings.clone();
    for finding in &mut findings {
        finding.slope = Some(index);
    }
    let bite = nail.length - above_timber(site);
    if bite >= bearing.depth {
        let note = Note::new("advice-nail-point-may-show").size("bite", bite).size("depth", bearing.depth);
        findings.push(advice("nail-point-may-show", note, site.covering.bite()));
    }
    let walls = site.walls_of(index);
    if walls.len() == 1 {
        let note = Note::new("advice-start-at-the-wall");
        findings.push(advice("start-at-the-wall", note, Requirement::VergeOverhang));
    } else if site.wind_from.is_none() {
        let note = Note::new("advice-wind-not-from-a-side");
        findings.push(advice("wind-not-from-a-side", note, Requirement::SideLap));
    }
    let whole = site.sheet.corrugation_pitch * across.corrugations;
    if walls.contains(&across.start_from.other()) && whole > across.width {
        let note = Note::new("advice-trim-at-the-wall").length("trim", whole - across.width);
        findings.push(advice("trim-at-the-wall", note, Requirement::VergeOverhang));
    } else if site.lean == Length::ZERO && across.far > across.near.max(Length::from_mm(5)) * 2 {
        let note = Note::new("advice-far-verge").length("overhang", across.far);
        findings.push(advice("far-verge", note, Requirement::VergeOverhang));
    }
    if site.base == Base::Purlins && bearing.timber.is_some() {
        let note = Note::new("advice-timbers-below-not-known");
        findings.push(advice("timbers-below-not-known", note, Requirement::MaxPurlinSpacing));
    }
    findings
}
