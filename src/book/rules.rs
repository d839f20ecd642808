//! Reads `sources.toml` and `rules/*.toml` into the rule book.

pub(super) mod bands;
mod condition;
mod effect;
mod pace;

use std::collections::BTreeMap;

use serde::Deserialize;
use toml::Spanned;

use super::document::{Document, Entry};
use super::fault::{Faults, Place};
use super::files::BookFile;
use super::writing::{angle, date, meant};
use crate::roofing::rules::{Again, DoubtBand, Rule, RuleBook, Source, StepKind};
use crate::roofing::work::Pace;
use crate::units::Angle;
use condition::ConditionEntry;
use effect::LimitEntry;
use pace::PaceEntry;

/// The rules with the places they stand at, for the checks across rules.
pub(super) struct RulesRead<'f> {
    pub(super) book: RuleBook,
    /// The place of each rule of the book, in the same order.
    pub(super) places: Vec<Place<'f>>,
    /// The place of each pace of the book, in the same order.
    pub(super) pace_places: Vec<Place<'f>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct SourceEntry {
    id: String,
    title: String,
    edition: Option<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RuleEntry {
    id: String,
    #[serde(default)]
    when: Vec<Spanned<ConditionEntry>>,
    require: Option<Spanned<BTreeMap<Spanned<String>, Spanned<LimitEntry>>>>,
    #[serde(default)]
    advise: bool,
    caution: Option<Spanned<String>>,
    #[serde(default)]
    refuse: bool,
    stop: Option<Spanned<String>>,
    again: Option<Spanned<AgainEntry>>,
    message: String,
    source: Spanned<String>,
    since: Spanned<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct AgainEntry {
    steps: Vec<Spanned<String>>,
    message: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct DoubtEntry {
    id: String,
    of: Spanned<String>,
    angle_deg: f64,
    length_per_mille: i64,
    message: String,
    source: Spanned<String>,
    since: Spanned<String>,
}

/// Reads all rules and sources.
pub(super) fn read<'f>(files: &'f [BookFile], faults: &mut Faults) -> RulesRead<'f> {
    let sources = read_sources(files, faults);
    let mut reader =
        Reader { sources: &sources, rules: Vec::new(), places: Vec::new(), doubts: BTreeMap::new() };
    let mut paces: Vec<(Pace, Place<'f>)> = Vec::new();
    for file in files.iter().filter(|file| file.is_in("rules", ".toml")) {
        let mut document = Document::open(file, faults);
        let covering = document.entry::<String>("covering", "file", faults).map(|entry| entry.value);
        for entry in document.entries::<RuleEntry>("rule", "rule", faults) {
            reader.rule(&entry, covering.as_deref(), faults);
        }
        for entry in document.entries::<DoubtEntry>("doubt", "doubt", faults) {
            reader.doubt(&entry, faults);
        }
        for entry in document.entries::<PaceEntry>("pace", "pace", faults) {
            paces.extend(pace::read(&entry, &sources, faults).map(|pace| (pace, entry.place)));
        }
        document.close("`covering = …`, `[[rule]]`, `[[doubt]]` and `[[pace]]`", faults);
    }
    pace::check(&paces, faults);
    let Reader { rules, places, mut doubts, .. } = reader;
    let mut doubt = |of: &str| {
        doubts.remove(of).unwrap_or_else(|| {
            let what = format!("no rule says what `{of}` is worth: add a [[doubt]] with `of = \"{of}\"`.");
            faults.missing_from("rules", what);
            DoubtBand { angle: Angle::ZERO, length_per_mille: 0, source: String::new() }
        })
    };
    let (about, by_phone, agree) = (doubt("about"), doubt("by_phone"), doubt("agree"));
    let (paces, pace_places) = paces.into_iter().unzip();
    RulesRead { book: RuleBook { rules, sources, about, by_phone, agree, paces }, places, pace_places }
}

fn read_sources(files: &[BookFile], faults: &mut Faults) -> Vec<Source> {
    let mut sources: Vec<Source> = Vec::new();
    for file in files.iter().filter(|file| file.name == "sources.toml") {
        let mut document = Document::open(file, faults);
        for Entry { value, place } in document.entries::<SourceEntry>("source", "source", faults) {
            if sources.iter().any(|source| source.id == value.id) {
                faults.at(place, format!("there are two sources `{}`: give one another id.", value.id));
            }
            sources.push(Source { id: value.id, title: value.title, edition: value.edition });
        }
        document.close("`[[source]]`", faults);
    }
    sources
}

/// Where else a caution is said.
fn again(entry: &Entry<'_, RuleEntry>, faults: &mut Faults) -> Option<Again> {
    let written = entry.value.again.as_ref()?;
    if entry.value.caution.is_none() {
        faults.at(entry.at(written), "only a caution is said `again`: give this rule a `caution`.");
    }
    let mut steps = Vec::new();
    for step in &written.get_ref().steps {
        let named = step.get_ref();
        match StepKind::ALL.iter().copied().find(|kind| kind.key() == named) {
            Some(kind) => steps.push(kind),
            None => {
                let meant = meant(named, StepKind::ALL.iter().map(|kind| kind.key()));
                faults.at(entry.at(step), format!("`{named}` is no step of the work. {meant}"));
            }
        }
    }
    Some(Again { steps, message: written.get_ref().message.clone() })
}

struct Reader<'a, 'f> {
    sources: &'a [Source],
    rules: Vec<Rule>,
    places: Vec<Place<'f>>,
    doubts: BTreeMap<String, DoubtBand>,
}

impl<'f> Reader<'_, 'f> {
    fn rule(&mut self, entry: &Entry<'f, RuleEntry>, covering: Option<&str>, faults: &mut Faults) {
        let when = entry.value.when.iter().filter_map(|part| condition::read(entry, part, faults)).collect();
        let rule = Rule {
            id: entry.value.id.clone(),
            covering: covering.map(str::to_owned),
            when,
            then: effect::read(entry, faults),
            message: entry.value.message.clone(),
            again: again(entry, faults),
            source: entry.value.source.get_ref().clone(),
            since: entry.value.since.get_ref().clone(),
        };
        self.keep(rule, entry.at(&entry.value.source), entry.at(&entry.value.since), entry.place, faults);
    }

    fn doubt(&mut self, entry: &Entry<'f, DoubtEntry>, faults: &mut Faults) {
        let value = &entry.value;
        let of = value.of.get_ref();
        let place = entry.at(&value.of);
        if !["about", "by_phone", "agree"].contains(&of.as_str()) {
            faults.at(
                place,
                format!("`{of}` is no kind of doubt: write \"about\", \"by_phone\" or \"agree\"."),
            );
        }
        let band = DoubtBand {
            angle: angle(value.angle_deg, entry.place, faults),
            length_per_mille: value.length_per_mille,
            source: value.id.clone(),
        };
        if value.angle_deg < 0.0 || value.length_per_mille < 0 {
            faults.at(entry.place, "doubt cannot be less than nothing: write 0 or more.");
        }
        if self.doubts.insert(of.clone(), band).is_some() {
            faults.at(place, format!("`{of}` is said to be worth two things: keep one."));
        }
        let rule = Rule {
            id: value.id.clone(),
            covering: None,
            when: Vec::new(),
            then: Vec::new(),
            message: value.message.clone(),
            again: None,
            source: value.source.get_ref().clone(),
            since: value.since.get_ref().clone(),
        };
        self.keep(rule, entry.at(&value.source), entry.at(&value.since), entry.place, faults);
    }

    /// Checks what every rule must have, and keeps it.
    fn keep(
        &mut self,
        rule: Rule,
        source: Place<'f>,
        since: Place<'f>,
        place: Place<'f>,
        faults: &mut Faults,
    ) {
        if self.sources.iter().all(|known| known.id != rule.source) {
            let what = format!(
                "the source `{}` is not in sources.toml: add it there, or name one that is.",
                rule.source
            );
            faults.at(source, what);
        }
        date(&rule.since, since, faults);
        if self.rules.iter().any(|known| known.id == rule.id) {
            faults.at(place, format!("there are two rules `{}`: give one another id.", rule.id));
        }
        if rule.message.trim().is_empty() {
            faults.at(place, "a rule needs a message that explains it: name one from words/.");
        }
        self.rules.push(rule);
        self.places.push(place);
    }
}
