//! Weighs what was heard of danger: frames, what was learned, and messages that are kept.
//!
//! A frame makes a danger sure. What was learned makes one possible where no frame speaks, and takes a loose frame's word
//! for less than sure where it has never met anything like it; a plain one it does not. Nothing silences a frame; a mere
//! word of danger is none, nor is a topic that dangers belong to: either only makes the alarm ring sooner.

use super::frames::{DangerWeight, Frames};
use super::{DangerHeard, DangerKind};
use crate::conversation::understanding::Because;

/// What sounds less like danger than this stops nothing at once, whatever a loose frame says: it is asked about.
const STOPS_FROM: i32 = 250;
/// How much nearer to an alarm a word of danger brings a message that no frame speaks of.
const HINT: i32 = 450;
/// The same for a topic that dangers belong to, where the message tells and does not only ask.
const TOPIC: i32 = 400;

/// What was learned says of one stretch of the message.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(in super::super) struct Alarm {
    /// The highest score.
    pub(in super::super) score: i32,
    /// The kind that scores so.
    pub(in super::super) kind: DangerKind,
}

/// The gravest danger of a message; `alarm` is the loudest of what was learned, `told` the kind of danger that its topic
/// belongs to.
pub(in super::super) fn hear(
    frames: &Frames,
    sentences: &[Vec<String>],
    alarm: Option<Alarm>,
    told: Option<DangerKind>,
    asks_from: i32,
    is_known: impl Fn(&str) -> bool,
) -> Option<DangerHeard> {
    let elsewhere = sentences.iter().filter_map(|sentence| frames.find_elsewhere(sentence));
    if let Some((kind, language)) = elsewhere.min_by_key(|(kind, _)| *kind) {
        let because = vec![Because::Language(language.to_owned())];
        return Some(DangerHeard { kind, sure: true, language: Some(language.to_owned()), because });
    }
    let found = sentences.iter().flat_map(|sentence| frames.find(sentence, &is_known));
    let score = alarm.map_or(i32::MAX, |alarm| alarm.score);
    let found = found.filter(|found| !found.hints || score >= asks_from - HINT);
    let heard = found.map(|found| {
        let unlike = found.weight == DangerWeight::Stops && score < STOPS_FROM;
        let sure = found.weight > DangerWeight::Asks && !unlike;
        DangerHeard {
            kind: found.kind,
            sure,
            language: None,
            because: vec![Because::Pattern(found.says.to_owned())],
        }
    });
    let by_frame = heard.min_by_key(|danger| (!danger.sure, danger.kind));
    let told = told.filter(|_| sentences.iter().any(|sentence| !frames.asks(sentence)));
    let nearer = if told.is_some() { TOPIC } else { 0 };
    let by_learning = alarm.filter(|alarm| alarm.score >= asks_from - nearer).map(|alarm| DangerHeard {
        kind: told.filter(|_| alarm.score < asks_from).unwrap_or(alarm.kind),
        sure: false,
        language: None,
        because: vec![Because::Sounds(alarm.score)],
    });
    match (by_frame, by_learning) {
        (Some(frame), Some(learned)) if !frame.sure && learned.kind < frame.kind => Some(learned),
        (Some(frame), _) => Some(frame),
        (None, learned) => learned,
    }
}
