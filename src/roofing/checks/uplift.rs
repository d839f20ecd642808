//! What holds the sheets down, nail by nail and zone by zone; and what holds the purlins down.

use std::collections::BTreeMap;

use super::Finds;
use super::check::{Check, CheckKind, Roof, load, percent, sheets_weigh};
use super::methods::holding::{Shank, nail_withdrawal, penetration_share, screw_withdrawal};
use super::methods::timber::{Duration, Material, ServiceClass, gamma_m, grade, k_mod, lifted};
use super::place::Place;
use super::place::suction::{Suction, Zoned};
use super::purlins::service;
use crate::roofing::catalogue::{self, Catalogue, Fastener, FastenerUse};
use crate::roofing::fixings::Fixing;
use crate::roofing::laid::SlopePlan;
use crate::roofing::layout::SupportPlan;
use crate::roofing::note::Note;
use crate::roofing::roof::Base;
use crate::roofing::rules::Basis;
use crate::units::physical::{Density, Force, Pressure, Stress};
use crate::units::{Angle, Length};

/// What one nail or screw through a sheet holds, in the wind.
#[derive(Clone, Copy, Debug)]
pub(super) struct Grip {
    pub(super) diameter: Length,
    pub(super) bite: Length,
    pub(super) density: Density,
    /// What of the withdrawal counts so deep.
    pub(super) share: f64,
    /// The design value.
    pub(super) holds: Force,
}

/// How a fixing holds in timber of this density, so deep; `None` where the standard says nothing of it: of a ringed or
/// twisted nail only what its maker declares counts.
pub(super) fn grip(fastener: &Fastener, bite: Length, density: Density, class: ServiceClass) -> Option<Grip> {
    let (characteristic, share) = match fastener.usage {
        FastenerUse::SheetNail => {
            let shank = match (fastener.shank, fastener.withdrawal) {
                (catalogue::Shank::Smooth, _) => Shank::Smooth,
                (_, declared) => Shank::Profiled(Stress::from_n_per_mm2(declared?.n_per_mm2())),
            };
            let share = penetration_share(shank, fastener.diameter, bite);
            (nail_withdrawal(shank, fastener.diameter, bite, density), share)
        }
        FastenerUse::SheetScrew | FastenerUse::DeckScrew | FastenerUse::PurlinScrew => {
            (screw_withdrawal(fastener.diameter, bite, density, Angle::from_deg(90))?, 1.0)
        }
    };
    let k_mod = k_mod(Material::Solid, class, Duration::Instantaneous)?;
    let holds = characteristic * (k_mod / gamma_m(Material::Solid));
    Some(Grip { diameter: fastener.diameter, bite, density, share, holds })
}

/// The density of the timber that the sheets are fixed to: of the purlins by their class, else of old timber.
pub(super) fn density(goods: &Catalogue, timber: Option<&str>, old_timber: f64) -> Option<Density> {
    let class = timber.and_then(|id| goods.timbers.iter().find(|timber| timber.item.id == id));
    let named = class.and_then(|timber| timber.class.clone()).unwrap_or_else(|| format!("C{old_timber:.0}"));
    grade(&named).map(|grade| grade.density)
}

/// How much more a line between others bears where sheets go on over it: 1.25 over three lines, 1.1 over more.
pub(super) fn goes_on(lines: usize, line: usize) -> f64 {
    match (line, lines) {
        (0, _) => 1.0,
        (line, lines) if line + 1 >= lines => 1.0,
        (_, 3) => 1.25,
        (_, _) => 1.1,
    }
}

/// The strip of slope that each line holds: half the way to its neighbours, the whole overhang at the ends.
fn strips(laid: &SlopePlan) -> Vec<(Length, Length)> {
    let ends = (-laid.eaves_overhang, laid.rafter_length);
    let heights: Vec<Length> = laid.lines.iter().map(|line| line.y).collect();
    let below = [None].into_iter().chain(heights.iter().copied().map(Some));
    let above = heights.iter().skip(1).copied().map(Some).chain([None]);
    let around = heights.iter().zip(below).zip(above);
    around
        .map(|((y, below), above)| {
            let from = below.map_or(ends.0, |below| (below + *y) / 2);
            let to = above.map_or(ends.1, |above| (above + *y) / 2);
            (*y, to - from)
        })
        .collect()
}

/// The hardest nail of one zone.
#[derive(Clone, Copy, Debug)]
struct Hardest {
    coefficient: f64,
    area: f64,
    pull: Force,
}

/// The sheets' fixings of a laid slope.
pub(super) fn check(roof: &Roof<'_>, place: &Place<'_>, index: usize, laid: &SlopePlan) -> Option<Check> {
    let mut check = Check::new(CheckKind::Uplift, Some(index));
    let Some(suction) = Suction::of(place, roof.site, index) else {
        check.finds = Finds::Beyond;
        check.says.push(Note::new("check-uplift-says-no-table"));
        return Some(check);
    };
    let fastener = roof.goods.fasteners.iter().find(|fastener| fastener.item.id == laid.nail)?;
    let density = density(roof.goods, laid.purlin_timber.as_deref(), roof.basis(Basis::OldTimber))?;
    let grip = grip(fastener, laid.least_bite(), density, service(place));
    let weight = sheets_weigh(&roof.site.sheet, roof.site.covering.stock, 0.0) * roof.slope(index).0.cos();
    check.step("sum-peak-pressure", "qp", "(1 + 7 Iv) ρ (cr co vb)² / 2", suction.peak.pa() / 1e3, "kN/m²");
    check.step("sum-inside", "cpi", "", suction.inside, "");
    let zones = hardest_of_each(laid, &suction, weight);
    let most = zones.values().map(|hardest| hardest.pull).fold(Force::ZERO, Force::max);
    for (zone, hardest) in &zones {
        check.step(in_zone(*zone), zone.symbol(), "", -hardest.coefficient, "");
        check.step("sum-area", "A", "", hardest.area, "m²");
        check.step("sum-pull", "Ft,d", "γQ qp cp A − 0.9 g A", hardest.pull.n(), "N");
    }
    let Some(grip) = grip else {
        check.says.push(Note::new("check-uplift-says-declared").with("pull", newtons(most)));
        check.finds = Finds::More;
        return Some(check);
    };
    check.step("sum-diameter", "d", "", grip.diameter.mm(), "mm");
    check.step("sum-bite", "tpen", "", grip.bite.mm(), "mm");
    check.step("sum-density", "ρk", "", grip.density.kg_per_m3(), "kg/m³");
    let share = if fastener.shank == catalogue::Shank::Smooth {
        "tpen / 4 d − 2, 0 to 1"
    } else {
        "tpen / 2 d − 3, 0 to 1"
    };
    check.step("sum-share", "β", share, grip.share, "");
    check.step("sum-holds", "Fax,Rd", "kmod fax,k d tpen β / γM", grip.holds.n(), "N");
    if grip.holds <= Force::ZERO {
        check.says.push(Note::new("check-uplift-says-declared").with("pull", newtons(most)));
        check.finds = Finds::More;
        return Some(check);
    }
    check.uses(most / grip.holds);
    let message = check.settle("check-uplift-says", "check-uplift-says-beyond");
    let note = Note::new(message).with("pull", newtons(most)).with("holds", newtons(grip.holds));
    check.says.push(note.with("used", check.percent()).with("peak", load(suction.peak)));
    Some(check)
}

/// The name of a step in a zone.
const fn in_zone(zone: Zoned) -> &'static str {
    if zone.is_edge() { "sum-in-edge-zone" } else { "sum-in-field" }
}

fn newtons(force: Force) -> crate::roofing::note::Arg {
    crate::roofing::note::Arg::Text(format!("{:.0} N", libm::ceil(force.n())))
}

/// The fixing of each zone that the wind pulls hardest.
fn hardest_of_each(laid: &SlopePlan, suction: &Suction, weight: Pressure) -> BTreeMap<Zoned, Hardest> {
    let mut by_line: BTreeMap<Length, Vec<&Fixing>> = BTreeMap::new();
    for fixing in &laid.fixings {
        by_line.entry(fixing.y).or_default().push(fixing);
    }
    let width = (-laid.verge_overhang.max(laid.far_verge_overhang), laid.covered_width);
    let mut zones: BTreeMap<Zoned, Hardest> = BTreeMap::new();
    for (number, (y, strip)) in strips(laid).into_iter().enumerate() {
        let Some(fixings) = by_line.get(&y) else { continue };
        let mut along: Vec<Length> = fixings.iter().map(|fixing| fixing.x).collect();
        along.sort_unstable();
        let more = goes_on(laid.lines.len(), number);
        for (place, x) in along.iter().enumerate() {
            let before = place.checked_sub(1).and_then(|before| along.get(before));
            let from = before.map_or(width.0, |before| (*before + *x) / 2);
            let to = along.get(place + 1).map_or(width.0 + width.1, |after| (*x + *after) / 2);
            let area = (to - from).max(Length::ZERO).by(strip).square_metres() * more;
            let Some((coefficient, zone)) = suction.at(*x, y) else { continue };
            let pull = Force::from_n(lifted(suction.peak * coefficient.max(0.0), weight).pa() * area);
            let found = Hardest { coefficient, area, pull };
            let most = zones.entry(zone).or_insert(found);
            if pull > most.pull {
                *most = found;
            }
        }
    }
    zones
}

/// The screws from purlin to rafter.
pub(super) fn screws_check(
    roof: &Roof<'_>,
    place: &Place<'_>,
    index: usize,
    laid: &SlopePlan,
) -> Option<Check> {
    if laid.support != SupportPlan::Purlins || roof.site.base != Base::Rafters {
        return None;
    }
    let suction = Suction::of(place, roof.site, index)?;
    let timber =
        roof.goods.timbers.iter().find(|timber| Some(&timber.item.id) == laid.purlin_timber.as_ref())?;
    let used = laid.screws.iter().find(|screws| screws.usage == FastenerUse::PurlinScrew)?;
    let screw = roof.goods.fasteners.iter().find(|fastener| fastener.item.id == used.screw)?;
    let spacing = roof.rules.length_band(roof.site.timber_spacing).1;
    let gaps = laid.lines.iter().zip(laid.lines.iter().skip(1)).map(|(below, above)| above.y - below.y);
    let strip = gaps.max().unwrap_or_default();
    let area = strip.by(spacing);
    let coefficient = suction.over(area);
    let weight = sheets_weigh(&roof.site.sheet, roof.site.covering.stock, 0.0) * roof.slope(index).0.cos();
    // A purlin that goes on over a rafter sends more to it than its share.
    let pull = Force::from_n(lifted(suction.peak * coefficient, weight).pa() * area.square_metres() * 1.25);
    let density = density(roof.goods, None, roof.basis(Basis::OldTimber))?;
    let mut check = Check::new(CheckKind::PurlinScrews, Some(index));
    check.step("sum-peak-pressure", "qp", "(1 + 7 Iv) ρ (cr co vb)² / 2", suction.peak.pa() / 1e3, "kN/m²");
    check.step("sum-suction", "cp,net", "", -coefficient, "");
    check.step("sum-area", "A", "", area.square_metres(), "m²");
    check.step("sum-pull", "Ft,d", "1.25 (γQ qp cp A − 0.9 g A)", pull.n(), "N");
    let bite = used.length - timber.depth;
    let Some(grip) = grip(screw, bite, density, service(place)).filter(|grip| grip.holds > Force::ZERO)
    else {
        check.finds = Finds::More;
        check.says.push(Note::new("check-screws-says-declared").with("pull", newtons(pull)));
        return Some(check);
    };
    check.step("sum-diameter", "d", "", grip.diameter.mm(), "mm");
    check.step("sum-bite", "lef", "", bite.mm(), "mm");
    check.step("sum-density", "ρk", "", density.kg_per_m3(), "kg/m³");
    check.step("sum-holds", "Fax,Rd", "kmod 0.52 d^0.5 lef^0.9 ρk^0.8 kd / γM", grip.holds.n(), "N");
    check.uses(pull / grip.holds);
    let message = check.settle("check-screws-says", "check-screws-says-beyond");
    let note = Note::new(message).with("pull", newtons(pull)).with("holds", newtons(grip.holds));
    check.says.push(note.with("used", percent(pull / grip.holds)));
    Some(check)
}
