//! Reads `heard/en/`: messages with their right verdict, and what was learned from them.

use serde::Deserialize;
use toml::Spanned;

use crate::book::document::{Document, Entry};
use crate::book::fault::Faults;
use crate::book::files::BookFile;
use crate::conversation::understanding::{DangerKind, Learned, Lessons, Message, TopicId};

/// Where what was learned stands.
pub const LEARNED: &str = "heard/en/messages.learned";
/// The folder of the messages.
const FOLDER: &str = "heard/en";

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct MessageEntry {
    says: String,
    topics: Option<Vec<Spanned<String>>>,
    #[serde(default)]
    also: Vec<Spanned<String>>,
    danger: Option<Spanned<String>>,
}

/// Every kept message, in the order of files and lines.
pub(in crate::book) fn read(files: &[BookFile], faults: &mut Faults) -> Vec<Message> {
    let mut heard = Vec::new();
    for file in files.iter().filter(|file| file.is_in(FOLDER, ".toml")) {
        let mut document = Document::open(file, faults);
        let hand =
            document.entry::<String>("hand", "hand", faults).map_or_else(String::new, |hand| hand.value);
        for entry in document.entries::<MessageEntry>("message", "message", faults) {
            heard.push(message(&entry, &hand, faults));
        }
        document.close("`hand`, who wrote them, and [[message]]", faults);
    }
    heard
}

fn message(entry: &Entry<'_, MessageEntry>, hand: &str, faults: &mut Faults) -> Message {
    let mut known = |names: &[Spanned<String>]| -> Vec<TopicId> {
        let mut topics = Vec::new();
        for name in names {
            match TopicId::from_key(name.get_ref()) {
                Some(topic) => topics.push(topic),
                None => {
                    faults
                        .at(entry.at(name), format!("there is no topic `{}`: mend its id.", name.get_ref()));
                }
            }
        }
        topics
    };
    let topics = entry.value.topics.as_deref().map(&mut known);
    let also = known(&entry.value.also);
    let danger = entry.value.danger.as_ref().filter(|name| name.get_ref() != "none");
    let kind = danger.and_then(|name| {
        let kind = DangerKind::from_key(name.get_ref());
        if kind.is_none() {
            let kinds: Vec<&str> = DangerKind::ALL.iter().map(|kind| kind.key()).collect();
            let what =
                format!("there is no danger `{}`. It may be none, {}.", name.get_ref(), kinds.join(", "));
            faults.at(entry.at(name), what);
        }
        kind
    });
    Message { says: entry.value.says.clone(), topics, also, danger: kind, hand: hand.to_owned() }
}

/// A mark of the text of all messages: another one where a letter is.
pub(in crate::book) fn mark(files: &[BookFile]) -> u64 {
    let texts = files.iter().filter(|file| file.is_in(FOLDER, ".toml"));
    Lessons::mark(texts.flat_map(|file| [file.name.as_str(), file.text.as_str()]))
}

/// What was learned; a book that holds nothing learned yet knows its messages word for word.
pub(in crate::book) fn learned(files: &[BookFile], faults: &mut Faults) -> Learned {
    let Some(file) = files.iter().find(|file| file.name == LEARNED) else { return Learned::default() };
    match Learned::read(&file.text) {
        Ok(learned) => learned,
        Err(line) => {
            let what =
                format!("line {line} cannot be read: run `lapwise learn`, which writes this file anew.");
            faults.missing_from(LEARNED, what);
            Learned::default()
        }
    }
}
