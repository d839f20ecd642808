//! Everything that is kept, as it was first written: `tests/records/v1/` holds one record of each kind of event, and
//! each still reads as what it meant.
//!
//! The files are what people's chats are made of. A new event gets a new file; a file that is there never changes.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::too_many_lines,
    reason = "a test stops loudly, and a list of samples is as long as it is"
)]

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use lapwise::conversation::event::{Change, Event, Offer, Quoted, Stock};
use lapwise::conversation::understanding::DangerKind;
use lapwise::roofing::facts::{FactKey, FactKind, FactValue, Words};
use lapwise::roofing::handbook::{Made, Version};
use lapwise::roofing::layout::cutting::Part;
use lapwise::roofing::work::{Goods, StepKey, StepKind, Stop, Tally};
use lapwise::store::record::{RecordError, read_event, write_event};
use lapwise::units::reading::WrittenUnit;
use lapwise::units::{Angle, Currency, Day, Doubt, Length, Measured, Money, UsualUnit};

/// Names every kind of event, and so does not compile when there is a new one.
macro_rules! kinds {
    ($($pattern:pat => $name:literal),+ $(,)?) => {
        const KINDS: &[&str] = &[$($name),+];

        fn kind(event: &Event) -> &'static str {
            match event { $($pattern => $name),+ }
        }
    };
}

kinds! {
    Event::Greeted => "greeted",
    Event::Asked(_) => "asked",
    Event::Missed => "missed",
    Event::Answered(_) => "answered",
    Event::Suspected => "suspected",
    Event::Declined(_) => "declined",
    Event::Offered(_) => "offered",
    Event::Reviewed => "reviewed",
    Event::AskedWhatToChange => "asked-what-to-change",
    Event::Reopened(_) => "reopened",
    Event::Planned(_) => "planned",
    Event::Renewed(_) => "renewed",
    Event::Undone => "undone",
    Event::AskedToRestart => "asked-to-restart",
    Event::Restarted => "restarted",
    Event::KeptGoing => "kept-going",
    Event::UnitsSeen { .. } => "units-seen",
    Event::AskedToShare { .. } => "asked-to-share",
    Event::Shared { .. } => "shared",
    Event::Revoked => "revoked",
    Event::Quoted(_) => "quoted",
    Event::AskedToDelete => "asked-to-delete",
    Event::WorkStarted => "work-started",
    Event::StepDone(_) => "step-done",
    Event::Counted(_) => "counted",
    Event::Paused(_) => "paused",
    Event::Proposed(_) => "proposed",
    Event::Accepted(_) => "accepted",
    Event::Unbuilt(_) => "unbuilt",
    Event::TakenOff => "taken-off",
    Event::LeftAsItWas => "left-as-it-was",
    Event::Wondered(_) => "wondered",
    Event::HeldFor(_) => "held-for",
    Event::AllRight => "all-right",
    Event::Suggested(_) => "suggested",
    Event::Speaks(_) => "speaks",
}

fn length(mm: i64, doubt: Doubt) -> FactValue {
    FactValue::Length(Measured { value: Length::from_mm(mm), doubt })
}

fn angle(microdeg: i64, doubt: Doubt) -> FactValue {
    FactValue::Angle(Measured { value: Angle::from_microdeg(microdeg), doubt })
}

fn made(day: Option<&str>) -> Made {
    let by = Version { book: "1e2d3c4b5a69788796a5b4c3d2e1f000".to_owned(), planner: 1 };
    Made { by, day: day.and_then(Day::from_text), facts: 0xfedc_ba98_7654_3210 }
}

fn choice(id: &str) -> FactValue {
    FactValue::Choice(id.to_owned())
}

fn words(text: &str) -> FactValue {
    FactValue::Words(Words::new(text).expect("words"))
}

/// What was made safe, in the person's own words and not known.
fn made_safe() -> Vec<(FactKey, FactValue)> {
    vec![
        (FactKey::OverheadLines, choice("cleared")),
        (FactKey::LinesClearedWhen, words("3 November")),
        (FactKey::LinesDistance, words("6 m from the ridge")),
        (FactKey::AsbestosTest, choice("tested_clear")),
        (FactKey::AsbestosTestedBy, choice("not_sure")),
        (FactKey::Structure, choice("repaired")),
        (FactKey::RepairedBy, words("a carpenter, “Ash & son”, in März")),
    ]
}

/// A supplier's answer with every kind of mark.
fn quote() -> Vec<Quoted> {
    let price = Money {
        amount: "12.50".parse().expect("an amount"),
        currency: Currency::from_code("GBP").expect("pounds"),
    };
    let line = |stock, price| Quoted {
        item: "fennick-sheet-2000".to_owned(),
        name: "Fennick demo sheet".to_owned(),
        pieces: 4,
        stock,
        price,
    };
    vec![
        line(Stock::In, Some(price)),
        line(Stock::Out, None),
        line(Stock::Instead("the zinc one".to_owned()), None),
        line(Stock::Unsaid, Some(price)),
    ]
}

/// Every kind of event, with every kind of value, doubt and unit in it, by the name of its file.
fn samples() -> Vec<(&'static str, Event)> {
    let offer = |fact, value, unit| Offer { answers: vec![(fact, value)], unit };
    vec![
        ("greeted", Event::Greeted),
        ("asked", Event::Asked(FactKey::CoveringNow)),
        ("missed", Event::Missed),
        ("answered-choice", Event::Answered(vec![(FactKey::CoveringNow, choice("felt"))])),
        ("answered-count", Event::Answered(vec![(FactKey::SheetCorrugations, FactValue::Count(10))])),
        ("answered-words", Event::Answered(made_safe())),
        ("answered-nothing", Event::Answered(Vec::new())),
        (
            "answered-measurements",
            Event::Answered(vec![
                (FactKey::Length, length(2_400, Doubt::Stated)),
                (FactKey::SlopeLength, length(1_800, Doubt::About)),
                (FactKey::Span, length(3_000, Doubt::JustUnder)),
                (FactKey::DeckThickness, length(18, Doubt::JustOver)),
                (FactKey::Pitch, angle(14_036_243, Doubt::ByPhone)),
            ]),
        ),
        ("asked-to-share", Event::AskedToShare { days: 30 }),
        ("shared", Event::Shared { days: 30 }),
        ("revoked", Event::Revoked),
        ("quoted", Event::Quoted(quote())),
        ("suspected", Event::Suspected),
        ("declined", Event::Declined(FactKey::Pitch)),
        (
            "offered",
            Event::Offered(vec![
                offer(FactKey::Length, length(2_400, Doubt::Stated), Some(WrittenUnit::Mm)),
                offer(
                    FactKey::Length,
                    FactValue::Length(Measured::stated(Length::from_um(304_800))),
                    Some(WrittenUnit::Ft),
                ),
                Offer {
                    answers: vec![
                        (FactKey::Length, length(3_100, Doubt::Stated)),
                        (FactKey::Span, length(2_200, Doubt::Stated)),
                    ],
                    unit: None,
                },
            ]),
        ),
        (
            "offered-units",
            Event::Offered(
                [
                    WrittenUnit::Mm,
                    WrittenUnit::Cm,
                    WrittenUnit::M,
                    WrittenUnit::Yd,
                    WrittenUnit::Ft,
                    WrittenUnit::In,
                    WrittenUnit::FtIn,
                    WrittenUnit::Deg,
                    WrittenUnit::Ratio,
                    WrittenUnit::Percent,
                ]
                .map(|unit| offer(FactKey::Pitch, angle(22_000_000, Doubt::Stated), Some(unit)))
                .to_vec(),
            ),
        ),
        ("reviewed", Event::Reviewed),
        ("asked-what-to-change", Event::AskedWhatToChange),
        ("reopened", Event::Reopened(FactKey::SlopeLength)),
        ("planned", Event::Planned(None)),
        ("planned-by", Event::Planned(Some(made(Some("2026-11-25"))))),
        ("renewed", Event::Renewed(Some(made(None)))),
        ("renewed-to-nothing", Event::Renewed(None)),
        (
            "proposed-book",
            Event::Proposed(Change {
                renews: Some(Version { book: "0f1e".to_owned(), planner: 2 }),
                ..Change::default()
            }),
        ),
        ("undone", Event::Undone),
        ("asked-to-restart", Event::AskedToRestart),
        ("restarted", Event::Restarted),
        ("kept-going", Event::KeptGoing),
        ("units-seen-mm", Event::UnitsSeen { usual: UsualUnit::Mm, chosen: true }),
        ("units-seen-m", Event::UnitsSeen { usual: UsualUnit::M, chosen: false }),
        ("units-seen-ft-in", Event::UnitsSeen { usual: UsualUnit::FtIn, chosen: false }),
        ("asked-to-delete", Event::AskedToDelete),
    ]
    .into_iter()
    .chain(worked())
    .collect()
}

/// What happens on the job.
fn worked() -> Vec<(&'static str, Event)> {
    let purlin = StepKey { slope: 0, kind: StepKind::Purlin, figures: vec![485_000, 2_400_000] };
    let last = StepKey { slope: 0, kind: StepKind::LastLook, figures: Vec::new() };
    let change = Change {
        renews: None,
        answers: vec![(FactKey::Pitch, angle(12_000_000, Doubt::Stated))],
        spoilt: 1,
        kept: vec![Part { length: Length::from_mm(820), corrugations: 7 }],
    };
    let counted =
        |goods: &Goods| (*goods, Tally { count: 6, left: *goods == Goods::Nails, planned: 4, finished: 3 });
    vec![
        ("work-started", Event::WorkStarted),
        ("step-done", Event::StepDone(purlin.clone())),
        ("step-done-named", Event::StepDone(purlin.clone())),
        // Of each kind of goods that there was when this was written; each new kind has its own.
        (
            "counted",
            Event::Counted(
                Goods::ALL.iter().filter(|one| **one != Goods::SheetScrews).map(counted).collect(),
            ),
        ),
        ("counted-sheet-screws", Event::Counted(vec![counted(&Goods::SheetScrews)])),
        ("paused-pause", Event::Paused(Stop::Pause)),
        ("paused-wet", Event::Paused(Stop::Wet)),
        ("paused-wind", Event::Paused(Stop::Wind)),
        ("proposed", Event::Proposed(change)),
        ("accepted", Event::Accepted(vec![purlin.clone(), last.clone()])),
        ("accepted-named", Event::Accepted(vec![purlin.clone(), last])),
        ("unbuilt", Event::Unbuilt(vec![purlin])),
        ("taken-off", Event::TakenOff),
        ("left-as-it-was", Event::LeftAsItWas),
        ("wondered", Event::Wondered(DangerKind::Line)),
        ("held-for", Event::HeldFor(DangerKind::Injury)),
        ("all-right", Event::AllRight),
        ("suggested", Event::Suggested(vec!["cost".to_owned(), "which_sheet".to_owned()])),
        ("speaks", Event::Speaks("en".to_owned())),
    ]
}

/// Records of a form that is still read and no longer written: the figures of a step once stood without their names.
const WRITTEN_AT_FIRST: [&str; 2] = ["step-done", "accepted"];

fn record(name: &str) -> Vec<u8> {
    let path = Path::new("tests/records/v1").join(name).with_extension("json");
    fs::read(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display())).trim_ascii_end().to_vec()
}

/// A sample that has no record yet gets one with `UPDATE=1`; one that is there is never written again.
fn write_the_first(name: &str, event: &Event) {
    let path = Path::new("tests/records/v1").join(name).with_extension("json");
    if std::env::var_os("UPDATE").is_some() && !path.exists() {
        let mut written = write_event(event).expect("an event is written");
        written.push(b'\n');
        fs::write(&path, written).expect("a new record");
    }
}

#[test]
fn every_record_reads_as_what_it_meant() {
    let samples = samples();
    for (name, event) in &samples {
        write_the_first(name, event);
        let kept = record(name);
        let read = read_event(&kept).unwrap_or_else(|error| panic!("{name}: {error}"));
        assert_eq!(read, *event, "{name}");
        let written = write_event(event).expect("an event is written");
        if !WRITTEN_AT_FIRST.contains(name) {
            assert_eq!(String::from_utf8(written), String::from_utf8(kept), "{name}: written otherwise now");
        }
    }
    let files = fs::read_dir("tests/records/v1").expect("the records").count();
    assert_eq!(files, samples.len(), "a record that nobody reads");
}

#[test]
fn every_kind_of_event_has_a_record() {
    let sampled: BTreeSet<&str> = samples().iter().map(|(_, event)| kind(event)).collect();
    assert_eq!(sampled, KINDS.iter().copied().collect(), "put a sample of each into tests/records/v1");
}

#[test]
fn every_fact_and_choice_is_known_by_the_name_it_is_kept_under() {
    for fact in FactKey::ALL {
        let values: Vec<FactValue> = match fact.kind() {
            FactKind::Choice(ids) => ids.iter().map(|id| choice(id)).collect(),
            FactKind::Sheet => vec![choice("label")],
            FactKind::Words(detail) => {
                let choices = detail.choices().iter().map(|id| choice(id));
                choices.chain([words("3 November")]).collect()
            }
            FactKind::Count(low, high) => vec![FactValue::Count(low), FactValue::Count(high)],
            FactKind::Quantity(quantity) if quantity.length_band().is_some() => {
                vec![length(20, Doubt::Stated)]
            }
            FactKind::Quantity(_) => vec![angle(22_000_000, Doubt::Stated)],
        };
        let event = Event::Answered(values.into_iter().map(|value| (*fact, value)).collect());
        let written = write_event(&event).expect("an event is written");
        assert_eq!(read_event(&written).expect("and read"), event);
    }
}

#[test]
fn what_this_version_does_not_know_is_named() {
    for (record, unknown) in [
        (r#"{"v":"1","event":"asked","fact":"colour"}"#, "colour"),
        (r#"{"v":"1","event":"answered","answers":[{"fact":"colour","choice":"red"}]}"#, "colour"),
        (r#"{"v":"1","event":"declined","fact":""}"#, ""),
        (r#"{"v":"1","event":"reopened","fact":"Pitch"}"#, "Pitch"),
        (r#"{"v":"1","event":"offered","options":[{"answers":[],"unit":"furlong"}]}"#, "furlong"),
    ] {
        match read_event(record.as_bytes()) {
            Err(RecordError::Unknown(named)) => assert_eq!(named, unknown),
            other => panic!("{record}: {other:?}"),
        }
    }
}

#[test]
fn a_damaged_record_is_an_error() {
    let newer = [
        r#"{"v":"2","event":"greeted"}"#,
        r#"{"event":"greeted"}"#,
        r#"{"v":"1"}"#,
        r#"{"v":"1","event":"painted"}"#,
        r#"{"v":"1","event":"answered","answers":[{"fact":"length","um":{"um":1.5,"doubt":"stated"}}]}"#,
        r#"{"v":"1","event":"answered","answers":[{"fact":"length","um":{"um":99999999999999999999,"doubt":"stated"}}]}"#,
        r#"{"v":"1","event":"answered","answers":[{"fact":"length","um":{"um":1,"doubt":"perhaps"}}]}"#,
        r#"{"v":"1","event":"answered","answers":[{"fact":"length"}]}"#,
        r#"{"v":"1","event":"units_seen","usual":"cubits","chosen":true}"#,
        "",
        "null",
        "[]",
        "\u{0}",
    ];
    for record in newer {
        assert!(matches!(read_event(record.as_bytes()), Err(RecordError::Unreadable(_))), "{record}");
    }
    // Cut anywhere, and with any byte changed, it is an error or an event, never a panic.
    for (name, _) in samples() {
        let whole = record(name);
        for at in 0..whole.len() {
            assert!(read_event(&whole[..at]).is_err(), "{name} cut at {at}");
            for byte in [0, b'"', b'}', b'9', 0xff] {
                let mut damaged = whole.clone();
                damaged[at] = byte;
                let _ = read_event(&damaged);
            }
        }
    }
}
