//! A second covering in a book of the tests: an invented profiled metal sheet, screwed in the pan, ordered to length,
//! good from 4°. It plans from a site file and in a chat with its own rules, goods and words, and with nobody else's.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test may stop where it stands"
)]

use crate::books;

use std::sync::{Arc, LazyLock};

use crate::guide;
use lapwise::app::App;
use lapwise::book::Book;
use lapwise::conversation::saying::Voice;
use lapwise::export::kept;
use lapwise::export::site::read_site;
use lapwise::message::{ChatId, Content, Inbound};
use lapwise::roofing::catalogue::FastenerUse;
use lapwise::roofing::layout::SupportPlan;
use lapwise::roofing::materials::Unit;
use lapwise::roofing::plan::{Plan, Unplanned, plan};
use lapwise::roofing::roof::{FactKey, FactValue, Facts, covering};
use lapwise::roofing::rules::Requirement;
use lapwise::store::MemoryStore;
use lapwise::units::{Length, UsualUnit};

static BOOK: LazyLock<Book> = LazyLock::new(|| books::with("tests/coverings/profiled_metal"));

/// A shed of Fennick Green, 4.5° flat.
const SITE: &str = r#"
covering_now = "nothing"
structure = "sound"
overhead_lines = "none"
form = "single_slope"
pitch = { deg = 4.5 }
base = "rafters"
timber_spacing = { mm = 600 }
length = { mm = 2400 }
slope_length = { mm = 1800 }
wall_top = "no"
wall_side = "none"
wind_from = "left"
sheet = "fennick-metal"
"#;

fn site() -> Facts {
    read_site(SITE).unwrap_or_else(|faults| panic!("{faults:?}"))
}

fn with(changes: &[(FactKey, FactValue)]) -> Facts {
    let mut facts = site();
    for (key, value) in changes {
        assert!(facts.set(*key, value.clone()), "{key:?}");
    }
    facts
}

fn choice(id: &str) -> FactValue {
    FactValue::Choice(id.to_owned())
}

fn planned(facts: &Facts) -> Plan {
    plan(facts, &BOOK.handbook).unwrap_or_else(|why| panic!("{why:?}"))
}

/// Everything that is said of a plan.
fn told(plan: &Plan) -> String {
    let language = BOOK.language("en", covering(&plan.facts, &BOOK.handbook));
    assert_eq!(language, "en-screwed");
    guide::told(&BOOK, &Voice { words: &BOOK.words, language, units: UsualUnit::Mm }, plan)
}

/// No nail and nothing of bitumen is bought, fixed or spoken of.
fn is_of_metal(plan: &Plan) {
    let bought: Vec<&str> = plan.materials.lines.iter().map(|line| line.item.as_str()).collect();
    assert!(bought.iter().all(|item| !item.contains("nail")), "{bought:?}");
    for run in &plan.edges {
        assert!(run.piece.starts_with("fennick-metal-"), "{run:?}");
    }
    for slope in &plan.slopes {
        assert_eq!(slope.fixed_by, FastenerUse::SheetScrew);
        assert_eq!(slope.nail, "fennick-metal-screw-45");
        // A screw in the pan has all its length in timber but for four sheets, or two sheets and two pieces, of 0.7 mm.
        assert_eq!(slope.nail_bite, Length::from_um(42_200));
        // Hollows lie half-way between the tops, which are 200 mm apart.
        let edge = match slope.start_from {
            lapwise::roofing::roof::Hand::Left => -slope.verge_overhang,
            lapwise::roofing::roof::Hand::Right => plan.site.length.value + slope.verge_overhang,
        };
        let pitch = Length::from_mm(200);
        for fixing in &slope.fixings {
            let from_edge = (fixing.x - edge).abs();
            assert_eq!(pitch * from_edge.div_floor(pitch), from_edge, "{fixing:?}");
        }
    }
    assert_eq!(plan.finials, 0);
    let told = told(plan).to_lowercase();
    for foreign in ["nail", "bitumen", "eaves filler"] {
        let at = told.find(foreign).map(|at| &told[at.saturating_sub(60)..(at + 40).min(told.len())]);
        assert_eq!(at, None, "{foreign}");
    }
    assert!(told.contains("screw"), "{told}");
}

#[test]
fn a_slope_of_four_and_a_half_degrees_plans_from_a_site_file() {
    let plan = planned(&site());
    is_of_metal(&plan);
    let slope = &plan.slopes[0];
    assert_eq!(slope.support, SupportPlan::Purlins);
    assert_eq!(slope.courses.len(), 1, "one length from eaves to top");
    let lengths: Vec<_> = plan.materials.lines.iter().filter(|line| line.item == "fennick-metal").collect();
    let [sheets] = lengths.as_slice() else { panic!("{lengths:?}") };
    assert_eq!(sheets.unit, Unit::PieceOf(Length::from_mm(1_850)), "ordered with its overhang at the eaves");
    // Five ribs of 200 mm, one lapped: 0.8 m each, 2.41 m and what makes it a whole rib.
    assert_eq!((sheets.needed, sheets.spare), (3, 1));
    // 4 sheets of 1.85 m at £9.00 a metre.
    assert_eq!(sheets.price.unwrap().amount.to_string(), "66.60");
    assert!(slope.requirements.deciding(Requirement::NailBiteMin).is_none());
    assert_eq!(kept::read(&kept::write(&plan).unwrap()), Some(plan));
}

#[test]
fn two_slopes_a_deck_and_a_long_slope_plan_too() {
    let long = FactValue::Length(lapwise::units::Measured::stated(Length::from_mm(9_000)));
    let thick = FactValue::Length(lapwise::units::Measured::stated(Length::from_mm(18)));
    let ridge = with(&[(FactKey::Form, choice("two_slopes")), (FactKey::SlopesEqual, choice("yes"))]);
    let courses = with(&[(FactKey::SlopeLength, long)]);
    let decked = with(&[
        (FactKey::Base, choice("boards")),
        (FactKey::DeckThickness, thick),
        (FactKey::Insulation, choice("no")),
    ]);
    for facts in [&ridge, &courses, &decked] {
        is_of_metal(&planned(facts));
    }
    assert_eq!(planned(&courses).slopes[0].courses.len(), 2, "6 m is the longest that is made");
    let on_the_deck = &planned(&decked).slopes[0].support;
    assert!(matches!(on_the_deck, SupportPlan::PurlinsOverDeck { .. }), "{on_the_deck:?}");
}

#[test]
fn no_roof_is_judged_by_the_rules_of_another_covering() {
    let bitumen = with(&[(FactKey::Sheet, choice("fennick-sheet-2000"))]);
    match plan(&bitumen, &BOOK.handbook) {
        Err(Unplanned::Refused(refusals)) => assert_eq!(refusals[0].id, "slope-under-5"),
        other => panic!("{other:?}"),
    }
    let mut unsaid = site();
    unsaid.remove(FactKey::Sheet);
    match plan(&unsaid, &BOOK.handbook) {
        Err(Unplanned::Missing(missing)) => assert_eq!(missing.0, [FactKey::Sheet]),
        other => panic!("{other:?}"),
    }
    // "Read my label" alone does not say of what the sheet is.
    let own = |id: &str| {
        let mm = |mm| FactValue::Length(lapwise::units::Measured::stated(Length::from_mm(mm)));
        with(&[
            (FactKey::Sheet, choice(id)),
            (FactKey::SheetLength, mm(4_000)),
            (FactKey::SheetWidth, mm(1_000)),
            (FactKey::SheetCorrugations, FactValue::Count(5)),
            (FactKey::CorrugationHeight, mm(25)),
        ])
    };
    match plan(&own("label"), &BOOK.handbook) {
        Err(Unplanned::Missing(missing)) => assert_eq!(missing.0, [FactKey::Sheet]),
        other => panic!("{other:?}"),
    }
    let plan = planned(&own("label-profiled_metal"));
    is_of_metal(&plan);
    let taken = plan.findings.iter().find(|finding| finding.id == "own-sheet-like");
    assert!(taken.is_some(), "{:?}", plan.findings);
}

/// What was typed, or `[id]`: a button that was pressed.
fn content(said: &str) -> Content {
    match said.strip_prefix('[').and_then(|rest| rest.strip_suffix(']')) {
        Some(id) => Content::Choice { prompt: None, id: id.to_owned() },
        None => Content::Text(said.to_owned()),
    }
}

async fn say(app: &App<MemoryStore>, text: &str) -> Vec<String> {
    let inbound = Inbound { chat: ChatId::new("ann").unwrap(), id: String::new(), content: content(text) };
    app.work(&inbound, None, false).await.unwrap().says.into_iter().map(|say| say.text).collect()
}

fn app() -> App<MemoryStore> {
    let book = books::with("tests/coverings/profiled_metal");
    App::new(Arc::new(book), Arc::new(MemoryStore::new(None).unwrap()), || 0, "kept-on-this-computer")
}

#[tokio::test]
async fn a_chat_asks_for_the_sheet_before_what_depends_on_it_and_leads_through_the_work() {
    let app = app();
    let mut last = Vec::new();
    for text in ["hi", "nothing", "sound", "none", "single"] {
        last = say(&app, text).await;
    }
    assert!(last.join("\n").contains("Which sheet will you use?"), "{last:?}");
    for text in ["fennick-metal", "4.5 degrees", "rafters", "600", "2.4m", "1.8m", "no", "none", "left"] {
        last = say(&app, text).await;
    }
    let review = last.join("\n");
    assert!(review.contains("4.5°") && !review.contains("under 5"), "{review}");
    let given = say(&app, "yes").await.join("\n");
    let parts = say(&app, "[do-show-materials]").await.join("\n");
    for text in [&given, &parts] {
        assert!(text.contains("screw") && !text.to_lowercase().contains("nail"), "{text}");
        assert!(!text.to_lowercase().contains("bitumen"), "{text}");
    }
    assert!(parts.contains("1.85 m long"), "{parts}");
    let mut step = say(&app, "start the work").await.join("\n");
    let mut steps = 0;
    while step.contains("Step ") && steps < 40 {
        assert!(!step.to_lowercase().contains("nail"), "{step}");
        step = say(&app, "done").await.join("\n");
        steps += 1;
    }
    assert!((8..40).contains(&steps), "{steps}: {step}");
}
