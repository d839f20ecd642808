//! Reads `sources.toml` and `rules/*.toml` into the rule book.

pub(super) mod bands;
mod basis;
mod condition;
mod effect;
mod pace;
mod practice;

use std::collections::BTreeMap;

use serde::Deserialize;
use toml::Spanned;

use super::document::{Document, Entry};
use super::fault::{Faults, Place};
use super::files::BookFile;
use super::writing::{angle, date, meant};
use crate::roofing::rules::{
    Again, Based, DoubtBand, Effect, Pace, Practice, Rule, RuleBook, Source, StepKind, Weather,
};
use crate::units::{Angle, Day};
use basis::{BasisEntry, CheckEntry, RegionEntry};
use condition::ConditionEntry;
use effect::LimitEntry;
use pace::PaceEntry;
use practice::PracticeEntry;

/// The rules in force at one time, with the places they stand at, for the checks across rules.
pub(super) struct RulesRead<'f> {
    pub(super) book: RuleBook,
    /// The place of each rule of the book, in the same order.
    pub(super) places: Vec<Place<'f>>,
    /// The place of each pace of the book, in the same order.
    pub(super) pace_places: Vec<Place<'f>>,
}

/// One entry with its day: a later one of the same name takes over on its own day.
struct Dated<'f, T> {
    since: Day,
    place: Place<'f>,
    entry: T,
}

/// Everything that was read, whatever its day.
pub(super) struct AllRules<'f> {
    rules: Vec<Dated<'f, Rule>>,
    paces: Vec<Dated<'f, Pace>>,
    practices: Vec<Dated<'f, Practice>>,
    bases: Vec<Dated<'f, Based>>,
    regions: Vec<Dated<'f, Weather>>,
    doubts: Vec<Dated<'f, (Doubtful, DoubtBand)>>,
    pub(super) sources: Vec<Source>,
}

/// What a doubt is about, as the adviser writes it.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Doubtful {
    About,
    ByPhone,
    Agree,
}

impl Doubtful {
    const ALL: [(&'static str, Self); 3] =
        [("about", Self::About), ("by_phone", Self::ByPhone), ("agree", Self::Agree)];
}

/// Of several entries of one name the one in force on a day: the latest that has begun, else the first. `None` is
/// the time before any entry was changed.
fn in_force<'e, 'f, T, N: PartialEq>(
    all: &'e [Dated<'f, T>],
    name: impl Fn(&T) -> N,
    day: Option<Day>,
) -> Vec<&'e Dated<'f, T>> {
    let mut chosen: Vec<&Dated<'f, T>> = Vec::new();
    for dated in all {
        match chosen.iter_mut().find(|other| name(&other.entry) == name(&dated.entry)) {
            None => chosen.push(dated),
            Some(other) => {
                let begun = |one: &Dated<'f, T>| day.is_some_and(|day| one.since <= day);
                let takes_over = if begun(dated) {
                    !begun(other) || dated.since > other.since
                } else {
                    !begun(other) && dated.since < other.since
                };
                if takes_over {
                    *other = dated;
                }
            }
        }
    }
    chosen
}

/// The days on which an entry takes over from an earlier one of its name.
fn changes<T, N: PartialEq>(all: &[Dated<'_, T>], name: impl Fn(&T) -> N) -> Vec<Day> {
    let has_earlier = |dated: &&Dated<'_, T>| {
        all.iter().any(|other| other.since < dated.since && name(&other.entry) == name(&dated.entry))
    };
    all.iter().filter(has_earlier).map(|dated| dated.since).collect()
}

impl<'f> AllRules<'f> {
    /// When what is in force changes: the time before any change, and the first day of each change after it.
    pub(super) fn editions(&self) -> Vec<Option<Day>> {
        let mut days = changes(&self.rules, |rule| rule.id.clone());
        days.extend(changes(&self.paces, |pace| pace.step));
        days.extend(changes(&self.practices, |practice| practice.figure));
        days.extend(changes(&self.bases, |based| based.basis));
        days.extend(changes(&self.regions, |weather| weather.region.clone()));
        days.extend(changes(&self.doubts, |(of, _)| *of));
        days.sort_unstable();
        days.dedup();
        [None].into_iter().chain(days.into_iter().map(Some)).collect()
    }

    /// The rules that stop a plan on any day.
    pub(super) fn stops(&self) -> Vec<&str> {
        let is_stop = |effect: &Effect| matches!(effect, Effect::Stop(_));
        let stopping = self.rules.iter().filter(|dated| dated.entry.then.iter().any(is_stop));
        let mut ids: Vec<&str> = stopping.map(|dated| dated.entry.id.as_str()).collect();
        ids.dedup();
        ids
    }

    /// What is in force on a day.
    pub(super) fn on(&self, day: Option<Day>, faults: &mut Faults) -> RulesRead<'f> {
        let rules = in_force(&self.rules, |rule| rule.id.clone(), day);
        let paces = in_force(&self.paces, |pace| pace.step, day);
        let practices = in_force(&self.practices, |practice| practice.figure, day);
        let bases = in_force(&self.bases, |based| based.basis, day);
        let regions = in_force(&self.regions, |weather| weather.region.clone(), day);
        let doubts = in_force(&self.doubts, |(of, _)| *of, day);
        let mut worth = |of: &str, wanted: Doubtful| {
            let said = doubts.iter().find(|dated| dated.entry.0 == wanted).map(|dated| dated.entry.1.clone());
            said.unwrap_or_else(|| {
                let what =
                    format!("no rule says what `{of}` is worth: add a [[doubt]] with `of = \"{of}\"`.");
                faults.missing_from("rules", what);
                DoubtBand { angle: Angle::ZERO, length_per_mille: 0, source: String::new() }
            })
        };
        let (about, by_phone) = (worth("about", Doubtful::About), worth("by_phone", Doubtful::ByPhone));
        let agree = worth("agree", Doubtful::Agree);
        let book = RuleBook {
            rules: rules.iter().map(|dated| dated.entry.clone()).collect(),
            sources: self.sources.clone(),
            about,
            by_phone,
            agree,
            paces: paces.iter().map(|dated| dated.entry.clone()).collect(),
            practices: practices.iter().map(|dated| dated.entry.clone()).collect(),
            bases: bases.iter().map(|dated| dated.entry.clone()).collect(),
            regions: regions.iter().map(|dated| dated.entry.clone()).collect(),
        };
        pace::check(&book.paces, faults);
        practice::check(&book.practices, faults);
        basis::check(&book.bases, &book.regions, faults);
        RulesRead {
            book,
            places: rules.iter().map(|dated| dated.place).collect(),
            pace_places: paces.iter().map(|dated| dated.place).collect(),
        }
    }
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
    sheet: Option<String>,
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

/// Reads all rules and sources, of every day.
pub(super) fn read<'f>(files: &'f [BookFile], faults: &mut Faults) -> AllRules<'f> {
    let sources = read_sources(files, faults);
    let mut reader = Reader { sources: &sources, rules: Vec::new(), doubts: Vec::new() };
    let mut paces: Vec<Dated<'f, Pace>> = Vec::new();
    let mut practices: Vec<Dated<'f, Practice>> = Vec::new();
    let (mut bases, mut regions) = (Vec::new(), Vec::new());
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
            let Some((since, pace)) = pace::read(&entry, &sources, faults) else { continue };
            if paces.iter().any(|other| other.entry.step == pace.step && other.since == since) {
                let what = format!("there are two paces for `{}`: keep one.", pace.step.key());
                faults.at(entry.place, what);
            }
            paces.push(Dated { since, place: entry.place, entry: pace });
        }
        for entry in document.entries::<PracticeEntry>("practice", "figure", faults) {
            let Some((since, practice)) = practice::read(&entry, &sources, faults) else { continue };
            if practices.iter().any(|other| other.entry.figure == practice.figure && other.since == since) {
                let what = format!("`{}` is there already: keep one.", practice.figure.key());
                faults.at(entry.at(&entry.value.figure), what);
            }
            practices.push(Dated { since, place: entry.place, entry: practice });
        }
        for entry in document.entries::<BasisEntry>("basis", "basis", faults) {
            let Some((since, figure)) = basis::read(&entry, &sources, faults) else { continue };
            let place = entry.at(&entry.value.basis);
            let same = |other: &Based| other.basis == figure.basis;
            keep_dated(
                &mut bases,
                Dated { since, place, entry: figure.clone() },
                same,
                figure.basis.key(),
                faults,
            );
        }
        for entry in document.entries::<RegionEntry>("region", "region", faults) {
            let Some((since, weather)) = basis::region(&entry, &sources, faults) else { continue };
            let place = entry.at(&entry.value.region);
            let same = |other: &Weather| other.region == weather.region;
            let kept = Dated { since, place, entry: weather.clone() };
            keep_dated(&mut regions, kept, same, &weather.region, faults);
        }
        for entry in document.entries::<CheckEntry>("check", "check", faults) {
            let Some(rule) = basis::check_rule(&entry, faults) else { continue };
            reader.keep(rule, entry.at(&entry.value.source), entry.place, faults);
        }
        let may_hold = "`covering = …`, `[[rule]]`, `[[doubt]]`, `[[pace]]`, `[[practice]]`, `[[basis]]`, `[[region]]` and \
                        `[[check]]`";
        document.close(may_hold, faults);
    }
    let Reader { rules, doubts, .. } = reader;
    AllRules { rules, paces, practices, bases, regions, doubts, sources }
}

/// Keeps a figure, unless there is one of its name and day.
fn keep_dated<'f, T>(
    all: &mut Vec<Dated<'f, T>>,
    dated: Dated<'f, T>,
    same: impl Fn(&T) -> bool,
    name: &str,
    faults: &mut Faults,
) {
    if all.iter().any(|other| same(&other.entry) && other.since == dated.since) {
        faults.at(dated.place, format!("`{name}` is there already: keep one."));
    }
    all.push(dated);
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
        if let Some(kind) = StepKind::ALL.iter().copied().find(|kind| kind.key() == named) {
            steps.push(kind);
        } else {
            let meant = meant(named, StepKind::ALL.iter().map(|kind| kind.key()));
            faults.at(entry.at(step), format!("`{named}` is no step of the work. {meant}"));
        }
    }
    Some(Again { steps, message: written.get_ref().message.clone() })
}

struct Reader<'a, 'f> {
    sources: &'a [Source],
    rules: Vec<Dated<'f, Rule>>,
    doubts: Vec<Dated<'f, (Doubtful, DoubtBand)>>,
}

impl<'f> Reader<'_, 'f> {
    fn rule(&mut self, entry: &Entry<'f, RuleEntry>, covering: Option<&str>, faults: &mut Faults) {
        let value = &entry.value;
        let Some(since) = date(value.since.get_ref(), entry.at(&value.since), faults) else { return };
        let when = value.when.iter().filter_map(|part| condition::read(entry, part, faults)).collect();
        let rule = Rule {
            id: value.id.clone(),
            covering: covering.map(str::to_owned),
            sheet: value.sheet.clone(),
            when,
            then: effect::read(entry, faults),
            message: value.message.clone(),
            again: again(entry, faults),
            source: value.source.get_ref().clone(),
            since,
        };
        self.keep(rule, entry.at(&value.source), entry.place, faults);
    }

    fn doubt(&mut self, entry: &Entry<'f, DoubtEntry>, faults: &mut Faults) {
        let value = &entry.value;
        let of = value.of.get_ref();
        let place = entry.at(&value.of);
        let Some(since) = date(value.since.get_ref(), entry.at(&value.since), faults) else { return };
        let known = Doubtful::ALL.into_iter().find(|(name, _)| name == of).map(|(_, known)| known);
        if known.is_none() {
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
        if let Some(known) = known {
            if self.doubts.iter().any(|other| other.entry.0 == known && other.since == since) {
                faults.at(place, format!("`{of}` is said to be worth two things: keep one."));
            }
            self.doubts.push(Dated { since, place, entry: (known, band) });
        }
        let rule = Rule {
            id: value.id.clone(),
            covering: None,
            sheet: None,
            when: Vec::new(),
            then: Vec::new(),
            message: value.message.clone(),
            again: None,
            source: value.source.get_ref().clone(),
            since,
        };
        self.keep(rule, entry.at(&value.source), entry.place, faults);
    }

    /// Checks what every rule must have, and keeps it.
    fn keep(&mut self, rule: Rule, source: Place<'f>, place: Place<'f>, faults: &mut Faults) {
        if self.sources.iter().all(|known| known.id != rule.source) {
            let what = format!(
                "the source `{}` is not in sources.toml: add it there, or name one that is.",
                rule.source
            );
            faults.at(source, what);
        }
        if self.rules.iter().any(|known| known.entry.id == rule.id && known.since == rule.since) {
            let what = format!(
                "there are two rules `{}` of one day: give one another id, or the changed one the day it holds from.",
                rule.id
            );
            faults.at(place, what);
        }
        if rule.message.trim().is_empty() {
            faults.at(place, "a rule needs a message that explains it: name one from words/.");
        }
        self.rules.push(Dated { since: rule.since, place, entry: rule });
    }
}
