//! One slope: what must hold, then support, lines, courses, columns, cuts, fixings and timber, in that order.

use super::bearing::Bearing;
use super::closing::thickest_end;
use super::fastening::screws;
use super::fastening::{Nailing, nailing};
use super::laying::{Laid, Outline, lay, lay_to_length};
use super::refusals::CATALOGUE;
use super::top::Top;
use super::{Finding, FindingKind, Handbook, Refusal, SlopePlan, Unplanned};
use crate::roofing::catalogue::{AreaUse, Sheet, StockMethod};
use crate::roofing::fixings::{Crowns, Every, Layers, Seat, nail};
use crate::roofing::layout::cutting::Stock;
use crate::roofing::layout::{
    Column, Line, LineRule, Piece, PurlinPiece, Rise, Sawing, SupportPlan, Way, cut_purlins,
};
use crate::roofing::note::{Arg, Note};
use crate::roofing::requirements::Heard;
use crate::roofing::roof::{Base, Face, FactKey, Hand, Site};
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
    /// How far sheets have to pass both ends together.
    past: Length,
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
    (bearing, top): (Bearing<'a>, Top<'a>),
    before: Option<&Begun>,
    heard: &Heard,
) -> Result<Begun<'a>, Unplanned> {
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
        heard: &mut Heard,
        book: &Handbook,
    ) -> Result<(SlopePlan, Vec<Finding>), Unplanned> {
        let Self { bearing, top, across, laid } = self;
        let Laid { outline: Outline { rise, side_lap, stock, .. }, way, cuts, columns, shifted, .. } = laid;
        let layers = layers(site, index, top, &way, columns.len() > 1, book);
        let nailing = nailing(&layers, &bearing, site, heard, book)?;
        nailing.contribute(&bearing, heard);
        let (purlin_pieces, spacing_below) = timber(site, &bearing, &way.lines, heard)?;
        let crowns = Crowns {
            count: across.corrugations,
            pitch: stock.pitch,
            edge: match across.start_from {
                Hand::Left => -across.near,
                Hand::Right => site.length.value + across.near,
            },
            start_from: across.start_from,
            timber: site.length.value,
            from_end: nailing.clear_of_end(heard)?,
            in_pan: site.covering.fixing.is_in_pan(),
        };
        let every = Every {
            eaves: heard.count(Requirement::FixEaves)?,
            end_lap: heard.count(Requirement::FixEndLap)?,
            intermediate: heard.count(Requirement::FixIntermediate)?,
            top: heard.count(Requirement::FixRidge)?,
        };
        let fixings = nail(
            &seats(&way.lines, &purlin_pieces),
            &way.courses,
            [&columns, if shifted.is_empty() { &columns } else { &shifted }],
            pieces,
            &crowns,
            every,
            top.piece.is_some(),
        );
        let mut findings = findings(site, index, &across, &bearing, nailing, heard, book);
        findings.extend(side_by_side(index, &bearing, &way.lines, heard, book));
        let plan = SlopePlan {
            requirements: heard.requirements.clone(),
            screws: screws(site, &bearing, &way.lines, &purlin_pieces, spacing_below, heard, book)?,
            deck_boards: deck_boards(site, &bearing.plan, rafter_length(site, index), book),
            support: bearing.plan,
            covered_width: across.width,
            rafter_length: rafter_length(site, index),
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
            fixed_by: nailing.nail.fastener.usage,
            nail: nailing.nail.fastener.item.id.clone(),
            nail_length: nailing.nail.fastener.length,
            nail_bite: nailing.nail.bite(),
            long_nail: nailing.long_nail(),
            purlin_timber: bearing.timber.map(|timber| timber.item.id.clone()),
            purlin_pieces,
        };
        Ok((plan, findings))
    }
}

/// To the end of the rafters: a slope worked out to a fraction is taken to the millimetre above, so that it is covered to
/// its end.
fn rafter_length(site: &Site, index: usize) -> Length {
    site.slopes.get(index).map_or(Length::ZERO, |slope| Length::from_mm(slope.rafter_length.value.ceil_mm()))
}

/// The heights that bind courses and lines. Setting-out is in whole millimetres.
fn rise(site: &Site, index: usize, bearing: &Bearing, top: Top, heard: &Heard) -> Result<Rise, Unplanned> {
    let end_lap = heard.length(Requirement::EndLap)?;
    let first = Length::from_mm(bearing.setback.ceil_mm());
    Ok(Rise {
        sheets_to: rafter_length(site, index) + top.sheets_beyond,
        eaves_overhang: heard.length(Requirement::EavesOverhang)?,
        end_lap: Length::from_mm((end_lap / 2).ceil_mm() * 2),
        sheet_length: Length::from_mm(site.sheet.length.floor_mm()),
        min_piece: site.sheet.min_piece,
        lines: LineRule {
            first,
            top: top.lowest.max(first),
            top_highest: top.highest.max(first),
            max_gap: bearing.max_gap,
            min_gap: bearing.timber.map_or(Length::from_mm(1), |timber| timber.width),
        },
    })
}

/// Whether the top line stands so close above the last joint that both courses lie on it.
fn top_on_lap(way: &Way) -> bool {
    let Some(top) = way.lines.last() else { return false };
    way.courses.iter().filter(|course| course.lies_at(top.y)).count() > 1
}

/// Each line with the joints of its timber.
fn seats(lines: &[Line], pieces: &[PurlinPiece]) -> Vec<Seat> {
    let joints = |at: usize| {
        let further = pieces.iter().filter(move |piece| piece.line == at && piece.from > Length::ZERO);
        further.map(|piece| piece.from).collect()
    };
    lines.iter().enumerate().map(|(at, line)| Seat { line: *line, joints: joints(at) }).collect()
}

/// What lies over each other on a slope, where its sheets lie so.
fn layers(site: &Site, index: usize, top: Top, way: &Way, several: bool, book: &Handbook) -> Layers {
    Layers {
        base: site.covering.fixing.above_timber(site.sheet.corrugation_height),
        sheet: site.sheet.thickness,
        side_laps: several,
        end_laps: way.courses.len() > 1,
        top_on_lap: top_on_lap(way),
        top_piece: top.piece.map(|piece| piece.thickness),
        end_piece: thickest_end(site, index, book),
    }
}

fn stock(site: &Site) -> Stock {
    // A tape on the roof shows whole millimetres: a sheet is not counted on for a fraction more.
    Stock { length: Length::from_mm(site.sheet.length.floor_mm()), ..Stock::from(&site.sheet) }
}

fn across(site: &Site, index: usize, heard: &Heard, stock: &Stock) -> Result<Across, Unplanned> {
    let verge = heard.length(Requirement::VergeOverhang)?;
    let walls = site.walls_of(index);
    // A wall shelters its end, and only a free verge can take what a whole corrugation is too much: laying starts
    // at the wall where there is one, else at the end away from the wind. Both slopes start from one gable, seen from
    // the front at the left where nothing speaks for either, so that corrugations meet at the ridge.
    let start_from = match walls.as_slice() {
        [wall] => *wall,
        _ => site.wind_on(index).map_or(Face::at(index).seen(Hand::Left), Hand::other),
    };
    let past = |hand: Hand| if walls.contains(&hand) { Length::ZERO } else { verge };
    let near = past(start_from);
    // Sheets run square to the eaves: a slope that leans takes as much more from verge to verge.
    let lean = if walls.len() < 2 { site.lean_on(index, verge).abs() } else { Length::ZERO };
    let both = near + past(start_from.other());
    let width = site.length.value + both + lean;
    let corrugations = width.div_ceil(stock.pitch);
    if walls.contains(&start_from.other()) {
        return Ok(Across { start_from, near, far: Length::ZERO, width, corrugations, past: both });
    }
    let whole = stock.pitch * corrugations;
    let far = whole - near - site.length.value;
    Ok(Across { start_from, near, far, width: whole, corrugations, past: both })
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
    let sawing =
        Sawing { cut: heard.length(Requirement::SawCut)?, squared: heard.length(Requirement::SquaredEnd)? };
    let pieces = cut_purlins(lines, site.length.value, spacing, &timber.stock, sawing).ok_or_else(|| {
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
    nailing: Nailing,
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
    let deepest = nailing.deepest();
    if deepest >= bearing.depth {
        let note = Note::new("advice-nail-point-may-show").size("bite", deepest).size("depth", bearing.depth);
        let rule = site.covering.bite(bearing.timber.is_some());
        findings.push(advice("nail-point-may-show", note, rule));
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
    if let Some(note) = few_millimetres(site, across, !walls.is_empty(), heard) {
        findings.push(advice("few-millimetres", note, Requirement::EndPlay));
    } else if walls.contains(&across.start_from.other()) && whole > across.width {
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

/// What to do where a column of sheets is there for a few millimetres only: a roof so much narrower does without it.
fn few_millimetres(site: &Site, across: &Across, at_a_wall: bool, heard: &Heard) -> Option<Note> {
    let (sheet, lap) = (&site.sheet, heard.count(Requirement::SideLap).ok()?);
    let each = (sheet.corrugations - lap).max(1);
    let beyond_the_first =
        Length::from_mm(across.corrugations - sheet.corrugations).div_ceil(Length::from_mm(each));
    if beyond_the_first < 1 || site.lean != Length::ZERO {
        return None;
    }
    let one_less = sheet.corrugation_pitch * (sheet.corrugations + (beyond_the_first - 1) * each);
    let over = site.length.value + across.past - one_less;
    let small = over > Length::ZERO && over <= heard.length(Requirement::EndPlay).ok()?;
    let id = if at_a_wall { "advice-few-millimetres-at-a-wall" } else { "advice-few-millimetres" };
    small.then(|| {
        Note::new(id)
            .length("over", over)
            .length("length", site.length.value - over)
            .with("columns", Arg::Count(beyond_the_first))
    })
}
