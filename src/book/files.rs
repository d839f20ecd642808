//! The files of a book: read from a folder, or the shipped ones out of the program itself.

use std::fmt;
use std::fs;
use std::io;
use std::path::Path;

use data_encoding::HEXLOWER;
use sha2::{Digest, Sha256};

use crate::units::Day;

/// One file of a book.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct BookFile {
    /// Where it is, as `dialogs/rules/slope.toml`: the folder's own name first.
    pub path: String,
    /// Where it is within the book, `rules/slope.toml`.
    pub name: String,
    /// What stands in it.
    pub text: String,
}

impl BookFile {
    /// The line a byte stands on, from 1.
    pub(super) fn line_of(&self, offset: usize) -> usize {
        let before = self.text.bytes().take(offset);
        1 + before.filter(|byte| *byte == b'\n').count()
    }

    /// Whether it lies in that folder of the book and has that ending.
    pub(super) fn is_in(&self, folder: &str, ending: &str) -> bool {
        let inside = self.name.strip_prefix(folder).and_then(|rest| rest.strip_prefix('/'));
        inside.is_some_and(|rest| !rest.contains('/') && rest.ends_with(ending))
    }
}

/// The largest file of a book, in bytes.
const LARGEST_FILE: u64 = 1_000_000;
/// The largest learned file, in bytes: a program writes it, and starting waits for it.
const LARGEST_LEARNED: u64 = 4_000_000;
/// The most files of a book.
const MOST_FILES: usize = 500;

/// The folders of a book that hold files.
const FOLDERS: [&str; 6] = ["rules", "catalogue", "topics", "heard/en", "danger", "danger/en"];

/// What the names of its files end with.
const ENDINGS: [&str; 3] = ["toml", "ftl", "learned"];

/// Reads every file of a book, in the order of their names.
pub(super) fn read_folder(dir: &Path) -> io::Result<Vec<BookFile>> {
    let mut files = Vec::new();
    read_into(dir, dir, &mut files)?;
    for folder in FOLDERS {
        read_if_there(dir, &dir.join(folder), &mut files)?;
    }
    for parted_by_language in ["words", "hearing"].map(|name| dir.join(name)) {
        if !parted_by_language.is_dir() {
            continue;
        }
        for language in fs::read_dir(parted_by_language)? {
            let language = language?.path();
            if language.is_dir() {
                read_into(dir, &language, &mut files)?;
            }
        }
    }
    files.sort_by(|a, b| a.name.cmp(&b.name));
    Ok(files)
}

fn read_if_there(book: &Path, dir: &Path, files: &mut Vec<BookFile>) -> io::Result<()> {
    if dir.is_dir() { read_into(book, dir, files) } else { Ok(()) }
}

fn read_into(book: &Path, dir: &Path, files: &mut Vec<BookFile>) -> io::Result<()> {
    for entry in fs::read_dir(dir)? {
        let path = entry?.path();
        let known = path.extension().is_some_and(|ending| ENDINGS.iter().any(|known| ending == *known));
        if known && path.is_file() {
            if files.len() >= MOST_FILES {
                return Err(too_much(dir, format_args!("a book has at most {MOST_FILES} files")));
            }
            let is_learned = path.extension().is_some_and(|ending| ending == "learned");
            let most = if is_learned { LARGEST_LEARNED } else { LARGEST_FILE };
            if fs::metadata(&path)?.len() > most {
                return Err(too_much(&path, format_args!("a file of a book has at most {most} bytes")));
            }
            let within = path.strip_prefix(book).unwrap_or(&path);
            let name = within.components().map(|part| part.as_os_str().to_string_lossy()).collect::<Vec<_>>();
            let text = fs::read_to_string(&path)
                .map_err(|error| io::Error::new(error.kind(), format!("{}: {error}", path.display())))?;
            files.push(BookFile { path: path.display().to_string(), name: name.join("/"), text });
        }
    }
    Ok(())
}

fn too_much(path: &Path, limit: fmt::Arguments<'_>) -> io::Error {
    io::Error::new(io::ErrorKind::FileTooLarge, format!("{}: {limit}", path.display()))
}

/// What tells one book from every other: the SHA-256 of all its files, in hexadecimal.
pub(super) fn fingerprint(files: &[BookFile]) -> String {
    let mut hash = Sha256::new();
    for file in files {
        for part in [&file.name, &file.text] {
            hash.update(part.len().to_le_bytes());
            hash.update(part.as_bytes());
        }
    }
    HEXLOWER.encode(&hash.finalize())
}

/// What tells the part of a book that plans are made by from every other: rules, sources and goods. A changed
/// sentence changes no plan.
pub(super) fn fingerprint_of_plans(files: &[BookFile]) -> String {
    let planned = |file: &&BookFile| {
        file.is_in("rules", ".toml") || file.is_in("catalogue", ".toml") || file.name == "sources.toml"
    };
    fingerprint(&files.iter().filter(planned).cloned().collect::<Vec<_>>())
}

/// The fingerprint once dated entries have taken over.
pub(super) fn fingerprint_on(fingerprint: &str, day: Day) -> String {
    HEXLOWER.encode(&Sha256::digest(format!("{fingerprint}@{day}").as_bytes()))
}

/// The shipped files of a folder, as part of the program.
macro_rules! shipped {
    ($($name:literal),+ $(,)?) => {
        &[$(($name, include_str!(concat!("../../dialogs/", $name)))),+]
    };
}

/// Every file of the shipped book. A file that is added to `dialogs/` is added here; a test compares.
const SHIPPED: &[(&str, &str)] = shipped![
    "catalogue/boards.toml",
    "catalogue/coverings.toml",
    "catalogue/edges.toml",
    "catalogue/fixings.toml",
    "catalogue/range.toml",
    "catalogue/sheets.toml",
    "catalogue/sundries.toml",
    "catalogue/timber.toml",
    "danger/en/frames.toml",
    "danger/other-languages.toml",
    "heard/en/carpenter.toml",
    "heard/en/danger.toml",
    "heard/en/deck-and-timber.toml",
    "heard/en/edges-and-openings.toml",
    "heard/en/first-words.toml",
    "heard/en/free-messages.toml",
    "heard/en/from-chats.toml",
    "heard/en/further-matters.toml",
    "heard/en/further.toml",
    "heard/en/getting-ready.toml",
    "heard/en/grandmother.toml",
    "heard/en/handyman.toml",
    "heard/en/laps-and-nails.toml",
    "heard/en/lookalikes.toml",
    "heard/en/messages.learned",
    "heard/en/more-lookalikes.toml",
    "heard/en/near-misses.toml",
    "heard/en/off-topic.toml",
    "heard/en/office-clerk.toml",
    "heard/en/plain.toml",
    "heard/en/planning.toml",
    "heard/en/retired-nurse.toml",
    "heard/en/retired-welder.toml",
    "heard/en/scottish-labourer.toml",
    "heard/en/several.toml",
    "heard/en/short.toml",
    "heard/en/sounds-like-danger.toml",
    "heard/en/spanish-gardener.toml",
    "heard/en/storyteller.toml",
    "heard/en/strangers-one.toml",
    "heard/en/strangers-two.toml",
    "heard/en/talk.toml",
    "heard/en/weather-and-safety.toml",
    "heard/en/welsh-driver.toml",
    "heard/en/yorkshire-pupil.toml",
    "heard/en/young-gardener.toml",
    "hearing/en/asking.toml",
    "hearing/en/facts.toml",
    "hearing/en/orders.toml",
    "hearing/en/plain-words.toml",
    "hearing/en/safe.toml",
    "hearing/en/talk.toml",
    "hearing/en/things.toml",
    "hearing/en/work.toml",
    "rules/checks.toml",
    "rules/deck.toml",
    "rules/doubt.toml",
    "rules/edges.toml",
    "rules/fixing.toml",
    "rules/leaflets.toml",
    "rules/pace.toml",
    "rules/practice.toml",
    "rules/safety.toml",
    "rules/slope.toml",
    "rules/spares.toml",
    "rules/sundries.toml",
    "rules/timber.toml",
    "script.toml",
    "sources.toml",
    "topics/choosing-and-fetching.toml",
    "topics/danger.toml",
    "topics/deck-and-timber.toml",
    "topics/edges-and-openings.toml",
    "topics/holds.toml",
    "topics/keeping-the-roof.toml",
    "topics/laps-and-nails.toml",
    "topics/people-and-seasons.toml",
    "topics/talk.toml",
    "topics/vocabulary.toml",
    "topics/weather-and-people.toml",
    "words/en/book.ftl",
    "words/en/checks.ftl",
    "words/en/conversation.ftl",
    "words/en/danger.ftl",
    "words/en/drawing.ftl",
    "words/en/holds.ftl",
    "words/en/pack.ftl",
    "words/en/plan.ftl",
    "words/en/reading.ftl",
    "words/en/report.ftl",
    "words/en/script.ftl",
    "words/en/sharing.ftl",
    "words/en/topics.ftl",
    "words/en/verdicts.ftl",
    "words/en/web.ftl",
    "words/en/work.ftl",
];

/// The files of the shipped book, in the order of their names.
pub(super) fn shipped() -> Vec<BookFile> {
    let file = |(name, text): &(&str, &str)| BookFile {
        path: format!("dialogs/{name}"),
        name: (*name).to_owned(),
        text: (*text).to_owned(),
    };
    let mut files: Vec<BookFile> = SHIPPED.iter().map(file).collect();
    files.sort_by(|a, b| a.name.cmp(&b.name));
    files
}
