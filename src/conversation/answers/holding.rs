//! Whether the roof holds, in its own figures: what the checks of strength, water and damp found.

use super::Roof;
use super::{practice, support};
use crate::roofing::checks::{Check, CheckKind};
use crate::roofing::note::{Arg, Note};
use crate::units::Length;
use crate::units::physical::Pressure;

/// What settled snow weighs, and wet snow: EN 1991-1-3 Annex E, Table E.1, in N/m³.
const SETTLED: f64 = 2_000.0;
const WET: f64 = 4_000.0;

impl Roof<'_> {
    /// What the checks of these kinds found; nothing without a plan.
    fn found(&self, kinds: &[CheckKind]) -> Vec<Check> {
        let all = self.plan.map(|plan| plan.checks(&self.book.rules)).unwrap_or_default();
        all.into_iter().filter(|check| kinds.contains(&check.kind)).collect()
    }

    /// What they say, each thing once.
    fn said(&self, kinds: &[CheckKind]) -> Vec<Note> {
        let said = self.found(kinds).into_iter().flat_map(|check| check.says);
        said.fold(Vec::new(), |mut kept, note| {
            if !kept.contains(&note) {
                kept.push(note);
            }
            kept
        })
    }

    /// That nobody has measured the rafters, where that is so.
    fn rafters_unmeasured(&self) -> Option<Note> {
        let measured = || self.found(&[CheckKind::Rafters]);
        (self.plan.is_some() && measured().is_empty()).then(|| Note::new("check-not-measured"))
    }
}

/// What the timber carries.
pub(super) fn weight(roof: &Roof<'_>) -> Vec<Note> {
    let own = roof.said(&[CheckKind::Purlins, CheckKind::Deck, CheckKind::Rafters]);
    own.into_iter().chain(roof.rafters_unmeasured()).chain(support::weight(roof)).collect()
}

/// What snow it carries, as deep as it lies.
pub(super) fn snow(roof: &Roof<'_>) -> Vec<Note> {
    let carried = roof.found(&[CheckKind::Purlins]).into_iter().filter_map(|check| check.snow_carried);
    let least = carried.reduce(Pressure::min);
    let deep = |load: Pressure, weighs: f64| {
        let depth = Length::from_mm_f64(load.pa() / weighs * 1_000.0).unwrap_or_default();
        // To the half decimetre below: nobody measures snow finer. More than a metre is said to be a metre: what carries
        // the purlins has not been looked at.
        (Length::from_mm(50) * depth.div_floor(Length::from_mm(50))).min(Length::from_mm(1_000))
    };
    let own = least.map(|load| {
        Note::new("answer-snow-on-roof-carries")
            .with("load", Arg::Text(format!("{:.1} kN/m²", load.pa() / 1_000.0)))
            .length("settled", deep(load, SETTLED))
            .length("wet", deep(load, WET))
    });
    let expected = roof.said(&[CheckKind::Snow]);
    let frame = [Note::new("answer-snow-on-roof"), Note::new("answer-snow-on-roof-clear")];
    own.into_iter().chain(expected).chain(frame).collect()
}

/// Whether it drips from below.
pub(super) fn drips(roof: &Roof<'_>) -> Vec<Note> {
    [Note::new("answer-condensation")].into_iter().chain(roof.said(&[CheckKind::Damp])).collect()
}

/// The gutter that takes what runs off.
pub(super) fn gutter(roof: &Roof<'_>) -> Vec<Note> {
    let own = roof.said(&[CheckKind::Gutter]);
    if own.is_empty() { vec![Note::new("answer-gutter-size-general")] } else { own }
}

/// When to stop in the wind, and what this roof's nails hold.
pub(super) fn wind(roof: &Roof<'_>) -> Vec<Note> {
    let own = roof.said(&[CheckKind::Uplift]);
    practice::wind(roof).into_iter().chain(own).collect()
}
