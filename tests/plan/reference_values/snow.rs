//! Topic 2: snow.

use lapwise::roofing::checks::methods::asce;
use lapwise::roofing::checks::methods::snow::{
    Abutment, GermanZone, drift, exceptional, exceptional_drift, ground_by_zone_alpine, ground_by_zone_de,
    ground_by_zone_uk, mu1, mu2, on_roof,
};
use lapwise::units::physical::Pressure;
use lapwise::units::{Angle, Length};
use serde_json::Value;

use super::{Found, degrees, metres, number, text};

fn kilo(value: f64) -> Pressure {
    Pressure::from_pa(value * 1_000.0)
}

/// Snow on the ground by the formula of a country.
fn ground(inputs: &Value) -> Option<Found> {
    let altitude = metres(number(inputs, "altitude_m"));
    let sk = match inputs["country"].as_str()? {
        "UK" => ground_by_zone_uk(number(inputs, "zone_Z"), altitude),
        "AT" => ground_by_zone_alpine(number(inputs, "zone"), altitude),
        "DE" => {
            let zone = match inputs["zone"].to_string().trim_matches('"') {
                "1" => GermanZone::One,
                "1a" => GermanZone::OneA,
                "2" => GermanZone::Two,
                "2a" => GermanZone::TwoA,
                "3" => GermanZone::Three,
                other => panic!("no zone {other}"),
            };
            ground_by_zone_de(zone, altitude)
        }
        _ => return None,
    };
    Some(Found::one(sk.pa() / 1_000.0))
}

fn against_a_wall(case: &Value) -> Found {
    let inputs = &case["inputs"];
    let length = |names: [&str; 2]| names.iter().find_map(|name| inputs[*name].as_f64()).map(metres);
    let sk = inputs["sk_kN_m2"].as_f64().unwrap_or_else(|| number(inputs, "sk"));
    let roof = Abutment {
        upper_width: length(["b1_m", "b1"]).expect("b1"),
        lower_width: length(["b2_m", "b2"]).expect("b2"),
        step: length(["h_m", "h"]).expect("h"),
        upper_pitch: degrees(number(inputs, "upper_pitch_deg")),
        upper_slope: length(["sliding_surface_bs_m", "bs"]).unwrap_or(Length::ZERO),
    };
    let drift = drift(&roof, kilo(sk));
    let mut found = Found::default();
    for (name, expected) in case["expected"].as_object().expect("a drift") {
        let value = match name.as_str() {
            "ls" => drift.reach.mm() / 1_000.0,
            "mu_s" => drift.slid,
            "mu_w" => drift.blown,
            "mu_2" => drift.at_wall,
            "mu_edge" if expected.is_null() => {
                assert_eq!(drift.at_edge, None, "{}: the drift ends before the edge", case["id"]);
                continue;
            }
            "mu_edge" => drift.at_edge.expect("the triangle is cut at the edge"),
            other => panic!("no test knows {other}"),
        };
        found.values.push((name.clone(), value));
    }
    found
}

pub(super) fn found(case: &Value) -> Option<Found> {
    let inputs = &case["inputs"];
    let pitch = || degrees(number(inputs, "pitch_deg"));
    Some(match text(case, "quantity") {
        "mu1 monopitch" => Found::one(mu1(pitch(), !text(inputs, "sliding").starts_with("prevented"))),
        "mu2 (valley of multi-span roofs)" => Found::one(mu2(pitch())),
        "multi-span valley" => {
            let (one, other) = (degrees(number(inputs, "alpha1_deg")), degrees(number(inputs, "alpha2_deg")));
            let mean = Angle::from_microdeg(i64::midpoint(one.microdeg(), other.microdeg()));
            Found::of([("mu1_45", mu1(one, true)), ("mu1_18_4", mu1(other, true)), ("mu2_valley", mu2(mean))])
        }
        "exceptional ground snow on roof" => {
            let ground = exceptional(kilo(number(inputs, "sk")), number(inputs, "Cesl"));
            Found::one(on_roof(number(inputs, "mu"), 1.0, 1.0, ground).pa() / 1_000.0)
        }
        sk if sk == "sk" || sk.starts_with("sk ") => return ground(inputs),
        "drift at eaves height difference" | "lean-to drift" => against_a_wall(case),
        drift if drift.starts_with("exceptional drift") => {
            let height = inputs["h"].as_f64().unwrap_or_else(|| number(inputs, "h1"));
            let ground = kilo(number(inputs, "sk"));
            let mu = exceptional_drift(metres(height), ground);
            Found::of([("mu", mu), ("s", on_roof(mu, 1.0, 1.0, ground).pa() / 1_000.0)])
        }
        flat if flat.starts_with("flat-roof snow pf") => {
            let of = |name: &str| number(inputs, name);
            // In whatever unit it is told, so it is answered.
            Found::one(
                asce::flat_roof_snow(Pressure::from_pa(of("pg_psf")), of("Ce"), of("Ct"), of("Is")).pa(),
            )
        }
        _ => return None,
    })
}
