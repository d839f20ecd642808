//! The take-off: everything a plan uses, counted once, with spares by rule and whole packs.

use std::collections::BTreeMap;

use super::bill::{Bill, rows_of_membrane};
use super::{MaterialLine, Materials, Unit, sundries};
use crate::roofing::catalogue::{
    AreaPiece, AreaUse, Catalogue, FastenerUse, Item, Sheet, StockMethod, SundryUse, Timber,
};
use crate::roofing::laid::SlopePlan;
use crate::roofing::layout::{SupportPlan, bought_lengths, pieces_along};
use crate::roofing::note::Note;
use crate::roofing::rules::{Limit, Requirement};
use crate::units::{Area, Length, Mass, Money};

/// Spares by a rule.
#[derive(Clone, Debug, Default)]
struct Spares {
    count: i64,
    rule: Option<String>,
}

/// Counts everything to buy.
pub fn take_off(bill: &Bill, catalogue: &Catalogue) -> Materials {
    let mut lines = sheets(bill);
    lines.extend(edge_pieces(bill, catalogue));
    lines.extend(
        (bill.finials > 0)
            .then(|| line(&catalogue.finial, "material-finial", bill.finials, Spares::default())),
    );
    lines.extend(fasteners(bill, catalogue));
    lines.extend(timber(bill, catalogue));
    lines.extend(areas(bill, catalogue));
    lines.extend(small_things(bill, catalogue));
    let tools = catalogue.tools.iter().chain(&catalogue.protective);
    let area: Area = bill.slopes.iter().map(|slope| slope.rafter_length.by(bill.site.length.value)).sum();
    let covering_mass = lines.iter().map(|one| one.mass_used).sum();
    let price = lines.iter().map(|one| one.line.price).reduce(|sum, next| sum?.plus(next?)).flatten();
    let square_metre = Length::from_mm(1_000).by(Length::from_mm(1_000));
    Materials {
        lines: lines.into_iter().map(|one| one.line).collect(),
        tools: tools.map(|tool| Note::new(tool.as_str())).collect(),
        covering_mass,
        area,
        mass_per_m2: covering_mass.share(square_metre, area),
        price,
    }
}

/// A line with the mass of what is used of it, without spares and left-overs.
struct Taken {
    line: MaterialLine,
    mass_used: Mass,
}

fn line(item: &Item, purpose: &str, needed: i64, spares: Spares) -> Taken {
    let pack = item.pack.max(1);
    let packs = (needed + spares.count + pack - 1).div_euclid(pack);
    Taken {
        mass_used: item.mass * needed,
        line: MaterialLine {
            item: item.id.clone(),
            name: item.name.clone(),
            purpose: purpose.to_owned(),
            unit: Unit::Piece,
            needed,
            spare: spares.count,
            spare_rule: spares.rule,
            pack,
            packs,
            left_over: packs * pack - needed,
            mass: item.mass * (packs * pack),
            price: item.price.and_then(|price| price.times(packs)),
        },
    }
}

fn required(bill: &Bill, requirement: Requirement) -> Spares {
    match bill.requirements.deciding(requirement) {
        Some(decides) => match decides.limit {
            Limit::Count(count) => Spares { count, rule: Some(decides.rule.clone()) },
            Limit::Length(_) | Limit::Support(_) => Spares::default(),
        },
        None => Spares::default(),
    }
}

fn sheets(bill: &Bill) -> Vec<Taken> {
    let (sheet, spares) = (&bill.site.sheet, required(bill, Requirement::SpareSheets));
    match bill.site.covering.stock {
        StockMethod::CutFromStock => {
            let needed = bill.slopes.iter().map(|slope| whole(slope.cuts.sheets.len())).sum();
            vec![line(&sheet.item, "material-sheets", needed, spares)]
        }
        StockMethod::OrderedToLength => to_length(sheet, spares, bill),
    }
}

/// Sheets ordered to length, the longest first: a spare of the longest can be cut down to any other. Their mass and
/// price go by the metre.
fn to_length(sheet: &Sheet, spares: Spares, bill: &Bill) -> Vec<Taken> {
    let mut wanted: BTreeMap<Length, i64> = BTreeMap::new();
    for bought in bill.slopes.iter().flat_map(|slope| &slope.cuts.sheets) {
        *wanted.entry(bought.length).or_default() += 1;
    }
    let mut spares = Some(spares);
    let metre = Length::from_mm(1_000);
    let lines = wanted.into_iter().rev().map(|(length, needed)| {
        let item = Item {
            mass: sheet.item.mass.share(length.by(metre), metre.by(metre)),
            price: sheet.item.price.and_then(|price| price.of_length(length)),
            pack: 1,
            ..sheet.item.clone()
        };
        let mut taken = line(&item, "material-sheets", needed, spares.take().unwrap_or_default());
        taken.line.unit = Unit::PieceOf(length);
        taken
    });
    lines.collect()
}

fn edge_pieces(bill: &Bill, catalogue: &Catalogue) -> Vec<Taken> {
    let pieces = catalogue.edges.iter().map(|piece| {
        let runs = bill.edges.iter().filter(|run| run.piece == piece.item.id);
        (piece, runs.map(|run| run.pieces).sum::<i64>())
    });
    let used = pieces.filter(|(_, needed)| *needed > 0);
    used.map(|(piece, needed)| line(&piece.item, "material-edge-pieces", needed, Spares::default())).collect()
}

fn fasteners(bill: &Bill, catalogue: &Catalogue) -> Vec<Taken> {
    let mut used: BTreeMap<&str, i64> = BTreeMap::new();
    for slope in bill.slopes {
        for fixing in &slope.fixings {
            *used.entry(slope.nail_on(fixing.line).0).or_default() += 1;
        }
        for screws in &slope.screws {
            *used.entry(screws.screw.as_str()).or_default() += screws.count;
        }
    }
    for run in bill.edges {
        if let Some(slope) = bill.slopes.get(run.slope) {
            *used.entry(slope.nail_of_pieces()).or_default() += run.own_fixings;
        }
    }
    let lines = catalogue.fasteners.iter().filter_map(|fastener| {
        let needed = *used.get(fastener.item.id.as_str())?;
        let purpose = match fastener.usage {
            FastenerUse::SheetNail if only_where_stacked(&fastener.item.id, bill) => "material-long-nails",
            FastenerUse::SheetNail => "material-nails",
            FastenerUse::SheetScrew => "material-sheet-screws",
            FastenerUse::DeckScrew => "material-deck-screws",
            FastenerUse::PurlinScrew => "material-purlin-screws",
        };
        Some(line(&fastener.item, purpose, needed, spare_fixings(needed, bill)))
    });
    lines.filter(|taken| taken.line.needed > 0).collect()
}

/// So many more of so many nails, screws or staples.
fn spare_fixings(needed: i64, bill: &Bill) -> Spares {
    let Spares { count, rule } = required(bill, Requirement::SpareFixings);
    Spares { count: (needed * count + 99).div_euclid(100), rule }
}

/// The first of the catalogue for each use.
fn small_things(bill: &Bill, catalogue: &Catalogue) -> Vec<Taken> {
    let of = |(_, usage)| catalogue.sundries.iter().find(|sundry| sundry.usage == usage);
    let counted = SundryUse::NAMED.into_iter().filter_map(of).filter_map(|sundry| {
        let needed = sundries::needed(sundry, bill, catalogue);
        let spares =
            if sundries::is_fixing(sundry.usage) { spare_fixings(needed, bill) } else { Spares::default() };
        let taken = line(&sundry.item, sundry.usage.purpose(), needed, spares);
        (needed > 0).then_some(Taken { mass_used: Mass::default(), ..taken })
    });
    counted.collect()
}

/// Whether a nail is only for end laps and under pieces.
fn only_where_stacked(nail: &str, bill: &Bill) -> bool {
    let of_slope = |slope: &SlopePlan| {
        slope.nail != nail && slope.long_nail.as_ref().is_some_and(|long| long.nail == nail)
    };
    bill.slopes.iter().all(|slope| slope.nail != nail) && bill.slopes.iter().any(of_slope)
}

fn timber(bill: &Bill, catalogue: &Catalogue) -> Vec<Taken> {
    let mut used: BTreeMap<(&str, Length), i64> = BTreeMap::new();
    for slope in bill.slopes {
        for stock in bought_lengths(&slope.purlin_pieces) {
            *used.entry((slope.purlin_timber.as_deref().unwrap_or_default(), stock)).or_default() += 1;
        }
    }
    let of = |id: &str| catalogue.timbers.iter().find(|timber| timber.item.id == id);
    // A spare of the longest can be cut down to any other.
    let mut spares = Some(required(bill, Requirement::SpareTimber));
    let mut lines: Vec<Taken> = used
        .into_iter()
        .rev()
        .filter_map(|((id, stock), needed)| {
            Some(stock_lengths(of(id)?, stock, needed, spares.take().unwrap_or_default()))
        })
        .collect();
    lines.reverse();
    lines
}

/// Stock lengths of timber: their mass and price go by the metre.
fn stock_lengths(timber: &Timber, stock: Length, needed: i64, spares: Spares) -> Taken {
    let metre = Length::from_mm(1_000);
    let one = timber.mass_per_m.share(stock.by(metre), metre.by(metre));
    let price: Option<Money> = timber.price_per_m.and_then(|price| price.of_length(stock));
    let item = Item { mass: one, price, pack: 1, ..timber.item.clone() };
    let mut taken = line(&item, "material-purlins", needed, spares);
    taken.line.unit = Unit::PieceOf(stock);
    taken
}

fn areas(bill: &Bill, catalogue: &Catalogue) -> Vec<Taken> {
    let mut lines = Vec::new();
    for (usage, purpose) in [
        (AreaUse::Deck, "material-deck"),
        (AreaUse::Underlay, "material-underlay"),
        (AreaUse::Insulation, "material-insulation"),
    ] {
        for piece in catalogue.areas.iter().filter(|piece| piece.usage == usage) {
            let needed = pieces_of(piece, bill, catalogue);
            if needed > 0 {
                lines.push(line(&piece.item, purpose, needed, Spares::default()));
                break;
            }
        }
    }
    lines
}

/// Pieces for the whole roof: what is left of a roll or board on one slope is laid on the other.
fn pieces_of(piece: &AreaPiece, bill: &Bill, catalogue: &Catalogue) -> i64 {
    let run = || bill.slopes.iter().map(|slope| run_of(piece, slope, bill, catalogue)).sum::<Length>();
    match piece.usage {
        AreaUse::Deck => {
            let boards = bill.slopes.iter().filter(|slope| match &slope.support {
                SupportPlan::NewFullDeck { board, .. } => *board == piece.item.id,
                SupportPlan::Purlins
                | SupportPlan::PurlinsOverDeck { .. }
                | SupportPlan::ExistingDeck { .. } => false,
            });
            boards.map(|slope| slope.deck_boards).sum()
        }
        AreaUse::Underlay => pieces_along(run(), piece.length, piece.lap),
        AreaUse::Insulation => run().div_ceil(piece.length),
    }
}

/// How long all the rows of a slope are together.
fn run_of(piece: &AreaPiece, slope: &SlopePlan, bill: &Bill, catalogue: &Catalogue) -> Length {
    if !bill.site.insulation || !slope.takes_insulation() {
        return Length::ZERO;
    }
    let length = bill.site.length.value;
    match piece.usage {
        AreaUse::Underlay => length * rows_of_membrane(piece, slope),
        AreaUse::Insulation => {
            let timbers = &catalogue.timbers;
            let timber = timbers.iter().find(|timber| Some(&timber.item.id) == slope.purlin_timber.as_ref());
            let width = timber.map_or(Length::ZERO, |timber| timber.width);
            let joint = slope.requirements.deciding(Requirement::InsulationJoint).map(|one| one.limit);
            let joint = if let Some(Limit::Length(joint)) = joint { joint } else { Length::ZERO };
            let bays = slope.lines.iter().zip(slope.lines.iter().skip(1));
            bays.map(|(below, above)| boards_in(above.y - below.y - width, piece.width, joint, length)).sum()
        }
        AreaUse::Deck => Length::ZERO,
    }
}

/// How much of a board's length fills one bay: whole boards side by side, and strips cut from others for the rest of
/// its width, unless that is no more than a joint.
fn boards_in(bay: Length, board: Length, joint: Length, length: Length) -> Length {
    let whole = bay.div_floor(board).max(0);
    let rest = bay - board * whole;
    if rest <= joint {
        return length * whole;
    }
    length * whole + length / board.div_floor(rest).max(1)
}

fn whole(count: usize) -> i64 {
    i64::try_from(count).unwrap_or(i64::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bay_takes_whole_boards_and_strips_cut_from_others_and_no_strip_for_a_joint() {
        let mm = Length::from_mm;
        let filled = |bay| boards_in(mm(bay), mm(450), mm(10), mm(3_000));
        assert_eq!(filled(450), mm(3_000));
        assert_eq!(filled(453), mm(3_000), "a joint of 3 mm is sealed");
        assert_eq!(filled(560), mm(3_000) + mm(750), "four strips of 110 mm come out of a board");
        assert_eq!(filled(300), mm(3_000), "no two strips of 300 mm come out of one");
        assert_eq!(filled(200), mm(1_500), "two strips of 200 mm do");
        assert_eq!(filled(-10), Length::ZERO, "purlins side by side leave no bay");
    }
}
