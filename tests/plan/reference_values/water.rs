//! Topic 5: rain.

use lapwise::roofing::checks::methods::water::{
    WALL_SHARE, caught, caught_by_plan, caught_square, from_wall, half_round_area, half_round_over,
    half_round_row, long_factor, run_off,
};
use lapwise::units::Length;
use serde_json::Value;

use super::{Found, degrees, metres, mm, number, numbers, text};

/// "garage 6 x 3 m per slope of duopitch, rise 1.2" and "lean-to 8 x 3.5, rise 0.6, house wall 8 x 2.5 above".
fn small_building(inputs: &Value) -> Found {
    let told = numbers(text(inputs, "case"));
    let (length, width, rise) = (metres(told[0]), metres(told[1]), metres(told[2]));
    let mut area = caught(length, width, rise);
    if let [_, _, _, wall, high] = told[..] {
        area = area + from_wall(metres(wall), metres(high));
    }
    // The file tells litres a second on each square metre, rounded: in millimetres an hour.
    let rain = mm(number(inputs, "r") * 3_600.0);
    let gutter = mm(number(inputs, "gutter_mm"));
    let drained = if text(inputs, "outlet") == "centre" { length / 2 } else { length };
    let (flow, carries) = (run_off(rain, area), half_round_over(gutter, drained, 0));
    Found::of([
        ("Ae_m2", area.square_metres()),
        ("Q_l_s", flow.l_per_s()),
        ("L_over_W", drained.mm() / (gutter / 2).mm()),
        ("FL", long_factor(drained, gutter / 2)),
        ("QL_l_s", carries.l_per_s()),
        ("ok", f64::from(u8::from(flow <= carries))),
    ])
}

pub(super) fn found(case: &Value) -> Option<Found> {
    let inputs = &case["inputs"];
    let cloudburst = mm(75.0);
    let square_metre = Length::from_mm(1_000).by(Length::from_mm(1_000));
    Some(match text(case, "quantity") {
        "design intensity" => {
            Found::one(run_off(mm(number(inputs, "rainfall_mm_h")), square_metre).l_per_s())
        }
        "effective-area factor" => {
            let pitch = number(inputs, "pitch_deg");
            Found::one(if pitch > 70.0 { WALL_SHARE } else { caught_by_plan(degrees(pitch)) })
        }
        "effective area" => {
            let of = |name: &str| metres(number(inputs, name));
            let (length, width, rise) = (of("length_m"), of("plan_width_m"), of("rise_m"));
            let area = match text(inputs, "rain") {
                square if square.starts_with("perpendicular") => caught_square(length, width, rise),
                driven if driven.contains("wind") => caught(length, width, rise),
                _ => length.by(width),
            };
            Found::one(area.square_metres())
        }
        "half-round gutter table" => {
            let gutter = mm(number(inputs, "gutter_mm"));
            let row = half_round_row(gutter).expect("a row");
            let most: f64 = row.most.to_string().parse().expect("a number");
            // What the formula of the standard makes of the gutter agrees with the table's own row.
            let by_formula = half_round_area(gutter, cloudburst);
            assert!((by_formula - most).abs() <= 0.02 * most, "{}: {by_formula}", case["id"]);
            let mut found = Found::of([("max_effective_area_m2", most), ("outlet_mm", row.outlet.mm())]);
            // The table's litres are its square metres turned: by the formula they agree as nearly as those.
            if let Some(litres) = case["expected"]["capacity_l_s"].as_f64() {
                let ours = half_round_over(gutter, Length::ZERO, 0).l_per_s();
                assert!((ours - litres).abs() <= 0.02 * litres, "{}: {ours}", case["id"]);
                found.told.push("capacity_l_s");
            }
            found
        }
        "small-building check" => small_building(inputs),
        _ => return None,
    })
}
