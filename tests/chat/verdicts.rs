//! Figures put to the bot: each case in `tests/verdicts/` is a roof, a message, the first word of the answer and what the
//! answer must name.

#![expect(
    clippy::unwrap_used,
    clippy::print_stdout,
    reason = "a test fails by panicking, and says what it counted"
)]

use crate::support;

use std::fs;
use std::path::PathBuf;

use lapwise::book::Book;
use lapwise::conversation::understanding::Understander;
use lapwise::export::ask::{Asking, ask_json};
use lapwise::export::site::read_site;
use lapwise::roofing::roof::Facts;
use lapwise::units::UsualUnit;
use serde::Deserialize;
use support::root;
use support::topics::{book, understander};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Cases {
    /// The site file of the roof, from the top of the repository; none where nothing is known of it.
    site: Option<String>,
    case: Vec<Case>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Case {
    /// What is typed.
    says: String,
    /// What the answer begins with; "none" where it must be neither yes nor no.
    verdict: String,
    /// What it must name.
    #[serde(default)]
    names: Vec<String>,
}

/// The three roofs that strangers wrote about.
const ROOFS: [(&str, &str); 3] = [("A", "shed"), ("B", "workshop"), ("C", "bike_store")];

/// Figures that strangers put, as far as their messages may be read while mending: right in so many of a hundred.
const AT_LEAST: usize = 90;

#[test]
fn strangers_get_the_right_verdict() {
    let book = book();
    let understander = understander(&book);
    let asking = asking(&book, &understander);
    let (mut tries, mut wrong) = (0, Vec::new());
    for file in files_in("tests/heard/open") {
        let hand: toml::Value = toml::from_str(&fs::read_to_string(&file).unwrap()).unwrap();
        for asked in hand["follow_up"].as_array().unwrap() {
            let word = |key: &str| asked.get(key).and_then(toml::Value::as_str);
            let (Some(roof), Some(verdict), Some(says)) = (word("roof"), word("verdict"), word("says"))
            else {
                continue;
            };
            let site = ROOFS.iter().find(|(name, _)| *name == roof).unwrap().1;
            let said = ask_json(&asking, &roof_of(&format!("tests/verdicts/sites/{site}.toml")), says);
            let text = said["text"].as_str().unwrap();
            tries += 1;
            if !text.to_lowercase().starts_with(verdict) {
                let begins: String = text.chars().take(110).collect();
                wrong.push(format!("{roof} {says:?} wants {verdict}, got {begins:?}"));
            }
        }
    }
    println!("{} of {tries} right; wrong:\n{}", tries - wrong.len(), wrong.join("\n"));
    assert!((tries - wrong.len()) * 100 >= tries * AT_LEAST);
}

fn files_in(folder: &str) -> Vec<PathBuf> {
    let entries = fs::read_dir(root().join(folder)).unwrap();
    let paths = entries.map(|entry| entry.unwrap().path());
    let mut files: Vec<PathBuf> =
        paths.filter(|path| path.extension().is_some_and(|ending| ending == "toml")).collect();
    files.sort();
    files
}

fn roof_of(site: &str) -> Facts {
    read_site(&fs::read_to_string(root().join(site)).unwrap()).unwrap()
}

fn asking<'a>(book: &'a Book, understander: &'a Understander) -> Asking<'a> {
    Asking {
        understander,
        asks: &book.asks,
        handbook: &book.handbook,
        words: &book.words,
        language: "en",
        unit: UsualUnit::Mm,
    }
}

#[test]
fn every_figure_gets_its_verdict() {
    let book = book();
    let understander = understander(&book);
    let asking = asking(&book, &understander);
    let mut wrong = Vec::new();
    for file in files_in("tests/verdicts") {
        let cases: Cases = toml::from_str(&fs::read_to_string(&file).unwrap()).unwrap();
        let facts = cases.site.map_or_else(Facts::default, |site| roof_of(&site));
        for case in cases.case {
            let said = ask_json(&asking, &facts, &case.says);
            let text = said["text"].as_str().unwrap();
            let begins = match case.verdict.as_str() {
                "none" => !["Yes", "No:", "No "].iter().any(|word| text.starts_with(word)),
                verdict => text.starts_with(verdict),
            };
            let first: Vec<&str> = text.lines().take(3).collect();
            let named = case.names.iter().all(|name| name.split('|').any(|one| text.contains(one)));
            if !begins || !named {
                wrong.push(format!(
                    "{:?} wants {} {:?}, got {:?}",
                    case.says, case.verdict, case.names, first
                ));
            }
        }
    }
    assert!(wrong.is_empty(), "{} wrong:\n{}", wrong.len(), wrong.join("\n"));
}
