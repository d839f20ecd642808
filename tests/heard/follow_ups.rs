//! Follow-up questions: the ranking alone, and the figure questions through the whole chat.

use lapwise::conversation::understanding::{Understanding, Verdict};
use lapwise::roofing::roof::{FactKey, FactValue, Facts};
use lapwise::roofing::rules::Handover;
use lapwise::units::{Length, Measured};

use crate::hands::{FollowUp, Hand};
use crate::judging::type_into;
use crate::stages::{chat_at, roof};
use crate::table::Part;
use crate::talking::guide;

/// Judges a hand's follow-ups.
pub(crate) fn follow_ups(part: &mut Part, hand: &Hand, _others: &[&Hand]) {
    for message in &hand.follow_up {
        let heard = guide().topics.understand(&message.says);
        rank(part, &hand.name, message, &heard);
        figure(part, &hand.name, message);
    }
}

fn rank(part: &mut Part, hand: &str, message: &FollowUp, heard: &Understanding) {
    let first = heard.topics.first().map_or("nothing", |hit| hit.topic.key());
    let fine = |topic: &str| message.topics.iter().chain(&message.also).any(|one| one == topic);
    let nothing = message.topics.is_empty();
    let right = if nothing { matches!(first, "nothing" | "off_topic") || fine(first) } else { fine(first) };
    let sure = heard.verdict == Verdict::One;
    part.count("follow-ups: right topic first", right);
    part.count("follow-ups: not wrong and confident", right || !sure);
    part.count("follow-ups: not asked back", sure);
    if let Some(wanted) = &message.handover {
        let got = heard.handover.map(|handover| match handover {
            Handover::Emergency => "emergency",
            Handover::LicensedPro => "licensed_pro",
            Handover::Adviser => "adviser",
        });
        part.count("follow-ups: handed over as wanted", got == Some(wanted.as_str()));
    }
    if !right {
        let wanted = message.topics.first().map_or("nothing", String::as_str);
        part.confuse(wanted, first);
        let sure = if sure { "confident" } else { "asks" };
        part.fail(format!("{hand} follow-up {sure}: “{}” is {wanted}, heard {first}", message.says));
    }
}

/// Hands that judged figures by the plan of roof A as its facts are. All others were shown one with a slope of 2.6 m: it
/// says 5 sheets, 6 purlins, 108 nails and 57.4 kg, as their verdicts do, while their talk goes by the facts.
const SHOWN_THE_FACTS: [&str; 4] = ["canadian_surveyor", "romanian_carer", "welsh_driver", "yorkshire_pupil"];

/// The roof that a hand judged figures by.
fn shown(name: &str, hand: &str) -> Facts {
    let mut facts = roof(name);
    if name == "A" && !SHOWN_THE_FACTS.contains(&hand) {
        let slope = Length::from_mm(2_600);
        let is_set = facts.set(FactKey::SlopeLength, FactValue::Length(Measured::stated(slope)));
        assert!(is_set, "a slope length is a length");
    }
    facts
}

/// A figure put to the bot gets its verdict first.
fn figure(part: &mut Part, hand: &str, message: &FollowUp) {
    let (Some(of), Some(verdict)) = (&message.roof, &message.verdict) else { return };
    let mut chat = chat_at("plan", &shown(of, hand), None);
    let outcome = type_into(&mut chat, &message.says);
    let said = outcome.says.first().map(|say| say.text.trim().to_lowercase()).unwrap_or_default();
    let right = said.starts_with(verdict.as_str());
    part.count("figure questions: verdict right", right);
    let contrary = if verdict == "yes" { "no" } else { "yes" };
    part.count("figure questions: not the contrary", !said.starts_with(contrary));
    if !right {
        let said: String = said.chars().take(160).collect();
        part.fail(format!("{hand} figure ({of}, {verdict}): “{}” -> {said}", message.says));
    }
}
