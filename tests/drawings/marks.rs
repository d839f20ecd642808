//! What is written on a piece is one mark everywhere: in the order of work, on the drawing, in the cut list.

use std::collections::BTreeSet;

use lapwise::drawing::{Kind, cut_list, of_kind};
use lapwise::render::svg;
use lapwise::roofing::note::{Arg, Note};
use lapwise::roofing::plan::{Handbook, Plan, plan};
use lapwise::roofing::roof::FactKey;
use lapwise::roofing::work::{StepKind, steps, work_order};
use resvg::usvg::roxmltree::Document;

use crate::common::Answers;
use crate::scene::of_class;
use crate::words::English;

/// Fifty roofs of one and two slopes, long and short, on rafters and decks, with walls and without.
fn fifty(book: &Handbook) -> Vec<(String, Plan)> {
    let mut plans = Vec::new();
    let pitches = [7.0, 12.0, 18.0, 27.0, 41.0].into_iter().cycle();
    let winds = ["left", "right", "front", "not_sure"].into_iter().cycle();
    for (number, (pitch, wind)) in (0..50_i64).zip(pitches.zip(winds)) {
        let (length, up) = (900 + number * 173 % 9_000, 800 + number * 311 % 5_200);
        let sheet = if number % 3 == 0 { "fennick-sheet-3000" } else { "fennick-sheet-2000" };
        let mut answers = Answers::shed()
            .choose(FactKey::Sheet, sheet)
            .choose(FactKey::WindFrom, wind)
            .length(FactKey::Length, length)
            .length(FactKey::SlopeLength, up)
            .angle(FactKey::Pitch, pitch);
        if number % 2 == 1 {
            answers = answers
                .choose(FactKey::Form, "two_slopes")
                .choose(FactKey::SlopesEqual, if number % 4 == 1 { "yes" } else { "no" })
                .without(FactKey::WallTop);
            if number % 4 == 3 {
                answers = answers
                    .length(FactKey::SlopeLengthBack, 800 + number * 97 % 3_000)
                    .angle(FactKey::PitchBack, pitch);
            }
        } else if number % 6 == 0 {
            answers = answers.choose(FactKey::WallSide, "left");
        }
        if number % 5 == 2 {
            answers = answers.on_deck(18);
        }
        let plan = plan(&answers.0, book).unwrap_or_else(|why| panic!("roof {number}: {why:?}"));
        plans.push((format!("roof {number}"), plan));
    }
    plans
}

/// Marks as they are said, `1a, 4, 6–9, 12a–12f`, one by one.
fn each(said: &str) -> Vec<String> {
    let all = said.split(", ").filter(|mark| !mark.is_empty());
    all.flat_map(|mark| match mark.split_once('–') {
        Some((first, last)) => {
            let sheet = first.trim_end_matches(|c: char| c.is_ascii_lowercase());
            if let Some(from) = first.chars().next_back().filter(char::is_ascii_lowercase) {
                let to = last.chars().next_back().unwrap();
                return (from..=to).map(|letter| format!("{sheet}{letter}")).collect();
            }
            let (first, last): (usize, usize) = (first.parse().unwrap(), last.parse().unwrap());
            (first..=last).map(|number| number.to_string()).collect()
        }
        None => vec![mark.to_owned()],
    })
    .collect()
}

fn marks_in(note: &Note) -> Vec<String> {
    let said = ["mark", "marks"].map(|name| note.args.get(name));
    let said = said
        .into_iter()
        .flatten()
        .filter_map(|arg| if let Arg::Text(text) = arg { Some(each(text)) } else { None });
    said.flatten().collect()
}

/// The marks of a slope's cut list: its rows of sheets and letters, one by one.
fn cut(plan: &Plan, index: usize) -> BTreeSet<String> {
    let letters = |labels: &str| -> Vec<char> {
        let last = |label: &str| label.chars().next_back().filter(char::is_ascii_lowercase);
        match labels.split_once('–') {
            Some((first, end)) => (last(first).unwrap()..=last(end).unwrap()).collect(),
            None => last(labels).into_iter().collect(),
        }
    };
    let rows = cut_list(plan, &plan.slopes[index]).into_iter();
    rows.flat_map(|row| {
        let letters = letters(&row.piece);
        let sheets = each(&row.sheets);
        sheets.into_iter().flat_map(move |sheet| match letters.as_slice() {
            [] => vec![sheet],
            letters => letters.iter().map(|letter| format!("{sheet}{letter}")).collect(),
        })
    })
    .collect()
}

#[test]
fn every_piece_has_one_mark_in_the_order_of_work_on_the_drawing_and_in_the_cut_list() {
    let english = English::shipped();
    let (mut cutting, mut sharing) = (0, 0);
    for (name, plan) in fifty(&english.0.handbook) {
        let order = work_order(&plan);
        let told: Vec<String> = order.iter().flat_map(|step| marks_in(&step.note)).collect();
        let once: BTreeSet<String> = told.iter().cloned().collect();
        assert_eq!(once.len(), told.len(), "{name}: a mark stands twice: {told:?}");
        let mut drawn = BTreeSet::new();
        for picture in of_kind(&plan, Kind::Sheets, &english) {
            let file = svg::write(&picture);
            let svg = Document::parse(&file).unwrap();
            let pieces = of_class(&svg, "piece").into_iter();
            drawn.extend(pieces.map(|piece| piece.attribute("data-sheet").unwrap().to_owned()));
        }
        assert_eq!(drawn, once, "{name}");
        let cut: BTreeSet<String> = (0..plan.slopes.len()).flat_map(|index| cut(&plan, index)).collect();
        assert_eq!(cut, once, "{name}");
        // On the job the same pieces are named in the same order.
        let on_the_job: Vec<String> = steps(&plan).iter().flat_map(|step| marks_in(&step.note)).collect();
        assert_eq!(on_the_job, told, "{name}");
        // Numbers rise as sheets are begun.
        let mut begun = 0;
        for mark in &told {
            let number: usize = mark.trim_end_matches(|c: char| c.is_ascii_lowercase()).parse().unwrap();
            assert!(number <= begun + 1, "{name}: {mark} after {begun}: {told:?}");
            begun = begun.max(number);
        }
        sharing += usize::from(plan.sharing.is_some());
        // Nothing that is cut is laid before it is cut.
        let place = |kind: StepKind| steps(&plan).iter().position(|step| step.key.kind == kind);
        if plan.slopes[0].cuts.cuts > 0 {
            assert!(place(StepKind::Cut) < place(StepKind::FirstSheet), "{name}");
            assert!(place(StepKind::Cut).is_some(), "{name}");
            cutting += 1;
        }
    }
    assert!(cutting >= 20 && sharing >= 1, "{cutting} cut, {sharing} share");
}

/// Each course is nailed before the next one is laid over it, but for lines that a later piece goes over.
#[test]
fn every_course_is_nailed_before_the_next_one_is_laid() {
    let english = English::shipped();
    for (name, plan) in fifty(&english.0.handbook) {
        let order: Vec<String> = work_order(&plan).into_iter().map(|step| step.note.message).collect();
        let courses: Vec<usize> =
            (0..order.len()).filter(|place| order[*place] == "work-next-course").collect();
        for place in courses {
            let before = order[..place].iter().rposition(|message| message == "step-nail");
            let laid = order[..place].iter().rposition(|message| {
                ["work-next-course", "work-first-course", "step-first-sheet"].contains(&message.as_str())
            });
            assert!(before > laid, "{name}: {order:?}");
        }
    }
}
