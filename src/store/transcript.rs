//! What was said in a chat, kept for channels that show it again: JSON with a version.
//!
//! It serves the eye only. What the chat *is* stands in its events; a transcript that was lost or fell behind is
//! begun anew.

use serde::{Deserialize, Serialize};

use super::record::RecordError;
use crate::message::{Attachment, Choice, Recipe, Say};

/// The most entries that are kept of a chat.
const MOST_ENTRIES: usize = 200;
/// The most ids of messages that are remembered, to know a repeat.
const MOST_IDS: usize = 32;

/// What was said.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Line {
    /// By the person.
    You(String),
    /// By the bot. The name of a file is its digest, a slash, and its own name; its bytes are made when asked for.
    Bot(Say),
}

/// A chat as it reads.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Transcript {
    /// The revision of the chat it goes up to.
    pub revision: u64,
    /// The number of its last line.
    pub last: u64,
    /// Its lines, oldest first.
    pub lines: Vec<Line>,
    /// The ids of the messages worked last, oldest first.
    pub ids: Vec<String>,
}

impl Transcript {
    /// Adds a line; the oldest one falls off where there are too many.
    pub fn add(&mut self, line: Line) {
        self.last = self.last.saturating_add(1);
        self.lines.push(line);
        let over = self.lines.len().saturating_sub(MOST_ENTRIES);
        self.lines.drain(..over);
    }

    /// Remembers that a message was worked.
    pub fn worked(&mut self, id: String) {
        self.ids.push(id);
        let over = self.ids.len().saturating_sub(MOST_IDS);
        self.ids.drain(..over);
    }

    /// Lines after a number, each with its own.
    pub fn after(&self, number: u64) -> impl Iterator<Item = (u64, &Line)> {
        let count = u64::try_from(self.lines.len()).unwrap_or(u64::MAX);
        let first = self.last.saturating_sub(count).saturating_add(1);
        (first..).zip(&self.lines).filter(move |(at, _)| *at > number)
    }
}

#[derive(Serialize, Deserialize)]
#[serde(tag = "v")]
enum Versioned {
    #[serde(rename = "1")]
    V1(V1),
}

#[derive(Serialize, Deserialize)]
struct V1 {
    revision: u64,
    last: u64,
    ids: Vec<String>,
    lines: Vec<StoredLine>,
}

#[derive(Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
enum StoredLine {
    You(String),
    Bot(StoredSay),
}

#[derive(Serialize, Deserialize)]
struct StoredSay {
    id: String,
    text: String,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    choices: Vec<(String, String)>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    prompt: Option<u64>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    files: Vec<StoredFile>,
}

#[derive(Serialize, Deserialize)]
struct StoredFile {
    name: String,
    media_type: String,
    alt: String,
    /// None in transcripts from when files were kept beside them.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    recipe: Option<StoredRecipe>,
}

/// How a file is made when it is wanted: written by the records of messages and of transcripts alike.
#[derive(Serialize, Deserialize)]
pub(super) struct StoredRecipe {
    what: String,
    events: u64,
    at: u64,
}

impl StoredRecipe {
    pub(super) fn from_recipe(recipe: &Recipe) -> Self {
        Self { what: recipe.what.clone(), events: recipe.events, at: recipe.at }
    }

    pub(super) fn into_recipe(self) -> Recipe {
        Recipe { what: self.what, events: self.events, at: self.at }
    }
}

/// Writes a transcript.
pub fn write(transcript: &Transcript) -> Result<Vec<u8>, RecordError> {
    let stored = V1 {
        revision: transcript.revision,
        last: transcript.last,
        ids: transcript.ids.clone(),
        lines: transcript.lines.iter().map(StoredLine::from_line).collect(),
    };
    Ok(serde_json::to_vec(&Versioned::V1(stored))?)
}

/// Reads a transcript of any version.
pub fn read(bytes: &[u8]) -> Result<Transcript, RecordError> {
    let Versioned::V1(stored) = serde_json::from_slice(bytes)?;
    Ok(Transcript {
        revision: stored.revision,
        last: stored.last,
        ids: stored.ids,
        lines: stored.lines.into_iter().map(StoredLine::into_line).collect(),
    })
}

impl StoredLine {
    fn from_line(line: &Line) -> Self {
        let say = match line {
            Line::You(text) => return Self::You(text.clone()),
            Line::Bot(say) => say,
        };
        let file = |file: &Attachment| StoredFile {
            name: file.name.clone(),
            media_type: file.media_type.clone(),
            alt: file.alt.clone(),
            recipe: file.recipe.as_ref().map(StoredRecipe::from_recipe),
        };
        Self::Bot(StoredSay {
            id: say.id.clone(),
            text: say.text.clone(),
            choices: say.choices.iter().map(|choice| (choice.id.clone(), choice.label.clone())).collect(),
            prompt: say.prompt,
            files: say.files.iter().map(file).collect(),
        })
    }

    fn into_line(self) -> Line {
        let say = match self {
            Self::You(text) => return Line::You(text),
            Self::Bot(say) => say,
        };
        let file = |file: StoredFile| Attachment {
            name: file.name,
            media_type: file.media_type,
            alt: file.alt,
            bytes: Vec::new(),
            recipe: file.recipe.map(StoredRecipe::into_recipe),
        };
        Line::Bot(Say {
            id: say.id,
            text: say.text,
            choices: say.choices.into_iter().map(|(id, label)| Choice { id, label }).collect(),
            prompt: say.prompt,
            files: say.files.into_iter().map(file).collect(),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_transcript_reads_as_it_was_written() {
        let mut transcript = Transcript { revision: 7, ..Transcript::default() };
        transcript.add(Line::You("2.4 m".into()));
        transcript.add(Line::Bot(Say {
            id: "ask-length".into(),
            text: "How long?".into(),
            choices: vec![Choice { id: "do-how".into(), label: "How?".into() }],
            prompt: Some(3),
            files: vec![Attachment {
                name: "abc/sheets.svg".into(),
                media_type: "image/svg+xml".into(),
                alt: "The sheets".into(),
                bytes: Vec::new(),
                recipe: Some(Recipe { what: "sheets".into(), events: 12, at: 1_795_608_000 }),
            }],
        }));
        transcript.worked("a".into());
        assert_eq!(read(&write(&transcript).unwrap()).unwrap(), transcript);
    }

    #[test]
    fn the_oldest_lines_fall_off_and_numbers_go_on() {
        let mut transcript = Transcript::default();
        for number in 1..=250 {
            transcript.add(Line::You(number.to_string()));
        }
        let after: Vec<(u64, &Line)> = transcript.after(248).collect();
        assert_eq!(after, [(249, &Line::You("249".into())), (250, &Line::You("250".into()))]);
        assert_eq!(transcript.after(0).next(), Some((51, &Line::You("51".into()))));
    }
}
