//! Reads `topics/holds.toml`: what each stop answers while it holds.

use serde::Deserialize;
use toml::Spanned;

use super::document::{Document, Entry};
use super::fault::{Faults, Place};
use super::files::BookFile;
use super::script::pattern;
use super::writing::meant;
use crate::conversation::holds::{Hold, HoldAnswer};
use crate::conversation::script::Pattern;

/// The file they stand in.
pub(super) const FILE: &str = "topics/holds.toml";

/// The holds, and where each stands, in the same order.
pub(super) struct HoldsRead<'f> {
    pub(super) holds: Vec<Hold>,
    /// Words that say that everybody is all right again.
    pub(super) all_right: Vec<Pattern>,
    pub(super) places: Vec<Place<'f>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct HoldEntry {
    rules: Vec<Spanned<String>>,
    recalled: String,
    #[serde(default)]
    answer: Vec<AnswerEntry>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct AnswerEntry {
    says: String,
    #[serde(default)]
    corrects: bool,
    #[serde(default)]
    words: Vec<Spanned<String>>,
    asked_as: Vec<String>,
}

/// Reads the holds, and notes every stop that has none.
pub(super) fn read<'f>(
    files: &'f [BookFile],
    stops: &[&str],
    check_patterns: bool,
    faults: &mut Faults,
) -> HoldsRead<'f> {
    let mut read = HoldsRead { holds: Vec::new(), all_right: Vec::new(), places: Vec::new() };
    for file in files.iter().filter(|file| file.name == FILE) {
        let mut document = Document::open(file, faults);
        if let Some(entry) = document.entry::<Vec<Spanned<String>>>("all_right", "list of patterns", faults) {
            let written = entry.value.iter();
            read.all_right =
                written.map(|words| pattern(words, entry.at(words), check_patterns, faults)).collect();
        }
        for entry in document.entries::<HoldEntry>("hold", "hold", faults) {
            read.holds.push(hold(&entry, stops, check_patterns, faults));
            read.places.push(entry.place);
        }
        document.close("`all_right = …` and `[[hold]]`", faults);
    }
    for stop in stops {
        if read.holds.iter().all(|hold| hold.rules.iter().all(|rule| rule != stop)) {
            let what = format!("nothing says what the stop `{stop}` answers: add it to a [[hold]].");
            faults.missing_from(FILE, what);
        }
    }
    read
}

fn hold(entry: &Entry<'_, HoldEntry>, stops: &[&str], check_patterns: bool, faults: &mut Faults) -> Hold {
    let written = &entry.value;
    for rule in &written.rules {
        if stops.iter().all(|stop| stop != rule.get_ref()) {
            let meant = meant(rule.get_ref(), stops.iter().copied());
            faults.at(entry.at(rule), format!("`{}` is no rule that stops a plan. {meant}", rule.get_ref()));
        }
    }
    let answers = written.answer.iter().map(|answer| {
        let words = answer.words.iter().map(|words| pattern(words, entry.at(words), check_patterns, faults));
        HoldAnswer {
            says: answer.says.clone(),
            corrects: answer.corrects,
            words: words.collect(),
            asked_as: answer.asked_as.clone(),
        }
    });
    let answers = answers.collect();
    let rules = written.rules.iter().map(|rule| rule.get_ref().clone());
    Hold::new(rules.collect(), written.recalled.clone(), answers)
}
