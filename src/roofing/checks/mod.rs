//! Whether a roof holds: snow, wind, timber, fastenings, water, damp and access, each by a published method.
//!
//! Pure, like all of roofing. [`look_over`] looks at a roof whose slopes are laid; before they are,
//! [`strength`] says what timber, deck and nails the roof wants, as contributions to the same requirements that the rules
//! tighten. [`methods`] are the standards' own formulas; what stands here puts a roof into them. Nothing here replaces
//! an engineer, and each check names what it did not look at.

mod access;
mod check;
mod damp;
mod decks;
mod gutters;
pub mod methods;
mod place;
mod purlins;
mod rafters;
pub mod strength;
mod uplift;

use crate::roofing::note::Note;

pub use check::{Check, CheckKind, Finds, Roof, Step};

use place::{Place, snow};

/// Every check of a roof, slope by slope where its slopes differ; none where the book holds nothing to check by.
pub fn look_over(roof: &Roof<'_>) -> Vec<Check> {
    let Some(place) = Place::of(roof.facts, roof.rules) else { return Vec::new() };
    let mut checks = vec![place.wind_check(roof)];
    for (index, laid) in roof.slopes.iter().enumerate() {
        checks.push(snow::check(roof, &place, index));
        checks.extend(purlins::check(roof, &place, index, laid));
        checks.extend(decks::check(roof, &place, index, laid));
        checks.extend(rafters::check(roof, &place, index));
        checks.extend(uplift::check(roof, &place, index, laid));
        checks.extend(uplift::screws_check(roof, &place, index, laid));
        checks.push(gutters::check(roof, &place, index));
        checks.extend(damp::check(roof, &place, index, laid));
    }
    checks.push(access::check(roof, &place));
    said_once(checks, roof.slopes.len())
}

/// What checks say, each thing once.
pub fn sayings<'c>(checks: impl Iterator<Item = &'c Check>) -> Vec<Note> {
    checks.flat_map(|check| &check.says).fold(Vec::new(), |mut kept, note| {
        if !kept.contains(note) {
            kept.push(note.clone());
        }
        kept
    })
}

/// What no check could look at, because nobody has measured it.
pub fn unmeasured(checks: &[Check]) -> Option<Note> {
    let looked = checks.iter().any(|check| check.kind == CheckKind::Rafters);
    (!looked && !checks.is_empty()).then(|| Note::new("check-not-measured"))
}

/// What holds of both slopes alike is said once, of the roof; checks of a kind stand together.
fn said_once(checks: Vec<Check>, slopes: usize) -> Vec<Check> {
    let mut kept: Vec<Check> = Vec::new();
    for check in checks {
        let whole = Check { slope: None, ..check.clone() };
        match kept.iter_mut().find(|other| Check { slope: None, ..(*other).clone() } == whole) {
            Some(other) => other.slope = None,
            None => kept.push(check),
        }
    }
    if slopes == 1 {
        for check in &mut kept {
            check.slope = None;
        }
    }
    kept.sort_by_key(|check| (check.kind, check.slope));
    kept
}
