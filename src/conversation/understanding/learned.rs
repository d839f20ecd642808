//! What was learned from the kept messages, as the learned file holds it: one line a term, for people to read too.
//!
//! The file is written by [`super::learn`] and says from which messages, and by which way of reading them, it was
//! learned, so that a book can tell whether it is behind.

use std::fmt::Write as _;

use super::confidence::Confidence;
use super::kept::{Meaning, Meanings};
use super::table::{Row, Table};
use super::{DangerKind, TopicId};

/// What the file begins with.
const HEADING: &str = "# What `lapwise learn` made of the messages beside this file. Not to be edited: the same messages give it again.";
/// Stands where a kept message is about no topic, and for one that speaks of danger.
const NOTHING: &str = "-";
const DANGER: &str = "danger";

/// Weights, and how far to trust them.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Learned {
    /// Which topic each column is of.
    pub(super) columns: Vec<TopicId>,
    /// The linear model of topics.
    pub(super) topics: Table,
    /// The weights of evidence of topics.
    pub(super) evidence: Table,
    /// The linear model of dangers: one column a kind, and one for any of them.
    pub(super) dangers: Table,
    /// How often a topic is right that is so far ahead.
    pub(super) confidence: Confidence,
    /// What a danger's score must reach to be asked about.
    pub(super) asks_from: i32,
    /// A mark of the way in which messages were read.
    pub(super) reader: u64,
    /// A mark of the text that the messages stood in.
    pub(super) heard: u64,
    /// What the messages mean that it was learned from.
    pub(super) kept: Meanings,
}

/// The same as rows, as they are written.
#[derive(Clone, Debug, Default)]
pub(super) struct Written {
    pub(super) columns: Vec<TopicId>,
    pub(super) topics: (Vec<i32>, Vec<Row>),
    pub(super) evidence: Vec<Row>,
    pub(super) dangers: (Vec<i32>, Vec<Row>),
    pub(super) confidence: Confidence,
    pub(super) asks_from: i32,
    pub(super) reader: u64,
    pub(super) heard: u64,
    pub(super) kept: Meanings,
}

impl Written {
    /// Ready for use.
    pub(super) fn ready(&self) -> Learned {
        let nothing = vec![0; self.columns.len()];
        Learned {
            columns: self.columns.clone(),
            topics: Table::new(self.topics.0.clone(), &self.topics.1),
            evidence: Table::new(nothing, &self.evidence),
            dangers: Table::new(self.dangers.0.clone(), &self.dangers.1),
            confidence: self.confidence.clone(),
            asks_from: self.asks_from,
            reader: self.reader,
            heard: self.heard,
            kept: self.kept.clone(),
        }
    }

    /// As the file holds it.
    pub(super) fn text(&self) -> String {
        let mut text = format!("{HEADING}\n\nread\t{:016x}\t{:016x}\n", self.reader, self.heard);
        line_of(&mut text, "columns", &self.columns.iter().map(|topic| topic.key().to_owned()).collect::<Vec<_>>());
        let steps = self.confidence.steps().map(|(ahead, percent)| format!("{ahead}:{percent}"));
        line_of(&mut text, "confidence", &steps.collect::<Vec<_>>());
        line_of(&mut text, "asks from", &[self.asks_from.to_string()]);
        for (words, meaning) in &self.kept {
            let about: Vec<&str> = meaning.topics.iter().map(|topic| topic.key()).collect();
            let about = if about.is_empty() { NOTHING.to_owned() } else { about.join(" ") };
            let harm = if meaning.harmless { NOTHING } else { DANGER };
            line_of(&mut text, "kept", &[format!("{words:016x}"), about, harm.to_owned()]);
        }
        for (name, bias, rows) in [
            ("topics", self.topics.0.as_slice(), &self.topics.1),
            ("evidence", [].as_slice(), &self.evidence),
            ("dangers", self.dangers.0.as_slice(), &self.dangers.1),
        ] {
            text.push('\n');
            line_of(&mut text, name, &bias.iter().map(ToString::to_string).collect::<Vec<_>>());
            for row in rows {
                // Writing to a string cannot fail.
                let _ = write!(text, "{}\t{}", row.name, row.rare);
                for (column, weight) in &row.cells {
                    let _ = write!(text, "\t{column}:{weight}");
                }
                text.push('\n');
            }
        }
        text
    }

    /// Reads the file; the error is the number of the line that cannot be read, from 1.
    pub(super) fn read(text: &str) -> Result<Self, usize> {
        let mut written = Self::default();
        let mut rows: Option<&mut Vec<Row>> = None;
        for (number, line) in text.lines().enumerate().filter(|(_, line)| !line.is_empty() && !line.starts_with('#')) {
            let mut fields = line.split('\t');
            let name = fields.next().unwrap_or_default();
            let read = match name {
                "read" => fields.next().and_then(mark).zip(fields.next().and_then(mark)).map(|(reader, heard)| {
                    written.reader = reader;
                    written.heard = heard;
                }),
                "kept" => kept(fields).map(|(words, meaning)| written.kept.insert(words, meaning)).map(|_| ()),
                "columns" => fields.map(TopicId::from_key).collect::<Option<_>>().map(|all| written.columns = all),
                "confidence" => Confidence::read(fields).map(|read| written.confidence = read),
                "asks from" => fields.next().and_then(|from| from.parse().ok()).map(|from| written.asks_from = from),
                "topics" | "evidence" | "dangers" => {
                    let bias: Option<Vec<i32>> = fields.map(|field| field.parse().ok()).collect();
                    let (of, into) = match name {
                        "topics" => (Some(&mut written.topics.0), &mut written.topics.1),
                        "evidence" => (None, &mut written.evidence),
                        _ => (Some(&mut written.dangers.0), &mut written.dangers.1),
                    };
                    rows = Some(into);
                    bias.map(|bias| of.into_iter().for_each(|of| of.clone_from(&bias)))
                }
                _ => row(name, fields).zip(rows.as_mut()).map(|(row, rows)| rows.push(row)),
            };
            read.ok_or(number + 1)?;
        }
        let whole = written.topics.0.len() == written.columns.len() && written.dangers.0.len() == DangerKind::ALL.len() + 1;
        if whole { Ok(written) } else { Err(text.lines().count().max(1)) }
    }
}

fn line_of(text: &mut String, name: &str, fields: &[String]) {
    text.push_str(name);
    for field in fields {
        text.push('\t');
        text.push_str(field);
    }
    text.push('\n');
}

/// A kept message: its words as a number, its topics, and whether it speaks of danger.
fn kept<'a>(mut fields: impl Iterator<Item = &'a str>) -> Option<(u64, Meaning)> {
    let words = fields.next().and_then(mark)?;
    let about = fields.next()?;
    let topics = about.split(' ').filter(|topic| *topic != NOTHING).map(TopicId::from_key).collect::<Option<_>>()?;
    Some((words, Meaning { topics, harmless: fields.next()? != DANGER }))
}

fn mark(text: &str) -> Option<u64> {
    u64::from_str_radix(text, 16).ok()
}

fn row<'a>(name: &str, mut fields: impl Iterator<Item = &'a str>) -> Option<Row> {
    let rare = fields.next()?.parse().ok()?;
    let cell = |field: &str| {
        let (column, weight) = field.split_once(':')?;
        Some((column.parse().ok()?, weight.parse().ok()?))
    };
    Some(Row { name: name.to_owned(), rare, cells: fields.map(cell).collect::<Option<_>>()? })
}
