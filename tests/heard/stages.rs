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

/// What the hands' three roofs have in common.
const EVERY_ROOF: &str = r#"
structure = "sound"
overhead_lines = "none"
insulation = "no"
wall_side = "none"
wind_from = "left"
sheet = "fennick-sheet-2000"
"#;

/// A roof's covering, form, pitch, base, deck and spacing, length and slope length.
fn told_of(name: &str) -> [&'static str; 8] {
    match name {
        "A" => ["felt", "single_slope", "25", "boards", "12 mm", "600 mm", "2.4 m", "1.8 m"],
        "B" => ["felt", "single_slope", "12", "osb", "18 mm", "450 mm", "3.1 m", "2.2 m"],
        "C" => ["nothing", "two_slopes", "7", "plywood", "18 mm", "400 mm", "2.6 m", "1.5 m"],
        _ => panic!("there is no roof {name}"),
    }
}

/// The facts of one of the hands' three roofs.
pub(crate) fn roof(name: &str) -> Facts {
    let [covering, form, pitch, base, deck, spacing, length, slope] = told_of(name);
    let shape = if form == "two_slopes" { "slopes_equal = \"yes\"" } else { "wall_top = \"no\"" };
    let text = format!(
        r#"{EVERY_ROOF}{shape}
covering_now = "{covering}"
form = "{form}"
pitch = "{pitch} degrees"
base = "{base}"
deck_thickness = "{deck}"
timber_spacing = "{spacing}"
length = "{length}"
slope_length = "{slope}"
"#
    );
    read_site(&text).unwrap()
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
