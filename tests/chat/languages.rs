//! Language is data: no English for free text stands in `src/`, a folder is a language, and one that is not whole is
//! named and not offered.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use lapwise::book::{Book, describe};
use lapwise::roofing::roof::{FactKey, FactKind};
use regex::Regex;

fn files_below(dir: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(dir).unwrap().map(|entry| entry.unwrap().path());
    let (dirs, mut files): (Vec<PathBuf>, Vec<PathBuf>) = entries.partition(|path| path.is_dir());
    files.extend(dirs.iter().flat_map(|dir| files_below(dir)));
    files.sort();
    files
}

fn copied() -> (tempfile::TempDir, PathBuf) {
    let place = tempfile::tempdir().unwrap();
    let dir = place.path().join("dialogs");
    for file in files_below(Path::new("dialogs")) {
        let target = dir.join(file.strip_prefix("dialogs").unwrap());
        fs::create_dir_all(target.parent().unwrap()).unwrap();
        fs::copy(&file, target).unwrap();
    }
    (place, dir)
}

/// Ids that look like words: choices, and the orders of the book.
fn ids() -> BTreeSet<String> {
    let mut ids: BTreeSet<String> =
        lapwise::conversation::ears::Orders::all().into_iter().map(str::to_owned).collect();
    for fact in FactKey::ALL {
        ids.insert(fact.key().to_owned());
        if let FactKind::Choice(choices) = fact.kind() {
            ids.extend(choices.iter().map(|id| (*id).to_owned()));
        }
    }
    ids
}

#[test]
fn no_pattern_and_no_list_of_words_for_free_text_stands_in_the_conversation() {
    let list = Regex::new(r#""([a-z]+)"(?:\s*[|,]\s*"([a-z]+)")+"#).unwrap();
    let word = Regex::new(r#""([a-z]+)""#).unwrap();
    let ids = ids();
    let book = Book::shipped();
    let mut wrong = Vec::new();
    for file in files_below(Path::new("src/conversation")) {
        let name = file.display().to_string();
        // The topics' own engine reads patterns that stand in the book; the answers read figures the same way.
        let elsewhere =
            ["understanding", "answers", "/script/", "pattern.rs", "holds.rs", "asked", "steps.rs"];
        if elsewhere.iter().any(|part| name.contains(part)) {
            continue;
        }
        let text = fs::read_to_string(&file).unwrap();
        let code = text.split("#[cfg(test)]").next().unwrap_or_default();
        // Comments give examples in the language they are written in.
        let code: String =
            code.lines().filter(|line| !line.trim_start().starts_with("//")).collect::<Vec<_>>().join("\n");
        let code = code.as_str();
        if code.contains("Regex::new") {
            wrong.push(format!("{name}: a pattern"));
        }
        for found in list.find_iter(code) {
            let words: Vec<&str> =
                word.captures_iter(found.as_str()).map(|one| one.extract::<1>().1[0]).collect();
            let heard = words.iter().filter(|word| {
                let tokens = book.hearing.of("en").hear(word).tokens;
                // Symbols of units are the same in every language.
                let is_symbol = ["m", "cm", "mm", "x"].contains(word);
                !is_symbol && !ids.contains(**word) && tokens.iter().all(|token| token.known)
            });
            if heard.count() > 1 {
                wrong.push(format!("{name}: {words:?}"));
            }
        }
    }
    assert!(wrong.is_empty(), "words of a language belong into dialogs/hearing/: {wrong:#?}");
}

#[test]
fn a_folder_is_a_language_and_is_offered_once_it_is_whole() {
    let (_place, dir) = copied();
    let english = dir.join("hearing/en");
    let other = dir.join("hearing/de");
    fs::create_dir_all(&other).unwrap();
    fs::copy(english.join("talk.toml"), other.join("talk.toml")).unwrap();
    let book = Book::load(&dir).unwrap();
    assert_eq!(book.hearing.offered().collect::<Vec<_>>(), ["en"]);
    let lacking: Vec<(&str, usize)> = book.hearing.incomplete().collect();
    assert!(matches!(lacking.as_slice(), [("de", lacks)] if *lacks > 10), "{lacking:?}");
    assert!(describe(&book).contains("de is not whole yet"));
    for file in files_below(&english) {
        fs::copy(&file, other.join(file.file_name().unwrap())).unwrap();
    }
    let book = Book::load(&dir).unwrap();
    assert_eq!(book.hearing.offered().collect::<Vec<_>>(), ["de", "en"]);
}

#[test]
fn one_more_way_is_understood_at_the_next_start_and_a_bad_one_is_named_with_its_line() {
    let (_place, dir) = copied();
    let file = dir.join("hearing/en/orders.toml");
    let text = fs::read_to_string(&file).unwrap();
    fs::write(&file, format!("{text}\n[[order]]\nid = \"help\"\nways = [\"(gimme|chuck us) a hint\"]\n"))
        .unwrap();
    let book = Book::load(&dir).unwrap();
    assert!(book.hearing.of("en").lexicon().len() > Book::shipped().hearing.of("en").lexicon().len());
    fs::write(&file, format!("{text}\n[[order]]\nid = \"help\"\nways = [\"(gimme a hint\"]\n")).unwrap();
    let faults = Book::load(&dir).unwrap_err();
    let line = text.lines().count() + 4;
    let named = faults.iter().any(|fault| {
        fault.file.ends_with("hearing/en/orders.toml")
            && fault.line == line
            && fault.what.contains("is not closed")
    });
    assert!(named, "line {line}: {faults:?}");
}
