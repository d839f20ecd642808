//! What runs off each slope in a short storm, and the gutter that takes it.

use super::Finds;
use super::check::{Check, CheckKind, Roof};
use super::methods::water::{FILLING, HALF_ROUND, caught, downpipe, from_wall, half_round_over, run_off};
use super::place::{Place, millimetres};
use crate::roofing::note::{Arg, Note};
use crate::roofing::rules::Basis;
use crate::units::physical::Flow;

/// The gutter of one slope: half-round and level, with its outlet at an end, or in the middle where that is not enough.
pub(super) fn check(roof: &Roof<'_>, place: &Place<'_>, index: usize) -> Check {
    let mut check = Check::new(CheckKind::Gutter, Some(index));
    let (pitch, rafter) = roof.slope(index);
    let length = roof.site.length.value;
    let (run, rise) = (rafter.scale(pitch.cos()), rafter.scale(pitch.sin()));
    let mut area = caught(length, run, rise);
    check.step("sum-rain", "r", "", place.rain.mm(), "mm/h");
    check.step("sum-caught", "A", "L (B + H / 2)", area.square_metres(), "m²");
    if roof.site.wall_top {
        area = area + from_wall(length, millimetres(roof.rules, Basis::WallAbove));
        check.step("sum-caught-with-wall", "A", "L (B + H / 2) + L Hw / 2", area.square_metres(), "m²");
    }
    let flow = run_off(place.rain, area);
    check.step("sum-run-off", "Q", "r A", flow.l_per_s(), "l/s");
    // One outlet at an end; else one in the middle, so that each half takes half.
    let ways = [(length, flow, "check-outlet-end"), (length / 2, flow * 0.5, "check-outlet-middle")];
    let fits = ways.into_iter().find_map(|(drained, share, outlet)| {
        let row = HALF_ROUND.iter().find(|row| half_round_over(row.width, drained, 0) >= share)?;
        Some((row, half_round_over(row.width, drained, 0), share, outlet))
    });
    let litres = Arg::Text(format!("{:.1} l/s", flow.l_per_s()));
    let note = |message: &str| Note::new(message).with("flow", litres.clone()).length("rain", place.rain);
    let Some((row, carries, share, outlet)) = fits else {
        check.finds = Finds::Beyond;
        check.says.push(note("check-gutter-says-beyond"));
        return check;
    };
    check.step("sum-gutter-carries", "QL", "0.9 · 2.78·10⁻⁵ AE^1.25 FL", carries.l_per_s(), "l/s");
    check.uses(share / carries.max(Flow::from_l_per_s(1e-9)));
    let pipe = downpipe(row.outlet, FILLING);
    check.step("sum-downpipe", "QRWP", "2.5·10⁻⁴ kb^−0.167 di^2.667 f^1.667", pipe.l_per_s(), "l/s");
    check.says.push(
        note("check-gutter-says").size("gutter", row.width).size("pipe", row.outlet).word("outlet", outlet),
    );
    check
}
