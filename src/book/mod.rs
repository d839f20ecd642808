//! The adviser's book: reads and checks `dialogs/`, file for file, into the pure types of roofing and
//! conversation.
//!
//! Nothing else reads authored data. A book is checked whole: every fault is named with its file and line and
//! what to do about it, and a book with a fault is no book. The shipped one is part of the program, so that it
//! runs from anywhere.

mod catalogue;
mod danger;
mod describe;
mod document;
mod fault;
mod files;
mod goods;
mod heard;
mod learning;
mod rules;
mod script;
pub mod topics;
mod words;
mod writing;

use std::path::Path;

use crate::conversation::ears::asked::Asks;
use crate::conversation::ears::{Hearing, Make};
use crate::conversation::script::Script;
use crate::conversation::understanding::Topics;
use crate::conversation::wording::Words;
use crate::roofing::catalogue::Covering;
use crate::roofing::handbook::{Handbook, Version};
use crate::units::Day;

pub use describe::describe;
pub use fault::Fault;
pub use files::BookFile;
pub use heard::LEARNED;
pub use learning::{Lately, learn, messages};

use fault::Faults;
use script::{hearing, holds};

/// All that the adviser decides: rules, goods, questions and sentences.
#[derive(Debug)]
pub struct Book {
    /// The rules and the catalogue once every dated entry has taken over. A chat goes by [`Book::on`].
    pub handbook: Handbook,
    /// What is in force from which day on, the earliest first.
    editions: Vec<Edition>,
    /// The questions.
    pub script: Script,
    /// The sentences.
    pub words: Words,
    /// What tells this book from every other: the SHA-256 of its files, in hexadecimal.
    pub version: String,
    /// What can be asked.
    pub topics: Topics,
    /// What people's words mean, by language.
    pub hearing: Hearing,
    /// How figures are put to the bot.
    pub asks: Asks,
}

/// A handbook and the day it is in force from; `None` is from the beginning.
type Edition = (Option<Day>, Handbook);

/// What the names of a book's files start with.
const PARTS: [&str; 9] = [
    "rules/",
    "catalogue/",
    "topics/",
    "heard/",
    "danger/",
    "words/",
    "hearing/",
    "script.toml",
    "sources.toml",
];

impl Book {
    /// The rules and the catalogue that are in force on a day.
    pub fn on(&self, day: Day) -> &Handbook {
        let begun = self.editions.iter().rev().find(|(since, _)| since.is_none_or(|since| since <= day));
        begun.map_or(&self.handbook, |(_, handbook)| handbook)
    }

    /// The language to speak of a covering in: its own variant of one, where the book has that.
    pub fn language<'b>(&'b self, language: &'b str, covering: Option<&Covering>) -> &'b str {
        let wording = covering.and_then(|covering| covering.wording.as_deref());
        let variant = wording.map(|wording| format!("{language}-{wording}"));
        let known = variant.and_then(|variant| self.words.languages().find(|known| *known == variant));
        known.unwrap_or(language)
    }

    /// Reads the book in a folder and checks it whole.
    ///
    /// # Errors
    /// Every fault of the book, in the order of files and lines.
    pub fn load(dir: &Path) -> Result<Self, Vec<Fault>> {
        let files = files::read_folder(dir).map_err(|error| {
            let what = format!("the book cannot be read: {error}. A book is a copy of the folder `dialogs`.");
            vec![Fault { file: dir.display().to_string(), line: 1, what }]
        })?;
        Self::read(&dir.display().to_string(), &files, true)
    }

    /// The book that is part of the program.
    ///
    /// # Panics
    /// Never in a program whose tests passed: they read this very text.
    #[expect(
        clippy::panic,
        reason = "it is the program's own text, and tests/book/dialogs.rs holds that it is whole"
    )]
    pub fn shipped() -> Self {
        // Its patterns are checked by that test, so that starting does not wait for them.
        Self::read("dialogs", &files::shipped(), false).unwrap_or_else(|faults| panic!("{faults:?}"))
    }

    fn read(folder: &str, files: &[BookFile], check_patterns: bool) -> Result<Self, Vec<Fault>> {
        let mut found = Faults::of(folder);
        let faults = &mut found;
        for stray in files.iter().filter(|file| !PARTS.iter().any(|part| file.name.starts_with(part))) {
            let what = "no part of a book is called so: move it to rules/, catalogue/, topics/, heard/en/, danger/, \
                        hearing/en/ or words/en/.";
            faults.missing_from(&stray.name, what);
        }
        let rules = rules::read(files, faults);
        let goods = catalogue::read(files, faults);
        let catalogue = goods.as_ref().map(|read| &read.catalogue);
        let mut script = script::read(files, catalogue, faults);
        let stops = rules.stops();
        let holds = holds::read(files, &stops, check_patterns, faults);
        let words = words::read(files, faults);
        let editions = editions(&rules, goods.as_ref(), &script, &words, files, faults);
        words.check_holds(&holds, faults);
        script.script.holds = holds.holds;
        script.script.tells_nothing = holds.tells_nothing;
        let topic_files = topics::files_of(files);
        let hearing = ears_of(files, check_patterns, faults);
        let mut faults = found.into_sorted();
        let topics = if check_patterns {
            match topics::read_topics(&topic_files, &rules.sources) {
                Ok(understander) => Some(Topics::new(move || understander.clone())),
                Err(found) => {
                    faults.extend(found);
                    None
                }
            }
        } else {
            let sources = rules.sources.clone();
            Some(Topics::new(move || topics::read_checked(&topic_files, &sources)))
        };
        let asks = if check_patterns {
            match topics::asking::read(files) {
                Ok(lexicon) => Some(Asks::new(move || lexicon.clone())),
                Err(found) => {
                    faults.extend(found);
                    None
                }
            }
        } else {
            let asking: Vec<BookFile> =
                files.iter().filter(|file| file.name == topics::asking::FILE).cloned().collect();
            Some(Asks::new(move || topics::asking::read_checked(&asking)))
        };
        match editions.last().cloned().zip(topics).zip(asks) {
            Some((((_, handbook), topics), asks)) if faults.is_empty() => Ok(Self {
                handbook,
                editions,
                script: script.script,
                words: words.words,
                version: files::fingerprint(files),
                topics,
                hearing,
                asks,
            }),
            Some(_) | None => Err(faults),
        }
    }
}

/// The ears of every language. English must be whole; another that is not is named, and not offered.
fn ears_of(files: &[BookFile], check: bool, faults: &mut Faults) -> Hearing {
    let languages = hearing::languages(files);
    if !languages.contains_key("en") {
        faults.missing_from(
            "hearing/en",
            "there are no English ears: every other language falls back on them.",
        );
    }
    let ears = languages.into_iter().map(|(tag, files)| {
        let lacking = match (check, tag.as_str()) {
            (false, "en") => 0,
            (true, "en") => {
                hearing::check(&files, true, faults);
                0
            }
            (_, _) => {
                hearing::check(&files, false, faults);
                hearing::lacking(&files).len()
            }
        };
        let make: Make = Box::new(move || hearing::ears(&files));
        (tag, make, lacking)
    });
    Hearing::new(ears.collect::<Vec<_>>())
}

/// The handbook of every stretch of time; whatever is in force on any day must be whole.
fn editions(
    rules: &rules::AllRules<'_>,
    goods: Option<&catalogue::CatalogueRead<'_>>,
    script: &script::ScriptRead<'_>,
    words: &words::WordsRead<'_>,
    files: &[BookFile],
    faults: &mut Faults,
) -> Vec<Edition> {
    let planned = files::fingerprint_of_plans(files);
    let mut editions: Vec<Edition> = Vec::new();
    for day in rules.editions() {
        let read = rules.on(day, faults);
        script::check_safety(script, &read.book, faults);
        words.check(&read, goods, script, faults);
        let Some(goods) = goods else { continue };
        let sheets: Vec<&str> = goods.catalogue.sheets.iter().map(|sheet| sheet.item.id.as_str()).collect();
        rules::bands::check(&read, &goods.catalogue.coverings, &sheets, faults);
        goods::check(goods, &read.book, faults);
        let fingerprint = day.map_or_else(|| planned.clone(), |day| files::fingerprint_on(&planned, day));
        let version = Version::of_book(fingerprint);
        let catalogue = goods.catalogue.clone();
        editions.push((day, Handbook { rules: read.book, catalogue, version }));
    }
    editions
}
