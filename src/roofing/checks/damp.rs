//! Whether it drips from below: the coldest surface inside against the dew point, month by month.

use super::Finds;
use super::check::{Check, CheckKind, Roof};
use super::methods::damp::{Surface, dew_point, profile, saturation, transmittance};
use super::place::Place;
use crate::roofing::facts::FactKey;
use crate::roofing::laid::SlopePlan;
use crate::roofing::layout::SupportPlan;
use crate::roofing::note::{Arg, Note};
use crate::roofing::rules::Basis;
use crate::units::physical::{Conductivity, Pressure, ThermalResistance};
use crate::units::{Length, Temperature};

/// Softwood and boards: EN ISO 10456, 0.13 W/(m·K).
const WOOD: Conductivity = Conductivity::from_w_per_mk(0.13);
/// Boards of insulation whose make nobody knows: 0.035 W/(m·K), from memory.
const INSULATION: Conductivity = Conductivity::from_w_per_mk(0.035);

/// The damp below one slope; `None` in a book whose climate cannot be read.
pub(super) fn check(roof: &Roof<'_>, place: &Place<'_>, index: usize, laid: &SlopePlan) -> Option<Check> {
    let mut check = Check::new(CheckKind::Damp, Some(index));
    let (deck, bare) = match laid.support {
        SupportPlan::Purlins => (Length::ZERO, true),
        SupportPlan::PurlinsOverDeck { deck, .. } | SupportPlan::ExistingDeck { deck } => (deck, false),
        SupportPlan::NewFullDeck { thickness, .. } => (thickness, false),
    };
    let insulated = roof.goods.areas.iter().find(|area| {
        area.usage == crate::roofing::catalogue::AreaUse::Insulation && roof.site.insulation && !bare
    });
    let board = insulated.map_or(Length::ZERO, |area| area.thickness);
    // From outside: the sheet counts for nothing, then boards of insulation, then the deck.
    let layers = [INSULATION.resistance(board), WOOD.resistance(deck)];
    let surfaces = (Surface::outside(), Surface::Up.inside());
    let total: ThermalResistance = surfaces.0 + surfaces.1 + layers.into_iter().sum();
    check.step("sum-resistance", "RT", "Rse + ΣR + Rsi", total.m2k_per_w(), "m²K/W");
    check.step("sum-transmittance", "U", "1 / RT", transmittance(total), "W/(m²K)");
    let heated = roof.facts.says_yes(FactKey::Heated);
    let vapour = roof.basis(if heated { Basis::VapourHeated } else { Basis::VapourUnheated });
    let mut drips = 0_usize;
    let mut worst: Option<(f64, f64, f64)> = None;
    for month in &place.weather.months {
        let outdoors = Temperature::from_celsius_f64(*month)?;
        let indoors = if heated {
            Temperature::from_celsius_f64(roof.basis(Basis::RoomHeated))?
        } else {
            Temperature::from_celsius_f64(month + roof.basis(Basis::RoomUnheated))?
        };
        // The warmer it is outside, the more windows stand open: nothing more inside from 20 degrees on.
        let more = vapour * (1.0 - month / 20.0).clamp(0.0, 1.0);
        let inside = saturation(outdoors) * (roof.basis(Basis::Humidity) / 100.0) + Pressure::from_pa(more);
        let night = Temperature::from_celsius_f64(month - roof.basis(Basis::NightSky))?;
        let surface = *profile(&layers, surfaces, night, indoors).last()?;
        let dew = dew_point(inside)?;
        if dew > surface {
            drips += 1;
        }
        let short = dew.celsius_f64() - surface.celsius_f64();
        if worst.is_none_or(|(most, ..)| short > most) {
            worst = Some((short, surface.celsius_f64(), dew.celsius_f64()));
        }
    }
    let (_, surface, dew) = worst?;
    check.step("sum-surface", "θsi", "θe + (θi − θe)(RT − Rsi) / RT", surface, "°C");
    check.step("sum-dew-point", "θdew", "237.3 ln(p / 610.5) / (17.269 − ln(p / 610.5))", dew, "°C");
    let u = Arg::Text(format!("{:.1} W/(m²K)", transmittance(total)));
    let message = match (drips, bare) {
        (0, _) => "check-damp-says",
        (_, true) => "check-damp-says-bare",
        (_, false) => "check-damp-says-deck",
    };
    if drips > 0 {
        check.finds = Finds::More;
    }
    let below = if heated { "check-room-heated" } else { "check-room-unheated" };
    check.says.push(Note::new(message).count("months", drips).with("u", u).word("room", below));
    Some(check)
}
