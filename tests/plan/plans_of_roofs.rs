//! Whole plans of single roofs: what a roofer would check first.

#![expect(clippy::expect_used, clippy::panic, reason = "helpers of tests")]

use crate::common;

use common::{Answers, handbook, mm};
use lapwise::roofing::layout::{LineKind, SupportPlan};
use lapwise::roofing::note::{Arg, Note};
use lapwise::roofing::plan::{FindingKind, Plan, Refusal, Unplanned, difference, plan, stops};
use lapwise::roofing::roof::{FactKey, Hand, Missing};
use lapwise::roofing::rules::{Limit, Requirement};
use lapwise::roofing::work::work_order;
use lapwise::units::Doubt;

fn planned(answers: &Answers) -> Plan {
    plan(&answers.0, &handbook()).expect("a plan")
}

fn refused(answers: &Answers) -> Vec<Refusal> {
    match plan(&answers.0, &handbook()) {
        Err(Unplanned::Refused(refusals)) => refusals,
        other => panic!("not refused: {other:?}"),
    }
}

#[test]
fn a_shed_on_rafters_at_25_degrees() {
    let plan = planned(&Answers::shed());
    let slope = &plan.slopes[0];
    assert_eq!(slope.support, SupportPlan::Purlins);
    assert_eq!(slope.end_lap, mm(170));
    assert_eq!(slope.side_lap, 1);
    // Eaves at half the timber's width. The top one 25 mm inside the wing of 150 mm, which 70.5 mm of timber and sheet
    // lift 32.9 mm further up the slope. The rest even.
    let heights: Vec<i64> = slope.lines.iter().map(|line| line.y.round_mm()).collect();
    assert_eq!(heights, [25, 586, 1_147, 1_708]);
    // 2400 + 5 + 5 over corrugations of 100 is 25 of them: 10, 9 more, and a last column of 7 with its lap.
    assert_eq!(slope.columns.len(), 3);
    assert_eq!(slope.covered_width, mm(2_500));
    assert_eq!(slope.far_verge_overhang, mm(95));
    assert_eq!(slope.cuts.sheets.len(), 3);
    assert_eq!(slope.cuts.sheets_at_least, 3);
    assert_eq!(slope.nail_length, mm(65));
    assert_eq!(plan.materials.price.map(|price| price.amount.is_sign_positive()), Some(true));
    assert!(work_order(&plan).iter().any(|step| step.note.message == "step-square"));
}

#[test]
fn boards_of_12_mm_at_25_degrees_get_purlins_over_the_deck() {
    let plan = planned(&Answers::shed().on_deck(12));
    let slope = &plan.slopes[0];
    let SupportPlan::PurlinsOverDeck { screw_length, .. } = slope.support else {
        panic!("{:?}", slope.support)
    };
    // Bites 20 mm and stays 5 mm inside: 32 to 45 mm.
    assert_eq!(screw_length, mm(45));
    assert!(slope.lines.windows(2).all(|pair| pair[1].y - pair[0].y <= mm(610)));
    assert_eq!(slope.max_line_gap(), Some(mm(610)));
}

#[test]
fn boards_of_18_mm_take_the_nails() {
    let plan = planned(&Answers::shed().on_deck(18));
    assert_eq!(plan.slopes[0].support, SupportPlan::ExistingDeck { deck: mm(18) });
    assert!(plan.slopes[0].purlin_pieces.is_empty());
}

#[test]
fn boards_of_15_mm_take_the_nails_and_the_plan_says_that_points_may_show() {
    let plan = planned(&Answers::shed().on_deck(15));
    assert_eq!(plan.slopes[0].support, SupportPlan::ExistingDeck { deck: mm(15) });
    assert!(plan.findings.iter().any(|finding| finding.id == "nail-point-may-show"));
}

#[test]
fn a_thin_deck_under_10_degrees_is_refused_and_says_by_how_much() {
    let refusals = refused(&Answers::shed().on_deck(12).angle(FactKey::Pitch, 8.0));
    assert_eq!(refusals[0].id, "deck-too-thin");
    assert_eq!(refusals[0].note.args["make_up"], lapwise::roofing::note::Arg::Size(mm(3)));
    assert_eq!(refusals.len(), 1);
    // Perhaps the slope is 10° after all: then purlins would do.
    let doubtful =
        Answers::shed().on_deck(12).angle(FactKey::Pitch, 9.8).doubt(FactKey::Pitch, Doubt::ByPhone);
    let refusals = refused(&doubtful);
    assert_eq!((refusals[0].id.as_str(), refusals[1].id.as_str()), ("deck-too-thin", "measure-again"));
}

#[test]
fn a_slope_on_a_boundary_belongs_to_the_steeper_band() {
    for (pitch, lap) in [(15.0, 170), (14.999_999, 200), (10.0, 200), (9.9, 300), (5.0, 300)] {
        let plan = planned(&Answers::shed().angle(FactKey::Pitch, pitch));
        assert_eq!(plan.slopes[0].end_lap, mm(lap), "at {pitch}°");
    }
    assert_eq!(refused(&Answers::shed().angle(FactKey::Pitch, 4.9))[0].id, "slope-under-5");
}

#[test]
fn open_purlins_under_10_degrees_get_a_full_deck() {
    let answers = Answers::shed().choose(FactKey::Base, "purlins").angle(FactKey::Pitch, 9.9);
    let plan = planned(&answers);
    assert!(matches!(plan.slopes[0].support, SupportPlan::NewFullDeck { .. }));
    // Boards of 2440 mm reach over four purlins 600 mm apart: one up 1800 mm of slope, two side by side of 1220 mm.
    assert_eq!(plan.slopes[0].deck_boards, 2);
}

#[test]
fn a_doubtful_slope_takes_the_strict_side_and_says_what_to_measure_again() {
    let plan = planned(&Answers::shed().angle(FactKey::Pitch, 15.3).doubt(FactKey::Pitch, Doubt::ByPhone));
    assert_eq!(plan.slopes[0].end_lap, mm(200));
    let doubts: Vec<&str> = plan
        .findings
        .iter()
        .filter(|finding| finding.kind == FindingKind::Doubt)
        .map(|finding| finding.id.as_str())
        .collect();
    assert!(
        doubts.contains(&"doubt-end_lap_mm") && doubts.contains(&"doubt-max_purlin_spacing_mm"),
        "{doubts:?}"
    );
}

#[test]
fn a_slope_that_may_be_too_flat_is_refused_until_measured_again() {
    let refusals = refused(&Answers::shed().angle(FactKey::Pitch, 5.2).doubt(FactKey::Pitch, Doubt::ByPhone));
    assert_eq!(refusals[0].id, "slope-under-5");
    assert_eq!(refusals[1].note.message, "refused-in-doubt");
    assert_eq!(refusals[1].facts, [FactKey::Pitch]);
}

#[test]
fn a_barn_has_courses_lapped_on_lines_and_a_ridge() {
    let plan = planned(&Answers::barn());
    let slope = &plan.slopes[0];
    assert_eq!(plan.slopes.len(), 2);
    // 5200 mm on plan at 25° is 5737.6 mm up the slope, set out as 5738.
    assert_eq!(slope.rafter_length, mm(5_738));
    assert_eq!(slope.courses.len(), 4);
    assert_eq!(slope.cuts.sheets.len(), slope.cuts.sheets_at_least);
    assert_eq!(slope.lines.iter().filter(|line| line.kind == LineKind::EndLap).count(), 3);
    assert_eq!(plan.finials, 2);
}

#[test]
fn a_safety_stop_comes_before_what_is_missing() {
    let only = Answers::shed().choose(FactKey::CoveringNow, "grey_cement_sheets").without(FactKey::Length);
    assert_eq!(stops(&only.0, &handbook())[0].id, "asbestos-suspected");
    assert_eq!(refused(&only)[0].id, "asbestos-suspected");
    let cleared = only.choose(FactKey::AsbestosTest, "tested_clear");
    assert!(stops(&cleared.0, &handbook()).is_empty());
    match plan(&cleared.0, &handbook()) {
        Err(Unplanned::Missing(Missing(missing))) => assert_eq!(missing, [FactKey::Length]),
        other => panic!("{other:?}"),
    }
}

#[test]
fn feet_read_as_metres_are_found_out() {
    // 8 ft of span taken for 8 m: the slope length of 1.345 m gives it away.
    let answers = Answers::shed()
        .choose(FactKey::Form, "two_slopes")
        .choose(FactKey::SlopesEqual, "yes")
        .length(FactKey::Span, 8_000)
        .length(FactKey::RafterOverhang, 0)
        .length(FactKey::SlopeLength, 1_345);
    let refusals = refused(&answers);
    assert_eq!(refusals[0].id, "measurements-disagree");
    let slip = &refusals[0].note.args["slip"];
    assert_eq!(*slip, lapwise::roofing::note::Arg::Text("feet-as-metres".to_owned()));
}

#[test]
fn staggered_courses_start_with_half_a_sheet() {
    let plan = planned(
        &Answers::shed().length(FactKey::SlopeLength, 3_000).choose(FactKey::Sheet, "staggered-sheet"),
    );
    let slope = &plan.slopes[0];
    assert_eq!(slope.courses.len(), 2);
    let starts = |course| -> Vec<i64> {
        slope.columns_of(course).iter().map(|column| column.first_corrugation).collect()
    };
    assert_eq!(starts(0), [0, 9, 18]);
    assert_eq!(starts(1), [0, 4, 13, 22]);
    assert_eq!(slope.columns_of(1)[0].corrugations, 5);
}

#[test]
fn a_change_of_slope_says_what_is_different() {
    let (before, after) = (planned(&Answers::shed()), planned(&Answers::shed().angle(FactKey::Pitch, 12.0)));
    let change = difference(&before, &after);
    let limit = |length| Some(Limit::Length(mm(length)));
    let spacing = (0, Requirement::MaxPurlinSpacing, limit(610), limit(450));
    assert!(change.requirements.contains(&spacing), "{:?}", change.requirements);
    assert_eq!(change.lines.len(), 1);
    let timber = change.materials.iter().find(|bought| bought.item == "purlin-50x38").expect("more purlins");
    assert!(timber.after > timber.before);
    assert!(difference(&before, &before).is_empty());
}

#[test]
fn insulation_goes_between_purlins_over_a_membrane() {
    let plan = planned(&Answers::shed().on_deck(12).choose(FactKey::Insulation, "yes"));
    let needed = |id: &str| plan.materials.lines.iter().find(|line| line.item == id).map(|line| line.needed);
    // Two strips of 1 m lap by 150 mm over 1800 mm; three bays of 500 mm clear take a row of 450 mm each, and strips
    // of 50 mm, nine out of a board.
    assert_eq!(needed("underlay"), Some(1));
    assert_eq!(needed("insulation"), Some(7));
    // The top purlin's step says one thing more, and holds the step itself.
    let told = |note: Note| match note.args.get("step") {
        Some(Arg::Note(step)) => step.message.clone(),
        _ => note.message,
    };
    let steps: Vec<String> = work_order(&plan).into_iter().map(|step| told(step.note)).collect();
    let at = |id: &str| steps.iter().position(|step| step == id).expect(id);
    assert!(
        at("step-underlay") < at("step-purlins-over-deck")
            && at("step-purlins-over-deck") < at("step-insulation")
    );
}

#[test]
fn insulation_that_has_no_place_is_said_to_have_none() {
    let wanted = |answers: Answers| planned(&answers.choose(FactKey::Insulation, "yes"));
    for (answers, says) in [
        (Answers::shed(), "advice-insulation-not-over-rafters"),
        (Answers::shed().on_deck(18), "advice-insulation-not-on-a-deck"),
    ] {
        let plan = wanted(answers);
        assert!(plan.findings.iter().any(|finding| finding.note.message == says), "{says}");
        assert!(!plan.materials.lines.iter().any(|line| line.purpose == "material-insulation"));
    }
    let plan = wanted(Answers::shed().on_deck(12));
    assert!(!plan.findings.iter().any(|finding| finding.id == "insulation-not-planned"));
}

#[test]
fn a_sheet_read_off_its_label_is_laid_by_its_own_sizes() {
    let label = Answers::shed()
        .choose(FactKey::Sheet, "label")
        .length(FactKey::SheetLength, 2_200)
        .length(FactKey::SheetWidth, 950)
        .count(FactKey::SheetCorrugations, 10)
        .length(FactKey::CorrugationHeight, 38);
    let plan = planned(&label);
    assert_eq!(plan.slopes[0].covered_width, mm(95 * 26));
    assert_eq!(plan.slopes[0].nail_length, mm(75));
    assert_eq!(plan.materials.lines[0].price, None);
    assert_eq!(plan.materials.price, None);
    match plan_of(&label.without(FactKey::CorrugationHeight)) {
        Err(Unplanned::Missing(missing)) => assert_eq!(missing.0, [FactKey::CorrugationHeight]),
        other => panic!("{other:?}"),
    }
}

fn plan_of(answers: &Answers) -> Result<Plan, Unplanned> {
    plan(&answers.0, &handbook())
}

#[test]
fn laying_starts_away_from_the_wind_and_at_a_wall() {
    let start = |answers: Answers| planned(&answers).slopes[0].start_from;
    assert_eq!(start(Answers::shed().choose(FactKey::WindFrom, "left")), Hand::Right);
    assert_eq!(start(Answers::shed().choose(FactKey::WindFrom, "right")), Hand::Left);
    assert_eq!(start(Answers::shed().choose(FactKey::WallSide, "right")), Hand::Right);
    let barn = planned(&Answers::barn());
    // Seen facing the back eaves, left and right change places.
    assert_eq!(barn.slopes[1].start_from, barn.slopes[0].start_from.other());
}

#[test]
fn slope_length_comes_from_span_and_rise_where_nobody_measured_it() {
    let known = Answers::shed()
        .without(FactKey::SlopeLength)
        .without(FactKey::Pitch)
        .length(FactKey::Span, 3_000)
        .length(FactKey::Rise, 1_250);
    match plan_of(&known) {
        Err(Unplanned::Missing(missing)) => assert_eq!(missing.0, [FactKey::RafterOverhang]),
        other => panic!("{other:?}"),
    }
    let plan = planned(&known.length(FactKey::RafterOverhang, 0));
    assert_eq!(plan.slopes[0].rafter_length, mm(3_250));
    assert!((plan.site.slopes[0].pitch.value.deg() - 22.62).abs() < 0.01);
}
