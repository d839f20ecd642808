//! Reads `danger/`: how danger is spoken of.

use std::collections::BTreeMap;

use serde::Deserialize;
use toml::Spanned;

use crate::book::document::Document;
use crate::book::fault::{Faults, Place};
use crate::book::files::BookFile;
use crate::conversation::understanding::{DangerFrame, DangerKind, DangerWeight, DangerWords, OtherLanguage};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct FramesEntry {
    kind: Spanned<String>,
    #[serde(default)]
    weight: Weight,
    says: Vec<Spanned<String>>,
}

#[derive(Clone, Copy, Debug, Default, Deserialize)]
#[serde(rename_all = "snake_case")]
enum Weight {
    Asks,
    #[default]
    Stops,
    Plain,
    Always,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Harmless {
    says: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Lowers {
    before: String,
    after: String,
    asks: String,
    turns: String,
}

#[derive(Debug, Deserialize)]
struct LanguageEntry {
    code: String,
    says: BTreeMap<String, String>,
}

/// A frame, and where it is written.
pub(in crate::book) type Placed<'f> = (String, Place<'f>);

/// How danger is spoken of, and the place of every frame.
pub(in crate::book) fn read<'f>(
    files: &'f [BookFile],
    faults: &mut Faults,
) -> (DangerWords, Vec<Placed<'f>>) {
    let mut danger = DangerWords::default();
    let mut places = Vec::new();
    let here = |file: &&BookFile| file.is_in("danger", ".toml") || file.is_in("danger/en", ".toml");
    for file in files.iter().filter(here) {
        let mut document = Document::open(file, faults);
        if let Some(read) = document.entry::<BTreeMap<String, String>>("words", "list of words", faults) {
            danger.classes.extend(read.value.into_iter().map(|(name, all)| (name, words(&all))));
        }
        for entry in document.entries::<FramesEntry>("danger", "danger", faults) {
            let Some(kind) = DangerKind::from_key(entry.value.kind.get_ref()) else {
                let what = format!("there is no danger `{}`.", entry.value.kind.get_ref());
                faults.at(entry.at(&entry.value.kind), what);
                continue;
            };
            let weight = match entry.value.weight {
                Weight::Asks => DangerWeight::Asks,
                Weight::Stops => DangerWeight::Stops,
                Weight::Plain => DangerWeight::Plain,
                Weight::Always => DangerWeight::Always,
            };
            for says in &entry.value.says {
                places.push((says.get_ref().clone(), entry.at(says)));
                danger.frames.push(DangerFrame { kind, says: says.get_ref().clone(), weight });
            }
        }
        if let Some(read) = document.entry::<Harmless>("harmless", "list of phrases", faults) {
            danger.harmless.extend(lines(&read.value.says));
        }
        if let Some(read) = document.entry::<Lowers>("lowers", "list of phrases", faults) {
            danger.lowers.extend(lines(&read.value.before));
            danger.lowers_before.extend(lines(&read.value.after));
            danger.asks.extend(words(&read.value.asks));
            danger.turns.extend(words(&read.value.turns));
        }
        for entry in document.entries::<LanguageEntry>("language", "language", faults) {
            let mut says = Vec::new();
            for (name, all) in &entry.value.says {
                match DangerKind::from_key(name) {
                    Some(kind) => says.extend(lines(all).map(|line| (kind, line))),
                    None => faults.at(entry.place, format!("there is no danger `{name}`.")),
                }
            }
            danger.elsewhere.push(OtherLanguage { code: entry.value.code, says });
        }
        document.close("how danger is spoken of", faults);
    }
    (danger, places)
}

fn words(text: &str) -> Vec<String> {
    text.split_whitespace().map(str::to_owned).collect()
}

fn lines(text: &str) -> impl Iterator<Item = String> {
    text.lines().map(str::trim).filter(|line| !line.is_empty()).map(str::to_owned)
}
