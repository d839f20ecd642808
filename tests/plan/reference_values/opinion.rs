//! A second opinion: the same beams and winds by libraries that others wrote. `tests/references/second_opinion.py` says
//! which, and writes them.

use lapwise::roofing::checks::methods::timber::{PointLoad, Section, Span, analyse};
use lapwise::roofing::checks::methods::wind::{
    Exposure, Terrain, peak_pressure, roughness_factor, turbulence,
};
use lapwise::units::Length;
use lapwise::units::physical::{Force, LineLoad, Stress};
use serde_json::Value;

use super::{metres, mm, number, speed, text};

fn opinion() -> Value {
    let text = std::fs::read_to_string("tests/references/second-opinion.json").expect("the second opinion");
    serde_json::from_str(&text).expect("the file is JSON")
}

/// Within a hundredth, or so little that neither library means it.
fn agree(id: &str, what: &str, ours: f64, theirs: f64, nothing: f64) {
    let off = (ours - theirs).abs();
    assert!(off <= theirs.abs() / 100.0 || off <= nothing, "{id} {what}: {ours}, they have {theirs}");
}

fn list(value: &Value) -> Vec<f64> {
    value.as_array().expect("a list").iter().map(|one| one.as_f64().expect("a number")).collect()
}

fn spans(case: &Value) -> Vec<Span> {
    let lines = list(&case["lines_kn_m"]);
    let mut spans: Vec<Span> = list(&case["spans_m"])
        .iter()
        .zip(lines)
        .map(|(length, line)| Span {
            length: metres(*length),
            line: LineLoad::from_n_per_m(line * 1_000.0),
            points: Vec::new(),
        })
        .collect();
    for point in case["points_span_m_kn"].as_array().expect("points") {
        let span = usize::try_from(point[0].as_u64().expect("a span")).expect("few spans");
        let at: Length = metres(point[1].as_f64().expect("a place"));
        let force = Force::from_n(point[2].as_f64().expect("a load") * 1_000.0);
        spans[span].points.push(PointLoad { at, force });
    }
    spans
}

#[test]
fn beams_agree_with_finite_elements() {
    let opinion = opinion();
    let beams = opinion["beams"].as_array().expect("beams");
    for case in beams {
        let (id, theirs) = (text(case, "id"), &case["expected"]);
        let section = Section { width: mm(number(case, "width_mm")), depth: mm(number(case, "depth_mm")) };
        let stiffness = section.stiffness(Stress::from_n_per_mm2(number(case, "modulus_n_mm2")));
        let ours = analyse(&spans(case), stiffness).expect("a beam");
        let moments = list(&theirs["moments_nm"]);
        agree(id, "larger moment", ours.moment().nm(), moments[1], 0.1);
        agree(id, "smaller moment", ours.sagging.min(ours.hogging).nm(), moments[0], 0.5);
        agree(id, "shear", ours.shear.n(), number(theirs, "shear_n"), 0.5);
        agree(id, "deflection", ours.deflection.mm(), number(theirs, "deflection_mm"), 0.002);
        let reactions = list(&theirs["reactions_n"]);
        assert_eq!(ours.reactions.len(), reactions.len(), "{id}");
        for (one, other) in ours.reactions.iter().zip(reactions) {
            agree(id, "reaction", one.n(), other, 0.5);
        }
    }
    let with_points = beams.iter().filter(|case| case["points_span_m_kn"][0].is_array()).count();
    assert!(beams.len() >= 30 && with_points >= 8, "{} beams, {with_points} with a point load", beams.len());
    for spans in 1..=4 {
        assert!(beams.iter().any(|case| list(&case["spans_m"]).len() == spans), "none of {spans} spans");
    }
}

#[test]
fn winds_agree_with_another_library() {
    let opinion = opinion();
    let winds = opinion["winds"].as_array().expect("winds");
    for case in winds {
        let (id, theirs) = (text(case, "id"), &case["expected"]);
        let terrain = match text(case, "terrain") {
            "0" => Terrain::Sea,
            "I" => Terrain::Lake,
            "II" => Terrain::Fields,
            "III" => Terrain::Village,
            _ => Terrain::Town,
        };
        let exposure = Exposure { orography: number(case, "orography"), ..Exposure::of(terrain) };
        let (height, basic) = (metres(number(case, "height_m")), speed(number(case, "basic_m_s")));
        agree(id, "cr", roughness_factor(terrain, height), number(theirs, "cr"), 0.0);
        agree(id, "Iv", turbulence(&exposure, height), number(theirs, "iv"), 0.0);
        agree(id, "qp", peak_pressure(basic, &exposure, height).pa(), number(theirs, "qp_n_m2"), 0.0);
    }
    assert!(winds.len() >= 30, "{} winds", winds.len());
}
