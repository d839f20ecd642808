//! A plan lasts: whoever has begun to build keeps it, whatever book and program run by then; and whoever has not is
//! told what is different.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test may stop where it stands"
)]

use crate::books;
use crate::common;

use std::fmt::Write as _;
use std::fs;
use std::sync::Arc;

use crate::guide::guide_of;
use books::edited;
use lapwise::app::App;
use lapwise::book::Book;
use lapwise::conversation::event::Event;
use lapwise::conversation::saying::Voice;
use lapwise::conversation::session::Session;
use lapwise::conversation::{Guide, Turn, turn};
use lapwise::export::kept;
use lapwise::export::plan::plan_json;
use lapwise::export::site::read_site;
use lapwise::message::{ChatId, Content, Inbound};
use lapwise::roofing::handbook::{Handbook, Version};
use lapwise::roofing::plan::{Plan, plan, plan_on};
use lapwise::roofing::roof::{FactKey, Facts};
use lapwise::roofing::rules::{Effect, Limit, Requirement};
use lapwise::store::{MemoryStore, Store};
use lapwise::units::{Day, Length, UsualUnit};

/// 25 November 2026, noon.
const START: u64 = 1_795_608_000;
const DAY: u64 = 86_400;
const INTERVIEW: &str = "hi|felt|sound|none|single|25 degrees|rafters|600|2.4m|1.8m|no|none|left|demo|yes";
/// What an adviser changes in the rules for ordinary slopes.
const CLOSER_PURLINS: (&str, &str, &str) = (
    "rules/slope.toml",
    "max_purlin_spacing_mm = 610, end_lap_mm = 170",
    "max_purlin_spacing_mm = 400, end_lap_mm = 250",
);

fn app(book: Book, store: &Arc<MemoryStore>, clock: fn() -> u64) -> App<MemoryStore> {
    App::new(Arc::new(book), Arc::clone(store), clock, "kept-on-this-computer")
}

fn noon() -> u64 {
    START
}

fn next_noon() -> u64 {
    START + DAY
}

async fn say(app: &App<MemoryStore>, id: &str, text: &str) -> Vec<String> {
    let content = match text.strip_prefix('[').and_then(|rest| rest.strip_suffix(']')) {
        Some(id) => Content::Choice { prompt: None, id: id.to_owned() },
        None => Content::Text(text.to_owned()),
    };
    let inbound = Inbound { chat: ChatId::new(id).unwrap(), id: String::new(), content };
    app.work(&inbound, None, false).await.unwrap().says.into_iter().map(|say| say.text).collect()
}

async fn interview(app: &App<MemoryStore>, id: &str) {
    for text in INTERVIEW.split('|') {
        say(app, id, text).await;
    }
}

/// A chat with its plan in hand and eight steps done.
async fn eight_steps(app: &App<MemoryStore>, id: &str) {
    interview(app, id).await;
    say(app, id, "start the work").await;
    for _ in 0..8 {
        say(app, id, "done").await;
    }
}

async fn names_of_others(store: &MemoryStore, id: &str) -> Vec<String> {
    let others = store.list_other(Some(ChatId::new(id).unwrap())).await.unwrap();
    others.into_iter().map(|other| other.name).filter(|name| name.starts_with("plan/")).collect()
}

#[tokio::test]
async fn a_changed_book_offers_its_plan_and_no_keeps_the_earlier_one_to_the_end() {
    let (store, calm) =
        (Arc::new(MemoryStore::new(None).unwrap()), Arc::new(MemoryStore::new(None).unwrap()));
    let (before, unchanged) = (app(Book::shipped(), &store, noon), app(Book::shipped(), &calm, noon));
    eight_steps(&before, "ann").await;
    eight_steps(&unchanged, "ann").await;
    drop(before);
    let after = app(edited(&[CLOSER_PURLINS]), &store, noon);
    let said = say(&after, "ann", "where was I").await;
    let went_on = say(&unchanged, "ann", "where was I").await;
    assert_eq!(said[..went_on.len()], went_on, "the step in hand is that of the earlier plan");
    assert_eq!(said.len(), went_on.len() + 1, "{said:?}");
    let offer = said.last().unwrap();
    for part in [
        "The rules I go by have changed",
        "This still stands",
        "put right or taken off",
        "• Buy ",
        "leave it",
    ] {
        assert!(offer.contains(part), "{part}: {offer}");
    }
    let left = say(&after, "ann", "leave it").await.join("\n");
    assert!(!left.contains("have changed"), "{left}");
    let mut steps = 0;
    loop {
        let (here, there) = (say(&after, "ann", "done").await, say(&unchanged, "ann", "done").await);
        assert_eq!(here, there);
        steps += 1;
        if there.iter().any(|text| !text.contains("Step ")) || steps > 60 {
            break;
        }
    }
    assert!((5..60).contains(&steps), "{steps}");
    for asked in ["[do-show-materials]", "why 170 mm?", "[do-show-setting-out]", "[do-show-cut-list]"] {
        assert_eq!(say(&after, "ann", asked).await, say(&unchanged, "ann", asked).await, "{asked}");
    }
}

#[tokio::test]
async fn what_is_accepted_holds_from_then_on() {
    let store = Arc::new(MemoryStore::new(None).unwrap());
    let before = app(Book::shipped(), &store, noon);
    eight_steps(&before, "ann").await;
    drop(before);
    let after = app(edited(&[CLOSER_PURLINS]), &store, noon);
    say(&after, "ann", "where was I").await;
    let accepted = say(&after, "ann", "accept").await.join("\n");
    assert!(
        accepted.contains("take this off or put it right: the purlins at 586 mm and 1.147 m"),
        "{accepted}"
    );
    let why = say(&after, "ann", "why 400 mm?").await.join("\n");
    assert!(why.contains("400 mm"), "{why}");
    let again = say(&after, "ann", "where was I").await;
    assert!(again.iter().all(|text| !text.contains("have changed")), "{again:?}");
    // A change taken back goes back to the plan of then, and that is offered again.
    say(&after, "ann", "back").await;
    let offered = say(&after, "ann", "where was I").await.join("\n");
    assert!(offered.contains("have changed"), "{offered}");
}

#[tokio::test]
async fn before_the_work_what_is_different_is_said_once() {
    let store = Arc::new(MemoryStore::new(None).unwrap());
    let before = app(Book::shipped(), &store, noon);
    interview(&before, "ann").await;
    drop(before);
    let after = app(edited(&[CLOSER_PURLINS]), &store, noon);
    let said = say(&after, "ann", "[do-show-materials]").await;
    let told: Vec<&String> = said.iter().filter(|text| text.contains("have changed")).collect();
    assert_eq!(told.len(), 1, "{said:?}");
    assert!(told[0].contains("400 mm"), "{}", told[0]);
    let again = say(&after, "ann", "[do-show-materials]").await;
    assert!(again.iter().all(|text| !text.contains("have changed")), "{again:?}");
    assert_eq!(names_of_others(&store, "ann").await.len(), 1, "only the plan that stands is kept");
}

#[tokio::test]
async fn a_book_that_changes_no_plan_is_not_spoken_of() {
    let store = Arc::new(MemoryStore::new(None).unwrap());
    let before = app(Book::shipped(), &store, noon);
    eight_steps(&before, "ann").await;
    let expected = say(&before, "ann", "where was I").await;
    drop(before);
    let flatter = (
        "rules/slope.toml",
        "max_purlin_spacing_mm = 450, end_lap_mm = 200",
        "max_purlin_spacing_mm = 440, end_lap_mm = 220",
    );
    let after = app(edited(&[flatter]), &store, noon);
    assert_eq!(say(&after, "ann", "where was I").await, expected);
}

#[tokio::test]
async fn events_stay_small_and_a_restart_forgets_the_plans() {
    let store = Arc::new(MemoryStore::new(None).unwrap());
    let app = app(Book::shipped(), &store, noon);
    eight_steps(&app, "ann").await;
    let kept = store.load(ChatId::new("ann").unwrap()).await.unwrap();
    let largest = kept.events.iter().map(Vec::len).max().unwrap();
    assert!(largest < 400, "{largest} bytes");
    assert_eq!(names_of_others(&store, "ann").await.len(), 1);
    say(&app, "ann", "start again").await;
    say(&app, "ann", "yes").await;
    assert_eq!(names_of_others(&store, "ann").await, Vec::<String>::new());
}

fn facts() -> Facts {
    read_site(&fs::read_to_string("tests/plans/allotment-shed/site.toml").unwrap()).unwrap()
}

fn planned(handbook: &Handbook) -> Plan {
    plan(&facts(), handbook).unwrap()
}

/// One turn by a handbook, with the plan that was kept.
fn worked(
    book: &Book,
    handbook: &Handbook,
    earlier: Option<&Plan>,
    session: &mut Session,
    text: &str,
) -> (Turn, Vec<String>) {
    let guide = Guide { handbook, today: Day::from_seconds(START), earlier, ..guide_of(book) };
    let turn = turn(&guide, session, &Content::Text(text.to_owned()));
    for event in &turn.events {
        session.apply(event);
    }
    let voice = Voice { words: &book.words, language: "en", units: UsualUnit::M };
    let says = turn.says.iter().map(|draft| voice.speak(draft, 0).text).collect();
    (turn, says)
}

#[test]
fn a_changed_planner_is_as_a_changed_book() {
    let book = Book::shipped();
    let now = Handbook {
        version: Version { planner: book.handbook.version.planner + 1, ..book.handbook.version.clone() },
        ..book.handbook.clone()
    };
    // What the planner of before came to: other laps of the same book.
    let mut earlier = book.handbook.clone();
    for effect in earlier.rules.rules.iter_mut().flat_map(|rule| &mut rule.then) {
        if let Effect::Require(Requirement::MaxPurlinSpacing, limit) = effect {
            *limit = Limit::Length(Length::from_mm(400));
        }
    }
    let mut session = Session::default();
    let mut kept = None;
    for text in INTERVIEW.split('|').chain(["start the work", "done", "done", "done", "done"]) {
        let (turn, _) = worked(&book, &earlier, None, &mut session, text);
        kept = turn.plan.or(kept);
    }
    let kept = kept.expect("the plan that was given is handed out to be kept");
    let (turn, said) = worked(&book, &now, Some(&kept), &mut session, "where was I");
    assert!(said.last().unwrap().contains("The rules I go by have changed"), "{said:?}");
    assert!(turn.faults.is_empty(), "{:?}", turn.faults);
    // Where what was kept is gone, that is said and noted, and the new plan must do.
    let mut lost = session.clone();
    lost.apply(&Event::LeftAsItWas);
    let other = Handbook { version: Version { planner: 9, ..now.version.clone() }, ..now.clone() };
    let (turn, said) = worked(&book, &other, None, &mut lost, "where was I");
    assert_eq!(turn.faults.len(), 1, "{said:?}");
    assert!(said.iter().any(|text| text.contains("I can't find the plan")), "{said:?}");
}

#[test]
fn a_faulty_plan_is_noticed() {
    let book = Book::shipped();
    let mut broken = book.handbook.clone();
    for rule in &mut broken.rules.rules {
        rule.then.retain(|effect| !matches!(effect, Effect::Require(Requirement::EndLap, _)));
    }
    let mut session = Session::default();
    let mut faults = Vec::new();
    let mut last = Vec::new();
    for text in INTERVIEW.split('|') {
        let (turn, said) = worked(&book, &broken, None, &mut session, text);
        faults.extend(turn.faults);
        last = said;
    }
    assert!(faults.iter().any(|fault| fault.contains("requirement-has-a-rule")), "{faults:?}");
    assert!(last.join("\n").contains("something went wrong on my side"), "{last:?}");
}

#[test]
fn a_hash_covers_all_that_decides_a_plan() {
    let (shipped, changed) = (Book::shipped(), edited(&[CLOSER_PURLINS]));
    let voice = Voice { words: &shipped.words, language: "en", units: UsualUnit::Mm };
    let hash = |handbook: &Handbook| {
        let json = plan_json(&planned(handbook), handbook, &voice);
        (json["input_hash"].as_str().unwrap().to_owned(), json["book"].clone())
    };
    assert_eq!(hash(&shipped.handbook), hash(&shipped.handbook));
    assert_ne!(hash(&shipped.handbook), hash(&changed.handbook));
    let dearer = edited(&[("catalogue/sheets.toml", "price = \"14.00\"", "price = \"15.00\"")]);
    assert_ne!(hash(&shipped.handbook), hash(&dearer.handbook), "prices are part of a plan");
    let mut other = shipped.handbook.clone();
    other.version.planner += 1;
    assert_ne!(hash(&shipped.handbook).0, hash(&other).0, "so is the planner");
    let reworded = edited(&[("words/en/work.ftl", "is different now:", "is not the same now:")]);
    assert_eq!(hash(&shipped.handbook), hash(&reworded.handbook), "a sentence is not");
}

#[test]
fn a_kept_plan_reads_back_as_it_was() {
    let book = Book::shipped();
    let mut plans = 0;
    for case in fs::read_dir("tests/plans").unwrap().map(|entry| entry.unwrap().path()) {
        let facts = read_site(&fs::read_to_string(case.join("site.toml")).unwrap()).unwrap();
        let Ok(plan) = plan_on(Day::from_seconds(START), &facts, &book.handbook) else { continue };
        let kept = kept::write(&plan).unwrap();
        assert!(kept::read(&kept).as_ref() == Some(&plan), "{}", case.display());
        assert!(kept.len() < 400_000, "{}: {} bytes", case.display(), kept.len());
        plans += 1;
    }
    assert!(plans >= 11, "{plans}");
    // A kept plan that holds no more is none.
    let plan = planned(&book.handbook);
    let text = String::from_utf8(kept::write(&plan).unwrap()).unwrap();
    let nail_bite = plan.slopes[0].nail_bite.um();
    let damaged = text.replacen(&format!(",{nail_bite},"), ",1,", 1);
    assert_ne!(text, damaged);
    assert!(kept::read(damaged.as_bytes()).is_none());
}

/// Plans kept by the first planner, which counted no layers and knew no thickness: whoever builds by one goes on with it.
#[test]
fn plans_kept_by_an_earlier_planner_read_back() {
    let mut plans = 0;
    for file in fs::read_dir("tests/records/kept").unwrap().map(|entry| entry.unwrap().path()) {
        let plan = kept::read(&fs::read(&file).unwrap());
        let plan = plan.unwrap_or_else(|| panic!("{} reads back no more", file.display()));
        assert_eq!(plan.made.by.planner, 1, "{}", file.display());
        assert!(
            plan.slopes
                .iter()
                .all(|slope| slope.long_nail.is_none() && slope.nail_bite >= Length::from_mm(15))
        );
        assert!(kept::read(&kept::write(&plan).unwrap()).as_ref() == Some(&plan), "{}", file.display());
        plans += 1;
    }
    assert_eq!(plans, 3);
}

/// The recipe of DEVELOPERS.md: a changed value is a new dated entry.
const A_NEW_ENTRY: (&str, &str, &str) = (
    "rules/slope.toml",
    "# Nail lines on a deck",
    "[[rule]]\nid = \"slope-15-up\"\nwhen = [{ fact = \"pitch\", from_deg = 15 }]\nrequire = { support = \"purlins\", \
     max_purlin_spacing_mm = 610, end_lap_mm = 180, side_lap_corrugations = 1 }\nmessage = \"rule-slope-15-up\"\n\
     source = \"common-practice\"\nsince = \"2026-11-26\"\n\n# Nail lines on a deck",
);

#[test]
fn a_new_dated_entry_takes_over_on_its_day() {
    let book = edited(&[A_NEW_ENTRY]);
    let lap = |day: &str| {
        let day = Day::from_text(day).unwrap();
        let plan = plan_on(day, &facts(), book.on(day)).unwrap();
        assert_eq!(plan.made.day, Some(day), "a plan keeps the day it was made");
        (plan.slopes[0].end_lap, plan.made.by.book.clone())
    };
    let (yesterdays, tomorrows) = (lap("2026-11-25"), lap("2026-11-26"));
    assert_eq!(yesterdays.0, Length::from_mm(170));
    assert_eq!(tomorrows.0, Length::from_mm(180));
    assert_ne!(yesterdays.1, tomorrows.1, "another rule is another book");
    assert_eq!(lap("2020-01-01"), yesterdays, "before the first entry there is no other");
    assert_eq!(lap("2030-01-01"), tomorrows);
    // The earlier entry stays readable.
    let described = lapwise::book::describe(&book);
    assert!(described.contains("slope-15-up (since 2026-11-25, until 2026-11-26)"), "{described}");
    assert!(described.contains("slope-15-up (since 2026-11-26)"), "{described}");
}

#[tokio::test]
async fn an_entry_that_takes_over_under_a_running_job_is_offered() {
    let store = Arc::new(MemoryStore::new(None).unwrap());
    let today = app(edited(&[A_NEW_ENTRY]), &store, noon);
    eight_steps(&today, "ann").await;
    drop(today);
    let tomorrow = app(edited(&[A_NEW_ENTRY]), &store, next_noon);
    let said = say(&tomorrow, "ann", "where was I").await;
    assert!(said.last().unwrap().contains("The rules I go by have changed"), "{said:?}");
}

/// Where everything goes, by a rule book that never changes: what the planner alone decides.
fn decided() -> String {
    let handbook = common::handbook();
    let shed = common::Answers::shed;
    let two = || shed().choose(FactKey::Form, "two_slopes").choose(FactKey::SlopesEqual, "yes");
    let decked = |mm| shed().choose(FactKey::Base, "boards").length(FactKey::DeckThickness, mm);
    let roofs = [
        ("shed", shed()),
        ("long shed", shed().length(FactKey::Length, 7_350).length(FactKey::SlopeLength, 4_120)),
        ("two slopes", two().length(FactKey::SlopeLength, 2_900)),
        ("barn", two().length(FactKey::Length, 14_000).length(FactKey::SlopeLength, 6_480)),
        ("thick deck", decked(18)),
        ("thin deck", decked(12).choose(FactKey::Insulation, "yes")),
        ("wall at the right", shed().choose(FactKey::WallSide, "right").length(FactKey::Length, 3_300)),
        ("leaning", shed().length(FactKey::DiagonalA, 3_048).length(FactKey::DiagonalB, 2_952)),
        ("staggered", shed().choose(FactKey::Sheet, "staggered-sheet").length(FactKey::SlopeLength, 5_000)),
    ];
    let mut text = format!("planner {}\n", lapwise::roofing::handbook::PLANNER);
    for (name, roof) in roofs {
        let plan = plan(&roof.0, &handbook).unwrap_or_else(|why| panic!("{name}: {why:?}"));
        writeln!(text, "\n{name}").unwrap();
        for slope in &plan.slopes {
            let lines: Vec<String> = slope.lines.iter().map(|line| line.y.to_string()).collect();
            writeln!(text, "  lines {}", lines.join(" ")).unwrap();
            for sheet in &slope.cuts.sheets {
                let pieces = sheet.all_pieces().map(|piece| {
                    let (course, column) = (piece.course + 1, piece.column + 1);
                    format!("{course}/{column} {} x {}", piece.length, piece.corrugations)
                });
                writeln!(text, "  sheet {}: {}", sheet.number, pieces.collect::<Vec<_>>().join(", "))
                    .unwrap();
            }
            let along: Length = slope.fixings.iter().map(|fixing| fixing.x).sum();
            writeln!(text, "  {} fixings, {along} along the eaves together", slope.fixings.len()).unwrap();
        }
        for line in &plan.materials.lines {
            writeln!(
                text,
                "  {} {}, {:?}: {} of {}",
                line.packs, line.item, line.unit, line.needed, line.pack
            )
            .unwrap();
        }
    }
    text
}

/// Whoever changes what the planner comes to gives it a new number: that is what tells people's chats of it.
#[test]
fn a_planner_that_decides_otherwise_has_another_number() {
    let (path, now) = ("tests/records/planner.txt", decided());
    let before = fs::read_to_string(path).unwrap_or_default();
    let number = |text: &str| text.lines().next().map(str::to_owned);
    if std::env::var_os("UPDATE").is_some() && number(&before) != number(&now) {
        fs::write(path, &now).unwrap();
        return;
    }
    let first = before.lines().zip(now.lines()).find(|(before, now)| before != now);
    assert_eq!(before, now, "{first:?}: raise PLANNER in src/roofing/handbook.rs, then UPDATE=1");
}
