//! Updates taken apart one by one, so that one nobody can read keeps none of the others back.

use serde::Deserialize;
use serde_json::Value;
use serde_json::value::RawValue;

use crate::channel::telegram::update::update_id;

/// One update of an answer.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Came {
    /// One that can be read; its number is looked at by whoever takes it.
    Whole(Value),
    /// One that cannot, but its number can.
    Broken(Broken),
}

/// An update that cannot be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Broken {
    pub(super) number: i64,
    pub(super) bytes: Vec<u8>,
}

impl Came {
    pub(super) fn number(&self) -> Option<i64> {
        match self {
            Self::Whole(update) => update_id(update),
            Self::Broken(broken) => Some(broken.number),
        }
    }
}

/// What an answer to `getUpdates` came to.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Batch {
    /// Its updates; those that have no number to step over them by are left out.
    Of(Vec<Came>),
    /// One of them spoils the answer for all: they must be asked for one at a time.
    Spoilt,
    /// No answer with updates at all.
    None,
}

#[derive(Deserialize)]
struct Answer<'a> {
    #[serde(borrow)]
    result: Vec<&'a RawValue>,
}

/// Takes an answer apart.
pub(super) fn read(answer: &[u8]) -> Batch {
    // Bytes that are no text spoil their own update and no other.
    let text = String::from_utf8_lossy(answer);
    match serde_json::from_str::<Answer<'_>>(&text) {
        Ok(Answer { result }) => Batch::Of(result.into_iter().filter_map(|raw| one(raw.get())).collect()),
        Err(_) if number_in(&text).is_some() => Batch::Spoilt,
        Err(_) => Batch::None,
    }
}

/// The only update of an answer that nobody can read.
pub(super) fn spoilt(answer: &[u8]) -> Option<Broken> {
    let number = number_in(&String::from_utf8_lossy(answer))?;
    Some(Broken { number, bytes: answer.to_vec() })
}

/// One update; `None` where it has no number.
pub(super) fn one(text: &str) -> Option<Came> {
    match serde_json::from_str::<Value>(text) {
        // One without a number can be neither kept nor acknowledged; the next acknowledged one takes it along.
        Ok(update) => update_id(&update).map(|_| Came::Whole(update)),
        Err(_) => {
            number_in(text).map(|number| Came::Broken(Broken { number, bytes: text.as_bytes().to_vec() }))
        }
    }
}

/// The first number that is called an update's, wherever it stands.
fn number_in(text: &str) -> Option<i64> {
    let (_, rest) = text.split_once("\"update_id\"")?;
    let rest = rest.trim_start().strip_prefix(':')?.trim_start();
    let end = rest.find(|c: char| !c.is_ascii_digit()).unwrap_or(rest.len());
    rest.get(..end)?.parse().ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    const GOOD: &str = r#"{"update_id":2,"message":{"text":"felt"}}"#;

    fn numbers(answer: &[u8]) -> Vec<(i64, bool)> {
        let Batch::Of(updates) = read(answer) else { panic!("{:?}", read(answer)) };
        let sort = |came: Came| (came.number().unwrap(), matches!(came, Came::Whole(_)));
        updates.into_iter().map(sort).collect()
    }

    #[test]
    fn one_that_cannot_be_read_keeps_none_back() {
        let deep = format!("{}{}", "[".repeat(200), "]".repeat(200));
        for broken in [r#""\ud800""#, &deep, "1e999"] {
            let answer = format!(r#"{{"ok":true,"result":[{{"update_id":1,"x":{broken}}},{GOOD}]}}"#);
            assert_eq!(numbers(answer.as_bytes()), [(1, false), (2, true)], "{broken}");
        }
        let mut bytes = br#"{"ok":true,"result":[{"update_id":1,"x":""#.to_vec();
        bytes.extend([0xff, 0xfe]);
        bytes.extend(br#""},{"update_id":2}]}"#);
        assert_eq!(numbers(&bytes), [(1, true), (2, true)]);
    }

    #[test]
    fn one_that_spoils_the_answer_is_asked_for_alone_and_stepped_over() {
        let spoilt_by = |broken: &str| format!(r#"{{"ok":true,"result":[{{"update_id":7,"x":{broken}}}]}}"#);
        for broken in ["NaN", "}", "tru"] {
            let answer = spoilt_by(broken);
            assert_eq!(read(answer.as_bytes()), Batch::Spoilt, "{broken}");
            assert_eq!(spoilt(answer.as_bytes()).unwrap().number, 7);
        }
        assert_eq!(read(b"<html>"), Batch::None);
        assert_eq!(read(br#"{"ok":true,"result":7}"#), Batch::None);
        assert_eq!(read(br#"{"ok":true,"result":[{"update_id":"x"},{}]}"#), Batch::Of(Vec::new()));
    }
}
