//! What holds of the standards' methods whatever they are asked: more load is never less use, nothing jumps where the
//! standard does not, zones cover a roof, supports bear what lies on a beam, and water that gathers is water that came.

#![expect(clippy::expect_used, reason = "helpers of tests")]

use lapwise::roofing::checks::methods::damp::{
    Bridged, Climate, Part, Surface, bridged, condensing, dew_point, profile, saturation, still_air, through,
    year,
};
use lapwise::roofing::checks::methods::holding::{
    Shank, least_penetration, nail_head, nail_withdrawal, screw_withdrawal,
};
use lapwise::roofing::checks::methods::snow::{Abutment, drift, mu1, mu2, on_slope};
use lapwise::roofing::checks::methods::timber::{
    Duration, GRADES, Material, PERSON, PointLoad, Section, ServiceClass, Span, analyse, bending_use,
    depth_factor, design_strength, equal_spans, gamma_m, k_mod, lifted, shear_use, walked,
};
use lapwise::roofing::checks::methods::water::{
    caught, caught_square, half_round_over, long_factor, outlet, run_off,
};
use lapwise::roofing::checks::methods::wind::{
    Exposure, Form, RoofPlan, Slope, Terrain, WindOn, Zone, canopy, external, orography_factor,
    peak_pressure, severest_at, zones,
};
use lapwise::units::physical::{
    Density, Force, LineLoad, Moisture, Moment, Pressure, Stress, ThermalResistance,
};
use lapwise::units::{Angle, Area, Length, Speed, Temperature};
use proptest::prelude::*;

fn mm(value: i64) -> Length {
    Length::from_mm(value)
}

fn square_metres(value: f64) -> Area {
    mm(1_000).by(Length::from_mm_f64(value * 1_000.0).expect("an area"))
}

fn pitch(value: f64) -> Angle {
    Angle::from_deg_f64(value).expect("a pitch")
}

fn pa(value: f64) -> Pressure {
    Pressure::from_pa(value)
}

fn speed(value: f64) -> Speed {
    Speed::from_m_per_s_f64(value).expect("a speed")
}

fn celsius(value: f64) -> Temperature {
    Temperature::from_celsius_f64(value).expect("a temperature")
}

fn plans() -> impl Strategy<Value = RoofPlan> {
    let form = prop_oneof![Just(Form::Mono), Just(Form::Duo)];
    (form, 1_000_i64..20_000, 1_000_i64..15_000, 1_500_i64..9_000, 0_i64..70).prop_map(
        |(form, length, width, height, steep)| RoofPlan {
            form,
            length: mm(length),
            width: mm(width),
            height: mm(height),
            pitch: Angle::from_deg(steep),
        },
    )
}

fn slopes(form: Form) -> &'static [Slope] {
    match form {
        Form::Mono => &[Slope::First],
        Form::Duo => &[Slope::First, Slope::Second],
    }
}

fn beams() -> impl Strategy<Value = Vec<Span>> {
    let span = (400_i64..4_000, 0.0_f64..2_000.0, prop::option::of((0.0_f64..1.0, 100.0_f64..2_000.0)));
    prop::collection::vec(span, 1..5).prop_map(|spans| {
        spans
            .into_iter()
            .map(|(long, line, point)| Span {
                length: mm(long),
                line: LineLoad::from_n_per_m(line),
                points: point
                    .map(|(share, force)| PointLoad {
                        at: mm(long).scale(share),
                        force: Force::from_n(force),
                    })
                    .into_iter()
                    .collect(),
            })
            .collect()
    })
}

const STICK: Section = Section { width: Length::from_mm(47), depth: Length::from_mm(100) };

fn close(one: f64, other: f64) -> bool {
    (one - other).abs() <= 1e-6 * one.abs().max(other.abs()).max(1.0)
}

proptest! {
    #[test]
    fn snow_lessens_with_the_slope_and_never_jumps(steep in 0.0_f64..89.0, more in 0.0_f64..1.0) {
        let (here, there) = (pitch(steep), pitch(steep + more));
        prop_assert!(mu1(there, true) <= mu1(here, true));
        prop_assert!(mu1(here, true) - mu1(there, true) <= 0.8 / 30.0 * more + 1e-6);
        prop_assert!(mu1(here, true) <= mu1(here, false));
        prop_assert!((mu2(there) - mu2(here)).abs() <= 0.8 / 30.0 * more + 1e-6);
        // What lies on a square metre of plan lies on the slope above it.
        let (into, along) = on_slope(pa(1_000.0), here);
        let down = into.pa() * here.cos() + along.pa() * here.sin();
        prop_assert!(close(down / here.cos(), 1_000.0));
    }

    #[test]
    fn more_snow_drifts_to_no_less(
        (upper, lower, step) in (1_000_i64..20_000, 500_i64..12_000, 0_i64..6_000),
        steep in 0_i64..60,
        (ground, more) in (200.0_f64..3_000.0, 0.0_f64..1_000.0),
        (from, long) in (0_i64..12_000, 1_i64..3_000),
    ) {
        let roof = Abutment {
            upper_width: mm(upper),
            lower_width: mm(lower),
            step: mm(step),
            upper_pitch: Angle::from_deg(steep),
            upper_slope: mm(upper / 2),
        };
        let (less, greater) = (drift(&roof, pa(ground)), drift(&roof, pa(ground + more)));
        prop_assert!(greater.at_wall * (ground + more) >= less.at_wall * ground - 1e-6);
        prop_assert!(less.blown >= 0.8 && less.blown <= 4.0 && less.at_wall >= 0.8);
        prop_assert!(less.reach >= mm(5_000) && less.reach <= mm(15_000));
        // It lessens away from the wall, and a mean lies between its ends.
        let (near, far) = (less.at(mm(from)), less.at(mm(from + long)));
        prop_assert!(far <= near + 1e-9);
        let mean = less.mean(mm(from), mm(from + long));
        prop_assert!(mean <= near + 1e-9 && mean >= far - 1e-9);
    }

    #[test]
    fn more_wind_presses_harder(
        blows in 10.0_f64..40.0, more in 0.0_f64..5.0, high in 500_i64..30_000, higher in 0_i64..5_000,
    ) {
        let terrains = [Terrain::Sea, Terrain::Lake, Terrain::Fields, Terrain::Village, Terrain::Town];
        let mut before = f64::INFINITY;
        for terrain in terrains {
            let exposure = Exposure::of(terrain);
            let peak = peak_pressure(speed(blows), &exposure, mm(high)).pa();
            prop_assert!(peak_pressure(speed(blows + more), &exposure, mm(high)).pa() >= peak);
            prop_assert!(peak_pressure(speed(blows), &exposure, mm(high + higher)).pa() >= peak);
            let hill = Exposure { orography: 1.2, ..exposure };
            prop_assert!(peak_pressure(speed(blows), &hill, mm(high)).pa() > peak);
            // Rougher land, less wind.
            prop_assert!(peak <= before);
            before = peak;
        }
    }

    #[test]
    fn zones_cover_a_roof_once(plan in plans(), at in (0.0_f64..1.0, 0.0_f64..1.0)) {
        for wind in WindOn::ALL {
            let zones = zones(&plan, wind);
            for slope in slopes(plan.form) {
                let mine: Vec<_> = zones.iter().filter(|rect| rect.slope == *slope).collect();
                let whole = plan.length.by(plan.rafter()).um2();
                prop_assert_eq!(mine.iter().map(|rect| rect.area().um2()).sum::<i128>(), whole);
                let (along, up) = (plan.length.scale(at.0), plan.rafter().scale(at.1));
                let within = mine.iter().filter(|rect| {
                    along > rect.along.0 && along < rect.along.1 && up > rect.up.0 && up < rect.up.1
                });
                prop_assert!(within.count() <= 1);
                prop_assert!(mine.iter().any(|rect| rect.holds(along, up)));
                for rect in mine {
                    let cpe = external(plan.form, wind, rect.zone, plan.pitch, square_metres(1.0));
                    prop_assert!(cpe.is_some_and(|cpe| cpe.suction <= 0.0 && cpe.push >= 0.0), "{:?}", rect);
                }
            }
        }
    }

    #[test]
    fn suction_never_jumps_between_five_and_seventy_five_degrees(
        plan in plans(), steep in 5.0_f64..74.9, more in 0.0_f64..0.1, area in 0.2_f64..12.0,
    ) {
        let wide = square_metres(area * 1.01);
        for wind in WindOn::ALL {
            let sloped = RoofPlan { pitch: pitch(steep.max(5.0)), ..plan };
            for rect in zones(&sloped, wind) {
                let of = |steep: f64, loaded: Area| external(plan.form, wind, rect.zone, pitch(steep), loaded);
                let (Some(here), Some(there)) = (of(steep, square_metres(area)), of(steep + more, square_metres(area)))
                else { return Err(TestCaseError::fail(format!("no {rect:?} at {steep}"))) };
                // The tables' steepest rows change by 1.5 in 15°.
                prop_assert!((here.suction - there.suction).abs() <= 0.15 * more + 1e-6);
                prop_assert!((here.push - there.push).abs() <= 0.15 * more + 1e-6);
                // More area, less suction, and not at once.
                let spread = of(steep, wide).expect("the same zone").suction;
                prop_assert!(spread >= here.suction - 1e-9 && spread - here.suction < 0.02);
            }
        }
    }

    #[test]
    fn the_severest_wind_is_as_hard_as_any(plan in plans(), at in (0.0_f64..1.0, 0.0_f64..1.0)) {
        let place = (plan.length.scale(at.0), plan.rafter().scale(at.1));
        let small = square_metres(1.0);
        let (hardest, _, _) = severest_at(&plan, Slope::First, place, small).expect("a zone");
        for wind in WindOn::ALL {
            for rect in zones(&plan, wind) {
                if rect.slope == Slope::First && rect.holds(place.0, place.1) {
                    let here = external(plan.form, wind, rect.zone, plan.pitch, small).expect("a zone");
                    prop_assert!(hardest <= here.suction);
                }
            }
        }
    }

    #[test]
    fn canopies_never_jump(steep in 5.0_f64..29.9, more in 0.0_f64..0.1, blocked in 0.0_f64..0.9) {
        for form in [Form::Mono, Form::Duo] {
            let here = canopy(form, pitch(steep), blocked).expect("a canopy");
            let there = canopy(form, pitch(steep + more), blocked).expect("a canopy");
            let fuller = canopy(form, pitch(steep), blocked + 0.1).expect("a canopy");
            for (one, other) in [(here.a, there.a), (here.b, there.b), (here.c, there.c), (here.force, there.force)] {
                prop_assert!((one.up - other.up).abs() <= 0.2 * more + 1e-6);
                prop_assert!((one.down - other.down).abs() <= 0.2 * more + 1e-6);
            }
            prop_assert!((here.a.up - fuller.a.up).abs() <= 0.16);
        }
    }

    #[test]
    fn supports_bear_what_lies_on_a_beam(spans in beams(), heavier in 1.0_f64..3.0) {
        let stiffness = STICK.stiffness(Stress::from_n_per_mm2(9_000.0));
        let beam = analyse(&spans, stiffness).expect("a beam");
        let on_it: f64 = spans
            .iter()
            .map(|span| span.line.along(span.length).n() + span.points.iter().map(|one| one.force.n()).sum::<f64>())
            .sum();
        prop_assert!(close(beam.reactions.iter().map(|force| force.n()).sum(), on_it));
        // From the other end it is the same beam.
        let turned: Vec<Span> = spans
            .iter()
            .rev()
            .map(|span| Span {
                points: span.points.iter().map(|one| PointLoad { at: span.length - one.at, ..*one }).collect(),
                ..span.clone()
            })
            .collect();
        let mirrored = analyse(&turned, stiffness).expect("a beam");
        prop_assert!(close(mirrored.moment().nm(), beam.moment().nm()));
        prop_assert!(close(mirrored.shear.n(), beam.shear.n()));
        prop_assert!((mirrored.deflection.mm() - beam.deflection.mm()).abs() <= 0.01 * beam.deflection.mm() + 0.002);
        // All of it so many times heavier does so many times as much.
        let heavy: Vec<Span> = spans
            .iter()
            .map(|span| Span {
                length: span.length,
                line: span.line * heavier,
                points: span.points.iter().map(|one| PointLoad { force: one.force * heavier, ..*one }).collect(),
            })
            .collect();
        let laden = analyse(&heavy, stiffness).expect("a beam");
        prop_assert!(close(laden.moment().nm(), beam.moment().nm() * heavier));
        prop_assert!(close(laden.shear.n(), beam.shear.n() * heavier));
    }

    #[test]
    fn a_person_is_worst_where_they_were_looked_for(
        count in 1_usize..4, long in 400_i64..2_500, line in 0.0_f64..500.0, at in 0.0_f64..1.0,
    ) {
        let stiffness = STICK.stiffness(Stress::from_n_per_mm2(9_000.0));
        let spans = equal_spans(count, mm(long), LineLoad::from_n_per_m(line));
        let worst = walked(&spans, PERSON, stiffness).expect("a beam");
        let mut laden = spans.clone();
        laden[0].points.push(PointLoad { at: mm(long).scale(at), force: PERSON });
        let there = analyse(&laden, stiffness).expect("a beam");
        prop_assert!(there.sagging.nm() <= worst.sagging.nm() * 1.005 + 0.01);
        prop_assert!(there.hogging.nm() <= worst.hogging.nm() * 1.005 + 0.01);
        prop_assert!(there.shear.n() <= worst.shear.n() * 1.005);
        prop_assert!(there.deflection.mm() <= worst.deflection.mm() * 1.01 + 0.002);
    }

    #[test]
    fn weaker_wood_or_a_wider_space_is_never_less_used(
        load in 100.0_f64..3_000.0, more in 0.0_f64..1_000.0, long in 500_i64..4_000, steep in 0_i64..60,
        weaker in 0_usize..7,
    ) {
        let used = |grade: usize, load: f64, section: Section| {
            let wood = &GRADES[grade];
            let k_mod = k_mod(Material::Solid, ServiceClass::Covered, Duration::Short);
            let strength = |of| design_strength(of, k_mod.expect("wood may be used"), gamma_m(Material::Solid));
            let steep = Angle::from_deg(steep);
            let on = |share: f64| {
                let spans = equal_spans(1, mm(long), LineLoad::from_n_per_m(load * share));
                analyse(&spans, section.stiffness(wood.stiffness)).expect("a beam")
            };
            let (into, along) = (on(steep.cos()), on(steep.sin()));
            let bending = strength(wood.bending);
            let strengths = (bending * depth_factor(section.depth), bending * depth_factor(section.width));
            let bent = bending_use(section, into.moment(), along.moment(), strengths).worst();
            (bent, shear_use(section, into.shear, 0.67, strength(wood.shear)))
        };
        let here = used(weaker + 1, load, STICK);
        let weak = used(weaker, load, STICK);
        let wide = used(weaker + 1, load + more, STICK);
        let deep = used(weaker + 1, load, Section { depth: mm(150), ..STICK });
        prop_assert!(weak.0 >= here.0 && weak.1 >= here.1);
        prop_assert!(wide.0 >= here.0 && wide.1 >= here.1);
        prop_assert!(deep.0 <= here.0 && deep.1 <= here.1);
    }

    #[test]
    fn depth_counts_without_a_jump(depth in 20_i64..300) {
        let (here, there) = (depth_factor(mm(depth)), depth_factor(mm(depth + 1)));
        prop_assert!(there <= here && here - there < 0.012 && (1.0..=1.3).contains(&here));
    }

    #[test]
    fn more_suction_lifts_more_and_more_weight_less(
        suction in 0.0_f64..3_000.0, weight in 0.0_f64..500.0, more in 0.0_f64..500.0,
    ) {
        let up = lifted(pa(suction), pa(weight));
        prop_assert!(lifted(pa(suction + more), pa(weight)) >= up);
        prop_assert!(lifted(pa(suction), pa(weight + more)) <= up);
    }

    #[test]
    fn a_nail_holds_no_less_for_going_deeper(
        thick in 20_i64..60, deep in 0_i64..90, more in 0_i64..5, rho in 290.0_f64..420.0,
    ) {
        let diameter = mm(thick) / 10;
        let density = Density::from_kg_per_m3(rho);
        for shank in [Shank::Smooth, Shank::Profiled(Stress::from_n_per_mm2(6.0))] {
            let here = nail_withdrawal(shank, diameter, mm(deep), density);
            prop_assert!(nail_withdrawal(shank, diameter, mm(deep + more), density) >= here);
            prop_assert!(nail_withdrawal(shank, diameter, mm(deep), density * 1.1) >= here);
            if mm(deep) <= least_penetration(shank, diameter) {
                prop_assert_eq!(here, Force::ZERO);
            }
            // A tenth of a millimetre changes it little: nothing jumps at 8 d and 12 d.
            let bit = nail_withdrawal(shank, diameter, mm(deep) + Length::from_um(100), density);
            prop_assert!(bit.n() - here.n() <= 40.0, "{here:?} {bit:?}");
            prop_assert!(nail_head(shank, diameter, mm(8), mm(deep), density) >= nail_head(shank, diameter, mm(8), Length::ZERO, density));
        }
    }

    #[test]
    fn a_screw_holds_most_across_the_grain(deep in 36_i64..120, degrees in 30_i64..90, rho in 290.0_f64..420.0) {
        let density = Density::from_kg_per_m3(rho);
        let across = screw_withdrawal(mm(6), mm(deep), density, Angle::from_deg(90)).expect("a screw");
        let leaning = screw_withdrawal(mm(6), mm(deep), density, Angle::from_deg(degrees)).expect("a screw");
        prop_assert!(leaning <= across && leaning > Force::ZERO);
        prop_assert!(screw_withdrawal(mm(6), mm(deep + 1), density, Angle::from_deg(90)).expect("a screw") > across);
    }

    #[test]
    fn more_rain_and_roof_run_off_more(
        long in 500_i64..20_000, wide in 500_i64..8_000, rise in 0_i64..4_000, rain in 10_i64..200, more in 0_i64..500,
    ) {
        let here = run_off(mm(rain), caught(mm(long), mm(wide), mm(rise)));
        prop_assert!(run_off(mm(rain + more), caught(mm(long), mm(wide), mm(rise))) >= here);
        prop_assert!(run_off(mm(rain), caught(mm(long), mm(wide), mm(rise + more))) >= here);
        let square = caught_square(mm(long), mm(wide), mm(rise)).square_metres();
        prop_assert!(square >= mm(long).by(mm(wide)).square_metres() - 1e-6);
        let (near, far) = (long_factor(mm(long), mm(50)), long_factor(mm(long + more), mm(50)));
        prop_assert!(far <= near && near - far <= 0.0016 * more_over(more, 50) + 1e-9);
        prop_assert!(half_round_over(mm(100), mm(long), 1) < half_round_over(mm(112), mm(long), 0));
        let (low, high) = (outlet(mm(63), mm(rise / 40), false), outlet(mm(63), mm(rise / 40 + 1), false));
        prop_assert!(high >= low && outlet(mm(63), mm(rise / 40), true) <= low);
    }

    #[test]
    fn bounds_of_a_resistance_are_in_order(
        share in 0.02_f64..0.3, thick in 0.3_f64..8.0, timber in 0.1_f64..2.0, lining in 0.01_f64..0.5,
    ) {
        let r = ThermalResistance::from_m2k_per_w;
        let bridge = vec![
            Part { share: 1.0 - share, resistance: r(thick) },
            Part { share, resistance: r(timber) },
        ];
        let layers = [through(r(lining)), bridge, through(r(lining))];
        let (outside, inside) = (Surface::outside(), Surface::Up.inside());
        let found = bridged(&Bridged { layers: &layers, outside, inside });
        prop_assert!(found.lower.m2k_per_w() <= found.upper.m2k_per_w() + 1e-9);
        prop_assert!(found.lower <= found.total + r(1e-9) && found.total <= found.upper + r(1e-9));
        let more = [layers[0].clone(), layers[1].clone(), layers[2].clone(), through(r(0.1))];
        let better = bridged(&Bridged { layers: &more, outside, inside });
        prop_assert!(better.total > found.total);
    }

    #[test]
    fn the_dew_point_is_where_air_is_full(t in -25.0_f64..40.0, more in 0.0_f64..1.0) {
        let back = dew_point(saturation(celsius(t))).expect("some vapour").celsius_f64();
        prop_assert!((back - t).abs() < 0.003);
        prop_assert!(saturation(celsius(t + more)) >= saturation(celsius(t)));
    }

    #[test]
    fn a_tighter_lining_lets_no_more_in(
        out in -15.0_f64..10.0, humid in 0.3_f64..0.9, lining in 10_i64..5_000, tighter in 0_i64..5_000,
    ) {
        let gathered = |lining: i64| -> Moisture {
            let sd = [mm(20), mm(100), mm(lining)];
            let r = ThermalResistance::from_m2k_per_w;
            let surfaces = (Surface::outside(), Surface::Up.inside());
            let planes = profile(&[r(0.02), r(2.5), r(0.06)], surfaces, celsius(out), celsius(20.0));
            let full: Vec<Pressure> = planes.iter().map(|at| saturation(*at)).collect();
            let outside = saturation(celsius(out)) * 0.85;
            condensing(&sd, &full, outside, saturation(celsius(20.0)) * humid).into_iter().sum()
        };
        prop_assert!(gathered(lining + tighter) <= gathered(lining) + Moisture::from_g_per_m2(1e-9));
    }

    #[test]
    fn a_month_is_its_two_halves(
        winter in -10.0_f64..5.0, summer in 12.0_f64..24.0, humid in 0.4_f64..0.85, sheet in 500_i64..100_000,
    ) {
        let r = ThermalResistance::from_m2k_per_w;
        let layers = [(r(0.0), mm(sheet)), (r(2.0), mm(100)), (r(0.1), mm(500))];
        let surfaces = (Surface::outside(), Surface::Up.inside());
        let month = |out: f64, inside: f64, days: f64| Climate {
            outdoors: celsius(out),
            outdoors_humidity: 0.8,
            indoors: celsius(inside),
            indoors_humidity: humid,
            days,
        };
        let whole = year(&layers, surfaces, &[month(winter, 18.0, 60.0), month(summer, 18.0, 60.0)]);
        let halves = [month(winter, 18.0, 30.0), month(winter, 18.0, 30.0), month(summer, 18.0, 30.0), month(summer, 18.0, 30.0)];
        let halves = year(&layers, surfaces, &halves);
        prop_assert!(close(whole.left.g_per_m2(), halves.left.g_per_m2()), "{whole:?} {halves:?}");
        prop_assert!(close(whole.months[0].g_per_m2(), halves.months[1].g_per_m2()));
        prop_assert!(whole.left <= whole.most);
    }
}

#[test]
fn a_hill_and_a_layer_of_air_are_as_the_tables_have_them() {
    assert!(close(orography_factor(0.04, 0.9), 1.0) && close(orography_factor(0.2, 0.5), 1.2));
    assert!(close(orography_factor(0.3, 0.9), 1.54) && close(orography_factor(0.8, 0.9), 1.54));
    let air = |thick: i64, flow: Surface| still_air(mm(thick), flow).m2k_per_w();
    assert!(close(air(25, Surface::Up), 0.16) && close(air(25, Surface::Sideways), 0.18));
    assert!(close(air(0, Surface::Up), 0.0) && close(air(6, Surface::Up), 0.12));
    assert!(close(air(900, Surface::Down), 0.23) && air(40, Surface::Down) > air(40, Surface::Up));
}

/// How often so much goes into a depth.
fn more_over(more: i64, depth: i64) -> f64 {
    mm(more).mm() / mm(depth).mm()
}

#[test]
fn a_flat_roof_is_another_roof_than_one_of_five_degrees() {
    // 7.2.3 to 7.2.5: the standard jumps there, and so do its tables.
    let of = |steep: f64| external(Form::Mono, WindOn::FarEdge, Zone::F, pitch(steep), square_metres(10.0));
    assert!((of(4.99).expect("flat").suction + 1.8).abs() < 1e-9);
    assert!((of(5.0).expect("sloped").suction + 2.3).abs() < 1e-9);
    assert_eq!(of(76.0), None);
}

#[test]
fn a_cold_store_of_damp_dries_in_summer_if_its_sheet_lets_it() {
    let r = ThermalResistance::from_m2k_per_w;
    let surfaces = (Surface::outside(), Surface::Up.inside());
    let months: Vec<Climate> = [2.0, 3.0, 6.0, 9.0, 13.0, 16.0, 18.0, 18.0, 15.0, 11.0, 6.0, 3.0]
        .map(|out| Climate {
            outdoors: celsius(out),
            outdoors_humidity: 0.8,
            indoors: celsius(20.0),
            indoors_humidity: 0.55,
            days: 30.4,
        })
        .to_vec();
    // Felt on boards, wool, a lining that lets vapour through; then the same with a vapour control layer inside.
    let build_up = |felt: i64, inside: i64| {
        [(r(0.0), mm(felt)), (r(0.14), mm(900)), (r(2.5), mm(100)), (r(0.06), mm(inside))]
    };
    let open = year(&build_up(5_000, 100), surfaces, &months);
    assert!(open.most > Moisture::from_g_per_m2(100.0), "{open:?}");
    // It begins to gather in autumn, and is dry before autumn comes again.
    assert!((8..=10).contains(&open.begins), "{open:?}");
    assert!(open.months[11] < open.months[5], "it dries in summer: {open:?}");
    assert_eq!(open.left, open.months[11]);
    let tight = year(&build_up(5_000, 50_000), surfaces, &months);
    assert_eq!(tight.most, Moisture::ZERO);
    assert_eq!(tight.planes, 0);
}

#[test]
fn one_beam_by_hand() {
    // w L²/8, 5 w L⁴/384 E I; two spans: -w L²/8 over the middle, 1.25 w L on it.
    let stiffness = STICK.stiffness(Stress::from_n_per_mm2(8_000.0));
    let one =
        analyse(&equal_spans(1, mm(2_000), LineLoad::from_n_per_m(1_000.0)), stiffness).expect("a beam");
    assert!(close(one.sagging.nm(), 500.0) && one.hogging == Moment::ZERO);
    let sag = 5.0 * 1_000.0 * 16.0 / (384.0 * stiffness.nm2()) * 1_000.0;
    assert!((one.deflection.mm() - sag).abs() < 0.002);
    let two =
        analyse(&equal_spans(2, mm(2_000), LineLoad::from_n_per_m(1_000.0)), stiffness).expect("a beam");
    assert!(close(two.hogging.nm(), 500.0) && close(two.reactions[1].n(), 2_500.0));
    assert_eq!(analyse(&[], stiffness), None);
}
