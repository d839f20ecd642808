//! How the roof is reached, and when it is no work for a beginner.

use super::Finds;
use super::check::{Check, CheckKind, Roof};
use super::methods::access::ladder;
use super::place::{Place, millimetres};
use crate::roofing::note::{Arg, Note};
use crate::roofing::rules::{Basis, Figure, Practice};
use crate::units::{Angle, Length};

/// Ladder, platform or somebody whose trade it is.
pub(super) fn check(roof: &Roof<'_>, place: &Place<'_>) -> Check {
    let mut check = Check::new(CheckKind::Access, None);
    let steepest = roof.site.slopes.iter().map(|slope| slope.pitch.value).max().unwrap_or_default();
    check.step("sum-eaves", "h", "", place.eaves.mm() / 1e3, "m");
    check.step("sum-pitch", "α", "", steepest.deg(), "°");
    let (one_in, above) = (
        roof.rules.practice(Figure::LadderOneIn).map_or(4, Practice::count),
        roof.rules.practice(Figure::LadderOverEdge).map_or(Length::ZERO, Practice::length),
    );
    let leaned = ladder(place.eaves, one_in, above);
    if let Some(ladder) = &leaned {
        check.step("sum-ladder", "l", "h √(1 + 1 / n²) + 1 m", ladder.length.mm() / 1e3, "m");
    }
    let note = |message: &str| Note::new(message).length("eaves", place.eaves);
    if place.eaves >= millimetres(roof.rules, Basis::ProfessionalFrom) {
        check.finds = Finds::Beyond;
        check.says.push(note("check-access-says-professional"));
    } else if place.eaves >= millimetres(roof.rules, Basis::PlatformFrom) {
        check.finds = Finds::More;
        check.says.push(note("check-access-says-platform"));
    } else {
        let length = leaned.map_or(Length::ZERO, |ladder| ladder.length);
        check.says.push(note("check-access-says").length("ladder", length));
    }
    let from = Angle::from_deg_f64(roof.basis(Basis::RoofLadderFrom)).unwrap_or_default();
    if steepest >= from {
        check.finds = check.finds.max(Finds::More);
        check.says.push(Note::new("check-access-says-roof-ladder").with("pitch", Arg::Angle(steepest)));
    }
    check
}
