//! Topic 3: timber, nails and screws.

use lapwise::roofing::checks::methods::holding::{
    Shank, head_strength, nail_head, nail_withdrawal, screw_withdrawal, screw_withdrawal_2025,
    screw_withdrawal_strength_2025, smooth_withdrawal,
};
use lapwise::roofing::checks::methods::timber::{
    Duration, GAMMA_PERMANENT, GAMMA_VARIABLE, Material, PointLoad, Section, ServiceClass, Span, analyse,
    bending_use, depth_factor, design_strength, equal_spans, gamma_m, gathered, grade, k_def, k_mod,
    shear_use,
};
use lapwise::units::Length;
use lapwise::units::physical::{Density, Force, LineLoad, Moment, Pressure, Stiffness, Stress};
use serde_json::Value;

use super::{Found, degrees, metres, mm, number, numbers, text};

/// kcr of solid timber.
const K_CR: f64 = 0.67;

fn section(inputs: &Value) -> Section {
    Section { width: mm(number(inputs, "b_mm")), depth: mm(number(inputs, "h_mm")) }
}

fn service(inputs: &Value) -> ServiceClass {
    let told = inputs["service_class"].as_i64().or_else(|| inputs["SC"].as_i64());
    class(told.expect("a service class"))
}

fn class(told: i64) -> ServiceClass {
    match told {
        1 => ServiceClass::Dry,
        2 => ServiceClass::Covered,
        3 => ServiceClass::Exposed,
        other => panic!("no service class {other}"),
    }
}

fn lasts(inputs: &Value) -> Duration {
    match text(inputs, "duration").split('-').next().unwrap_or_default() {
        "permanent" => Duration::Permanent,
        "long" => Duration::Long,
        "medium" => Duration::Medium,
        "short" => Duration::Short,
        "instantaneous" => Duration::Instantaneous,
        other => panic!("no duration {other}"),
    }
}

fn material(inputs: &Value) -> Material {
    match inputs["material"].as_str().unwrap_or("solid timber") {
        "solid timber" => Material::Solid,
        "plywood" => Material::Plywood,
        osb if osb.starts_with("OSB") => Material::Osb,
        other => panic!("no material {other}"),
    }
}

/// A strength by its design value, of solid timber.
fn designed(inputs: &Value, characteristic: Stress) -> Stress {
    let k_mod = k_mod(Material::Solid, service(inputs), lasts(inputs)).expect("kmod");
    let shared = inputs["ksys"].as_f64().unwrap_or(1.0);
    design_strength(characteristic * shared, k_mod, gamma_m(Material::Solid))
}

/// Line loads and loads at places: `P` is [where, kN] in the first span, or a list of [span, where, kN].
fn spans(inputs: &Value) -> Vec<Span> {
    let lengths: Vec<f64> =
        inputs["spans_m"].as_array().expect("spans").iter().filter_map(Value::as_f64).collect();
    let line = |at: usize| {
        let told = &inputs["w_kN_m"];
        told.as_f64().or_else(|| told[at].as_f64()).unwrap_or(0.0)
    };
    let mut points = vec![Vec::new(); lengths.len()];
    let mut put = |span: usize, told: &[Value]| {
        let at = metres(told[0].as_f64().expect("a place"));
        let force = Force::from_n(told[1].as_f64().expect("a load") * 1_000.0);
        points[span].push(PointLoad { at, force });
    };
    if let Some(told) = inputs["P"].as_array() {
        if told[0].is_array() {
            for one in told.iter().filter_map(Value::as_array) {
                put(usize::try_from(one[0].as_u64().expect("a span")).expect("few"), &one[1..]);
            }
        } else {
            put(0, told);
        }
    }
    let all = lengths.iter().zip(points).enumerate();
    all.map(|(at, (length, points))| Span {
        length: metres(*length),
        line: LineLoad::from_n_per_m(line(at) * 1_000.0),
        points,
    })
    .collect()
}

fn beam(inputs: &Value) -> Found {
    let stiffness = section(inputs).stiffness(Stress::from_n_per_mm2(number(inputs, "E_N_mm2")));
    let beam = analyse(&spans(inputs), stiffness).expect("a beam");
    let kilo = |moment: Moment| moment.nm() / 1_000.0;
    let mut found = Found::of([
        ("M_big", kilo(beam.sagging.max(beam.hogging))),
        ("M_small", kilo(beam.sagging.min(beam.hogging))),
        ("defl_max_mm", beam.deflection.mm()),
    ]);
    found.values.extend(Found::list("reactions", beam.reactions.iter().map(|force| force.n() / 1_000.0)));
    found
}

/// One span under an even load: its moment and shear.
fn simple(span: Length, load: LineLoad) -> (Moment, Force) {
    let beam = analyse(&equal_spans(1, span, load), Stiffness::from_nm2(1.0)).expect("a beam");
    (beam.sagging, beam.shear)
}

fn grade_row(case: &Value) -> Found {
    let wood = grade(text(&case["inputs"], "grade")).expect("a grade");
    let mut found = Found::default();
    for (name, _) in case["expected"].as_object().expect("properties") {
        let value = match name.as_str() {
            "fmk" => wood.bending.n_per_mm2(),
            "ft0k" => wood.tension.n_per_mm2(),
            "fc0k" => wood.compression.n_per_mm2(),
            "fc90k" => wood.bearing.n_per_mm2(),
            "fvk" => wood.shear.n_per_mm2(),
            "E0mean" => wood.stiffness.n_per_mm2(),
            "E005" => wood.stiffness_low.n_per_mm2(),
            "Gmean" => wood.shear_stiffness.n_per_mm2(),
            "rhok" => wood.density.kg_per_m3(),
            "rhomean" => wood.density_mean.kg_per_m3(),
            other => panic!("no test knows the property {other}"),
        };
        found.values.push((name.clone(), value));
    }
    found
}

fn joist(inputs: &Value) -> Found {
    let wood = grade(text(inputs, "grade")).expect("a grade");
    let kilo = |name: &str| Pressure::from_pa(number(inputs, name) * 1_000.0);
    let load = gathered(kilo("gk_kN_m2"), kilo("qk_kN_m2"), &[]).over(metres(number(inputs, "spacing_m")));
    let (moment, _) = simple(metres(number(inputs, "L_m")), load);
    let section = section(inputs);
    let strength = designed(inputs, wood.bending) * depth_factor(section.depth);
    let used = bending_use(section, moment, Moment::ZERO, (strength, strength));
    Found::of([
        ("q_uls_kN_m", load.n_per_m() / 1_000.0),
        ("M_kNm", moment.nm() / 1_000.0),
        ("util_bending", used.worst()),
    ])
}

fn joist_sheet(case: &Value) -> Found {
    let (inputs, expected) = (&case["inputs"], &case["expected"]);
    let wood = grade(text(inputs, "grade")).expect("a grade");
    let section = section(inputs);
    // The sheet's own design load: it says how it came by it nowhere.
    let load = LineLoad::from_n_per_m(number(expected, "ULS_kN_m") * 1_000.0);
    let (moment, shear) = simple(metres(number(inputs, "span_m")), load);
    let mut found = Found::of([
        ("sigma_m", section.bending_stress(moment).n_per_mm2()),
        ("M_kNm", moment.nm() / 1_000.0),
        ("V_N", shear.n()),
        ("Wy_mm3", section.modulus()),
        ("tau_N_mm2", section.shear_stress(shear, K_CR).n_per_mm2()),
        ("fvd", designed(inputs, wood.shear).n_per_mm2()),
    ]);
    found.told.push("ULS_kN_m");
    found
}

fn purlin(inputs: &Value) -> Found {
    let wood = grade(text(inputs, "grade")).expect("a grade");
    let (section, slope) = (section(inputs), degrees(number(inputs, "slope_deg")));
    let load = LineLoad::from_n_per_m(number(inputs, "w_design_vertical_kN_m") * 1_000.0);
    let span = metres(number(inputs, "span_m"));
    let (into, shear) = simple(span, load * slope.cos());
    let (along, _) = simple(span, load * slope.sin());
    let bending = designed(inputs, wood.bending);
    let strengths = (bending * depth_factor(section.depth), bending * depth_factor(section.width));
    let used = bending_use(section, into, along, strengths);
    Found::of([
        ("My", into.nm() / 1_000.0),
        ("Mz", along.nm() / 1_000.0),
        ("util_6_11", used.strong_first),
        ("util_6_12", used.weak_first),
        ("util_shear", shear_use(section, shear, K_CR, designed(inputs, wood.shear))),
    ])
}

fn nail(case: &Value) -> Found {
    let inputs = &case["inputs"];
    let (diameter, rho) = (mm(number(inputs, "d_mm")), Density::from_kg_per_m3(number(inputs, "rho_k")));
    let force = nail_withdrawal(Shank::Smooth, diameter, mm(number(inputs, "t_pen_mm")), rho).n();
    if case["expected"].is_number() {
        Found::one(force)
    } else {
        Found::of([("fax_k", smooth_withdrawal(rho).n_per_mm2()), ("Fax_Rk_N", force)])
    }
}

fn screw(inputs: &Value) -> Found {
    let rho = Density::from_kg_per_m3(number(inputs, "rho_k"));
    let to_grain = degrees(number(inputs, "angle_to_grain_deg"));
    let force = screw_withdrawal(mm(number(inputs, "d_mm")), mm(number(inputs, "lef_mm")), rho, to_grain);
    Found::one(force.expect("a screw of the rule").n())
}

pub(super) fn found(case: &Value) -> Option<Found> {
    let inputs = &case["inputs"];
    let of = |name: &str| number(inputs, name);
    Some(match text(case, "quantity") {
        moments if moments.starts_with("largest |moment|") => beam(inputs),
        "strength class properties" => grade_row(case),
        "kmod" => {
            Found::one(k_mod(material(inputs), service(inputs), lasts(inputs)).expect("it may be used there"))
        }
        "kdef" => {
            let told = inputs["service_class"].as_array().map(|all| all.iter().filter_map(Value::as_i64));
            match told {
                Some(all) => {
                    let values = all.map(|one| k_def(material(inputs), class(one)).expect("it may be used"));
                    Found { values: Found::list("", values), told: Vec::new() }
                }
                None => Found::one(k_def(material(inputs), service(inputs)).expect("it may be used")),
            }
        }
        "kh" => Found::one(depth_factor(mm(of("h_mm")))),
        design if design.starts_with('f') && design.ends_with(",d") => {
            let wood = grade(text(inputs, "grade")).expect("a grade");
            let strength = match design {
                "fm,d" => wood.bending,
                "ft,0,d" => wood.tension,
                "fc,0,d" => wood.compression,
                "fc,90,d" => wood.bearing,
                "fv,d" => wood.shear,
                _ => return None,
            };
            Found::one(designed(inputs, strength).n_per_mm2())
        }
        "bending utilisation" => joist(inputs),
        "joist worked sheet" => joist_sheet(case),
        "purlin on a slope, biaxial bending and shear" => purlin(inputs),
        nails if nails.starts_with("nail withdrawal") => nail(case),
        heads if heads.starts_with("nail head pull-through") => {
            let (rho, head) = (Density::from_kg_per_m3(of("rho_k")), mm(of("head_mm")));
            let headside = mm(inputs["t1_mm"].as_f64().unwrap_or(0.0));
            let force = nail_head(Shank::Smooth, mm(of("d_mm")), head, headside, rho);
            Found::of([("fhead_k", head_strength(rho).n_per_mm2()), ("F_b_N", force.n())])
        }
        "screw withdrawal below 6d threaded penetration" => {
            let told = numbers(text(inputs, "screw"));
            let (diameter, threaded) = (mm(told[0]), mm(told[2]));
            let rho = Density::from_kg_per_m3(350.0);
            Found::one(screw_withdrawal(diameter, threaded, rho, degrees(90.0)).expect("a screw").n())
        }
        screws if screws.starts_with("screw withdrawal, 6<=d<=12") => screw(inputs),
        "screw withdrawal, second-generation Eurocode" => {
            let (diameter, rho) = (mm(of("d_mm")), Density::from_kg_per_m3(of("rho_k")));
            let force = screw_withdrawal_2025(diameter, mm(of("lw_mm")), rho);
            Found::of([
                ("fwk", screw_withdrawal_strength_2025(diameter, rho).n_per_mm2()),
                ("Fwk_N", force.n()),
            ])
        }
        _ => return None,
    })
}

#[test]
fn the_partial_factors_are_those_of_the_worked_sheets() {
    // q_uls of TIMB-028: 0.5 m x (1.35 x 0.5 + 1.5 x 1.5) kN/m².
    assert!((GAMMA_PERMANENT * 0.5 + GAMMA_VARIABLE * 1.5 - 2.925).abs() < 1e-9);
}
