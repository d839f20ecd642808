//! Figures put to the bot: each case in `tests/verdicts/` is a roof, a message, the first word of the answer and what the
//! answer must name.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

mod support;

use std::fs;

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

#[test]
fn every_figure_gets_its_verdict() {
    let book = book();
    let understander = understander(&book);
    let asking = Asking {
        understander: &understander,
        asks: &book.asks,
        handbook: &book.handbook,
        words: &book.words,
        language: "en",
        unit: UsualUnit::Mm,
    };
    let mut wrong = Vec::new();
    let mut files: Vec<_> =
        fs::read_dir(root().join("tests/verdicts")).unwrap().map(|entry| entry.unwrap().path()).filter(|path| path.is_file()).collect();
    files.sort();
    for file in files {
        let cases: Cases = toml::from_str(&fs::read_to_string(&file).unwrap()).unwrap();
        let facts = cases.site.map_or_else(Facts::default, |site| {
            let text = fs::read_to_string(root().join(site)).unwrap();
            read_site(&text).unwrap()
        });
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
                wrong.push(format!("{:?} wants {} {:?}, got {:?}", case.says, case.verdict, case.names, first));
            }
        }
    }
    assert!(wrong.is_empty(), "{} wrong:\n{}", wrong.len(), wrong.join("\n"));
}
