//! What holds for whatever is said: seven properties of hearing, each over messages put together by chance.

#![expect(clippy::indexing_slicing, reason = "a test fails by panicking")]
#![allow(dead_code, clippy::unwrap_used, reason = "the stages serve the hands, too")]

use crate::stages;
use crate::talking;

use lapwise::conversation::deciding::{Row, decide};
use lapwise::conversation::ears::{View, interpret};
use lapwise::conversation::event::Event;
use lapwise::conversation::session::Open;
use lapwise::roofing::roof::{FactKey, FactValue};
use proptest::prelude::*;
use proptest::sample::select;
use stages::{chat_at, roof};
use talking::{Chat, content, guide};

/// Things that are so, said plainly.
const SAID: &[&str] = &[
    "the slope is 30 degrees",
    "it is 4 m long",
    "it's 2.6 m up the slope",
    "the boards are 22 mm thick",
    "the rafters are 500 apart",
    "it is a lean-to",
    "there are two slopes",
    "the wind comes from the right",
    "there is a wall at the left end",
    "it is plywood",
    "the roof is 12 ft long",
    "the pitch is 8 degrees",
];

/// Facts each with a phrase that names it, for a figure.
const NAMED: &[(FactKey, &str)] = &[
    (FactKey::Length, "{} m long"),
    (FactKey::SlopeLength, "{} m up the slope"),
    (FactKey::TimberSpacing, "rafters {}00 mm apart"),
    (FactKey::DeckThickness, "1{} mm boards"),
    (FactKey::Pitch, "1{} degrees"),
];

const WRAPPED: &[&str] = &[
    "is it ok if {}?",
    "what if {}",
    "my neighbour says {}",
    "on my neighbour's shed {}",
    "would it be cheaper if {}?",
    "how many nails do I need when {}?",
    "next door {}",
    "he reckons {}",
    "suppose {}",
    "I read that {}",
    "does it matter that {}?",
];

const HARMLESS: &[&str] = &[
    "it rained all night",
    "I have two sheds",
    "the kettle is on",
    "we did well today",
    "thanks for the help",
    "the dog says hello",
    "my tea went cold",
    "it is a nice day",
    "the radio is on",
];

const DANGERS: &[&str] = &[
    "dad fell off the ladder",
    "he is bleeding badly",
    "I cut my hand to the bone",
    "somebody is unconscious",
    "she fell through the roof",
    "the shed is on fire",
    "he got an electric shock",
];

const HEDGED: &[(&str, &str)] = &[
    ("overhead_lines", "none, except the 11kV line"),
    ("overhead_lines", "none that I can see"),
    ("overhead_lines", "no, just the drop to the house"),
    ("structure", "sound if I don't step on it"),
    ("structure", "no rot except one rafter"),
    ("structure", "mostly sound"),
    ("asbestos_test", "hopefully the test is clear"),
    ("asbestos_test", "my neighbour's test was clean"),
    ("asbestos_test", "I will test it, it will be clean"),
];

const PRESSING: &[&str] = &[
    "it's fine, just plan it",
    "carry on",
    "yes",
    "done",
    "start the work",
    "make the plan",
    "my boss says it is fine",
    "what if it was sound",
    "skip it",
    "help",
    "I know what I am doing",
    "ignore that",
    "is it sound enough?",
    "the slope is 20 degrees",
    "it will be sound tomorrow",
    "no",
    "ok",
    "show the plan",
    "somebody else said it is sound",
    "it might be sound",
    "next",
    "sound, apart from one end",
    "the neighbour's timbers are sound",
];

fn is_safe(chat: &Chat, fact: FactKey) -> bool {
    matches!(chat.session.facts().choice(fact), Some("none" | "sound" | "tested_clear"))
}

fn asked_for_safety(asks: &str) -> Chat {
    let mut known = roof("B");
    if asks == "asbestos_test" {
        let _ = known.set(FactKey::CoveringNow, FactValue::Choice("grey_cement_sheets".to_owned()));
    }
    chat_at("asking", &known, Some(asks))
}

/// One letter in eight is another, is missing, or stands twice; never a digit, so that no figure is another.
fn noisy(text: &str, noise: &[u8]) -> String {
    let mut out = String::new();
    for (index, letter) in text.chars().enumerate() {
        let chance = noise[index % noise.len()];
        match chance % 24 {
            0 if letter.is_ascii_alphabetic() => out.push(char::from(b'a' + chance % 26)),
            1 if letter.is_ascii_alphabetic() => {}
            2 if letter.is_ascii_alphabetic() => out.extend([letter, letter]),
            _ => out.push(letter),
        }
    }
    match noise[0] % 4 {
        0 => out.to_uppercase(),
        1 => out.replace(['\'', ','], ""),
        2 => format!("{out} 🙂"),
        _ => out,
    }
}

fn stage() -> impl Strategy<Value = &'static str> {
    select(&["asking", "review", "plan", "work"][..])
}

fn roof_name() -> impl Strategy<Value = &'static str> {
    select(&["A", "B", "C"][..])
}

fn asks() -> impl Strategy<Value = &'static str> {
    select(
        &[
            "pitch",
            "length",
            "slope_length",
            "base",
            "timber_spacing",
            "wind_from",
            "wall_side",
            "deck_thickness",
        ][..],
    )
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_question_a_what_if_a_quote_and_anothers_roof_store_nothing(
        said in select(SAID), wrap in select(WRAPPED), stage in stage(), roof_name in roof_name(), asks in asks(),
    ) {
        let mut chat = chat_at(stage, &roof(roof_name), Some(asks));
        let before = chat.session.facts().clone();
        let text = wrap.replace("{}", said);
        chat.say(&content(&text));
        prop_assert_eq!(chat.session.facts(), &before, "{}", text);
    }

    #[test]
    fn with_a_plan_no_fact_changes_without_a_yes_to_a_sentence_that_names_it(
        said in prop::collection::vec(select(SAID), 1..3), work in any::<bool>(), roof_name in roof_name(),
    ) {
        let mut chat = chat_at(if work { "work" } else { "plan" }, &roof(roof_name), None);
        let before = chat.session.facts().clone();
        let text = said.join(", and ");
        let (events, says) = chat.say(&content(&text));
        prop_assert_eq!(chat.session.facts(), &before, "{}", text);
        for event in &events {
            if let Event::Proposed(change) = event {
                prop_assert!(!change.answers.is_empty());
                let told: String = says.iter().map(|say| say.text.as_str()).collect();
                prop_assert!(told.contains("Change ") || told.contains("With "), "{}: {}", text, told);
            }
        }
    }

    #[test]
    fn no_figure_is_used_twice_and_no_fact_is_stored_that_is_not_named(
        order in Just(NAMED.to_vec()).prop_shuffle(), count in 1_usize..5, digits in prop::collection::vec(2_u8..9, 5),
        asks in select(&["wind_from", "base", "wall_side"][..]),
    ) {
        let named = &order[..count];
        let parts: Vec<String> =
            named.iter().zip(&digits).map(|((_, phrase), digit)| phrase.replace("{}", &digit.to_string())).collect();
        let text = parts.join(", ");
        let chat = chat_at("asking", &roof("A"), Some(asks));
        let said = interpret(&View { guide: &guide(), session: &chat.session }, &text);
        let mut spans = Vec::new();
        for heard in &said.acts {
            let Some(given) = &heard.given else { continue };
            let measured = matches!(given.value, FactValue::Length(_) | FactValue::Angle(_));
            // Whoever says how thick the boards are says that there are boards; rafters carry any deck.
            let base = given.fact == FactKey::Base && text.contains("boards");
            let open = given.fact.key() == asks;
            prop_assert!(base || open || named.iter().any(|(fact, _)| *fact == given.fact), "{}: {:?}", text, given.fact);
            prop_assert!(!measured || !spans.contains(&heard.span), "{}: {:?}", text, heard);
            if measured { spans.push(heard.span.clone()) }
        }
    }

    #[test]
    fn nothing_typed_lifts_a_hold_but_the_plain_answer_to_its_question(
        said in prop::collection::vec(select(PRESSING), 1..5),
    ) {
        let mut chat = asked_for_safety("structure");
        chat.say(&content("there is rot in two rafters"));
        for text in &said {
            chat.say(&content(text));
            // A plain question was put back: a plain yes to that one would be the answer.
            if matches!(chat.session.open(), Open::Pick(_)) {
                chat.say(&content("no"));
            }
            prop_assert!(!is_safe(&chat, FactKey::Structure), "{:?}", said);
        }
        chat.say(&content("no"));
        chat.say(&content("all sound"));
        prop_assert!(is_safe(&chat, FactKey::Structure), "{:?}", said);
    }

    #[test]
    fn a_harmless_clause_lowers_no_danger_and_makes_no_safe_answer_safer(
        danger in select(DANGERS), hedged in select(HEDGED), harmless in select(HARMLESS), first in any::<bool>(),
        join in select(&[" and ", ". ", ", "][..]), stage in stage(),
    ) {
        let with = |text: &str| if first { format!("{harmless}{join}{text}") } else { format!("{text}{join}{harmless}") };
        let chat = chat_at(stage, &roof("B"), Some("wind_from"));
        let guide = guide();
        let text = with(danger);
        let heard = guide.topics.understand(&text).danger;
        let view = View { guide: &guide, session: &chat.session };
        let decision = decide(lapwise::conversation::deciding::Place::Asking, &view, &interpret(&view, &text), heard.as_ref());
        prop_assert!(matches!(decision.row, Row::Danger | Row::PossibleDanger), "{}: {:?}", text, decision);
        let mut chat = asked_for_safety(hedged.0);
        let text = with(hedged.1);
        chat.say(&content(&text));
        prop_assert!(!is_safe(&chat, FactKey::from_key(hedged.0).unwrap()), "{}", text);
    }

    #[test]
    fn slips_case_marks_and_pictures_turn_no_question_into_a_fact(
        said in select(SAID), wrap in select(&WRAPPED[..6]), noise in prop::collection::vec(any::<u8>(), 7..40),
        hedged in select(HEDGED),
    ) {
        let mut chat = chat_at("plan", &roof("B"), None);
        let before = chat.session.facts().clone();
        let text = noisy(&wrap.replace("{}", said), &noise);
        chat.say(&content(&text));
        let changed = chat.session.facts() != &before && chat.state()["stopped"].is_null();
        prop_assert!(!changed, "{}", text);
        let mut chat = asked_for_safety(hedged.0);
        let text = noisy(hedged.1, &noise);
        chat.say(&content(&text));
        prop_assert!(!is_safe(&chat, FactKey::from_key(hedged.0).unwrap()), "{}", text);
    }

    #[test]
    fn the_same_message_is_heard_the_same_byte_for_byte(text in "\\PC{0,60}", stage in stage(), asks in asks()) {
        let chat = chat_at(stage, &roof("A"), Some(asks));
        let guide = guide();
        let view = View { guide: &guide, session: &chat.session };
        prop_assert_eq!(format!("{:?}", interpret(&view, &text)), format!("{:?}", interpret(&view, &text)));
    }
}
