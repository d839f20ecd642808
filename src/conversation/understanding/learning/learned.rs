//! What was learned from the kept messages, as the learned file holds it: one line a term, for people to read too.
//!
//! The file is written by [`super::learn`] and says from which messages, and by which way of reading them, it was
//! learned, so that a book can tell whether it is behind.

use std::fmt::Write as _;

use super::confidence::Confidence;
use super::held_out::HeldOut;
use super::table::{Building, Row, Table};
use crate::conversation::understanding::message::{Meaning, Meanings};
use crate::conversation::understanding::{DangerKind, TopicId};

/// What the file begins with.
const HEADING: &str = "# What `lapwise learn` made of the messages beside this file. Not to be edited: the same messages give it again.";
/// Stands where a kept message is about no topic, and for one that speaks of danger.
const NOTHING: &str = "-";
const DANGER: &str = "danger";

/// Weights, and how far to trust them.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Learned {
    /// Which topic each column is of.
    pub(in super::super) columns: Vec<TopicId>,
    /// The linear model of topics.
    pub(in super::super) topics: Table,
    /// The weights of evidence of topics.
    pub(in super::super) evidence: Table,
    /// The linear model of dangers: one column a kind, and one for any of them.
    pub(in super::super) dangers: Table,
    /// How often a topic is right that is so far ahead.
    pub(in super::super) confidence: Confidence,
    /// What a danger's score must reach to be asked about.
    pub(in super::super) asks_from: i32,
    /// A mark of the way in which messages were read.
    pub(in super::super) reader: u64,
    /// A mark of the text that the messages stood in.
    pub(in super::super) heard: u64,
    /// How messages were understood that were held out.
    pub(in super::super) held_out: HeldOut,
    /// What the messages mean that it was learned from.
    pub(in super::super) kept: Meanings,
}

/// The same as rows, as they are written.
#[derive(Clone, Debug, Default)]
pub(in super::super) struct Written {
    pub(in super::super) columns: Vec<TopicId>,
    pub(in super::super) topics: (Vec<i32>, Vec<Row>),
    pub(in super::super) evidence: Vec<Row>,
    pub(in super::super) dangers: (Vec<i32>, Vec<Row>),
    pub(in super::super) confidence: Confidence,
    pub(in super::super) asks_from: i32,
    pub(in super::super) held_out: HeldOut,
    pub(in super::super) reader: u64,
    pub(in super::super) heard: u64,
    pub(in super::super) kept: Meanings,
}

impl Written {
    /// Ready for use.
    pub(in super::super) fn ready(&self) -> Learned {
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
            held_out: self.held_out,
            kept: self.kept.clone(),
        }
    }

    /// As the file holds it.
    pub(in super::super) fn text(&self) -> String {
        let mut text = format!("{HEADING}\n\nread\t{:016x}\t{:016x}\n", self.reader, self.heard);
        line_of(
            &mut text,
            "columns",
            &self.columns.iter().map(|topic| topic.key().to_owned()).collect::<Vec<_>>(),
        );
        let steps = self.confidence.steps().map(|(ahead, percent)| format!("{ahead}:{percent}"));
        line_of(&mut text, "confidence", &steps.collect::<Vec<_>>());
        line_of(&mut text, "asks from", &[self.asks_from.to_string()]);
        let held_out = self.held_out.counts();
        let held_out = held_out.iter().map(|(name, count)| format!("{name}:{count}"));
        line_of(&mut text, "held out", &held_out.collect::<Vec<_>>());
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
}

impl Learned {
    /// Reads the file; the error is the number of the line that cannot be read, from 1.
    pub fn read(text: &str) -> Result<Self, usize> {
        let mut learned = Self::default();
        let mut building: Option<(Part, Vec<i32>, Building)> = None;
        let mut lines =
            text.lines().enumerate().filter(|(_, line)| !line.is_empty() && !line.starts_with('#'));
        for (number, line) in &mut lines {
            let name = line.split('\t').next().unwrap_or_default();
            let read = match (Part::named(name), &mut building) {
                (Some(part), _) => {
                    learned.take(building.take());
                    let bias =
                        line.split('\t').skip(1).map(|field| field.parse().ok()).collect::<Option<_>>();
                    bias.map(|bias| building = Some((part, bias, Building::default())))
                }
                (None, Some((_, _, building))) => building.take(line),
                (None, None) => learned.take_line(name, line.split('\t').skip(1)),
            };
            read.ok_or(number + 1)?;
        }
        learned.take(building);
        learned.evidence.bias = vec![0; learned.columns.len()];
        let kinds = DangerKind::ALL.len() + 1;
        let whole = learned.topics.bias.len() == learned.columns.len() && learned.dangers.bias.len() == kinds;
        if whole { Ok(learned) } else { Err(text.lines().count().max(1)) }
    }

    fn take(&mut self, read: Option<(Part, Vec<i32>, Building)>) {
        if let Some((part, bias, building)) = read {
            let table = building.done(bias);
            match part {
                Part::Topics => self.topics = table,
                Part::Evidence => self.evidence = table,
                Part::Dangers => self.dangers = table,
            }
        }
    }

    /// Reads a line that belongs to no table.
    fn take_line<'a>(&mut self, name: &str, mut fields: impl Iterator<Item = &'a str>) -> Option<()> {
        match name {
            "read" => {
                self.reader = fields.next().and_then(mark)?;
                self.heard = fields.next().and_then(mark)?;
            }
            "columns" => self.columns = fields.map(TopicId::from_key).collect::<Option<_>>()?,
            "confidence" => self.confidence = Confidence::read(fields)?,
            "asks from" => self.asks_from = fields.next()?.parse().ok()?,
            "held out" => self.held_out = HeldOut::read(fields)?,
            "kept" => {
                let (words, meaning) = kept(fields)?;
                self.kept.insert(words, meaning);
            }
            _ => return None,
        }
        Some(())
    }
}

/// A table of the file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Part {
    Topics,
    Evidence,
    Dangers,
}

impl Part {
    fn named(name: &str) -> Option<Self> {
        match name {
            "topics" => Some(Self::Topics),
            "evidence" => Some(Self::Evidence),
            "dangers" => Some(Self::Dangers),
            _ => None,
        }
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
    let topics =
        about.split(' ').filter(|topic| *topic != NOTHING).map(TopicId::from_key).collect::<Option<_>>()?;
    Some((words, Meaning { topics, harmless: fields.next()? != DANGER }))
}

fn mark(text: &str) -> Option<u64> {
    u64::from_str_radix(text, 16).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_written_is_what_is_read() {
        let row =
            |name: &str, cells: &[(u8, i16)]| Row { name: name.to_owned(), rare: 41, cells: cells.to_vec() };
        let kinds = vec![-900; DangerKind::ALL.len() + 1];
        let meaning = Meaning { topics: vec![TopicId::Gutter], harmless: true };
        let written = Written {
            columns: vec![TopicId::Gutter, TopicId::Cost],
            topics: (vec![-1000, -990], vec![row("w:gutter", &[(0, 810), (1, -40)]), row("w:of", &[])]),
            evidence: vec![row("p:the gutter", &[(0, 77)])],
            dangers: (kinds, vec![row("r:fell", &[(8, 1200)])]),
            confidence: Confidence::counted(vec![(3, false), (700, true)]),
            asks_from: -12,
            reader: 7,
            heard: 9,
            kept: [(5, meaning), (6, Meaning::default())].into(),
            ..Written::default()
        };
        assert_eq!(Learned::read(&written.text()), Ok(written.ready()));
        assert_eq!(Learned::read("read\t1\t2\nkept\tzz"), Err(2));
        assert!(Learned::read("").is_err());
    }
}
