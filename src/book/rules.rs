//! Reads `sources.toml` and `rules/*.toml` into the rule book.

use std::collections::BTreeMap;

use serde::Deserialize;
use toml::Spanned;

use super::document::{Document, Entry};
use super::fault::{Faults, Place};
use super::files::BookFile;
use super::writing::{angle, choices_of, date, length};
use crate::roofing::roof::{FactKey, FactKind};
use crate::roofing::rules::{
    Condition, DoubtBand, Effect, Handover, Limit, Phase, Requirement, Rule, RuleBook, Source, Support,
};
use crate::units::Angle;

/// The rules with the places they stand at, for the checks across rules.
pub(super) struct RulesRead<'f> {
    pub(super) book: RuleBook,
    /// The place of each rule of the book, in the same order.
    pub(super) places: Vec<Place<'f>>,
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
    message: String,
    source: Spanned<String>,
    since: Spanned<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ConditionEntry {
    fact: Spanned<String>,
    from_deg: Option<f64>,
    to_deg: Option<f64>,
    from_mm: Option<f64>,
    to_mm: Option<f64>,
    is: Option<Spanned<Vec<Spanned<String>>>>,
    is_not: Option<Spanned<Vec<Spanned<String>>>>,
}

#[derive(Deserialize)]
#[serde(untagged)]
enum LimitEntry {
    Count(i64),
    Size(f64),
    Word(String),
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
    for file in files.iter().filter(|file| file.is_in("rules", ".toml")) {
        let mut document = Document::open(file, faults);
        let covering = document.entry::<String>("covering", "file", faults).map(|entry| entry.value);
        for entry in document.entries::<RuleEntry>("rule", "rule", faults) {
            reader.rule(&entry, covering.as_deref(), faults);
        }
        for entry in document.entries::<DoubtEntry>("doubt", "doubt", faults) {
            reader.doubt(&entry, faults);
        }
        document.close("`covering = …`, `[[rule]]` and `[[doubt]]`", faults);
    }
    let Reader { rules, places, mut doubts, .. } = reader;
    let mut doubt = |of: &str| {
        doubts.remove(of).unwrap_or_else(|| {
            let what = format!("no rule says what `{of}` is worth: add a [[doubt]] with `of = \"{of}\"`.");
            faults.missing_from("rules", what);
            DoubtBand { angle: Angle::ZERO, length_per_mille: 0, source: String::new() }
        })
    };
    let (about, by_phone, agree) = (doubt("about"), doubt("by_phone"), doubt("agree"));
    RulesRead { book: RuleBook { rules, sources, about, by_phone, agree }, places }
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

struct Reader<'a, 'f> {
    sources: &'a [Source],
    rules: Vec<Rule>,
    places: Vec<Place<'f>>,
    doubts: BTreeMap<String, DoubtBand>,
}

impl<'f> Reader<'_, 'f> {
    fn rule(&mut self, entry: &Entry<'f, RuleEntry>, covering: Option<&str>, faults: &mut Faults) {
        let when = entry.value.when.iter().filter_map(|part| condition(entry, part, faults)).collect();
        let rule = Rule {
            id: entry.value.id.clone(),
            covering: covering.map(str::to_owned),
            when,
            then: effects(entry, faults),
            message: entry.value.message.clone(),
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

fn condition(
    entry: &Entry<'_, RuleEntry>,
    part: &Spanned<ConditionEntry>,
    faults: &mut Faults,
) -> Option<Condition> {
    let written = part.get_ref();
    let place = entry.at(part);
    let name = written.fact.get_ref();
    let Some(fact) = FactKey::from_key(name) else {
        let known = FactKey::ALL.iter().map(|fact| fact.key()).collect::<Vec<_>>().join(", ");
        faults.at(entry.at(&written.fact), format!("`{name}` is no fact. The facts are {known}."));
        return None;
    };
    let in_deg = written.from_deg.is_some() || written.to_deg.is_some();
    let in_mm = written.from_mm.is_some() || written.to_mm.is_some();
    let in_words = written.is.is_some() || written.is_not.is_some();
    match fact.kind() {
        FactKind::Quantity(quantity) if quantity.length_band().is_none() && in_deg && !in_mm && !in_words => {
            let mut end = |end: Option<f64>| end.map(|deg| angle(deg, place, faults));
            let (from, to) = (end(written.from_deg), end(written.to_deg));
            ordered(from, to, place, faults);
            Some(Condition::Angle { fact, from, to })
        }
        FactKind::Quantity(quantity) if quantity.length_band().is_some() && in_mm && !in_deg && !in_words => {
            let mut end = |end: Option<f64>| end.map(|mm| length(mm, place, faults));
            let (from, to) = (end(written.from_mm), end(written.to_mm));
            ordered(from, to, place, faults);
            Some(Condition::Length { fact, from, to })
        }
        FactKind::Choice(ids) if in_words && !in_deg && !in_mm => {
            if let (Some(_), Some(list)) = (&written.is, &written.is_not) {
                faults.at(entry.at(list), "write either `is` or `is_not`, not both.");
            }
            let is_not = written.is_not.as_ref().map(|list| (list, false));
            let (list, is) = written.is.as_ref().map(|list| (list, true)).or(is_not)?;
            let places = list.get_ref().iter().map(|id| (id.get_ref().as_str(), entry.at(id)));
            let any = choices_of(fact, ids, places, faults);
            Some(if is { Condition::OneOf { fact, any } } else { Condition::NoneOf { fact, any } })
        }
        FactKind::Quantity(_) | FactKind::Choice(_) | FactKind::Count(..) | FactKind::Sheet => {
            faults.at(place, format!("`{name}` {}.", how_to_ask(fact)));
            None
        }
    }
}

/// How a rule may ask for a fact.
fn how_to_ask(fact: FactKey) -> String {
    match fact.kind() {
        FactKind::Quantity(quantity) if quantity.length_band().is_none() => {
            "is an angle: say `from_deg`, `to_deg` or both".to_owned()
        }
        FactKind::Quantity(_) => "is a length: say `from_mm`, `to_mm` or both".to_owned(),
        FactKind::Choice(ids) => {
            format!("is a choice: say `is = [\"…\"]` or `is_not = [\"…\"]` with {}", ids.join(", "))
        }
        FactKind::Count(..) | FactKind::Sheet => "cannot decide a rule".to_owned(),
    }
}

fn ordered<T: PartialOrd>(from: Option<T>, to: Option<T>, place: Place<'_>, faults: &mut Faults) {
    if let (Some(from), Some(to)) = (from, to)
        && from >= to
    {
        faults.at(place, "this band is empty: what it runs from must be less than what it runs to.");
    }
}

fn effects(entry: &Entry<'_, RuleEntry>, faults: &mut Faults) -> Vec<Effect> {
    let rule = &entry.value;
    let mut then = Vec::new();
    for (name, value) in rule.require.iter().flat_map(Spanned::get_ref) {
        let Some(requirement) = Requirement::from_key(name.get_ref()) else {
            let known = Requirement::ALL.iter().map(|one| one.key()).collect::<Vec<_>>().join(", ");
            faults.at(entry.at(name), format!("`{}` cannot be required. It may be {known}.", name.get_ref()));
            continue;
        };
        match limit(requirement, value.get_ref()) {
            Some(limit) => then.push(Effect::Require(requirement, limit)),
            None => faults.at(entry.at(value), format!("`{}` {}.", requirement.key(), takes(requirement))),
        }
    }
    if rule.advise {
        then.push(Effect::Advise);
    }
    if let Some(caution) = &rule.caution {
        match caution.get_ref().as_str() {
            "plan" => then.push(Effect::Caution(Phase::Plan)),
            "work" => then.push(Effect::Caution(Phase::Work)),
            other => {
                let what =
                    format!("a caution is said with the \"plan\" or before the \"work\", not \"{other}\".");
                faults.at(entry.at(caution), what);
            }
        }
    }
    if rule.refuse {
        then.push(Effect::Refuse);
    }
    if let Some(stop) = &rule.stop {
        match stop.get_ref().as_str() {
            "emergency" => then.push(Effect::Stop(Handover::Emergency)),
            "licensed_pro" => then.push(Effect::Stop(Handover::LicensedPro)),
            "adviser" => then.push(Effect::Stop(Handover::Adviser)),
            other => {
                let what = format!(
                    "nobody is called \"{other}\": hand over to \"emergency\", \"licensed_pro\" or \"adviser\"."
                );
                faults.at(entry.at(stop), what);
            }
        }
    }
    let says_something = rule.require.is_some() || rule.caution.is_some() || rule.stop.is_some();
    if !says_something && !rule.advise && !rule.refuse {
        let what = "this rule does nothing: give it `require`, `advise`, `caution`, `refuse` or `stop`.";
        faults.at(entry.place, what);
    }
    then
}

fn limit(requirement: Requirement, written: &LimitEntry) -> Option<Limit> {
    let candidates = match written {
        LimitEntry::Count(count) if *count >= 0 => {
            [Some(Limit::Count(*count)), Some(Limit::Length(crate::units::Length::from_mm(*count)))]
        }
        LimitEntry::Size(mm) if *mm >= 0.0 => {
            [crate::units::Length::from_mm_f64(*mm).map(Limit::Length), None]
        }
        LimitEntry::Word(word) => match word.as_str() {
            "purlins" => [Some(Limit::Support(Support::Purlins)), None],
            "full_deck" => [Some(Limit::Support(Support::FullDeck)), None],
            _ => [None, None],
        },
        LimitEntry::Count(_) | LimitEntry::Size(_) => [None, None],
    };
    candidates.into_iter().flatten().find(|limit| requirement.takes(*limit))
}

fn takes(requirement: Requirement) -> &'static str {
    if requirement.takes(Limit::Count(0)) {
        "takes a whole number, 0 or more, without quotes"
    } else if requirement.takes(Limit::Support(Support::Purlins)) {
        "is \"purlins\" or \"full_deck\""
    } else {
        "takes a number of millimetres, 0 or more, without quotes"
    }
}
