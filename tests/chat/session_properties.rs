//! What holds for every chat, whoever is typing: the conversation with the shipped book, without a store.

use lapwise::conversation::event::Event;
use lapwise::conversation::session::{Open, Session};
use lapwise::message::{Content, Say};
use lapwise::roofing::plan::stops;
use lapwise::roofing::roof::{FactKey, Facts};
use lapwise::store::record::{read_event, write_event};
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::select;

use crate::people;
use crate::talking;

use people::message;
use talking::{Chat, content, guide};

fn config(cases: u32) -> ProptestConfig {
    ProptestConfig { cases, failure_persistence: None, ..ProptestConfig::default() }
}

fn is_stopped(chat: &Chat) -> bool {
    !stops(chat.session.facts(), guide().handbook).is_empty()
}

fn test_is_clear(session: &Session) -> bool {
    session.facts().choice(FactKey::AsbestosTest) == Some("tested_clear")
}

/// What was known, but for the suspicion that outlives every answer.
fn answers(session: &Session) -> Facts {
    let mut facts = session.facts().clone();
    facts.remove(FactKey::AsbestosSuspicion);
    facts
}

/// One fact's question put, and its answer.
type Answered = (FactKey, String);

fn said(fact: FactKey, ways: &[&str]) -> impl Strategy<Value = Answered> + use<> {
    let ways: Vec<String> = ways.iter().map(|way| (*way).to_owned()).collect();
    select(ways).prop_map(move |typed| (fact, typed))
}

/// A length as a tape shows it, with its unit, in one of the ways people write it.
fn taped(fact: FactKey, mm: std::ops::Range<i64>) -> impl Strategy<Value = Answered> {
    (mm, 0..5).prop_map(move |(mm, way)| {
        // Under three feet would be too short to be believed.
        let feet = (mm / 305).max(3);
        let typed = match way {
            0 => format!("{mm} mm"),
            1 => format!("{}.{:03} m", mm / 1_000, mm % 1_000),
            2 => format!("{},{} cm", mm / 10, mm % 10),
            3 => format!("{feet}ft {}", mm % 12),
            _ => format!("{feet}'{}\"", mm % 12),
        };
        (fact, typed)
    })
}

fn slopes() -> impl Strategy<Value = Vec<Answered>> {
    let pitches =
        ["22 degrees", "25°", "1 in 3", "15 deg", "10°", "9.9 degrees", "5°", "about 15 degrees", "30%"];
    let single =
        (said(FactKey::Form, &["one slope", "[single_slope]"]), said(FactKey::WallTop, &["[yes]", "no"]))
            .prop_map(|(form, wall)| vec![form, wall]);
    let alike = said(FactKey::SlopesEqual, &["[yes]", "both the same"])
        .prop_map(|equal| vec![(FactKey::Form, "two slopes".to_owned()), equal]);
    let unlike = (said(FactKey::PitchBack, &pitches), taped(FactKey::SlopeLengthBack, 900..4_000)).prop_map(
        |(pitch, length)| {
            let form = (FactKey::Form, "[two_slopes]".to_owned());
            vec![form, (FactKey::SlopesEqual, "no".to_owned()), pitch, length]
        },
    );
    (prop_oneof![single, alike, unlike], said(FactKey::Pitch, &pitches)).prop_map(|(mut slopes, pitch)| {
        slopes.push(pitch);
        slopes
    })
}

fn base() -> impl Strategy<Value = Vec<Answered>> {
    let deck = (
        said(FactKey::Base, &["boards", "[plywood]", "osb"]),
        said(FactKey::DeckThickness, &["12 mm", "15mm", "18 mm", "3/4 inch"]),
        said(FactKey::Insulation, &["[no]", "yes please"]),
    )
        .prop_map(|(base, thickness, insulation)| vec![base, thickness, insulation]);
    let open = said(FactKey::Base, &["open rafters", "[purlins]"]).prop_map(|base| vec![base]);
    prop_oneof![deck, open]
}

/// Every answer about one roof that is safe to start on.
fn roof() -> impl Strategy<Value = Vec<Answered>> {
    let safe = (
        said(FactKey::CoveringNow, &["felt", "[nothing]", "metal sheets", "it's an old felt roof"]),
        said(FactKey::Structure, &["[sound]", "all good"]),
        said(FactKey::OverheadLines, &["[none]", "no", "none near"]),
    );
    let sizes = (
        taped(FactKey::Length, 1_000..9_000),
        taped(FactKey::SlopeLength, 900..5_000),
        said(FactKey::TimberSpacing, &["600 mm", "40 cm", "16 inches", "2 ft"]),
    );
    let rest = (
        said(FactKey::WallSide, &["neither end", "[left]", "right", "both ends"]),
        said(FactKey::WindFrom, &["[left]", "the right", "back", "[not_sure]"]),
        said(FactKey::Sheet, &["demo", "[fennick-sheet-2000]"]),
    );
    (safe, slopes(), base(), sizes, rest).prop_map(|(safe, slopes, base, sizes, rest)| {
        let (safe, sizes, rest) =
            ([safe.0, safe.1, safe.2], [sizes.0, sizes.1, sizes.2], [rest.0, rest.1, rest.2]);
        [safe.to_vec(), slopes, base, sizes.to_vec(), rest.to_vec()].concat()
    })
}

/// Every question is put by name, and its answer given.
fn tell(answers: &[Answered]) -> Chat {
    let messages =
        answers.iter().flat_map(|(fact, typed)| [format!("[change-{}]", fact.key()), typed.clone()]);
    Chat::after(messages.chain(["[do-plan]".to_owned()]))
}

fn shuffled() -> impl Strategy<Value = (Vec<Answered>, Vec<Answered>)> {
    roof().prop_flat_map(|roof| (Just(roof.clone()), Just(roof).prop_shuffle()))
}

proptest! {
    #![proptest_config(config(150))]

    #[test]
    fn any_order_of_the_same_answers_gives_the_same_plan((one, other) in shuffled()) {
        let (straight, mixed) = (tell(&one), tell(&other));
        for (fact, typed) in &one {
            prop_assert!(straight.session.facts().get(*fact).is_some(), "`{typed}` was not taken as {}", fact.key());
        }
        prop_assert_eq!(straight.session.facts(), mixed.session.facts());
        prop_assert_eq!(straight.state().to_string(), mixed.state().to_string());
    }

    #[test]
    fn a_fact_said_back_is_the_fact(roof in roof(), units in select(vec!["mm", "metres", "feet"])) {
        let mut chat = tell(&roof);
        chat.say(&content(&format!("units: {units}")));
        let lines = review(&mut chat);
        prop_assert!(chat.state()["stopped"].is_string() || lines.len() >= 12, "{lines:?}");
        for (number, line) in lines.iter().enumerate() {
            let (name, value) = line.split_once(": ").expect("name: value");
            // A sixteenth of an inch is coarser than the millimetre that decides about a deck.
            if units == "feet" && name.contains("Deck thickness") {
                continue;
            }
            chat.say(&content(&format!("change line {}", number + 1)));
            chat.say(&content(value));
            prop_assert_eq!(&review(&mut chat), &lines, "`{}` said back", line);
        }
    }
}

/// The numbered lines of "my answers".
fn review(chat: &mut Chat) -> Vec<String> {
    let (_, says) = chat.say(&content("my answers"));
    let text: Vec<&str> = says.iter().flat_map(|say| say.text.lines()).collect();
    text.iter()
        .filter(|line| line.split_once(". ").is_some_and(|(number, _)| number.parse::<u32>().is_ok()))
        .map(|line| (*line).to_owned())
        .collect()
}

/// What every turn owes the person.
fn is_a_decent_reply(chat: &Chat, says: &[Say]) -> Result<(), TestCaseError> {
    prop_assert!(!says.is_empty(), "nothing is said");
    for say in says {
        prop_assert!(!say.text.trim().is_empty(), "an empty message: {say:?}");
        prop_assert!(!say.text.contains("{ $"), "a figure is left out: {}", say.text);
        prop_assert!(say.choices.len() <= 6 && say.choices.iter().all(|choice| !choice.label.is_empty()));
        prop_assert!(say.prompt.is_none_or(|prompt| prompt == chat.session.prompt()));
    }
    Ok(())
}

proptest! {
    #![proptest_config(config(250))]

    #[test]
    fn every_message_gets_a_reply_and_no_plan_while_it_is_not_safe(messages in vec(message(), 1..40)) {
        let mut chat = Chat::default();
        for message in &messages {
            let (events, says) = chat.say(&content(message));
            is_a_decent_reply(&chat, &says)?;
            let state = chat.state();
            if is_stopped(&chat) {
                prop_assert!(!events.iter().any(|event| matches!(event, Event::Planned(_))), "{message}: planned");
                prop_assert!(state["plan"].is_null() && state["stopped"].is_string(), "{message}: {state}");
            }
            prop_assert!(state["plan"].is_null() || state["stopped"].is_null());
            prop_assert_eq!(state["asks"].is_string(), matches!(chat.session.open(), Open::Question(_) | Open::Pick(_)));
        }
    }

    #[test]
    fn a_chat_is_the_fold_of_its_events(messages in vec(message(), 1..40)) {
        let chat = Chat::after(&messages);
        prop_assert_eq!(&Session::fold(&chat.events), &chat.session);
        let kept: Vec<Vec<u8>> = chat.events.iter().map(|event| write_event(event).expect("written")).collect();
        let read: Vec<Event> = kept.iter().map(|bytes| read_event(bytes).expect("read")).collect();
        prop_assert_eq!(read, chat.events);
    }

    #[test]
    fn back_takes_back_one_answer(messages in vec(message(), 1..30)) {
        let mut chat = Chat::default();
        for message in &messages {
            let before = chat.clone();
            let (events, _) = chat.say(&content(message));
            let steps = events.iter().filter(|event| matches!(event, Event::Answered(_) | Event::Declined(_))).count();
            prop_assert!(steps <= 1, "one message is one step: {events:?}");
            if steps == 1 {
                let mut undone = chat.clone();
                undone.say(&content("[do-back]"));
                prop_assert_eq!(answers(&undone.session), answers(&before.session), "after `{}`", message);
                prop_assert_eq!(undone.session.declined(), before.session.declined(), "after `{}`", message);
            }
        }
    }

    #[test]
    fn a_button_of_an_earlier_question_changes_nothing(messages in vec(message(), 0..20), age in 1..9_u64, id in message()) {
        let mut chat = Chat::after(&messages);
        let (session, state) = (chat.session.clone(), chat.state());
        let stale = session.prompt().wrapping_sub(age);
        let (_, says) = chat.say(&Content::Choice { prompt: Some(stale), id });
        is_a_decent_reply(&chat, &says)?;
        prop_assert_eq!(chat.session.facts(), session.facts());
        prop_assert_eq!(chat.session.declined(), session.declined());
        prop_assert_eq!((chat.session.usual(), chat.session.planned()), (session.usual(), session.planned()));
        prop_assert_eq!(&chat.state()["plan"], &state["plan"]);
        // Where it is not safe, what is open gives way to the stop.
        let stays_open = !matches!(session.open(), Open::Nothing) && !is_stopped(&chat);
        prop_assert!(!stays_open || chat.session.open() == session.open(), "{:?} became {:?}", session.open(), chat.session.open());
    }

    #[test]
    fn a_suspicion_of_asbestos_stays_until_a_test_is_clear(
        before in vec(message(), 0..12),
        raised in select(vec!["I think it's asbestos", "asbestos cement", "the neighbour says ASBESTOS", "abestos, sorry, asbestos"]),
        after in vec(message(), 30),
    ) {
        let mut chat = Chat::after(&before);
        prop_assume!(!test_is_clear(&chat.session) && !chat.events.iter().any(says_clear));
        chat.say(&content(raised));
        for message in &after {
            prop_assert!(is_stopped(&chat), "lifted");
            let asked = chat.session.open().clone();
            let (events, _) = chat.say(&content(message));
            prop_assert!(chat.state()["stopped"].is_string() || events.iter().any(says_clear), "lifted by `{message}`");
            if test_is_clear(&chat.session) {
                // The first of the numbered choices or its button, or a yes to the one plain question that names the matter.
                let first = message.trim_end_matches(['.', ')']).trim();
                let numbered = first == "1" || first == "[pick-1]";
                let plain = matches!(&asked, Open::Pick(offers) if offers.len() == 1);
                prop_assert!(numbered || plain, "cleared by `{message}`");
                break;
            }
        }
    }
}

fn says_clear(event: &Event) -> bool {
    let Event::Answered(answers) = event else { return false };
    answers.iter().any(|(fact, value)| {
        *fact == FactKey::AsbestosTest
            && *value == lapwise::roofing::roof::FactValue::Choice("tested_clear".to_owned())
    })
}
