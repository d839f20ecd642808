//! Recorded updates in, what they ask of us out. One line of `updates.jsonl` is one case: add one there.

use lapwise::channel::telegram::slim::slim;
use lapwise::channel::telegram::update::{Me, Reading, read};
use lapwise::message::Content;
use serde_json::Value;

fn me() -> Me {
    Me { id: 700, username: "lapwise_bot".to_owned() }
}

/// A reading in one line.
fn told(reading: &Reading) -> String {
    match reading {
        Reading::Work(arrival) => {
            let content = match &arrival.inbound.content {
                Content::Text(text) => format!("text {text:?}"),
                Content::Choice { prompt, id } => format!("choice {prompt:?} {id:?}"),
                Content::Other(kind) => format!("other {kind}"),
            };
            let label = arrival.press.as_ref().and_then(|press| press.label.as_deref());
            let label = label.map(|label| format!(" on {label:?}")).unwrap_or_default();
            let thread = arrival.thread.map(|thread| format!(" in topic {thread}")).unwrap_or_default();
            format!("{} {content}{label}{thread}", arrival.inbound.chat)
        }
        Reading::NotTheirs { callback } => format!("not theirs {callback}"),
        Reading::Gone(address) => format!("gone {}", address.chat),
        Reading::Back(address) => format!("back {}", address.chat),
        Reading::Ignore(why) => format!("ignore {why}"),
    }
}

#[test]
fn recorded_updates_are_read_as_written_beside_them() {
    let cases = include_str!("updates.jsonl");
    assert!(cases.lines().count() > 30);
    for line in cases.lines() {
        let case: Value = serde_json::from_str(line).unwrap_or_else(|error| panic!("{error}: {line}"));
        let reading = read(&case["update"], &me());
        assert_eq!(told(&reading), case["reads"].as_str().unwrap(), "{line}");
        if matches!(reading, Reading::Work(_)) {
            let kept = slim(&case["update"]);
            assert_eq!(read(&kept, &me()), reading, "what is kept reads the same: {kept}");
        }
    }
}

#[test]
fn what_is_kept_holds_no_name_number_or_place() {
    for line in include_str!("updates.jsonl").lines() {
        let case: Value = serde_json::from_str(line).unwrap();
        let kept = slim(&case["update"]).to_string();
        for private in ["Wren", "first_name", "username", "+44", "latitude", "file_id", "language_code"] {
            assert!(!kept.contains(private), "{private} in {kept}");
        }
    }
}

#[test]
fn any_json_at_all_is_read_without_a_panic() {
    let whole: Value = include_str!("updates.jsonl")
        .lines()
        .map(|line| serde_json::from_str::<Value>(line).unwrap())
        .collect();
    let mut broken = 0;
    for case in whole.as_array().unwrap() {
        for_each_hole(&case["update"], &mut |update: Value| {
            let _ = read(&update, &me());
            let _ = slim(&update);
            broken += 1;
        });
    }
    assert!(broken > 1_000, "{broken}");
}

/// The value with each of its parts in turn replaced by others of the wrong kind.
fn for_each_hole(value: &Value, see: &mut dyn FnMut(Value)) {
    for wrong in
        [Value::Null, Value::Bool(true), "x".into(), 7.into(), Value::Array(vec![]), serde_json::json!({})]
    {
        see(wrong);
    }
    match value {
        Value::Object(map) => {
            for (key, part) in map {
                for_each_hole(part, &mut |hole| {
                    let mut holed = map.clone();
                    holed.insert(key.clone(), hole);
                    see(Value::Object(holed));
                });
            }
        }
        Value::Array(list) => {
            for at in 0..list.len() {
                for_each_hole(&list[at], &mut |hole| {
                    let mut holed = list.clone();
                    holed[at] = hole;
                    see(Value::Array(holed));
                });
            }
        }
        Value::Null | Value::Bool(_) | Value::Number(_) | Value::String(_) => {}
    }
}
