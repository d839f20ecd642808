//! Topic 4: warmth and damp.

use lapwise::roofing::checks::methods::damp::{
    Bridged, DELTA_AIR, Layer, Part, Resistance, bridged, condenses, condensing, dew_point, profile,
    saturation, through, transmittance, vapour_pressure, wanted_factor,
};
use lapwise::units::physical::{Conductivity, Moisture, Pressure, ThermalResistance};
use lapwise::units::{Length, Temperature};
use serde_json::Value;

use super::{Found, celsius, mm, number, numbers, text};

fn resistance(value: f64) -> ThermalResistance {
    ThermalResistance::from_m2k_per_w(value)
}

/// A stretch of a layer: "brick 102/0.77" by thickness and conductivity, "75 PIR 0.022" and "18 mm boards 0.13" likewise,
/// "cavity 0.18" by its resistance; `thick` where the thickness was told before.
fn stretch(told: &str, thick: Option<f64>) -> ThermalResistance {
    let plain = told.split(" (").next().unwrap_or(told);
    let figures = numbers(plain);
    let of = |thick: f64, conducts: f64| Conductivity::from_w_per_mk(conducts).resistance(mm(thick));
    let still = plain.contains("air") || plain.contains("cavity");
    match (figures.as_slice(), thick) {
        ([.., value], _) if still => resistance(*value),
        ([conducts], Some(thick)) => of(thick, *conducts),
        ([thick, conducts], _) => of(*thick, *conducts),
        ([0.0], None) => ThermalResistance::ZERO,
        (other, _) => panic!("{other:?} in {told:?} is no layer"),
    }
}

/// One layer: alike throughout, or two stretches side by side and a share in per cent.
fn layer(told: &str) -> Option<Layer> {
    if told.contains("ignored") {
        return None;
    }
    // "AAC 125/0.11 (93.3 %) | mortar 0.88": the share is of the first.
    if let Some((first, second)) = told.split_once('|') {
        let share = numbers(first.split_once('(')?.1)[0] / 100.0;
        let thick = numbers(first)[0];
        let (one, other) = (stretch(first, None), stretch(second, Some(thick)));
        return Some(vec![Part { share, resistance: one }, Part { share: 1.0 - share, resistance: other }]);
    }
    // "75 PIR 0.022 between 47 mm joists at 400 (12.75 %) timber 0.13": the share is of the timber.
    if let Some((first, rest)) = told.split_once(" between ") {
        let (share, timber) = rest.split_once('(')?.1.split_once(')')?;
        let share = numbers(share)[0] / 100.0;
        let thick = numbers(first)[0];
        let (one, other) = (stretch(first, None), stretch(timber, Some(thick)));
        return Some(vec![Part { share: 1.0 - share, resistance: one }, Part { share, resistance: other }]);
    }
    Some(through(stretch(told, None)))
}

fn build_up(inputs: &Value, told: &str) -> Resistance {
    let parted = told.split(if told.contains(';') { ';' } else { ',' });
    let layers: Vec<Layer> = parted.filter_map(|one| layer(one.trim())).collect();
    let surface = |name: &str, usual: f64| resistance(inputs[name].as_f64().unwrap_or(usual));
    bridged(&Bridged { layers: &layers, outside: surface("Rse", 0.04), inside: surface("Rsi", 0.13) })
}

fn u_value(case: &Value) -> Found {
    let inputs = &case["inputs"];
    let told = inputs["build_up"].as_str().unwrap_or_else(|| text(inputs, "layers_out_to_in"));
    let found = build_up(inputs, told);
    Found::of([
        ("R_upper", found.upper.m2k_per_w()),
        ("R_lower", found.lower.m2k_per_w()),
        ("U", transmittance(found.total)),
    ])
}

/// The wall of DIN 4108-3 as it is written, from inside to outside: "plaster 15/0.7 mu15". Returned from outside.
fn wall(told: &str) -> Vec<(ThermalResistance, Length)> {
    let layers = told.split_once(": ").map_or(told, |(_, layers)| layers).split(';');
    let mut found: Vec<_> = layers
        .map(|one| {
            let [thick, conducts, mu] = numbers(one)[..] else { panic!("{one:?} is no layer") };
            let warm = Conductivity::from_w_per_mk(conducts).resistance(mm(thick));
            (warm, mm(thick).scale(mu))
        })
        .collect();
    found.reverse();
    found
}

/// The one wall that the file describes once and calls "same" after.
const SAME_WALL: &str =
    "plaster 15/0.7 mu15; HWL 25/0.08 mu4; EPS 40/0.04 mu20; masonry 240/0.4 mu8; render 20/1.0 mu40";

fn by_surfaces(hi: f64, he: f64) -> (ThermalResistance, ThermalResistance) {
    (resistance(1.0 / he), resistance(1.0 / hi))
}

fn temperatures(all: &[Temperature]) -> Vec<f64> {
    all.iter().map(|one| one.celsius_f64()).collect()
}

fn wall_profile(inputs: &Value) -> Found {
    let warm: Vec<ThermalResistance> = wall(text(inputs, "wall")).iter().map(|layer| layer.0).collect();
    let surfaces = by_surfaces(number(inputs, "hi"), number(inputs, "he"));
    let at = profile(&warm, surfaces, celsius(number(inputs, "Te")), celsius(number(inputs, "Ti")));
    let total = surfaces.0 + surfaces.1 + warm.iter().copied().sum();
    let mut found = Found::of([("R_total", total.m2k_per_w()), ("U", transmittance(total))]);
    found.values.extend(Found::list("T_out_to_in", temperatures(&at)));
    found
}

fn told_profile(inputs: &Value) -> Found {
    let list = inputs["layers_in_to_out_R"].as_array().expect("layers");
    let mut warm: Vec<ThermalResistance> = list.iter().filter_map(Value::as_f64).map(resistance).collect();
    warm.reverse();
    let surfaces = (resistance(number(inputs, "Rse")), resistance(number(inputs, "Rsi")));
    let at = profile(&warm, surfaces, celsius(number(inputs, "Te")), celsius(number(inputs, "Ti")));
    let layers: Vec<Layer> = warm.iter().map(|one| through(*one)).collect();
    let total = bridged(&Bridged { layers: &layers, outside: surfaces.0, inside: surfaces.1 }).total;
    let mut found = Found::of([("R_total", total.m2k_per_w()), ("U", transmittance(total))]);
    found.values.extend(Found::list("T_interfaces_out_to_in", temperatures(&at)));
    found.values.extend(Found::list("psat_out_to_in", at.iter().map(|one| saturation(*one).pa())));
    found
}

fn glaser(case: &Value) -> Found {
    let inputs = &case["inputs"];
    assert!((number(inputs, "delta0") - DELTA_AIR).abs() < 1e-15, "the permeability is the standard's");
    let told = text(inputs, "wall");
    let layers = wall(if told == "same" { SAME_WALL } else { told });
    let warm: Vec<ThermalResistance> = layers.iter().map(|layer| layer.0).collect();
    let sd: Vec<Length> = layers.iter().map(|layer| layer.1).collect();
    let at = profile(&warm, by_surfaces(8.0, 25.0), celsius(-5.0), celsius(20.0));
    let full: Vec<Pressure> = at.iter().map(|one| saturation(*one)).collect();
    let of = |name: &str| Pressure::from_pa(number(inputs, name));
    let gained = condensing(&sd, &full, of("pe"), of("pi"));
    // "EPS/masonry (p = 746.0 Pa)": it gathers at these planes, held at their saturation pressures, and nowhere else.
    let planes = case["expected"]["planes"].as_array().expect("planes");
    let told: Vec<f64> = planes.iter().map(|plane| numbers(plane.as_str().expect("a plane"))[0]).collect();
    let wet: Vec<f64> = full
        .iter()
        .zip(&gained)
        .filter(|(_, gain)| **gain > Moisture::ZERO)
        .map(|(pressure, _)| pressure.pa())
        .collect();
    assert_eq!(wet.len(), told.len(), "{}: wet at {wet:?}", case["id"]);
    for plane in &told {
        assert!(wet.iter().any(|pressure| (pressure - plane).abs() < 0.5), "{}: wet at {wet:?}", case["id"]);
    }
    Found::of([("total_g_m2_day", gained.iter().copied().sum::<Moisture>().g_per_m2())])
}

pub(super) fn found(case: &Value) -> Option<Found> {
    let inputs = &case["inputs"];
    let of = |name: &str| number(inputs, name);
    Some(match text(case, "quantity") {
        quantity if quantity == "two bridged layers (4 paths)" || quantity.ends_with("U-value") => {
            u_value(case)
        }
        "vapour pressure" => Found::one(vapour_pressure(celsius(of("T_C")), of("RH") / 100.0).pa()),
        "saturation pressure, three sources" => {
            let pressure = saturation(celsius(of("T_C"))).pa();
            Found::of(["iso13788", "psychrolib", "CoolProp_Pw_at_RH1"].map(|source| (source, pressure)))
        }
        "dew point, three sources" => {
            let air = vapour_pressure(celsius(of("T_C")), of("RH_pct") / 100.0);
            let dew = dew_point(air).expect("some vapour").celsius_f64();
            Found::of(["iso13788", "psychrolib", "CoolProp"].map(|source| (source, dew)))
        }
        "drip under a bare metal sheet" => {
            let (indoors, humidity) = (celsius(of("indoor_T_C")), of("indoor_RH_pct") / 100.0);
            let dew = dew_point(vapour_pressure(indoors, humidity)).expect("some vapour").celsius_f64();
            let wet = condenses(indoors, humidity, celsius(of("sheet_underside_T_C")));
            Found::of([("dew_point", dew), ("condenses", f64::from(u8::from(wet)))])
        }
        "fRsi,min (80 % surface RH)" => {
            let factor = wanted_factor(celsius(of("Te")), celsius(of("Ti")), of("RH_i") / 100.0, 0.8);
            Found::one(factor.expect("it is colder outside"))
        }
        "temperature and saturation profile" => told_profile(inputs),
        "temperature profile" => wall_profile(inputs),
        "Glaser condensation, winter steady state" => glaser(case),
        _ => return None,
    })
}
