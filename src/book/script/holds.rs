//! Reads `topics/holds.toml`: what each stop answers while it holds.

use serde::Deserialize;
use toml::Spanned;

use super::super::document::{Document, Entry};
use super::super::fault::{Faults, Place};
use super::super::files::BookFile;
use super::super::writing::meant;
use crate::conversation::holds::{Hold, HoldAnswer};
use crate::conversation::pattern::Pattern;

/// The file they stand in.
pub(in super::super) const FILE: &str = "topics/holds.toml";

/// The holds, and where each stands, in the same order.
pub(in super::super) struct HoldsRead<'f> {
    pub(in super::super) holds: Vec<Hold>,
    /// Words that tell nothing.
    pub(in super::super) tells_nothing: Vec<Pattern>,
    pub(in super::super) places: Vec<Place<'f>>,
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
pub(in super::super) fn read<'f>(
    files: &'f [BookFile],
    stops: &[&str],
    check_patterns: bool,
    faults: &mut Faults,
) -> HoldsRead<'f> {
    let mut read = HoldsRead { holds: Vec::new(), tells_nothing: Vec::new(), places: Vec::new() };
    for file in files.iter().filter(|file| file.name == FILE) {
        let mut document = Document::open(file, faults);
        if let Some(entry) =
            document.entry::<Vec<Spanned<String>>>("tells_nothing", "list of patterns", faults)
        {
            let written = entry.value.iter();
            read.tells_nothing =
                written.map(|words| pattern(words, entry.at(words), check_patterns, faults)).collect();
        }
        for entry in document.entries::<HoldEntry>("hold", "hold", faults) {
            read.holds.push(hold(&entry, stops, check_patterns, faults));
            read.places.push(entry.place);
        }
        document.close("`tells_nothing = …` and `[[hold]]`", faults);
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

/// A pattern as written, checked where that is wanted.
fn pattern(written: &Spanned<String>, place: Place<'_>, check: bool, faults: &mut Faults) -> Pattern {
    let pattern = Pattern::new(written.get_ref());
    if check && pattern.fault().is_some() {
        let what = format!(
            "`{}` is no pattern: check its brackets, or put a \\\\ before a sign that stands for itself.",
            written.get_ref()
        );
        faults.at(place, what);
    }
    pattern
}
