//! The pipe: JSON Lines both ways, for tests and for anybody who puts another face on the chat.
//!
//! In: `{"text": "..."}` or `{"choice": "id"}`. Out, one line a turn:
//! `{"says": [{"id", "text", "choices": [{"id", "label"}]}], "asks", "facts", "plan", "stopped"}`.
//! A line that is neither, an empty one too, is answered with `{"error": "..."}`, and the chat goes on: every line
//! in has one line out.

use serde::{Deserialize, Serialize};
use tokio::io::{AsyncBufRead, AsyncBufReadExt, AsyncReadExt, AsyncWrite, AsyncWriteExt};

use super::{Replied, Turns};
use crate::message::{ChatId, Content, Inbound, Say};

/// The longest line taken, in bytes with its end; more than any person types.
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
        let is_whole = line.last() == Some(&b'\n') || skip_line(&mut input).await? == 0;
        let content =
            if is_whole { read_line(&line) } else { Err(format!("a line has at most {LONGEST_LINE} bytes")) };
        number += 1;
        let reply = match content {
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

/// Passes over the rest of a line, and answers how long that was.
async fn skip_line(input: &mut (impl AsyncBufRead + Unpin)) -> std::io::Result<usize> {
    let mut skipped = 0;
    loop {
        let found = input.fill_buf().await?;
        let end = found.iter().position(|byte| *byte == b'\n');
        let passed = end.map_or(found.len(), |end| end + 1);
        input.consume(passed);
        skipped += passed;
        if end.is_some() || passed == 0 {
            return Ok(skipped);
        }
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
