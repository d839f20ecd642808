//! What no JSON library writes, put where an update says so.

use serde_json::Value;

/// Each kind of poison: the word that stands for it in an update.
pub const KINDS: [&str; 5] = ["lone-surrogate", "too-deep", "too-large", "no-number", "no-text"];

/// A value as bytes, with what stands in it for poison made so.
pub fn spread(value: &Value) -> Vec<u8> {
    let mut text = value.to_string();
    if !text.contains("poison:") {
        return text.into_bytes();
    }
    let deep = format!("{}{}", "[".repeat(200), "]".repeat(200));
    for (kind, with) in [
        ("lone-surrogate", "\"\\ud800\""),
        ("too-deep", deep.as_str()),
        ("too-large", "1e999"),
        ("no-number", "NaN"),
        ("no-text", "\"\u{1}\""),
    ] {
        text = text.replace(&format!("\"poison:{kind}\""), with);
    }
    // A byte that stands in no text, for the one that stands in no JSON.
    text.into_bytes().into_iter().map(|byte| if byte == 1 { 0xff } else { byte }).collect()
}
