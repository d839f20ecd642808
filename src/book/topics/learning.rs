//! Learning from a book's messages, and what has been added to them since.

use std::path::Path;

use crate::book::fault::{Fault, Faults};
use crate::book::files::{self, BookFile};
use crate::book::rules;
use crate::book::topics::{self, heard};
use crate::conversation::understanding::{Lessons, Message, TopicId, Understander};

/// What was added to a book's messages since it last learned, and what that changes.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Lately {
    /// The messages that nothing was learned from yet, as they were typed.
    pub added: Vec<String>,
    /// Messages that are now taken for another topic than before: as typed, before, now.
    pub confused: Vec<(String, TopicId, TopicId)>,
    /// Whether the whole should be learned anew: words are read otherwise, or messages were taken out.
    pub outdated: bool,
}

impl Lately {
    /// Whether there is nothing to say.
    pub fn is_nothing(&self) -> bool {
        self.added.is_empty() && !self.outdated
    }

    /// What was added to a book.
    ///
    /// # Errors
    /// Every fault of its messages and topics.
    pub fn of(dir: &Path) -> Result<Self, Vec<Fault>> {
        let (files, understander, messages) = open(dir)?;
        if understander.has_learned(heard::mark(&files)) {
            return Ok(Self::default());
        }
        let before = understander.clone().knowing(&[]);
        let added: Vec<String> =
            messages.iter().filter(|one| !before.has_learned_from(one)).map(|one| one.says.clone()).collect();
        let first = |by: &Understander, message: &Message| {
            by.without_kept(&message.says).topics.first().map(|hit| hit.topic)
        };
        let learned = messages.iter().filter(|message| before.has_learned_from(message));
        let confused = learned.filter_map(|message| {
            let (was, is) = (first(&before, message)?, first(&understander, message)?);
            (was != is).then(|| (message.says.clone(), was, is))
        });
        Ok(Self { confused: confused.collect(), outdated: added.is_empty(), added })
    }
}

/// The messages of a book.
///
/// # Errors
/// Every fault of its messages and topics.
pub fn messages(dir: &Path) -> Result<Vec<Message>, Vec<Fault>> {
    open(dir).map(|(_, _, messages)| messages)
}

/// Learns from the messages of a book: what its learned file ([`crate::book::LEARNED`]) holds, and how hands that were
/// held out were understood.
///
/// # Errors
/// Every fault of its messages and topics.
pub fn learn(dir: &Path) -> Result<Lessons, Vec<Fault>> {
    let (files, understander, messages) = open(dir)?;
    Ok(Lessons::learn(&understander, &messages, heard::mark(&files)))
}

fn open(dir: &Path) -> Result<(Vec<BookFile>, Understander, Vec<Message>), Vec<Fault>> {
    let files = files::read_folder(dir).map_err(|error| {
        let what = format!("the book cannot be read: {error}. A book is a copy of the folder `dialogs`.");
        vec![Fault { file: dir.display().to_string(), line: 1, what }]
    })?;
    let mut faults = Faults::of(dir.display().to_string());
    let sources = rules::read(&files, &mut faults).sources;
    let messages = heard::read(&files, &mut faults);
    let faults = faults.into_sorted();
    if !faults.is_empty() {
        return Err(faults);
    }
    // What cannot be read of the last learning is learned anew.
    let kept = files.iter().filter(|file| file.name != heard::LEARNED).cloned().collect::<Vec<_>>();
    let understander =
        topics::read_topics(&files, &sources).or_else(|_| topics::read_topics(&kept, &sources))?;
    Ok((files, understander, messages))
}
