//! `Site + Handbook -> Plan | Refusal`: the whole pipeline on one screen.
//!
//! [`plan`] is pure and deterministic: the same facts and the same book give the same plan, byte for byte. It
//! never assumes a safety answer, and it hands out nothing that has not passed every check of [`Plan`].

mod bearing;
mod closing;
mod difference;

mod fastening;
mod laying;
mod refusals;

mod slope;
mod sound;
mod top;
mod types;
mod work_order;

pub use crate::roofing::findings::{Caution, Fault, Finding, FindingKind, Refusal, SaidAgain};
pub use crate::roofing::handbook::{Handbook, Made, PLANNER, Version};
pub use crate::roofing::laid::{EdgeRun, Screws, SlopePlan};
pub use crate::roofing::requirements::{limit_arg, requirement_word};
pub use difference::{Bought, Difference, difference};
pub use refusals::{refusals, stops, trusted};
pub use sound::Plan;
pub use types::{PlanParts, Sharing, Unplanned};
pub(in crate::roofing) use work_order::{offcuts, offered_up, square, strip};

use crate::roofing::facts::{FactKey, FactValue, Facts};
use std::sync::Arc;

use crate::roofing::catalogue::StockMethod;
use crate::roofing::layout::Piece;
use crate::roofing::materials::{Bill, Materials, take_off};
use crate::roofing::requirements::{self, Heard};
use crate::roofing::roof::{Site, Unready, like};
use crate::roofing::rules::{Requirement, Requirements};
use crate::units::Day;

/// Plans the roof that the facts describe.
///
/// # Errors
/// In this order: a stop by a safety rule; a refusal of what is known so far; measurements that disagree; facts
/// that are missing; a refusal of the whole; a fault of ours.
pub fn plan(facts: &Facts, book: &Handbook) -> Result<Plan, Unplanned> {
    made(facts, book, None)
}

/// The same, and the plan keeps the day it was made on. The book is the one in force that day.
///
/// # Errors
/// As [`plan`].
pub fn plan_on(day: Day, facts: &Facts, book: &Handbook) -> Result<Plan, Unplanned> {
    made(facts, book, Some(day))
}

fn made(facts: &Facts, book: &Handbook, day: Option<Day>) -> Result<Plan, Unplanned> {
    refused(stops(facts, book))?;
    refused(refusals(facts, book))?;
    let site = Site::from_facts(facts, book).map_err(|unready| unplanned(unready, book))?;
    let (mut slopes, mut findings, mut cautions) = (Vec::new(), Vec::new(), Vec::new());
    let (mut hearings, mut bearings) = (Vec::new(), Vec::new());
    for (index, slope) in site.slopes.iter().enumerate() {
        let mut slope_facts = facts.clone();
        slope_facts.set(FactKey::Pitch, FactValue::Angle(slope.pitch));
        let mut heard = requirements::hear(&slope_facts, Some(&site.covering.id), book);
        refused(heard.refused(&slope_facts, book))?;
        heard.caution(&mut cautions, &slope_facts, book);
        bearing::strengthen(facts, &site, index, &mut heard, book)?;
        bearings.push(bearing::bear(&site, &heard, book)?);
        hearings.push((slope_facts, heard));
    }
    let heard: Vec<&Heard> = hearings.iter().map(|(_, heard)| heard).collect();
    let tops = top::tops(&site, &bearings, &heard, book)?;
    let top = tops.first().and_then(|top| top.piece);
    let mut begun = Vec::new();
    for (index, (carried, heard)) in bearings.into_iter().zip(tops).zip(heard).enumerate() {
        begun.push(slope::begin(&site, index, carried, begun.last(), heard)?);
    }
    let sharing = match begun.as_mut_slice() {
        [front, back] if site.covering.stock == StockMethod::CutFromStock => {
            laying::share_offcuts(&mut front.laid, &mut back.laid)
        }
        _ => None,
    };
    laying::number(begun.iter_mut().map(|begun| &mut begun.laid));
    let mut spares = Requirements::default();
    let mut offcuts = Vec::new();
    for (index, (begun, (slope_facts, heard))) in begun.into_iter().zip(&mut hearings).enumerate() {
        let sheets = &begun.laid.cuts.sheets;
        let mut pieces: Vec<Piece> = sheets.iter().flat_map(|sheet| &sheet.pieces).copied().collect();
        pieces.append(&mut offcuts);
        offcuts.extend(sheets.iter().flat_map(|sheet| &sheet.for_back).copied());
        let (laid, mut found) = begun.finish(&pieces, &site, index, heard, book)?;
        if sharing.is_none() {
            found.extend(laying::best_found(index, &laid.cuts, heard, book));
        }
        let said = heard.findings(index, slope_facts, book).into_iter().chain(found);
        findings.extend(said.filter(|one| one.requirement.is_none_or(|requirement| laid.uses(requirement))));
        spares.merge(&heard.requirements);
        slopes.push(laid);
    }
    findings.extend(sharing.map(|sharing| laying::shared(sharing, &slopes)));
    let (edges, finials, found) = closing::close_edges(&site, &slopes, top, book);
    findings.extend(found);
    findings.extend(closing::ridge_heights(&site, book));
    findings.extend(refusals::not_insulated(&site, &slopes));
    findings.extend(like(facts, book).map(slope::taken_from));
    let bill = Bill { site: &site, slopes: &slopes, edges: &edges, finials, requirements: &spares };
    let materials = take_off(&bill, &book.catalogue);
    findings.retain(|finding| is_of_this_roof(finding, &materials));
    let parts = PlanParts {
        facts: facts.clone(),
        findings: requirements::of_the_whole_roof(&findings, site.slopes.len()),
        site,
        slopes,
        edges,
        finials,
        sharing,
        materials,
        cautions,
        catalogue: book.catalogue.version.clone(),
        demo: book.catalogue.demo,
        made: Made::of(facts, book, day),
        goods: Arc::new(book.catalogue.clone()),
    };
    Plan::checked(parts).map_err(Unplanned::Fault)
}

/// Of what goes with the rest only what this roof takes is told.
fn is_of_this_roof(finding: &Finding, materials: &Materials) -> bool {
    let counted = finding.requirement.and_then(Requirement::counts);
    counted.is_none_or(|usage| materials.lines.iter().any(|line| line.purpose == usage.purpose()))
}

fn refused(refusals: Vec<Refusal>) -> Result<(), Unplanned> {
    if refusals.is_empty() { Ok(()) } else { Err(Unplanned::Refused(refusals)) }
}

fn unplanned(unready: Unready, book: &Handbook) -> Unplanned {
    match unready {
        Unready::Missing(missing) => Unplanned::Missing(missing),
        Unready::Contradictions(all) => {
            Unplanned::Refused(all.into_iter().map(|one| Refusal::disagree(one, book)).collect())
        }
    }
}
