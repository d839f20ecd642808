//! Reads `topics/`: what may be asked, the patterns beside each topic, and the words they are made of.

pub(super) mod asking;

use std::collections::BTreeMap;

use serde::Deserialize;
use toml::Spanned;

use super::document::{Document, Entry};
use super::fault::{Fault, Faults};
use super::files::BookFile;
use super::writing::date;
use crate::conversation::understanding::{Topic, TopicId, Understander, Vocabulary};
use crate::roofing::rules::{Handover, Source};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct TopicEntry {
    id: Spanned<String>,
    example: String,
    #[serde(default)]
    overrules: Vec<String>,
    #[serde(default)]
    sure: Vec<String>,
    #[serde(default)]
    likely: Vec<String>,
    #[serde(default)]
    danger: Vec<String>,
    handover: Option<HandoverEntry>,
    #[serde(default)]
    hands_on: Vec<String>,
    hands_on_to: Option<HandoverEntry>,
    source: Option<Spanned<String>>,
    since: Option<Spanned<String>>,
    #[serde(default)]
    whole: bool,
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

/// Reads the topics out of their files (see [`Book`](super::Book)) and makes them ready to understand messages.
///
/// # Errors
/// Every fault found: an unknown, doubled or missing topic, a pattern that is none.
pub fn read_topics(files: &[BookFile], sources: &[Source]) -> Result<Understander, Vec<Fault>> {
    let mut faults = Faults::of("dialogs");
    let mut vocabulary = Vocabulary::default();
    let mut read: BTreeMap<TopicId, Entry<'_, Topic>> = BTreeMap::new();
    let mut heard: BTreeMap<TopicId, Vec<String>> = BTreeMap::new();
    for file in files {
        let mut document = Document::open(file, &mut faults);
        for entry in document.entries::<TopicEntry>("topic", "topic", &mut faults) {
            check_source(&entry, sources, &mut faults);
            add(entry, &mut read, &mut faults);
        }
        read_words(&mut document, &mut vocabulary, &mut faults);
        read_heard(&mut document, &mut heard, &mut faults);
        document.close("topics, or how words are read", &mut faults);
    }
    for missing in TopicId::ALL.iter().filter(|id| !read.contains_key(id)) {
        faults.missing_from("topics", format!("nothing is said of `{}`: add it.", missing.key()));
    }
    let with_heard =
        |topic: Topic| Topic { heard_as: heard.get(&topic.id).cloned().unwrap_or_default(), ..topic };
    let topics = read.into_values().map(|entry| with_heard(entry.value)).collect();
    let understander = match Understander::new(topics, &vocabulary) {
        Ok(understander) => Some(understander),
        Err(error) => {
            faults.missing_from("topics", format!("a pattern cannot be used: {error}"));
            None
        }
    };
    let faults = faults.into_sorted();
    understander.filter(|_| faults.is_empty()).ok_or(faults)
}

/// Reads topics that a test has checked: those that are part of the program.
///
/// # Panics
/// Never in a program whose tests passed: they read this very text.
#[expect(clippy::panic, reason = "it is the program's own text, and tests/understanding.rs reads it whole")]
pub(super) fn read_checked(files: &[BookFile], sources: &[Source]) -> Understander {
    read_topics(files, sources).unwrap_or_else(|faults| panic!("{faults:?}"))
}

/// Notes a source that is none, and one without its day or the other way round.
fn check_source(entry: &Entry<'_, TopicEntry>, sources: &[Source], faults: &mut Faults) {
    match (&entry.value.source, &entry.value.since) {
        (Some(source), Some(since)) => {
            let named = source.get_ref();
            if sources.iter().all(|known| known.id != *named) {
                let what = format!(
                    "the source `{named}` is not in sources.toml: add it there, or name one that is."
                );
                faults.at(entry.at(source), what);
            }
            date(since.get_ref(), entry.at(since), faults);
        }
        (Some(source), None) => {
            faults.at(entry.at(source), "a source wants a `since`: the day it was entered.")
        }
        (None, Some(since)) => {
            faults.at(entry.at(since), "a `since` wants a `source`: name one from sources.toml.")
        }
        (None, None) => {}
    }
}

fn add<'f>(
    entry: Entry<'f, TopicEntry>,
    read: &mut BTreeMap<TopicId, Entry<'f, Topic>>,
    faults: &mut Faults,
) {
    let id = entry.value.id.get_ref();
    match TopicId::from_key(id) {
        None => faults.at(entry.at(&entry.value.id), format!("there is no topic `{id}`: mend its id.")),
        Some(known) if read.contains_key(&known) => {
            faults.at(entry.at(&entry.value.id), format!("`{id}` is there already: keep one."));
        }
        Some(known) => {
            let place = entry.place;
            read.insert(known, Entry { value: topic(known, entry.value), place });
        }
    }
}

fn read_words(document: &mut Document<'_>, vocabulary: &mut Vocabulary, faults: &mut Faults) {
    type Lists = BTreeMap<String, Vec<String>>;
    type Pairs = BTreeMap<String, String>;
    let lists: [(&str, &mut Vec<String>); 4] = [
        ("fillers", &mut vocabulary.fillers),
        ("openers", &mut vocabulary.openers),
        ("joiners", &mut vocabulary.joiners),
        ("ordinary", &mut vocabulary.ordinary),
    ];
    for (key, list) in lists {
        if let Some(text) = document.entry::<String>(key, "list of words", faults) {
            *list = words(&text.value);
        }
    }
    if let Some(read) = document.entry::<Vec<String>>("begins", "list of pairs of words", faults) {
        vocabulary.begins = read.value;
    }
    if let Some(read) = document.entry::<Pairs>("words", "list of words", faults) {
        vocabulary.words = read.value.into_iter().map(|(word, synonyms)| (word, words(&synonyms))).collect();
    }
    if let Some(read) = document.entry::<Lists>("phrases", "list of phrases", faults) {
        vocabulary.phrases = read.value.into_iter().collect();
    }
    if let Some(read) = document.entry::<Pairs>("slips", "list of slips", faults) {
        vocabulary.slips = read.value.into_iter().collect();
    }
    if let Some(read) = document.entry::<BTreeMap<char, String>>("emoji", "list of pictures", faults) {
        vocabulary.emoji = read.value.into_iter().collect();
    }
}

/// Reads phrasings by topic, one a line.
fn read_heard(document: &mut Document<'_>, heard: &mut BTreeMap<TopicId, Vec<String>>, faults: &mut Faults) {
    type Lines = BTreeMap<Spanned<String>, String>;
    let Some(read) = document.entry::<Lines>("heard_as", "list of phrasings", faults) else { return };
    for (id, lines) in &read.value {
        match TopicId::from_key(id.get_ref()) {
            Some(known) => heard.entry(known).or_default().extend(lines.lines().map(str::to_owned)),
            None => {
                faults.at(read.at(id), format!("there is no topic `{id}`: mend its id.", id = id.get_ref()));
            }
        }
    }
}

fn topic(id: TopicId, entry: TopicEntry) -> Topic {
    Topic {
        id,
        example: entry.example,
        overrules: entry.overrules,
        sure: entry.sure,
        likely: entry.likely,
        danger: entry.danger,
        handover: entry.handover.map(Handover::from),
        hands_on: entry.hands_on,
        hands_on_to: entry.hands_on_to.map(Handover::from),
        source: entry.source.map(Spanned::into_inner),
        since: entry.since.map(Spanned::into_inner),
        whole: entry.whole,
        asked_as: entry.asked_as,
        heard_as: Vec::new(),
    }
}

fn words(text: &str) -> Vec<String> {
    text.split_whitespace().map(str::to_owned).collect()
}
