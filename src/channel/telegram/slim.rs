//! An update without what we have no use for: names, phone numbers, places, pictures are never kept.

use serde_json::{Map, Value, json};

use super::text::{cut, units, visible};
use super::update::WORDLESS;

/// One unit more than a message holds: still read as too long, and no longer a burden.
const MOST_KEPT: usize = 4097;

/// The update with only the fields [`super::update::read`] looks at, in the same shape.
pub fn slim(update: &Value) -> Value {
    let mut kept = pick(update, &["update_id"]);
    for kind in ["message", "edited_message"] {
        if let Some(message) = update.get(kind) {
            kept.insert(kind.to_owned(), slim_message(message));
        }
    }
    if let Some(query) = update.get("callback_query") {
        let mut slim_query = pick(query, &["id", "data"]);
        keep_object(&mut slim_query, query, "from", &["id"]);
        if let Some(message) = query.get("message") {
            slim_query.insert("message".to_owned(), slim_message(message));
        }
        kept.insert("callback_query".to_owned(), Value::Object(slim_query));
    }
    Value::Object(kept)
}

fn slim_message(message: &Value) -> Value {
    let mut kept = pick(message, &["message_id", "message_thread_id", "is_topic_message", "reply_markup"]);
    keep_object(&mut kept, message, "chat", &["id", "type"]);
    keep_object(&mut kept, message, "from", &["id", "is_bot"]);
    if let Some(text) = message.get("text").and_then(Value::as_str) {
        // Invisible characters count for nothing, so they are dropped before the text is cut.
        let text = if units(text) > MOST_KEPT {
            cut(&visible(text), MOST_KEPT).0.to_owned()
        } else {
            text.to_owned()
        };
        kept.insert("text".to_owned(), Value::String(text));
    }
    if let Some(to) = message.pointer("/reply_to_message/from/id") {
        kept.insert("reply_to_message".to_owned(), json!({ "from": { "id": to } }));
    }
    for kind in WORDLESS.into_iter().filter(|kind| message.get(kind).is_some()) {
        kept.insert(kind.to_owned(), json!({}));
    }
    Value::Object(kept)
}

fn pick(from: &Value, keys: &[&str]) -> Map<String, Value> {
    keys.iter().filter_map(|key| Some(((*key).to_owned(), from.get(key)?.clone()))).collect()
}

fn keep_object(into: &mut Map<String, Value>, from: &Value, key: &str, keys: &[&str]) {
    if let Some(object) = from.get(key) {
        into.insert(key.to_owned(), Value::Object(pick(object, keys)));
    }
}
