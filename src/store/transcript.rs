//! What was said in a chat, kept for channels that show it again: JSON with a version.
//!
//! It serves the eye only: what the chat *is* stands in its events. Lines are kept in leaves of a few, so that a turn
//! writes the last leaf anew and not all that was ever said.

use std::ops::Range;

use serde::{Deserialize, Serialize};

use super::record::{RecordError, StoredRecipe};
use crate::message::{Attachment, Choice, Content, Say};

/// The most entries that are kept of a chat.
const MOST_ENTRIES: usize = 200;
/// How many lines a leaf holds.
const A_LEAF: u64 = 16;
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

/// What somebody said to a page, kept until it is worked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Heard {
    /// The message's own id.
    pub id: String,
    /// How it reads.
    pub shown: String,
    /// What it is.
    pub content: Content,
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
    /// The last line that stands in a leaf already.
    kept: u64,
}

/// A transcript as it is kept: its head, the leaves that changed by their number, and those that fell off.
pub struct Written {
    /// What is kept once.
    pub head: Vec<u8>,
    /// Leaves to put.
    pub leaves: Vec<(u64, Vec<u8>)>,
    /// Leaves to remove, where they are.
    pub fallen: Range<u64>,
}

impl Transcript {
    /// An empty one whose lines go on from a number.
    pub fn after_line(last: u64) -> Self {
        Self { last, kept: last, ..Self::default() }
    }

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
        (self.first()..).zip(&self.lines).filter(move |(at, _)| *at > number)
    }

    /// The number of the oldest line.
    fn first(&self) -> u64 {
        self.last.saturating_sub(count(self.lines.len())).saturating_add(1)
    }

    /// The leaves its lines stand in; none where all of them are here.
    pub fn leaves(&self) -> Range<u64> {
        if self.last == 0 || !self.lines.is_empty() {
            return 0..0;
        }
        let oldest = self.last.saturating_sub(count(MOST_ENTRIES)).saturating_add(1);
        leaf_of(oldest)..leaf_of(self.last).saturating_add(1)
    }

    /// Takes in a leaf; the leaves come in order. One that is lost takes with it what stood before it.
    pub fn bind(&mut self, leaf: &[u8]) -> Result<(), RecordError> {
        let VersionedLeaf::V1(leaf) = serde_json::from_slice(leaf)?;
        self.lines.extend(leaf.lines.into_iter().map(StoredLine::into_line));
        let over = self.lines.len().saturating_sub(MOST_ENTRIES);
        self.lines.drain(..over);
        Ok(())
    }
}

fn leaf_of(number: u64) -> u64 {
    number.saturating_sub(1) / A_LEAF
}

fn count(number: usize) -> u64 {
    u64::try_from(number).unwrap_or(u64::MAX)
}

#[derive(Serialize, Deserialize)]
#[serde(tag = "v")]
enum Versioned {
    /// With all its lines.
    #[serde(rename = "1")]
    V1(V1),
    /// With its lines in leaves.
    #[serde(rename = "2")]
    V2(V2),
}

#[derive(Serialize, Deserialize)]
struct V2 {
    revision: u64,
    last: u64,
    ids: Vec<String>,
}

#[derive(Serialize, Deserialize)]
#[serde(tag = "v")]
enum VersionedLeaf {
    #[serde(rename = "1")]
    V1(StoredLeaf),
}

#[derive(Serialize, Deserialize)]
struct StoredLeaf {
    lines: Vec<StoredLine>,
}

#[derive(Serialize, Deserialize)]
#[serde(tag = "v")]
enum VersionedHeard {
    #[serde(rename = "1")]
    V1(StoredHeard),
}

#[derive(Serialize, Deserialize)]
struct StoredHeard {
    id: String,
    shown: String,
    content: StoredContent,
}

#[derive(Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
enum StoredContent {
    Text(String),
    Choice { prompt: Option<u64>, id: String },
    Other(String),
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

/// Writes a transcript: what changed since it was read.
pub fn write(transcript: &Transcript) -> Result<Written, RecordError> {
    let Transcript { revision, last, ids, .. } = transcript;
    let head = serde_json::to_vec(&Versioned::V2(V2 { revision: *revision, last: *last, ids: ids.clone() }))?;
    let oldest = leaf_of(transcript.first());
    let changed = leaf_of(transcript.kept.saturating_add(1)).max(oldest);
    let mut leaves = Vec::new();
    for leaf in changed..leaf_of(*last).saturating_add(1) {
        let lines = transcript.after(leaf.saturating_mul(A_LEAF));
        let lines =
            lines.take_while(|(at, _)| leaf_of(*at) == leaf).map(|(_, line)| StoredLine::from_line(line));
        let lines = StoredLeaf { lines: lines.collect() };
        leaves.push((leaf, serde_json::to_vec(&VersionedLeaf::V1(lines))?));
    }
    // More than one only where more than a leaf was said at once.
    let fallen = oldest.saturating_sub(2)..oldest;
    Ok(Written { head, leaves, fallen })
}

/// Reads a transcript of any version; its lines may stand in [`Transcript::leaves`].
pub fn read(bytes: &[u8]) -> Result<Transcript, RecordError> {
    Ok(match serde_json::from_slice(bytes)? {
        Versioned::V1(stored) => Transcript {
            revision: stored.revision,
            last: stored.last,
            ids: stored.ids,
            lines: stored.lines.into_iter().map(StoredLine::into_line).collect(),
            kept: 0,
        },
        Versioned::V2(V2 { revision, last, ids }) => {
            Transcript { revision, last, ids, lines: Vec::new(), kept: last }
        }
    })
}

/// Writes what was said to a page.
pub fn write_heard(heard: &Heard) -> Result<Vec<u8>, RecordError> {
    let content = match heard.content.clone() {
        Content::Text(text) => StoredContent::Text(text),
        Content::Choice { prompt, id } => StoredContent::Choice { prompt, id },
        Content::Other(kind) => StoredContent::Other(kind),
    };
    let stored = StoredHeard { id: heard.id.clone(), shown: heard.shown.clone(), content };
    Ok(serde_json::to_vec(&VersionedHeard::V1(stored))?)
}

/// Reads what was said to a page.
pub fn read_heard(bytes: &[u8]) -> Result<Heard, RecordError> {
    let VersionedHeard::V1(StoredHeard { id, shown, content }) = serde_json::from_slice(bytes)?;
    let content = match content {
        StoredContent::Text(text) => Content::Text(text),
        StoredContent::Choice { prompt, id } => Content::Choice { prompt, id },
        StoredContent::Other(kind) => Content::Other(kind),
    };
    Ok(Heard { id, shown, content })
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
    use crate::message::Recipe;

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
        assert_eq!(read_again(&mut Vec::new(), &transcript), Transcript { kept: 2, ..transcript });
    }

    /// A transcript as it reads after it was kept beside what was kept before.
    fn read_again(kept: &mut Vec<(u64, Vec<u8>)>, transcript: &Transcript) -> Transcript {
        let Written { head, leaves, fallen } = write(transcript).unwrap();
        kept.retain(|(number, _)| !fallen.contains(number) && leaves.iter().all(|(leaf, _)| leaf != number));
        kept.extend(leaves);
        kept.sort();
        let mut read = read(&head).unwrap();
        for wanted in read.leaves() {
            if let Some((_, leaf)) = kept.iter().find(|(number, _)| *number == wanted) {
                read.bind(leaf).unwrap();
            }
        }
        read
    }

    #[test]
    fn a_turn_writes_a_leaf_and_nothing_old_is_left() {
        let (mut kept, mut transcript) = (Vec::new(), Transcript::default());
        for number in 1..=500 {
            transcript.add(Line::You(number.to_string()));
            assert!(write(&transcript).unwrap().leaves.len() == 1);
            let read = read_again(&mut kept, &transcript);
            assert_eq!((&read.lines, read.last), (&transcript.lines, transcript.last));
            transcript = read;
            assert!(kept.len() <= MOST_ENTRIES / 16 + 2, "{}", kept.len());
        }
    }

    #[test]
    fn a_transcript_of_the_first_version_is_read_and_parted_into_leaves() {
        let first = br#"{"v":"1","revision":7,"last":300,"ids":["a"],"lines":[{"you":"299"},{"you":"300"}]}"#;
        let mut transcript = read(first).unwrap();
        transcript.add(Line::You("301".into()));
        let read = read_again(&mut Vec::new(), &transcript);
        assert_eq!(read.after(0).map(|(at, _)| at).collect::<Vec<_>>(), [299, 300, 301]);
    }

    #[test]
    fn what_was_heard_reads_as_it_was_written() {
        for content in [
            Content::Text("2.4 m".into()),
            Content::Choice { prompt: Some(7), id: "yes".into() },
            Content::Other("photo".into()),
        ] {
            let heard = Heard { id: "m1".into(), shown: "2.4 m".into(), content };
            assert_eq!(read_heard(&write_heard(&heard).unwrap()).unwrap(), heard);
        }
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
