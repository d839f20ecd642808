//! Reads `dialogs/topics/`: what may be asked, the patterns beside each topic, and the words they are made of.

use std::collections::{BTreeMap, BTreeSet};

use serde::Deserialize;

use crate::conversation::understanding::{Topic, TopicId, Understander, Vocabulary};
use crate::roofing::rules::Handover;

/// Something wrong in the topics, said to the adviser who wrote them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TopicFault {
    /// The file it is in.
    pub file: String,
    /// The line, from 1.
    pub line: usize,
    /// What is wrong, and what to do about it.
    pub what: String,
}

#[derive(Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
struct TopicsFile {
    #[serde(default)]
    topic: Vec<toml::Spanned<TopicEntry>>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct TopicEntry {
    id: String,
    example: String,
    #[serde(default)]
    sure: Vec<String>,
    #[serde(default)]
    likely: Vec<String>,
    #[serde(default)]
    danger: Vec<String>,
    handover: Option<HandoverEntry>,
    danger_handover: Option<HandoverEntry>,
    stops: Option<String>,
    asked_as: Vec<String>,
}

#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(rename_all = "snake_case")]
enum HandoverEntry {
    Emergency,
    LicensedPro,
    Adviser,
}

impl From<HandoverEntry> for Handover {
    fn from(entry: HandoverEntry) -> Self {
        match entry {
            HandoverEntry::Emergency => Self::Emergency,
            HandoverEntry::LicensedPro => Self::LicensedPro,
            HandoverEntry::Adviser => Self::Adviser,
        }
    }
}

#[derive(Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
struct VocabularyFile {
    fillers: String,
    openers: String,
    joiners: String,
    words: BTreeMap<String, String>,
    phrases: BTreeMap<String, Vec<String>>,
    slips: BTreeMap<String, String>,
    emoji: BTreeMap<char, String>,
}

#[derive(Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
struct OrdinaryFile {
    ordinary: String,
}

/// The file that says how words are read.
const VOCABULARY: &str = "vocabulary.toml";
/// The file of ordinary words that are never mended.
const ORDINARY: &str = "ordinary-words.toml";

/// Reads the topics out of their files, given by name and text, and makes them ready to understand messages.
///
/// # Errors
/// Every fault found: a file that is no TOML, an unknown, doubled or missing topic, a pattern that is none.
pub fn read_topics(files: &[(&str, &str)]) -> Result<Understander, Vec<TopicFault>> {
    let mut reading = Reading::default();
    for (file, text) in files {
        match *file {
            VOCABULARY => reading.vocabulary_file(file, text),
            ORDINARY => {
                if let Some(read) = reading.parse::<OrdinaryFile>(file, text) {
                    reading.vocabulary.ordinary = words(&read.ordinary);
                }
            }
            _ => reading.topics_file(file, text),
        }
    }
    reading.finish()
}

#[derive(Default)]
struct Reading {
    topics: Vec<Topic>,
    vocabulary: Vocabulary,
    faults: Vec<TopicFault>,
}

impl Reading {
    fn parse<T: for<'de> Deserialize<'de>>(&mut self, file: &str, text: &str) -> Option<T> {
        match toml::from_str(text) {
            Ok(read) => Some(read),
            Err(error) => {
                let line = line_of(text, error.span().map_or(0, |span| span.start));
                self.fault(file, line, error.message());
                None
            }
        }
    }

    fn fault(&mut self, file: &str, line: usize, what: impl Into<String>) {
        self.faults.push(TopicFault { file: file.to_owned(), line, what: what.into() });
    }

    fn topics_file(&mut self, file: &str, text: &str) {
        let Some(read) = self.parse::<TopicsFile>(file, text) else { return };
        for entry in read.topic {
            let line = line_of(text, entry.span().start);
            let entry = entry.into_inner();
            match TopicId::from_key(&entry.id) {
                None => self.fault(file, line, format!("there is no topic `{}`: mend its id.", entry.id)),
                Some(id) if self.topics.iter().any(|topic| topic.id == id) => {
                    self.fault(file, line, format!("`{}` stands twice: keep one.", entry.id));
                }
                Some(id) => self.topics.push(topic(id, entry)),
            }
        }
    }

    fn vocabulary_file(&mut self, file: &str, text: &str) {
        let Some(read) = self.parse::<VocabularyFile>(file, text) else { return };
        self.vocabulary = Vocabulary {
            emoji: read.emoji.into_iter().collect(),
            slips: read.slips.into_iter().collect(),
            words: read.words.into_iter().map(|(word, synonyms)| (word, words(&synonyms))).collect(),
            phrases: read.phrases.into_iter().collect(),
            fillers: words(&read.fillers),
            openers: words(&read.openers),
            joiners: words(&read.joiners),
            ordinary: std::mem::take(&mut self.vocabulary.ordinary),
        };
    }

    fn finish(mut self) -> Result<Understander, Vec<TopicFault>> {
        let there: BTreeSet<TopicId> = self.topics.iter().map(|topic| topic.id).collect();
        for missing in TopicId::ALL.iter().filter(|id| !there.contains(id)) {
            self.fault("topics", 1, format!("nothing is said of `{}`: add it.", missing.key()));
        }
        self.topics.sort_by_key(|topic| topic.id);
        if !self.faults.is_empty() {
            return Err(self.faults);
        }
        Understander::new(self.topics, &self.vocabulary).map_err(|error| {
            vec![TopicFault {
                file: "topics".to_owned(),
                line: 1,
                what: format!("a pattern cannot be used: {error}"),
            }]
        })
    }
}

fn topic(id: TopicId, entry: TopicEntry) -> Topic {
    Topic {
        id,
        example: entry.example,
        sure: entry.sure,
        likely: entry.likely,
        danger: entry.danger,
        handover: entry.handover.map(Handover::from),
        danger_handover: entry.danger_handover.map(Handover::from),
        stops: entry.stops,
        asked_as: entry.asked_as,
    }
}

fn words(text: &str) -> Vec<String> {
    text.split_whitespace().map(str::to_owned).collect()
}

fn line_of(text: &str, offset: usize) -> usize {
    1 + text.bytes().take(offset).filter(|byte| *byte == b'\n').count()
}
