//! Reads `topics/`: what may be asked, and how words are read; and makes all that understands messages ready.

pub(super) mod asking;

use std::collections::BTreeMap;

use serde::Deserialize;
use toml::Spanned;

use super::document::{Document, Entry};
use super::fault::{Fault, Faults};
use super::files::BookFile;
use super::writing::date;
use super::{danger, heard, holds};
use crate::conversation::understanding::{Topic, TopicId, Understander, Vocabulary};
use crate::roofing::rules::{Handover, Source};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct TopicEntry {
    id: Spanned<String>,
    example: String,
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

/// The files that say how messages are understood.
pub(super) fn files_of(files: &[BookFile]) -> Vec<BookFile> {
    let part =
        |file: &BookFile| ["topics/", "heard/", "danger/"].iter().any(|part| file.name.starts_with(part));
    files.iter().filter(|file| part(file) && file.name != holds::FILE).cloned().collect()
}

/// Reads the topics out of their files, how danger is spoken of and what was learned (see
/// [`Book`](super::Book)), and makes them ready to understand messages.
///
/// # Errors
/// Every fault found: an unknown, doubled or missing topic, a frame that is none, a learned file that cannot be read.
pub fn read_topics(files: &[BookFile], sources: &[Source]) -> Result<Understander, Vec<Fault>> {
    let mut faults = Faults::of("dialogs");
    let mut vocabulary = Vocabulary::default();
    let mut read: BTreeMap<TopicId, Entry<'_, Topic>> = BTreeMap::new();
    for file in files.iter().filter(|file| file.is_in("topics", ".toml") && file.name != holds::FILE) {
        let mut document = Document::open(file, &mut faults);
        for entry in document.entries::<TopicEntry>("topic", "topic", &mut faults) {
            check_source(&entry, sources, &mut faults);
            add(entry, &mut read, &mut faults);
        }
        read_words(&mut document, &mut vocabulary, &mut faults);
        document.close("topics, or how words are read", &mut faults);
    }
    for missing in TopicId::ALL.iter().filter(|id| !read.contains_key(id)) {
        faults.missing_from("topics", format!("nothing is said of `{}`: add it.", missing.key()));
    }
    let topics = read.into_values().map(|entry| entry.value).collect();
    let (dangers, frames) = danger::read(files, &mut faults);
    let learned = heard::learned(files, &mut faults);
    let understander = match Understander::new(topics, vocabulary, &dangers, learned) {
        Ok(understander) => Some(understander),
        Err(bad) => {
            for frame in bad {
                let place = frames.iter().find(|(says, _)| *says == frame.says).map(|(_, place)| *place);
                place
                    .into_iter()
                    .for_each(|place| faults.at(place, format!("{}: mend the frame.", frame.what)));
            }
            None
        }
    };
    // What was learned from the very text knows its messages already.
    let understander = understander.map(|understander| {
        if understander.has_learned(heard::mark(files)) {
            return understander;
        }
        understander.knowing(&heard::read(files, &mut faults))
    });
    let faults = faults.into_sorted();
    understander.filter(|_| faults.is_empty()).ok_or(faults)
}

/// Reads topics that a test has checked: those that are part of the program.
///
/// # Panics
/// Never in a program whose tests passed: they read this very text.
#[expect(
    clippy::panic,
    reason = "it is the program's own text, and tests/chat/understanding.rs reads it whole"
)]
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
    let lists: [(&str, &mut Vec<String>); 3] = [
        ("fillers", &mut vocabulary.fillers),
        ("openers", &mut vocabulary.openers),
        ("joiners", &mut vocabulary.joiners),
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

fn topic(id: TopicId, entry: TopicEntry) -> Topic {
    Topic {
        id,
        example: entry.example,
        handover: entry.handover.map(Handover::from),
        hands_on: entry.hands_on,
        hands_on_to: entry.hands_on_to.map(Handover::from),
        source: entry.source.map(Spanned::into_inner),
        since: entry.since.map(Spanned::into_inner),
        whole: entry.whole,
        asked_as: entry.asked_as,
    }
}

fn words(text: &str) -> Vec<String> {
    text.split_whitespace().map(str::to_owned).collect()
}
