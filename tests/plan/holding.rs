//! What holds the sheets: nails through all that lies there, pieces that reach, timber that is cut with a saw.

#![expect(clippy::expect_used, clippy::panic, reason = "helpers of tests")]

use crate::common;

use common::{Answers, handbook, mm};
use lapwise::roofing::catalogue::{FastenerUse, Shank};
use lapwise::roofing::layout::LineKind;
use lapwise::roofing::plan::{Handbook, Plan, Refusal, Unplanned, plan};
use lapwise::roofing::roof::{FactKey, Hand};
use lapwise::roofing::rules::{Limit, Requirement};
use lapwise::units::Length;

fn planned(answers: &Answers) -> Plan {
    plan(&answers.0, &handbook()).expect("a plan")
}

fn refused(answers: &Answers, book: &Handbook) -> Refusal {
    match plan(&answers.0, book) {
        Err(Unplanned::Refused(refusals)) => refusals.first().expect("a refusal").clone(),
        other => panic!("not refused: {other:?}"),
    }
}

fn with_nails(shank: Shank, diameter: i64) -> Handbook {
    let mut book = handbook();
    for nail in book.catalogue.fasteners.iter_mut().filter(|one| one.usage == FastenerUse::SheetNail) {
        (nail.shank, nail.diameter) = (shank, mm(diameter));
    }
    book
}

fn half_mm(halves: i64) -> Length {
    Length::from_um(halves * 500)
}

#[test]
fn in_a_purlin_a_nail_goes_as_deep_as_the_timber_allows() {
    // Through 30 mm of corrugation and one to four layers of 2.5 mm: 65 mm bites 32.5 mm at most into 38 mm of purlin,
    // so that 3 mm and more stay under its point; 70 mm would not. At laps and under pieces it bites 25 mm.
    let courses = |up| Answers::shed().length(FactKey::SlopeLength, up);
    for answers in [Answers::shed(), courses(4_000), Answers::shed().on_deck(12), Answers::barn()] {
        for slope in &planned(&answers).slopes {
            // Where the top line stands on an end lap, two layers more lie there.
            assert_eq!(slope.nail_length, mm(65));
            assert!([mm(25), mm(20)].contains(&slope.nail_bite), "{}", slope.nail_bite);
            assert_eq!(slope.long_nail, None);
        }
    }
    // One sheet across without laps, its top free of a piece: nothing lies on it but verge pieces.
    let mut bare = handbook();
    bare.catalogue.edges.clear();
    let one = plan(&Answers::shed().length(FactKey::Length, 900).0, &bare).expect("a plan");
    assert_eq!((one.slopes[0].nail_length, one.slopes[0].nail_bite), (mm(65), half_mm(65)));
}

#[test]
fn the_least_bite_goes_by_the_nail_and_says_by_which_rule() {
    let reasons = |book: &Handbook| -> Vec<Length> {
        let plan = plan(&Answers::shed().0, book).expect("a plan");
        assert_eq!(plan.slopes[0].nail_length, mm(65));
        let finding = plan.findings.iter().find(|one| one.requirement == Some(Requirement::PurlinNailBite));
        let limits = finding.expect("said").reasons.iter().map(|reason| {
            let Limit::Length(length) = reason.limit else { panic!("{:?}", reason.limit) };
            length
        });
        limits.collect()
    };
    assert_eq!(reasons(&handbook()), [mm(20), mm(18)]);
    assert_eq!(reasons(&with_nails(Shank::Twisted, 3)), [mm(20), mm(18)]);
    // A smooth one counts from eight diameters on.
    assert_eq!(reasons(&with_nails(Shank::Smooth, 3)), [mm(24), mm(20)]);
    // Eight times 4 mm more than fits between laps above and 3 mm of wood below.
    let refusal = refused(&Answers::shed(), &with_nails(Shank::Smooth, 4));
    assert_eq!((refusal.id.as_str(), refusal.note.message.as_str()), ("no-nail", "refused-no-nail"));
}

#[test]
fn timber_too_thin_for_any_nail_is_refused_and_says_so() {
    let mut book = handbook();
    book.catalogue.timbers[0].depth = mm(25);
    let refusal = refused(&Answers::shed(), &book);
    assert_eq!(refusal.note.message, "refused-no-nail-for-timber");
}

#[test]
fn on_a_deck_laps_and_pieces_take_a_longer_nail() {
    for up in [1_800, 4_000] {
        let plan = planned(&Answers::shed().on_deck(22).length(FactKey::SlopeLength, up));
        let slope = &plan.slopes[0];
        // 50 mm bites 15 to 17.5 mm through one sheet or two; 55 mm 15 to 20 mm through two layers to four.
        assert_eq!((slope.nail_length, slope.nail_bite), (mm(50), mm(15)));
        let long = slope.long_nail.as_ref().expect("a longer one");
        assert_eq!((long.length, long.bite), (mm(55), mm(15)));
        assert_eq!(slope.nail_on(LineKind::Eaves).1, mm(50));
        assert_eq!(slope.nail_on(LineKind::Top).1, mm(55));
        let needed = |id: &str| {
            plan.materials.lines.iter().find(|line| line.item == id).map(|line| line.needed).expect("bought")
        };
        let own: i64 = plan.edges.iter().map(|run| run.own_fixings).sum();
        let stacked = slope.fixings.iter().filter(|one| matches!(one.line, LineKind::EndLap | LineKind::Top));
        assert_eq!(needed("nail-55"), i64::try_from(stacked.count()).expect("few") + own);
        assert_eq!(
            usize::try_from(needed("nail-50")).expect("few"),
            slope.fixings.len() - slope.long_nails()
        );
        assert!(
            plan.findings.iter().all(|finding| finding.id != "nail-point-may-show"),
            "it stays inside 22 mm"
        );
    }
}

#[test]
fn no_nail_stands_at_the_end_of_a_timber_or_over_its_joint() {
    for (length, side, wind) in [
        (4_200, "left", "right"),
        (4_600, "none", "left"),
        (7_350, "right", "left"),
        (12_345, "none", "left"),
    ] {
        let answers = Answers::shed()
            .length(FactKey::Length, length)
            .length(FactKey::SlopeLength, 4_100)
            .choose(FactKey::WallSide, side)
            .choose(FactKey::WindFrom, wind);
        let plan = planned(&answers);
        let slope = &plan.slopes[0];
        for (index, line) in slope.lines.iter().enumerate() {
            let pieces = slope.purlin_pieces.iter().filter(|piece| piece.line == index);
            let ends: Vec<Length> = pieces.flat_map(|piece| [piece.from, piece.to]).collect();
            let nails = slope.fixings.iter().filter(|fixing| fixing.y == line.y);
            let mut nailed: Vec<Length> = nails.map(|fixing| fixing.x).collect();
            for x in &nailed {
                assert!(ends.iter().all(|end| (*x - *end).abs() >= mm(30)), "{length}: {x} at {ends:?}");
            }
            // What is left out beside a joint is made up for on both sides of it.
            nailed.sort_unstable();
            let gaps = nailed.windows(2).map(|pair| pair[1] - pair[0]);
            assert!(gaps.max().expect("a few") <= mm(300), "{length}: {nailed:?}");
        }
    }
}

#[test]
fn a_piece_is_chosen_that_reaches_or_the_roof_is_refused() {
    let steep = |degrees: f64| Answers::shed().angle(FactKey::Pitch, degrees);
    let top_edge = |plan: &Plan| {
        let run = plan.edges.iter().find(|run| run.edge == lapwise::roofing::catalogue::EdgeUse::TopEdge);
        run.expect("a piece along the top").piece.clone()
    };
    assert_eq!(top_edge(&planned(&steep(45.0))), "top-edge");
    let plan = planned(&steep(60.0));
    assert_eq!(top_edge(&plan), "wide-top-edge");
    // Its fold is 70.5 mm x tan 60 beyond the rafters; the nail stands 25 mm inside its edge.
    assert_eq!(plan.fold_beyond(0).round_mm(), 122);
    let top = plan.slopes[0].lines.last().expect("a line");
    assert_eq!(top.y, mm(1_800 + 123 - 300 + 25));
    let mut narrow = handbook();
    narrow.catalogue.edges.retain(|piece| !piece.item.id.starts_with("wide"));
    let refusal = refused(&steep(60.0), &narrow);
    assert_eq!(refusal.id, "no-piece-reaches");
    assert_eq!(refusal.note.args["wing"], lapwise::roofing::note::Arg::Size(mm(173)));
    // At 45 degrees the sheets go up past the rafters, so that the piece covers them by 100 mm.
    let sheets = planned(&steep(45.0)).slopes[0].courses.last().expect("a course").to;
    assert_eq!(sheets, mm(1_800 + 21));
}

#[test]
fn both_slopes_are_laid_from_the_same_gable() {
    for wind in ["front", "not_sure", "left", "right"] {
        let answers = Answers::barn().length(FactKey::Length, 6_230).choose(FactKey::WindFrom, wind);
        let plan = planned(&answers);
        let [front, back] = plan.slopes.as_slice() else { panic!("two slopes") };
        assert_ne!(front.start_from, back.start_from, "{wind}: seen from each side");
        if wind == "front" {
            assert_eq!(front.start_from, Hand::Left);
        }
        // Corrugations meet at the ridge: what is so far from the left in front is as far from the right at the back.
        let edges = |columns: &[lapwise::roofing::layout::Column]| -> Vec<(Length, Length)> {
            columns.iter().map(|column| (column.from, column.to)).collect()
        };
        let mirrored: Vec<(Length, Length)> =
            edges(&back.columns).into_iter().map(|(from, to)| (mm(6_230) - to, mm(6_230) - from)).collect();
        assert_eq!(edges(&front.columns), mirrored, "{wind}");
    }
}

#[test]
fn a_spare_of_the_longest_timber_is_bought() {
    let plan = planned(&Answers::shed().length(FactKey::Length, 7_350));
    let timber: Vec<_> = plan.materials.lines.iter().filter(|line| line.item == "purlin-50x38").collect();
    assert_eq!(timber.iter().map(|line| line.spare).sum::<i64>(), 1);
    assert_eq!(timber.last().expect("timber").spare, 1, "of the longest");
    assert_eq!(timber.last().expect("timber").spare_rule.as_deref(), Some("always"));
}

#[test]
fn a_column_for_a_few_millimetres_is_offered_to_be_saved() {
    let offered = |answers: &Answers| {
        let plan = planned(answers);
        let finding = plan.findings.iter().find(|finding| finding.id == "few-millimetres").cloned();
        (finding.map(|finding| finding.note), plan.slopes[0].columns.len())
    };
    let roof = |length| Answers::shed().length(FactKey::Length, length);
    let (note, columns) = offered(&roof(2_800));
    let note = note.expect("offered");
    assert_eq!(columns, 4);
    assert_eq!(note.args["over"], lapwise::roofing::note::Arg::Length(mm(10)));
    assert_eq!(note.args["length"], lapwise::roofing::note::Arg::Length(mm(2_790)));
    // Whoever does as it says has a roof of three columns, and no more to be offered.
    assert_eq!(offered(&roof(2_790)), (None, 3));
    assert_eq!(offered(&roof(2_811)).0, None, "21 mm are more than a board can be trimmed by");
    let wall = |length| roof(length).choose(FactKey::WallSide, "right").choose(FactKey::WindFrom, "front");
    let (note, columns) = offered(&wall(5_500));
    assert_eq!((note.expect("offered").message.as_str(), columns), ("advice-few-millimetres-at-a-wall", 7));
    assert_eq!(offered(&wall(5_495)), (None, 6));
}
