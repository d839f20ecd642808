//! Whether the roof holds, in its own figures: what the checks of strength, water and damp found.

use super::Roof;
use super::{practice, support};
use crate::roofing::checks::{Check, CheckKind, sayings, unmeasured};
use crate::roofing::note::{Arg, Note};
use crate::units::Length;
use crate::units::physical::Pressure;

/// What settled snow weighs, and wet snow: EN 1991-1-3 Annex E, Table E.1, in N/m³.
const SETTLED: f64 = 2_000.0;
const WET: f64 = 4_000.0;

/// What the checks of a roof found; nothing without a plan.
struct Found(Vec<Check>);

impl Found {
    fn of(roof: &Roof<'_>) -> Self {
        Self(roof.plan.map(|plan| plan.checks(&roof.book.rules)).unwrap_or_default())
    }

    /// What the checks of these kinds say.
    fn said(&self, kinds: &[CheckKind]) -> Vec<Note> {
        sayings(self.0.iter().filter(|check| kinds.contains(&check.kind)))
    }
}

/// What the timber carries.
pub(super) fn weight(roof: &Roof<'_>) -> Vec<Note> {
    let found = Found::of(roof);
    let own = found.said(&[CheckKind::Purlins, CheckKind::Deck, CheckKind::Rafters]);
    own.into_iter().chain(unmeasured(&found.0)).chain(support::weight(roof)).collect()
}

/// What snow it carries, as deep as it lies.
pub(super) fn snow(roof: &Roof<'_>) -> Vec<Note> {
    let found = Found::of(roof);
    let least = found.0.iter().filter_map(|check| check.snow_carried).reduce(Pressure::min);
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
    let expected = found.said(&[CheckKind::Snow]);
    let frame = [Note::new("answer-snow-on-roof"), Note::new("answer-snow-on-roof-clear")];
    own.into_iter().chain(expected).chain(frame).collect()
}

/// Whether it drips from below.
pub(super) fn drips(roof: &Roof<'_>) -> Vec<Note> {
    [Note::new("answer-condensation")].into_iter().chain(Found::of(roof).said(&[CheckKind::Damp])).collect()
}

/// The gutter that takes what runs off.
pub(super) fn gutter(roof: &Roof<'_>) -> Vec<Note> {
    let own = Found::of(roof).said(&[CheckKind::Gutter]);
    if own.is_empty() { vec![Note::new("answer-gutter-size-general")] } else { own }
}

/// When to stop in the wind, and what this roof's nails hold.
pub(super) fn wind(roof: &Roof<'_>) -> Vec<Note> {
    let own = Found::of(roof).said(&[CheckKind::Uplift]);
    practice::wind(roof).into_iter().chain(own).collect()
}
