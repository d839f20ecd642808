//! A chat brought to a stage with a known roof, without playing the interview: the hands judge what is heard there.

#![allow(
    dead_code,
    clippy::unwrap_used,
    clippy::panic,
    reason = "only tests build with this, each with its own part"
)]

use lapwise::conversation::event::Event;
use lapwise::export::site::read_site;
use lapwise::roofing::handbook::Made;
use lapwise::roofing::roof::{FactKey, FactValue, Facts};

use crate::talking::{Chat, guide};

const ROOF_A: &str = r#"
covering_now = "felt"
structure = "sound"
overhead_lines = "none"
form = "single_slope"
pitch = "25 degrees"
base = "boards"
deck_thickness = "12 mm"
timber_spacing = "600 mm"
insulation = "no"
length = "2.4 m"
slope_length = "1.8 m"
wall_top = "no"
wall_side = "none"
wind_from = "left"
sheet = "fennick-sheet-2000"
"#;

const ROOF_B: &str = r#"
covering_now = "felt"
structure = "sound"
overhead_lines = "none"
form = "single_slope"
pitch = "12 degrees"
base = "osb"
deck_thickness = "18 mm"
timber_spacing = "450 mm"
insulation = "no"
length = "3.1 m"
slope_length = "2.2 m"
wall_top = "no"
wall_side = "none"
wind_from = "left"
sheet = "fennick-sheet-2000"
"#;

const ROOF_C: &str = r#"
covering_now = "nothing"
structure = "sound"
overhead_lines = "none"
form = "two_slopes"
slopes_equal = "yes"
pitch = "7 degrees"
base = "plywood"
deck_thickness = "18 mm"
timber_spacing = "400 mm"
insulation = "no"
length = "2.6 m"
slope_length = "1.5 m"
wall_side = "none"
wind_from = "left"
sheet = "fennick-sheet-2000"
"#;

/// The facts of one of the hands' three roofs.
pub(crate) fn roof(name: &str) -> Facts {
    let text = match name {
        "A" => ROOF_A,
        "B" => ROOF_B,
        "C" => ROOF_C,
        _ => panic!("there is no roof {name}"),
    };
    read_site(text).unwrap()
}

/// Facts as a hand writes them.
pub(crate) fn facts_of<'a>(said: impl IntoIterator<Item = (&'a String, &'a toml::Value)>) -> Facts {
    let lines: Vec<String> = said.into_iter().map(|(key, value)| format!("{key} = {value}")).collect();
    let text = lines.join("\n");
    read_site(&text).unwrap_or_else(|faults| panic!("{text}: {faults:?}"))
}

/// A chat at that stage; `asks` is the fact whose question is open, which is then not known.
pub(crate) fn chat_at(stage: &str, roof: &Facts, asks: Option<&str>) -> Chat {
    let mut chat = Chat::default();
    let open = asks
        .filter(|_| stage == "asking")
        .map(|key| FactKey::from_key(key).unwrap_or_else(|| panic!("{key}")));
    let known: Vec<(FactKey, FactValue)> = roof
        .iter()
        .filter(|(fact, _)| Some(*fact) != open)
        .map(|(fact, value)| (fact, value.clone()))
        .collect();
    let mut events = vec![Event::Greeted, Event::Answered(known)];
    events.extend(open.map(Event::Asked));
    match stage {
        "asking" => {}
        "review" => events.push(Event::Reviewed),
        "plan" => events.push(planned(roof)),
        "work" => events.extend([planned(roof), Event::WorkStarted]),
        _ => panic!("there is no stage {stage}"),
    }
    for event in &events {
        chat.session.apply(event);
    }
    chat.events = events;
    chat
}

fn planned(roof: &Facts) -> Event {
    Event::Planned(Some(Made::of(roof, guide().handbook, None)))
}

/// Whether two values are the same to a tape and an inclinometer.
pub(crate) fn alike(a: &FactValue, b: &FactValue) -> bool {
    match (a, b) {
        (FactValue::Length(a), FactValue::Length(b)) => (a.value.mm() - b.value.mm()).abs() <= 1.0,
        (FactValue::Angle(a), FactValue::Angle(b)) => (a.value.deg() - b.value.deg()).abs() <= 0.1,
        (a, b) => a == b,
    }
}
