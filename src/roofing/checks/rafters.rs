//! Rafters from wall to ridge, where somebody has measured them.

use super::check::{Check, CheckKind, GRAVITY, Roof, percent, sheets_weigh};
use super::methods::timber::{Section, grade};
use super::place::Place;
use super::purlins::{Beam, Loads, hardest, service};
use crate::roofing::facts::FactKey;
use crate::roofing::note::Note;
use crate::roofing::roof::Base;
use crate::roofing::rules::Basis;
use crate::units::Angle;
use crate::units::physical::Pressure;

/// The weight of deck, purlins and what else lies on rafters beside the sheets: 0.15 kN/m², a working figure from memory.
const BESIDE: Pressure = Pressure::from_pa(150.0);

/// The rafters of a slope; `None` where they were not measured, or do not stand below it.
pub(super) fn check(roof: &Roof<'_>, place: &Place<'_>, index: usize) -> Option<Check> {
    let measured = |fact| roof.facts.length(fact);
    let width = measured(FactKey::RafterWidth)?;
    let depth = measured(FactKey::RafterDepth)?;
    let span = roof.rules.length_band(measured(FactKey::RafterSpan)?).1;
    if roof.site.base == Base::Purlins {
        return None;
    }
    let class = format!("C{:.0}", roof.basis(Basis::OldTimber));
    let loads = Loads::on(place, roof.site, index, roof.rules);
    let (pitch, _) = roof.slope(index);
    let sheets = sheets_weigh(&roof.site.sheet, roof.site.covering.stock, roof.basis(Basis::Laps));
    // A doubt takes the thinner side.
    let section = Section { width: roof.rules.length_band(width).0, depth: roof.rules.length_band(depth).0 };
    let grade = grade(&class)?;
    let beam = Beam {
        section,
        grade,
        span,
        strip: roof.rules.length_band(roof.site.timber_spacing).1,
        // What lies straight down on a slope bends a rafter by its part square to it.
        roof_weight: (sheets + BESIDE) * pitch.cos(),
        own_weight: section.width.mm() * section.depth.mm() / 1e6
            * grade.density_mean.kg_per_m3()
            * GRAVITY
            * pitch.cos(),
        leans: Angle::ZERO,
        class: service(place),
        sag_one_in: roof.basis(Basis::SagOneIn),
    };
    let across = loads.on_slope * pitch.cos();
    let lift = loads.lift(beam.strip, span);
    let uses = beam.uses(across, lift);
    let mut check = Check::new(CheckKind::Rafters, Some(index));
    check.step("sum-span", "L", "", span.mm() / 1e3, "m");
    check.step("sum-strip", "a", "", beam.strip.mm() / 1e3, "m");
    check.step("sum-width", "b", "", section.width.mm(), "mm");
    check.step("sum-depth", "h", "", section.depth.mm(), "mm");
    check.step("sum-bending-strength", "fm,k", "", grade.bending.n_per_mm2(), "N/mm²");
    check.step("sum-weight", "g cos α", "", beam.roof_weight.pa() / 1e3, "kN/m²");
    check.step("sum-snow-across", "s cos² α", "", across.pa() / 1e3, "kN/m²");
    uses.tell(&mut check, "σm / fm,d", "σm / fm,d");
    let message = check.settle("check-rafters-says", "check-rafters-says-beyond");
    let note =
        Note::new(message).length("span", span).size("width", section.width).size("depth", section.depth);
    check.says.push(note.with("used", percent(uses.most())).word("by", hardest(uses)));
    Some(check)
}
