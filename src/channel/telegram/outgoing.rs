//! A message to a person, as calls of the Bot API.

use super::address::Address;
use super::button::Button;
use super::call::{Call, Key, Place, Showing};
use super::split::split;
use super::text::{cut, units};
use crate::message::{Attachment, Choice, Say};

/// The most UTF-16 units of one part. The Bot API takes 4 096 (`sendMessage`); what is left over holds the
/// choice that is written under an answered question.
pub const MOST_TEXT: usize = 4000;

/// The most UTF-16 units of a caption (Bot API, `sendDocument`: 1 024).
pub const MOST_CAPTION: usize = 1024;

/// The most buttons that a thumb takes in at a glance, and how many stand side by side.
const MOST_BUTTONS: usize = 6;
const A_ROW: usize = 2;

/// A label of more UTF-16 units than this gets a row of its own: half a phone's width holds no more.
const LONG_LABEL: usize = 18;

/// Pictures larger than this go as files (Bot API, `sendPhoto`: 10 MB).
const LARGEST_PHOTO: usize = 10_000_000;

/// The calls that carry `say`, in order. The message with the buttons comes last, under the thumb.
pub fn calls(say: &Say, to: Address, place: Place) -> Vec<Call> {
    let (keys, unkeyed) = keys(&say.choices, say.prompt, to);
    let mut words = say.text.clone();
    if !unkeyed.is_empty() {
        words.push_str("\n\n");
        words.push_str(&unkeyed.join("\n"));
    }
    let mut parts = split(&words, MOST_TEXT);
    let asking = if keys.is_empty() { None } else { parts.pop() };
    let text = |words, keys| Call::Text { to, place, words, keys };
    let told = parts.into_iter().map(|part| text(part, Vec::new()));
    let files = say.files.iter().map(|file| send_file(file, to, place));
    told.chain(files).chain(asking.map(|part| text(part, keys))).collect()
}

fn send_file(file: &Attachment, to: Address, place: Place) -> Call {
    let picture = matches!(file.media_type.as_str(), "image/png" | "image/jpeg");
    let showing =
        if picture && file.bytes.len() <= LARGEST_PHOTO { Showing::Photo } else { Showing::Document };
    let (caption, _) = cut(&file.alt, MOST_CAPTION);
    Call::File { to, place, showing, file: file.clone(), caption: caption.to_owned() }
}

/// Rows of buttons, and the choices that found no room on one, as list lines: they can still be typed.
fn keys(choices: &[Choice], prompt: Option<u64>, to: Address) -> (Vec<Vec<Key>>, Vec<String>) {
    let mut rows: Vec<Vec<Key>> = Vec::new();
    let mut unkeyed = Vec::new();
    let mut used: usize = 0;
    let mut open = false;
    for choice in choices {
        let data = Button { prompt, owner: to.person, id: choice.id.clone() }.write();
        let Some(data) = data.filter(|_| used < MOST_BUTTONS && !choice.label.trim().is_empty()) else {
            unkeyed.push(format!("• {}", choice.label));
            continue;
        };
        used = used.saturating_add(1);
        let long = units(&choice.label) > LONG_LABEL;
        let key = Key { label: choice.label.clone(), data };
        match rows.last_mut() {
            Some(row) if open && !long && row.len() < A_ROW => row.push(key),
            _ => rows.push(vec![key]),
        }
        open = !long;
    }
    (rows, unkeyed)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ask(labels: &[&str]) -> Say {
        let choices =
            labels.iter().map(|label| Choice { id: label.to_lowercase(), label: (*label).to_owned() });
        Say { text: "Which?".into(), choices: choices.collect(), prompt: Some(7), ..Say::default() }
    }

    fn rows(say: &Say) -> Vec<Vec<String>> {
        let Some(Call::Text { keys, .. }) = calls(say, Address::private(1), Place::default()).pop() else {
            panic!("no text")
        };
        keys.into_iter().map(|row| row.into_iter().map(|key| key.label).collect()).collect()
    }

    #[test]
    fn short_buttons_stand_two_a_row_and_long_ones_alone() {
        let say = ask(&["Yes", "No", "A lean-to against the house", "Skip", "Not sure"]);
        assert_eq!(
            rows(&say),
            [vec!["Yes", "No"], vec!["A lean-to against the house"], vec!["Skip", "Not sure"]]
        );
    }

    #[test]
    fn a_seventh_choice_is_listed_and_can_be_typed() {
        let say = ask(&["1", "2", "3", "4", "5", "6", "7"]);
        let Some(Call::Text { words, keys, .. }) = calls(&say, Address::private(1), Place::default()).pop()
        else {
            panic!("no text")
        };
        assert_eq!(keys.iter().flatten().count(), 6);
        assert!(words.ends_with("\n\n• 7"), "{words}");
    }

    #[test]
    fn a_long_answer_keeps_its_buttons_at_the_end() {
        let mut say = ask(&["Yes"]);
        say.text = format!("{}\n\nGo on?", "long words ".repeat(800));
        say.files = vec![Attachment {
            name: "plan.txt".into(),
            media_type: "text/plain".into(),
            alt: "x".repeat(2000),
            bytes: vec![1],
            recipe: None,
        }];
        let calls = calls(&say, Address::private(1), Place::default());
        assert_eq!(
            calls.iter().map(Call::method).collect::<Vec<_>>(),
            ["sendMessage", "sendMessage", "sendDocument", "sendMessage"]
        );
        let keyed = |call: &Call| matches!(call, Call::Text { keys, .. } if !keys.is_empty());
        assert_eq!(calls.iter().map(keyed).collect::<Vec<_>>(), [false, false, false, true]);
        assert!(matches!(&calls[2], Call::File { caption, .. } if units(caption) <= MOST_CAPTION));
    }

    #[test]
    fn a_group_button_names_whose_question_it_is() {
        let Some(Call::Text { keys, .. }) =
            calls(&ask(&["Yes"]), Address::in_group(-5, 42), Place::default()).pop()
        else {
            panic!("no text")
        };
        assert_eq!(Button::read(&keys[0][0].data).unwrap().owner, Some(42));
    }

    #[test]
    fn html_is_escaped_once() {
        let say = Say { text: "a < b & c".into(), ..Say::default() };
        let call = calls(&say, Address::private(1), Place::default()).pop().unwrap();
        assert_eq!(call.parameters()["text"], "a &lt; b &amp; c");
        assert_eq!(call.plainest().unwrap()["text"], "a < b & c");
    }
}
