//! What is bought: what it comes to, which sheet takes what, and how heavy it is to carry.

use super::Roof;
use crate::roofing::catalogue::Sheet;
use crate::roofing::layout::BoughtSheet;
use crate::roofing::materials::{MaterialLine, Unit};
use crate::roofing::note::{Arg, Note};
use crate::roofing::plan::{Plan, SlopePlan, plan};
use crate::roofing::roof::{FactKey, FactValue};
use crate::units::{Area, Money};

/// The list's own sum and lines, with the prices that the list has.
pub(super) fn cost(roof: &Roof<'_>) -> Vec<Note> {
    let Some(plan) = roof.plan else { return vec![Note::new("answer-cost-general")] };
    let opening = plan.materials.listed().map_or_else(
        || Note::new("answer-cost"),
        |(price, without)| {
            let note = Note::new("answer-cost-total").with("price", Arg::Money(price));
            note.count("without", without).text("date", plan.goods.prices_from.as_str())
        },
    );
    let offer = plan.materials.listed().map(|_| {
        let demo = if plan.demo { "answer-cost-demo" } else { "answer-cost-offer" };
        Note::new(demo)
    });
    let lines = lines(roof).map(|line| say_line(plan, line));
    [opening].into_iter().chain(lines).chain(offer).collect()
}

fn say_line(plan: &Plan, line: &MaterialLine) -> Note {
    let quantity = say_quantity(plan, line);
    match line.price {
        Some(price) => Note::new("answer-cost-priced")
            .with("line", Arg::Note(Box::new(quantity)))
            .with("price", Arg::Money(price)),
        None => quantity,
    }
}

fn say_quantity(plan: &Plan, line: &MaterialLine) -> Note {
    let name = plan.picking().name(line);
    match line.unit {
        Unit::Piece if line.pack > 1 => Note::new("answer-cost-packs")
            .with("packs", Arg::Count(line.packs))
            .with("pack", Arg::Count(line.pack))
            .with("name", name),
        Unit::Piece => Note::new("answer-cost-line").with("packs", Arg::Count(line.packs)).with("name", name),
        Unit::PieceOf(length) => Note::new("answer-cost-pieces")
            .with("pieces", Arg::Count(line.packs))
            .with("name", name)
            .length("length", length),
    }
}

/// A sheet read off its label has no name in the catalogue.
pub(super) fn named(name: &str) -> Arg {
    if name.is_empty() { Arg::Word("own-sheet".to_owned()) } else { Arg::Text(name.to_owned()) }
}

pub(super) fn list(roof: &Roof<'_>) -> Vec<Note> {
    let count = roof.plan.map(|plan| plan.materials.lines.len());
    let own = count.map(|lines| Note::new("answer-send-to-supplier-lines").count("lines", lines));
    [Note::new("answer-send-to-supplier")].into_iter().chain(own).collect()
}

pub(super) fn lines<'a>(roof: &Roof<'a>) -> impl Iterator<Item = &'a MaterialLine> + use<'a> {
    roof.plan.into_iter().flat_map(|plan| &plan.materials.lines)
}

/// How many sheets a plan cuts up.
pub(super) fn sheets_of(plan: &Plan) -> usize {
    plan.slopes.iter().map(|slope| slope.cuts.sheets.len()).sum()
}

/// The plan of this roof with each sheet of the list, the person's own first.
fn compared<'a>(roof: &Roof<'a>) -> Vec<(&'a Sheet, Option<Plan>)> {
    let Some(own) = roof.plan else { return Vec::new() };
    let others = roof.book.catalogue.sheets.iter().filter(|sheet| sheet.item.id != own.site.sheet.item.id);
    let with = |sheet: &Sheet| {
        let mut facts = roof.facts.clone();
        facts.set(FactKey::Sheet, FactValue::Choice(sheet.item.id.clone()));
        plan(&facts, roof.book).ok()
    };
    [(&own.site.sheet, Some(own.clone()))]
        .into_iter()
        .chain(others.map(|sheet| (sheet, with(sheet))))
        .collect()
}

pub(super) fn which_sheet(roof: &Roof<'_>) -> Vec<Note> {
    let all = compared(roof);
    if all.len() < 2 {
        return vec![Note::new("answer-which-sheet-general")];
    }
    let own = all
        .first()
        .map(|(sheet, _)| Note::new("answer-which-sheet-yours").with("name", named(&sheet.item.name)));
    let demo = roof.plan.is_some_and(|plan| plan.demo).then(|| Note::new("answer-which-sheet-demo"));
    cheaper(&all)
        .into_iter()
        .chain(all.iter().map(|(sheet, plan)| compare(sheet, plan.as_ref())))
        .chain(own)
        .chain(demo)
        .collect()
}

fn compare(sheet: &Sheet, plan: Option<&Plan>) -> Note {
    let name = named(&sheet.item.name);
    let Some(plan) = plan else { return Note::new("answer-which-sheet-not").with("name", name) };
    let sum = |count: fn(&SlopePlan) -> usize| plan.slopes.iter().map(count).sum::<usize>();
    let laps = plan.slopes.iter().filter(|slope| slope.courses.len() > 1).map(|slope| slope.end_lap).max();
    let own: i64 = plan.edges.iter().map(|run| run.own_fixings).sum();
    let nails = i64::try_from(sum(|slope| slope.fixings.len())).unwrap_or(i64::MAX).saturating_add(own);
    let note = Note::new("answer-which-sheet")
        .with("name", name)
        .count("sheets", sheets_of(plan))
        .count("courses", sum(|slope| slope.courses.len()))
        .count("laps", usize::from(laps.is_some()))
        .length("end_lap", laps.unwrap_or_default())
        .count("cuts", sum(|slope| slope.cuts.cuts))
        .with("nails", Arg::Count(nails))
        .with("left", Arg::Area(left_over(plan)))
        .with("mass", Arg::Mass(plan.materials.covering_mass));
    match plan.materials.price {
        Some(price) => {
            Note { message: "answer-which-sheet-priced".to_owned(), ..note }.with("price", Arg::Money(price))
        }
        None => note,
    }
}

/// What is cut off all the sheets and laid nowhere.
fn left_over(plan: &Plan) -> Area {
    let sheet = &plan.site.sheet;
    let of_sheet = |bought: &BoughtSheet| {
        let pieces = bought.all_pieces();
        let laid: Area = pieces.map(|one| one.length.by(sheet.corrugation_pitch * one.corrugations)).sum();
        Area::from_um2(bought.length.by(sheet.width).um2().saturating_sub(laid.um2()))
    };
    plan.slopes.iter().flat_map(|slope| &slope.cuts.sheets).map(of_sheet).sum()
}

/// Which of those with a price costs less, and by how much than the next.
fn cheaper(all: &[(&Sheet, Option<Plan>)]) -> Option<Note> {
    let price = |plan: &Option<Plan>| plan.as_ref().and_then(|plan| plan.materials.price);
    let mut priced: Vec<(&Sheet, Money)> =
        all.iter().filter_map(|(sheet, plan)| Some((*sheet, price(plan)?))).collect();
    priced.sort_by_key(|(_, price)| price.amount);
    let [(sheet, least), (_, next), ..] = priced.as_slice() else { return None };
    let less = Money { amount: next.amount.checked_sub(least.amount)?, ..*least };
    Some(if less.amount.is_zero() {
        Note::new("answer-which-sheet-same-price")
    } else {
        Note::new("answer-which-sheet-cheaper")
            .with("name", named(&sheet.item.name))
            .with("less", Arg::Money(less))
    })
}

pub(super) fn carrying(roof: &Roof<'_>) -> Vec<Note> {
    let own = roof.plan.map(|plan| {
        let (one, sheets) = (plan.site.sheet.item.mass, sheets_of(plan));
        let all = one * i64::try_from(sheets).unwrap_or(i64::MAX);
        Note::new("answer-carrying-sheets-yours")
            .count("sheets", sheets)
            .with("one", Arg::Mass(one))
            .with("all", Arg::Mass(all))
    });
    let general: Vec<Note> = match own {
        Some(_) => Vec::new(),
        None => roof.book.catalogue.sheets.iter().map(weighs).collect(),
    };
    [Note::new("answer-carrying-sheets")].into_iter().chain(own).chain(general).collect()
}

fn weighs(sheet: &Sheet) -> Note {
    Note::new("answer-carrying-sheets-one")
        .with("name", named(&sheet.item.name))
        .with("one", Arg::Mass(sheet.item.mass))
}
