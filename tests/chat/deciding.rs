//! The table of what follows from what was heard, gone through cell by cell, and shown as it is in DEVELOPERS.md.

#![allow(dead_code, reason = "the stages serve the hands, too")]

use crate::stages;
use crate::talking;

use std::fs;

use lapwise::conversation::deciding::{Move, Place, Row, TABLE, decide};
use lapwise::conversation::ears::{View, interpret};
use lapwise::conversation::event::Event;
use lapwise::conversation::understanding::{DangerHeard, DangerKind};
use stages::{chat_at, roof};
use talking::{Chat, content, guide};

/// A message that is heard as each row, wherever the chat is.
fn said_as(row: Row) -> (&'static str, Option<DangerHeard>) {
    let danger =
        |sure| Some(DangerHeard { kind: DangerKind::Injury, sure, language: None, because: Vec::new() });
    match row {
        Row::Danger => ("dad fell off", danger(true)),
        Row::PossibleDanger => ("my back", danger(false)),
        Row::Points => ("the first one", None),
        Row::Job => ("start the work", None),
        Row::Order => ("help", None),
        Row::Agrees => ("spot on", None),
        Row::Refuses => ("not quite", None),
        Row::FactsAndQuestion => ("it is 3.3 m long, how many nails do I need?", None),
        Row::Facts => ("it is 3.3 m long really", None),
        Row::Unclear => ("make it a foot longer", None),
        Row::WhatIf => ("what if the slope was 20 degrees", None),
        Row::Question => ("how many nails do I need?", None),
        Row::Remark => ("nice weather for ducks", None),
    }
}

fn chat(place: Place) -> Chat {
    let stage = match place {
        // No yes and no no answers how steep a roof is: here they are themselves.
        Place::Asking | Place::Held => return chat_at("asking", &roof("B"), Some("pitch")),
        Place::Review => "review",
        Place::Planned => "plan",
        Place::AtWork => "work",
    };
    chat_at(stage, &roof("B"), None)
}

#[test]
fn every_row_leads_to_its_own_cell_in_every_place() {
    let guide = guide();
    for (row, cells) in TABLE {
        for (place, cell) in Place::ALL.iter().zip(cells) {
            let mut chat = chat(*place);
            if *row == Row::Points {
                let event = lapwise::conversation::event::Event::Suggested(vec!["cost".to_owned()]);
                chat.session.apply(&event);
            }
            let (text, danger) = said_as(*row);
            let view = View { guide: &guide, session: &chat.session };
            let said = interpret(&view, text);
            let decision = decide(*place, &view, &said, danger.as_ref());
            assert_eq!((decision.row, decision.does), (*row, *cell), "“{text}” in {place:?}: {said:#?}");
        }
    }
}

#[test]
fn nothing_is_stored_by_a_question_a_what_if_or_a_remark_and_nothing_at_once_with_a_plan() {
    let stores = |cell: &Move| matches!(cell, Move::Take | Move::TakeAndAnswer);
    for (row, cells) in TABLE {
        let may_store = matches!(row, Row::Facts | Row::FactsAndQuestion);
        for (place, cell) in Place::ALL.iter().zip(cells) {
            let has_plan = matches!(place, Place::Planned | Place::AtWork);
            assert!(!stores(cell) || (may_store && !has_plan), "{row:?} in {place:?}");
        }
    }
}

#[test]
fn with_a_plan_a_figure_that_is_put_is_judged_and_only_what_is_told_beside_it_is_a_change() {
    let put = [
        ("Those boards are 18 mm. Are they thick enough for the nails?", "Yes", false),
        ("are lines of nails 400 mm apart close enough?", "Yes", false),
        ("lines of nails half a metre apart, is that ok?", "No", false),
        ("The slope is 20 degrees. Is a lap of 150 mm enough?", "No", true),
    ];
    for stage in ["plan", "work"] {
        for (text, verdict, changes) in put {
            let mut chat = chat_at(stage, &roof("B"), None);
            let (events, says) = chat.say(&content(text));
            assert!(says.first().is_some_and(|say| say.text.starts_with(verdict)), "{text}: {says:?}");
            let proposes = events.iter().any(|event| matches!(event, Event::Proposed(_)));
            let stores = events.iter().any(|event| matches!(event, Event::Answered(_) | Event::Offered(_)));
            assert!(proposes == changes && !stores, "{text}: {events:?}");
        }
    }
}

#[test]
fn the_table_stands_in_developers() {
    let text = fs::read_to_string("DEVELOPERS.md").unwrap();
    for (row, cells) in TABLE {
        let cells: Vec<String> = cells.iter().map(|cell| format!("{cell:?}")).collect();
        let line = format!("| {row:?} | {} |", cells.join(" | "));
        assert!(text.contains(&line), "put this row into DEVELOPERS.md: {line}");
    }
}
