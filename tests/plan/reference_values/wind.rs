//! Topic 1: wind.

use lapwise::roofing::checks::methods::asce::{self, ExposureCategory, GableZone};
use lapwise::roofing::checks::methods::wind::{
    Cpe, Exposure, Form, NetRange, RoofPlan, Terrain, WindOn, Zone, altitude_factor, basic_pressure, by_area,
    canopy, exposure_factor, external, net, openings_unknown, peak_pressure, reach, roughness_factor,
    terrain_factor, turbulence, zones,
};
use lapwise::units::physical::Density;
use lapwise::units::{Area, Length};
use serde_json::Value;

use super::{Found, degrees, metres, number, speed, text};

fn terrain(name: &str) -> Terrain {
    match name {
        "0" => Terrain::Sea,
        "I" => Terrain::Lake,
        "II" => Terrain::Fields,
        "III" => Terrain::Village,
        "IV" => Terrain::Town,
        other => panic!("no terrain {other}"),
    }
}

fn exposure(inputs: &Value) -> Exposure {
    let or = |name: &str, usual: f64| inputs[name].as_f64().unwrap_or(usual);
    Exposure {
        terrain: terrain(text(inputs, "category")),
        orography: or("co", 1.0),
        turbulence: or("kI", 1.0),
        air: Density::from_kg_per_m3(or("rho", 1.25)),
    }
}

fn square_metres(value: f64) -> Area {
    Length::from_mm(1_000).by(metres(value))
}

fn form(of: &str) -> Form {
    if of.contains("duo") { Form::Duo } else { Form::Mono }
}

/// Table 7.3a is of one slope, 7.4a of two, unless a word says so.
fn table(of: &str) -> (Form, WindOn) {
    let form = if of.contains("duo") || of.contains("7.4") { Form::Duo } else { Form::Mono };
    let wind = if of.contains("180") {
        WindOn::FarEdge
    } else if of.contains("90") || of.contains("7.3b") || of.contains("7.4b") {
        WindOn::LeftGable
    } else {
        WindOn::Eaves
    };
    (form, wind)
}

fn zone(letter: &str) -> Zone {
    match letter {
        "Fup" => Zone::FUpper,
        "Flow" => Zone::FLower,
        "F" => Zone::F,
        "G" => Zone::G,
        "H" => Zone::H,
        "I" => Zone::I,
        "J" => Zone::J,
        other => panic!("no zone {other}"),
    }
}

/// Each named coefficient of a table's row: `F10`, `Flow1`, `FGpos`, `Jmin`, `I`.
fn row(case: &Value) -> Found {
    let (form, wind) = table(text(&case["inputs"], "table"));
    // Table 7.2 is of flat roofs.
    let pitch = degrees(case["inputs"]["pitch_deg"].as_f64().unwrap_or(0.0));
    let cpe = |zone: Zone, area: f64| -> Cpe {
        external(form, wind, zone, pitch, square_metres(area))
            .unwrap_or_else(|| panic!("no {zone:?} in {case}"))
    };
    let mut found = Found::default();
    for (name, expected) in case["expected"].as_object().expect("coefficients") {
        let positive = expected.as_f64().is_some_and(|value| value > 0.0);
        let stem = name.trim_end_matches("pos").trim_end_matches("min").trim_end_matches("max");
        let (letters, area) = match (stem.strip_suffix("10"), stem.strip_suffix('1')) {
            (Some(letters), _) => (letters, 10.0),
            (None, Some(letters)) => (letters, 1.0),
            (None, None) => (stem, 10.0),
        };
        let pushes = name.ends_with("pos") || name.ends_with("max") || positive;
        let each: Vec<String> = match letters {
            "Fup" | "Flow" => vec![letters.to_owned()],
            several => several.chars().map(String::from).collect(),
        };
        for letter in each {
            let cpe = cpe(zone(&letter), area);
            found.values.push((name.clone(), if pushes { cpe.push } else { cpe.suction }));
        }
    }
    found
}

/// Between the rows of a table, at the one zone and column that the table's name ends with.
fn between(case: &Value) -> Found {
    let told = text(&case["inputs"], "table");
    let (form, wind) = table(told);
    let letter = told.split("zone ").nth(1).and_then(|rest| rest.split(' ').next()).expect("a zone");
    let area = if told.ends_with("cpe10") { 10.0 } else { 1.0 };
    let pitch = degrees(number(&case["inputs"], "pitch_deg"));
    let cpe = external(form, wind, zone(letter), pitch, square_metres(area)).expect("coefficients");
    if case["expected"].is_number() {
        Found::one(cpe.suction)
    } else {
        Found::of([("neg", cpe.suction), ("pos", cpe.push)])
    }
}

/// Areas of the zones, on plan.
fn sizes(case: &Value) -> Found {
    let inputs = &case["inputs"];
    let gable = number(inputs, "theta") > 45.0 && number(inputs, "theta") < 135.0;
    let (across, along) = (metres(number(inputs, "b_m")), metres(number(inputs, "d_m")));
    let (length, width) = if gable { (along, across) } else { (across, along) };
    let pitch = degrees(inputs["pitch_deg"].as_f64().unwrap_or(10.0));
    let (form, height) = (form(text(inputs, "roof")), metres(number(inputs, "h_m")));
    let plan = RoofPlan { form, length, width, height, pitch };
    let wind = match number(inputs, "theta") {
        theta if theta < 45.0 => WindOn::Eaves,
        theta if theta < 135.0 => WindOn::LeftGable,
        _ => WindOn::FarEdge,
    };
    let laid = zones(&plan, wind);
    let of = |wanted: &[Zone]| -> Vec<f64> {
        let mine = laid.iter().filter(|rect| wanted.contains(&rect.zone));
        mine.map(|rect| rect.area().square_metres() * pitch.cos()).collect()
    };
    let total = |wanted: &[Zone]| of(wanted).iter().sum::<f64>();
    let corner =
        laid.iter().find(|rect| rect.zone == Zone::F || rect.zone == Zone::FLower).expect("a corner");
    let (long, deep) = (corner.along.1 - corner.along.0, (corner.up.1 - corner.up.0).slope_to_run(pitch));
    let (long, deep) = if gable { (deep, long) } else { (long, deep) };
    let corners = [Zone::F, Zone::FUpper, Zone::FLower];
    let mut found = Found::default();
    for (name, _) in case["expected"].as_object().expect("sizes") {
        let value = match name.as_str() {
            "e" => reach(&plan, wind).mm() / 1_000.0,
            "F_len" => long.mm() / 1_000.0,
            "depth" => deep.mm() / 1_000.0,
            "A_F_total" => total(&corners),
            "Fup_Flow_each" | "F_each" | "A_F_each" => {
                let each = of(&corners);
                assert!(each.iter().all(|one| (one - each[0]).abs() < 1e-6), "corners are alike");
                each[0]
            }
            "G" | "A_G" => total(&[Zone::G]),
            "H" | "A_H" => total(&[Zone::H]),
            "I" | "A_I" => total(&[Zone::I]),
            "J" | "A_J" => total(&[Zone::J]),
            other => panic!("no test knows the size {other}"),
        };
        found.values.push((name.clone(), value));
    }
    found
}

fn canopies(case: &Value) -> Found {
    let inputs = &case["inputs"];
    let told = format!("{} {}", case["quantity"], inputs["table"]);
    let form = if told.contains("duo") || told.contains("7.7") { Form::Duo } else { Form::Mono };
    let pitch = degrees(number(inputs, "pitch_deg"));
    let at = |blockage: f64| canopy(form, pitch, blockage).unwrap_or_else(|| panic!("no canopy: {case}"));
    let (empty, full) = (at(0.0), at(1.0));
    let mut found = Found::default();
    for (name, expected) in case["expected"].as_object().expect("coefficients") {
        let three = |one: NetRange, other: NetRange| vec![one.down, one.up, other.up];
        let part = match name.as_str() {
            "A" => three(empty.a, full.a),
            "B" => three(empty.b, full.b),
            "C" => three(empty.c, full.c),
            "D" => three(empty.d.expect("a ridge"), full.d.expect("a ridge")),
            "cf_max" => vec![empty.force.down],
            "cf_min_phi0" => vec![empty.force.up],
            "cf_min_phi1" => vec![full.force.up],
            "cf_min" => vec![at(number(inputs, "blockage")).force.up],
            other => panic!("no test knows the coefficient {other}"),
        };
        if expected.is_array() {
            found.values.extend(Found::list(name, part));
        } else {
            found.values.push((name.clone(), part[0]));
        }
    }
    found
}

fn category(inputs: &Value) -> ExposureCategory {
    match text(inputs, "exposure") {
        "B" => ExposureCategory::B,
        "C" => ExposureCategory::C,
        "D" => ExposureCategory::D,
        other => panic!("no exposure {other}"),
    }
}

fn square_feet(value: f64) -> Area {
    square_metres(value * 0.092_903_04)
}

pub(super) fn found(case: &Value) -> Option<Found> {
    let inputs = &case["inputs"];
    let named = |values: Vec<(&'static str, f64)>| {
        if case["expected"].is_number() { Found::one(values[0].1) } else { Found::of(values) }
    };
    let height = || metres(number(inputs, "z_m"));
    let basic = || speed(number(inputs, "vb_m_s"));
    Some(match text(case, "quantity") {
        "basic velocity pressure qb" => {
            let air = Density::from_kg_per_m3(inputs["rho"].as_f64().unwrap_or(1.25));
            Found::one(basic_pressure(basic(), air).pa())
        }
        kr if kr.starts_with("terrain factor kr") => {
            let of = [("0", 0.003), ("I", 0.01), ("II", 0.05), ("III", 0.3), ("IV", 1.0)];
            let rough = number(inputs, "z0");
            let (name, _) = of.iter().find(|(_, z0)| (z0 - rough).abs() < 1e-9).expect("a terrain");
            Found::one(terrain_factor(terrain(name)))
        }
        "exposure factor ce(z)" => Found::one(exposure_factor(&exposure(inputs), height())),
        "peak velocity pressure qp" => Found::one(peak_pressure(basic(), &exposure(inputs), height()).pa()),
        "cr, Iv, ce, qp" => {
            let exposure = exposure(inputs);
            named(vec![
                ("cr", roughness_factor(exposure.terrain, height())),
                ("Iv", turbulence(&exposure, height())),
                ("ce", exposure_factor(&exposure, height())),
                ("qp", peak_pressure(basic(), &exposure, height()).pa()),
            ])
        }
        "altitude factor calt" => Found::one(altitude_factor(metres(number(inputs, "altitude_m")), height())),
        sizes_of if sizes_of.starts_with("zone sizes") => sizes(case),
        "external pressure coefficients" => row(case),
        area if area.starts_with("cpe for a ") => {
            let of = |name: &str| number(inputs, name);
            Found::one(by_area(of("cpe1"), of("cpe10"), square_metres(of("A_m2"))))
        }
        pitches if pitches.starts_with("interpolation between pitches") => between(case),
        "cpi when the opening ratio is not estimated" => {
            Found { values: Found::list("", openings_unknown()), told: Vec::new() }
        }
        uplift if uplift.starts_with("net uplift") => {
            let peak = peak_pressure(basic(), &exposure(inputs), height());
            Found::one(net(peak, number(inputs, "cpe"), number(inputs, "cpi")).pa())
        }
        roof if roof.contains("canopy") => canopies(case),
        "Kz" => Found::one(asce::exposure_coefficient(category(inputs), height())),
        "velocity pressure qz" => {
            let kz = asce::exposure_coefficient(category(inputs), height());
            let ke = asce::elevation_factor(metres(inputs["zg_m"].as_f64().unwrap_or(0.0)));
            let of = |name: &str| number(inputs, name);
            let gust = speed(of("V_m_s"));
            Found::one(asce::velocity_pressure(kz, of("Kzt"), of("Kd"), ke, gust).pa())
        }
        gcp if gcp.starts_with("C&C GCp") => {
            let ends = |zone: GableZone, areas: [f64; 2]| {
                areas.map(|area| asce::gable_uplift(zone, square_feet(area)))
            };
            let mut values = Found::list("zone1", ends(GableZone::Field, [10.0, 500.0]));
            values.extend(Found::list("zone3", ends(GableZone::Corner, [10.0, 500.0])));
            values.extend(Found::list("zone1prime_le100_ge1000", ends(GableZone::Inner, [100.0, 1_000.0])));
            Found { values, told: Vec::new() }
        }
        _ => return None,
    })
}
