//! Reads `topics/holds.toml`: what each stop answers while it holds.

use serde::Deserialize;
use toml::Spanned;

use super::document::{Document, Entry};
use super::fault::{Faults, Place};
use super::files::BookFile;
use super::script::pattern;
use super::writing::meant;
use crate::conversation::holds::{Hold, HoldAnswer};
use crate::roofing::rules::{Effect, RuleBook};

/// The file they stand in.
pub(super) const FILE: &str = "topics/holds.toml";

/// The holds, and where each stands, in the same order.
pub(super) struct HoldsRead<'f> {
    pub(super) holds: Vec<Hold>,
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
    rules: &RuleBook,
    check_patterns: bool,
    faults: &mut Faults,
) -> HoldsRead<'f> {
    let mut read = HoldsRead { holds: Vec::new(), places: Vec::new() };
    for file in files.iter().filter(|file| file.name == FILE) {
        let mut document = Document::open(file, faults);
        for entry in document.entries::<HoldEntry>("hold", "hold", faults) {
            read.holds.push(hold(&entry, rules, check_patterns, faults));
            read.places.push(entry.place);
        }
        document.close("`[[hold]]`", faults);
    }
    for rule in rules.rules.iter().filter(|rule| rule.then.iter().any(is_stop)) {
        if read.holds.iter().all(|hold| !hold.rules.contains(&rule.id)) {
            let what = format!("nothing says what the stop `{}` answers: add it to a [[hold]].", rule.id);
            faults.missing_from(FILE, what);
        }
    }
    read
}

const fn is_stop(effect: &Effect) -> bool {
    matches!(effect, Effect::Stop(_))
}

fn hold(entry: &Entry<'_, HoldEntry>, rules: &RuleBook, check_patterns: bool, faults: &mut Faults) -> Hold {
    let written = &entry.value;
    let stops = || rules.rules.iter().filter(|rule| rule.then.iter().any(is_stop)).map(|rule| rule.id.as_str());
    for rule in &written.rules {
        if stops().all(|stop| stop != rule.get_ref()) {
            let meant = meant(rule.get_ref(), stops());
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
