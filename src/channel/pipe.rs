//! The pipe: JSON Lines both ways, for tests and for anybody who puts another face on the chat.
//!
//! In: `{"text": "..."}` or `{"choice": "id"}`. Out, one line a turn:
//! `{"says": [{"id", "text", "choices": [{"id", "label"}]}], "asks", "facts", "plan", "stopped"}`.
//! A line that is neither is answered with `{"error": "..."}`, and the chat goes on.

use serde::{Deserialize, Serialize};
use tokio::io::{AsyncBufRead, AsyncBufReadExt, AsyncReadExt, AsyncWrite, AsyncWriteExt};

use super::{Replied, Turns};
use crate::message::{ChatId, Content, Inbound, Say};

/// The longest line taken, in bytes; more than any person types.
const LONGEST_LINE: u64 = 1 << 20;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct LineIn {
    text: Option<String>,
    choice: Option<String>,
}

#[derive(Serialize)]
struct SayOut<'a> {
    id: &'a str,
    text: &'a str,
    choices: Vec<ChoiceOut<'a>>,
}

#[derive(Serialize)]
struct ChoiceOut<'a> {
    id: &'a str,
    label: &'a str,
}

/// Carries lines until the input ends.
///
/// # Errors
/// Only those of the two streams: a bad line or a failed turn is answered, and the pipe goes on.
pub async fn run<T: Turns>(
    turns: &T,
    chat: &ChatId,
    mut input: impl AsyncBufRead + Unpin,
    mut output: impl AsyncWrite + Unpin,
) -> std::io::Result<()> {
    let mut number = 0_u64;
    let mut line = Vec::new();
    loop {
        line.clear();
        if (&mut input).take(LONGEST_LINE).read_until(b'\n', &mut line).await? == 0 {
            return Ok(());
        }
        if line.iter().all(u8::is_ascii_whitespace) {
            continue;
        }
        number += 1;
        let reply = match read_line(&line) {
            Ok(content) => {
                let inbound = Inbound { chat: chat.clone(), id: number.to_string(), content };
                match turns.turn(inbound).await {
                    Ok(replied) => line_out(replied),
                    Err(fault) => serde_json::json!({ "error": fault.to_string() }),
                }
            }
            Err(error) => serde_json::json!({ "error": error }),
        };
        let mut bytes = reply.to_string().into_bytes();
        bytes.push(b'\n');
        output.write_all(&bytes).await?;
        output.flush().await?;
    }
}

fn read_line(line: &[u8]) -> Result<Content, String> {
    let parsed: LineIn = serde_json::from_slice(line).map_err(|error| error.to_string())?;
    match (parsed.text, parsed.choice) {
        (Some(text), None) => Ok(Content::Text(text)),
        (None, Some(id)) => Ok(Content::Choice { prompt: None, id }),
        _ => Err("send either {\"text\": \"...\"} or {\"choice\": \"id\"}".to_owned()),
    }
}

fn line_out(replied: Replied) -> serde_json::Value {
    let says: Vec<serde_json::Value> = replied.says.iter().map(say_out).collect();
    let mut out = serde_json::Map::new();
    out.insert("says".to_owned(), says.into());
    if let serde_json::Value::Object(state) = replied.state {
        out.extend(state);
    }
    serde_json::Value::Object(out)
}

fn say_out(say: &Say) -> serde_json::Value {
    let choices =
        say.choices.iter().map(|choice| ChoiceOut { id: &choice.id, label: &choice.label }).collect();
    let out = SayOut { id: &say.id, text: &say.text, choices };
    serde_json::to_value(out).unwrap_or(serde_json::Value::Null)
}
