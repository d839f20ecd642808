//! A deck from timber to timber: a person between the timbers, and snow. As a plate that carries one way.

use super::Finds;
use super::check::{Check, CheckKind, GRAVITY, Roof, percent, sheets_weigh};
use super::methods::timber::{
    DeckKind, Duration, GAMMA_PERMANENT, GAMMA_VARIABLE, Material, PERSON, Section, ServiceClass,
    bending_use, deck_strength, depth_factor, design_strength, effective_width, equal_spans,
    final_deflection, gamma_m, k_def, k_mod, sag_of_one_span, walked,
};
use super::place::{Place, millimetres};
use super::purlins::Loads;
use crate::roofing::catalogue::{AreaPiece, AreaUse, Board, Catalogue};
use crate::roofing::facts::FactKey;
use crate::roofing::facts::choices::Support;
use crate::roofing::laid::SlopePlan;
use crate::roofing::layout::SupportPlan;
use crate::roofing::note::Note;
use crate::roofing::roof::Site;
use crate::roofing::rules::{Basis, RuleBook};
use crate::units::Length;
use crate::units::physical::{Force, Pressure, Stress};

/// The side of the square that a person's load presses on.
const FOOT: Length = Length::from_mm(50);

/// A deck between its timbers.
#[derive(Clone, Copy, Debug)]
pub(super) struct Plate {
    kind: DeckKind,
    thickness: Length,
    /// How wide one board or panel is, along the timbers.
    piece: Length,
    span: Length,
    /// Over how many spans one piece goes on.
    spans: usize,
    roof_weight: Pressure,
    sag_one_in: f64,
}

/// What each load uses of a deck.
#[derive(Clone, Copy, Debug)]
pub(super) struct Uses {
    pub(super) person: f64,
    pub(super) snow: f64,
    pub(super) sag: f64,
}

impl Uses {
    pub(super) const fn most(self) -> f64 {
        self.person.max(self.snow).max(self.sag)
    }
}

/// What the shop calls a board, as the standard counts it.
const fn kind_of(board: Board) -> DeckKind {
    match board {
        Board::Boards => DeckKind::TonguedBoards,
        Board::Plywood => DeckKind::Plywood,
        Board::Osb3 => DeckKind::Osb3,
    }
}

impl Plate {
    /// A new deck board of the catalogue over timbers so far apart; `None` where nobody says what it is made of.
    pub(super) fn of_board(area: &AreaPiece, site: &Site, span: Length, rules: &RuleBook) -> Option<Self> {
        let spans = usize::try_from(area.length.div_floor(span)).unwrap_or(1).clamp(1, 3);
        Some(Self {
            kind: kind_of(area.board?),
            thickness: area.thickness,
            piece: area.width,
            span,
            spans,
            roof_weight: sheets_weigh(
                &site.sheet,
                site.covering.stock,
                rules.basis(Basis::Laps).unwrap_or_default(),
            ),
            sag_one_in: rules.basis(Basis::SagOneIn).unwrap_or(200.0),
        })
    }

    /// What each load uses; `None` where the standard's table ends.
    pub(super) fn uses(&self, on_slope: Pressure) -> Option<Uses> {
        let strength = deck_strength(self.kind, self.thickness)?;
        let material = self.kind.material();
        let by_time = |lasts| k_mod(material, ServiceClass::Covered, lasts);
        let tall = if material == Material::Solid { depth_factor(self.thickness) } else { 1.0 };
        let bending = design_strength(strength.bending * tall, by_time(Duration::Short)?, gamma_m(material));
        let used = |width: Length, moment| {
            let section = Section { width, depth: self.thickness };
            let none = Stress::from_n_per_mm2(f64::INFINITY);
            bending_use(section, moment, crate::units::physical::Moment::ZERO, (bending, none)).worst()
        };
        let own = Pressure::from_pa(strength.density.kg_per_m3() * GRAVITY * self.thickness.mm() / 1e3);
        let dead = self.roof_weight + own;
        let metre = Length::from_mm(1_000);
        // A person stands on a strip of it, wherever that is worst.
        let strip = effective_width(self.kind, self.piece, self.span);
        let spans = equal_spans(self.spans, self.span, (dead * GAMMA_PERMANENT).over(strip));
        let stiff = Section { width: strip, depth: self.thickness }.stiffness(strength.stiffness);
        let person: Force = PERSON * GAMMA_VARIABLE;
        // It presses on a square of 50 mm, which blunts the moment under it by F c / 8: EN 1991-1-1 6.3.4.2(4).
        let moment = walked(&spans, person, stiff)?.moment() - person.times(FOOT / 8);
        let person = used(strip, moment);
        // Snow lies on every metre of it; one span alone sags most.
        let laden = (dead * GAMMA_PERMANENT + on_slope * GAMMA_VARIABLE).over(metre).along(self.span);
        let snow = used(metre, laden.times(self.span / 8));
        let stiff = Section { width: metre, depth: self.thickness }.stiffness(strength.stiffness);
        let sags = |load: Pressure| sag_of_one_span(load.over(metre), self.span, stiff);
        let sag = final_deflection(sags(dead), sags(on_slope), 0.0, k_def(material, ServiceClass::Covered)?);
        Some(Uses { person, snow, sag: sag.mm() * self.sag_one_in / self.span.mm().max(1.0) })
    }
}

/// What each deck board of the catalogue is used by over timbers so far apart, the thinnest first; those that nobody says
/// the make of are left out.
pub(super) fn each<'g>(
    goods: &'g Catalogue,
    site: &Site,
    span: Length,
    on_slope: Pressure,
    rules: &RuleBook,
) -> Vec<(&'g AreaPiece, f64)> {
    let boards = goods.areas.iter().filter(|area| area.usage == AreaUse::Deck);
    let used = boards
        .filter_map(|area| Some((area, Plate::of_board(area, site, span, rules)?.uses(on_slope)?.most())));
    let mut all: Vec<(&AreaPiece, f64)> = used.collect();
    all.sort_by_key(|(area, _)| area.thickness);
    all
}

/// The deck of a laid slope, new or found there.
pub(super) fn check(roof: &Roof<'_>, place: &Place<'_>, index: usize, laid: &SlopePlan) -> Option<Check> {
    let span = roof.rules.length_band(roof.site.timber_spacing).1;
    let loads = Loads::on(place, roof.site, index, roof.rules);
    let mut check = Check::new(CheckKind::Deck, Some(index));
    let (deck, is_new) = match &laid.support {
        SupportPlan::Purlins => return None,
        SupportPlan::NewFullDeck { board, .. } => {
            let area = roof.goods.areas.iter().find(|area| area.item.id == *board)?;
            (Plate::of_board(area, roof.site, span, roof.rules)?, true)
        }
        SupportPlan::ExistingDeck { deck: thickness }
        | SupportPlan::PurlinsOverDeck { deck: thickness, .. } => {
            let kind = match roof.facts.chosen(FactKey::Base)? {
                Support::Boards => DeckKind::Boards,
                Support::Plywood => DeckKind::Plywood,
                Support::Osb => DeckKind::Osb3,
                Support::Purlins | Support::Rafters => return None,
            };
            let laps = roof.basis(Basis::Laps);
            let found = Plate {
                kind,
                thickness: *thickness,
                piece: match kind {
                    DeckKind::Boards | DeckKind::TonguedBoards => millimetres(roof.rules, Basis::BoardWidth),
                    DeckKind::Plywood | DeckKind::Osb3 => Length::from_mm(1_200),
                },
                span,
                spans: 2,
                roof_weight: sheets_weigh(&roof.site.sheet, roof.site.covering.stock, laps),
                sag_one_in: roof.basis(Basis::SagOneIn),
            };
            (found, false)
        }
    };
    let uses = deck.uses(loads.on_slope)?;
    check.step("sum-span", "L", "", span.mm() / 1e3, "m");
    check.step("sum-thickness", "t", "", deck.thickness.mm(), "mm");
    check.step("sum-strip-of-deck", "bef", "", effective_width(deck.kind, deck.piece, span).mm(), "mm");
    check.step("sum-snow-on-slope", "s cos α", "", loads.on_slope.pa() / 1e3, "kN/m²");
    check.step("sum-use-person", "η", "σm / fm,d", uses.person, "");
    check.step("sum-use-snow", "η", "σm / fm,d", uses.snow, "");
    check.step("sum-use-sag", "η", "wfin / (L / n)", uses.sag, "");
    check.uses(uses.snow);
    check.uses(uses.sag);
    if is_new {
        check.uses(uses.person);
    }
    let note = |message: &str| Note::new(message).size("deck", deck.thickness).length("spacing", span);
    if check.is_overused() {
        check.finds = Finds::Beyond;
        check.says.push(note("check-deck-says-beyond").with("used", check.percent()));
    } else if uses.person > super::check::MOST {
        // It lies there already; who works on it can keep to the timbers.
        check.finds = Finds::More;
        check.says.push(note("check-deck-says-walk").with("used", percent(uses.person)));
    } else {
        check.uses(uses.person);
        check.says.push(note("check-deck-says").with("used", check.percent()));
    }
    Some(check)
}
