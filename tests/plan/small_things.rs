//! What goes with the rest is on the list, counted by the book's figures; each sum is worked out by hand.

#![expect(clippy::expect_used, reason = "helpers of tests")]

use lapwise::book::Book;
use lapwise::roofing::plan::{FindingKind, Plan, plan};
use lapwise::roofing::roof::FactKey;

use crate::common::Answers;

fn planned(answers: Answers) -> Plan {
    let answers = answers.choose(FactKey::Sheet, "fennick-sheet-2000");
    plan(&answers.0, &Book::shipped().handbook).expect("a plan")
}

/// How many of the list's line for that purpose are needed; none where there is no such line.
fn needed(plan: &Plan, purpose: &str) -> Option<i64> {
    let line = plan.materials.lines.iter().find(|line| line.purpose == format!("material-{purpose}"))?;
    Some(line.needed)
}

#[test]
fn underlay_is_stapled_and_taped() {
    // 2.4 × 1.8 m, purlins over a 12 mm deck, boards of insulation between: strips of 1 m that lap 150 mm make two
    // rows, so one lap of 2.4 m. A staple every 300 mm of 2.4 m is nine a row.
    let plan = planned(Answers::shed().on_deck(12).choose(FactKey::Insulation, "yes"));
    assert_eq!(needed(&plan, "underlay"), Some(1));
    assert_eq!(needed(&plan, "underlay-staples"), Some(18));
    assert_eq!(needed(&plan, "underlay-tape"), Some(1));
    let bare = planned(Answers::shed().on_deck(12));
    assert_eq!((needed(&bare, "underlay-staples"), needed(&bare, "underlay-tape")), (None, None));
}

#[test]
fn a_new_deck_is_screwed_down() {
    // 2.4 × 1.8 m at 7°: boards of 2 440 × 1 220 mm on rafters at 600, so one board to a row reaches 2.4 m, and two
    // rows make 1.8 m. Each crosses five rafters, five screws on each: 1 220 mm at 300 mm is five gaps, six screws.
    let plan = planned(Answers::shed().angle(FactKey::Pitch, 7.0));
    assert_eq!(needed(&plan, "deck"), Some(2));
    assert_eq!(needed(&plan, "deck-board-screws"), Some(2 * 5 * 6));
    // Nothing is raised on a deck that takes the nails.
    assert_eq!((needed(&plan, "barge-boards"), needed(&plan, "fascia")), (None, None));
    let reasons = plan.findings.iter().filter(|finding| finding.kind == FindingKind::Requirement);
    let told: Vec<&str> = reasons.map(|finding| finding.id.as_str()).collect();
    assert!(told.contains(&"deck_board_screw_spacing_mm"), "{told:?}");
    assert!(!told.contains(&"finial_nails") && !told.contains(&"underlay_staple_spacing_mm"), "{told:?}");
}

#[test]
fn edges_that_purlins_raise_get_boards() {
    // Two verges of 1.8 m, a board of 2.4 m each; the eaves of 2.4 m take one more. In pairs every 600 mm: four pairs
    // on each verge, five along the eaves.
    let plan = planned(Answers::shed());
    assert_eq!(needed(&plan, "barge-boards"), Some(2));
    assert_eq!(needed(&plan, "fascia"), Some(1));
    assert_eq!(needed(&plan, "edge-board-screws"), Some(2 * (4 + 4 + 5)));
    // A wall at one side leaves one verge.
    let beside = planned(Answers::shed().choose(FactKey::WallSide, "left"));
    assert_eq!(needed(&beside, "barge-boards"), Some(1));
    // New purlins beside old ones stand as high as those, and sheets on a sound deck lie on it.
    for flush in [Answers::shed().choose(FactKey::Base, "purlins"), Answers::shed().on_deck(18)] {
        assert_eq!(needed(&planned(flush), "barge-boards"), None);
    }
}

#[test]
fn flashings_are_fixed_and_sealed() {
    // A lean-to against a wall above, 2.4 m and its overhang: the sheets are 2.5 m wide, so nine gaps of 300 mm.
    let plan = planned(Answers::shed().choose(FactKey::WallTop, "yes"));
    let run = plan.slopes[0].covered_width;
    assert_eq!(run.floor_mm(), 2_500);
    assert_eq!(needed(&plan, "flashing-fixings"), Some(10));
    assert_eq!(needed(&plan, "flashing-sealant"), Some(1));
    assert_eq!(needed(&planned(Answers::shed()), "flashing-sealant"), None);
}

#[test]
fn finials_are_nailed() {
    let two = Answers::shed()
        .choose(FactKey::Form, "two_slopes")
        .choose(FactKey::SlopesEqual, "yes")
        .without(FactKey::WallTop);
    let plan = planned(two);
    assert_eq!((needed(&plan, "finial"), needed(&plan, "finial-nails")), (Some(2), Some(8)));
}
