//! Reads `hearing/<language>/asking.toml`: how people put a figure to the bot.

use std::collections::BTreeMap;

use serde::Deserialize;
use toml::Spanned;

use crate::book::document::{Document, Entry};
use crate::book::fault::{Fault, Faults, Place};
use crate::book::files::BookFile;
use crate::book::writing::meant;
use crate::conversation::ears::asked::{self, Joining, Kind, Lexicon, Of, Pattern, Sense, Subject};

/// Where the English one stands.
pub(in crate::book) const FILE: &str = "hearing/en/asking.toml";

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct UnitEntry {
    of: Spanned<String>,
    one: i64,
    words: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct RewriteEntry {
    from: Spanned<String>,
    to: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct JoiningEntry {
    between: String,
    minus: String,
    ratio: String,
    by: String,
    apart: String,
    never_inch: String,
    ordinal: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct OneEntry {
    before: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct PatternEntry {
    pattern: Spanned<String>,
    unless: Option<Spanned<String>>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct SenseEntry {
    is: Spanned<String>,
    pattern: Spanned<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct SubjectEntry {
    is: Spanned<String>,
    kinds: Spanned<String>,
    nouns: Spanned<String>,
}

/// Reads it whole.
///
/// # Errors
/// Every fault found, each pattern that is none among them.
pub(in crate::book) fn read(files: &[BookFile]) -> Result<Lexicon, Vec<Fault>> {
    let mut faults = Faults::of("dialogs");
    let read = files.iter().find(|file| file.name == FILE).map(|file| read_file(file, &mut faults));
    if read.is_none() {
        faults.missing_from(FILE, "nothing says how people put a figure: add it.");
    }
    let faults = faults.into_sorted();
    read.flatten().filter(|_| faults.is_empty()).ok_or(faults)
}

/// Reads what a test has checked: the words that are part of the program.
///
/// # Panics
/// Never in a program whose tests passed: they read this very text.
#[expect(
    clippy::panic,
    reason = "it is the program's own text, and tests/book/dialogs.rs holds that it is whole"
)]
pub(in crate::book) fn read_checked(files: &[BookFile]) -> Lexicon {
    read(files).unwrap_or_else(|faults| panic!("{faults:?}"))
}

fn read_file(file: &BookFile, faults: &mut Faults) -> Option<Lexicon> {
    let mut document = Document::open(file, faults);
    let numbers = table(&mut document, "numbers", faults);
    let parts = table(&mut document, "parts", faults);
    let units = document.entries::<UnitEntry>("unit", "unit", faults);
    let rewrites = document.entries::<RewriteEntry>("rewrite", "rewriting", faults);
    let joining = document.entry::<JoiningEntry>("joining", "list of words", faults);
    let one = document.entry::<OneEntry>("one", "list of words", faults);
    let named = ["weather", "slope", "heavy", "asking", "edge", "divides", "elsewhere"]
        .map(|key| document.entry::<PatternEntry>(key, "pattern", faults));
    let open = document.entry::<PatternEntry>("open", "pattern", faults);
    let senses = document.entries::<SenseEntry>("sense", "sense", faults);
    let subjects = document.entries::<SubjectEntry>("subject", "subject", faults);
    let [weather, slope, heavy, asking, edge, divides, elsewhere] =
        named.map(|entry| entry.and_then(|entry| of_words(&entry, faults)));
    let split = document.entry::<PatternEntry>("split", "pattern", faults);
    let quoted = document.entry::<PatternEntry>("quoted", "pattern", faults);
    document.close("what its head says", faults);
    let unless = open.as_ref().and_then(|entry| Some((entry, entry.value.unless.as_ref()?)));
    let unless = unless.and_then(|(entry, unless)| pattern(unless.get_ref(), entry.at(unless), faults));
    Some(Lexicon {
        numbers,
        parts,
        units: units.iter().flat_map(|entry| unit(entry, faults)).collect(),
        rewrites: rewrites.iter().filter_map(|entry| rewrite(entry, faults)).collect(),
        joining: joining.map(|entry| words_of(entry.value)).unwrap_or_default(),
        one_before: one.map(|entry| words(&entry.value.before)).unwrap_or_default(),
        weather: weather?,
        slope: slope?,
        heavy: heavy?,
        edge: edge?,
        divides: divides?,
        elsewhere: elsewhere?,
        split: split.and_then(|entry| pattern(entry.value.pattern.get_ref(), entry.place, faults))?,
        quoted: quoted.and_then(|entry| pattern(entry.value.pattern.get_ref(), entry.place, faults))?,
        open: open.and_then(|entry| pattern(entry.value.pattern.get_ref(), entry.place, faults))?,
        unless: unless?,
        asking: asking?,
        senses: senses.iter().filter_map(|entry| sense(entry, faults)).collect(),
        subjects: subjects.iter().filter_map(|entry| subject(entry, faults)).collect(),
    })
}

fn table(document: &mut Document<'_>, key: &str, faults: &mut Faults) -> BTreeMap<String, i64> {
    document
        .entry::<BTreeMap<String, i64>>(key, "list of numbers", faults)
        .map(|entry| entry.value)
        .unwrap_or_default()
}

fn words(text: &str) -> Vec<String> {
    text.split_whitespace().map(str::to_owned).collect()
}

fn words_of(entry: JoiningEntry) -> Joining {
    Joining {
        between: entry.between,
        minus: entry.minus,
        ratio: entry.ratio,
        by: words(&entry.by),
        apart: words(&entry.apart),
        never_inch: words(&entry.never_inch),
        ordinal: words(&entry.ordinal),
    }
}

/// A pattern whose every word is a whole one.
fn of_words(entry: &Entry<'_, PatternEntry>, faults: &mut Faults) -> Option<Pattern> {
    whole_words(entry.value.pattern.get_ref(), entry.at(&entry.value.pattern), faults)
}

fn whole_words(text: &str, place: Place<'_>, faults: &mut Faults) -> Option<Pattern> {
    // A question mark is no word, and stands without an edge.
    let with_edges = text
        .strip_prefix(r"\?|")
        .map_or_else(|| format!(r"\b(?:{text})\b"), |rest| format!(r"\?|\b(?:{rest})\b"));
    pattern(&with_edges, place, faults)
}

fn pattern(text: &str, place: Place<'_>, faults: &mut Faults) -> Option<Pattern> {
    match asked::pattern(text) {
        Ok(pattern) => Some(pattern),
        Err(error) => {
            faults.at(place, format!("this pattern cannot be used: {error}."));
            None
        }
    }
}

fn unit(entry: &Entry<'_, UnitEntry>, faults: &mut Faults) -> Vec<(String, (Of, i64))> {
    let named = entry.value.of.get_ref();
    let Some((of, _)) = Of::ALL.iter().find(|(_, key)| key == named) else {
        let meant = meant(named, Of::ALL.iter().map(|(_, key)| *key));
        faults.at(entry.at(&entry.value.of), format!("nothing is measured in `{named}`. {meant}"));
        return Vec::new();
    };
    words(&entry.value.words).into_iter().map(|word| (word, (*of, entry.value.one))).collect()
}

fn rewrite(entry: &Entry<'_, RewriteEntry>, faults: &mut Faults) -> Option<(Pattern, String)> {
    let from = format!(r"\b{}", entry.value.from.get_ref());
    pattern(&from, entry.at(&entry.value.from), faults).map(|from| (from, entry.value.to.clone()))
}

fn sense(entry: &Entry<'_, SenseEntry>, faults: &mut Faults) -> Option<(Sense, Pattern)> {
    let named = entry.value.is.get_ref();
    let sense = Sense::ALL.iter().copied().find(|sense| sense.key() == named);
    if sense.is_none() {
        let meant = meant(named, Sense::ALL.iter().map(|sense| sense.key()));
        faults.at(
            entry.at(&entry.value.is),
            format!("`{named}` is nothing that is asked of a figure. {meant}"),
        );
    }
    let pattern = pattern(entry.value.pattern.get_ref(), entry.at(&entry.value.pattern), faults);
    sense.zip(pattern)
}

fn subject(entry: &Entry<'_, SubjectEntry>, faults: &mut Faults) -> Option<(Subject, Vec<Kind>, Pattern)> {
    let named = entry.value.is.get_ref();
    let subject = Subject::ALL.iter().copied().find(|subject| subject.key() == named);
    if subject.is_none() {
        let meant = meant(named, Subject::ALL.iter().map(|subject| subject.key()));
        faults.at(entry.at(&entry.value.is), format!("a figure is never of `{named}`. {meant}"));
    }
    let mut kinds = Vec::new();
    for word in words(entry.value.kinds.get_ref()) {
        if let Some(kind) = Kind::ALL.iter().copied().find(|kind| kind.key() == word) {
            kinds.push(kind);
        } else {
            let meant = meant(&word, Kind::ALL.iter().map(|kind| kind.key()));
            faults.at(entry.at(&entry.value.kinds), format!("`{word}` is no kind of figure. {meant}"));
        }
    }
    let nouns = whole_words(entry.value.nouns.get_ref(), entry.at(&entry.value.nouns), faults);
    Some((subject?, kinds, nouns?))
}
