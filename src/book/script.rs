//! Reads `script.toml`: the questions, and whether each can ever be asked.

pub(super) mod hearing;
pub(super) mod holds;
mod reachable;
mod safety;

use serde::Deserialize;
use toml::Spanned;

use super::document::{Document, Entry};
use super::fault::{Faults, Place};
use super::files::BookFile;
use super::writing::{choices_of, fact_named};
use crate::conversation::script::{Guard, Question, Script, ScriptChoice, Unsure};
use crate::roofing::catalogue::Catalogue;
use crate::roofing::roof::{FactKey, FactKind, FactValue, Facts, OWN_SHEET};
use crate::units::{Angle, Length, Measured};

pub(super) use safety::check as check_safety;

/// The script, and where each of its questions stands, in the same order.
pub(super) struct ScriptRead<'f> {
    pub(super) script: Script,
    pub(super) places: Vec<Place<'f>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct QuestionEntry {
    id: Spanned<String>,
    fact: Spanned<String>,
    #[serde(default)]
    when: Vec<Spanned<GuardEntry>>,
    #[serde(default)]
    choice: Vec<Spanned<ChoiceEntry>>,
    unsure: Spanned<UnsureEntry>,
    #[serde(default)]
    only_instead: bool,
    #[serde(default)]
    asked_besides: bool,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct GuardEntry {
    fact: Option<Spanned<String>>,
    is: Option<Vec<Spanned<String>>>,
    known: Option<Spanned<String>>,
    unknown: Option<Spanned<String>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ChoiceEntry {
    id: Spanned<String>,
}

#[derive(Deserialize)]
#[serde(untagged)]
enum UnsureEntry {
    Word(String),
    Way(Way),
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Way {
    answer: Option<String>,
    ask_instead: Option<Vec<String>>,
    assume: Option<String>,
    assume_mm: Option<f64>,
    assume_deg: Option<f64>,
    assume_count: Option<i64>,
}

/// Reads the script.
pub(super) fn read<'f>(
    files: &'f [BookFile],
    catalogue: Option<&Catalogue>,
    faults: &mut Faults,
) -> ScriptRead<'f> {
    let mut read = ScriptRead { script: Script::default(), places: Vec::new() };
    let Some(file) = files.iter().find(|file| file.name == "script.toml") else {
        faults.missing_from("script.toml", "there is no script.toml: a book needs its questions.");
        return read;
    };
    let mut document = Document::open(file, faults);
    match document.entry::<String>("version", "script", faults) {
        Some(version) => read.script.version = version.value,
        None => faults.at(Place { file, offset: 0 }, "the script has no `version`: add one at the top."),
    }
    for entry in document.entries::<QuestionEntry>("question", "question", faults) {
        let again = read.script.questions.iter().any(|known| &known.id == entry.value.id.get_ref());
        if again {
            let what =
                format!("there are two questions `{}`: give one another id.", entry.value.id.get_ref());
            faults.at(entry.at(&entry.value.id), what);
        }
        let reader = Reader { entry: &entry, catalogue };
        if let Some(question) = reader.question(faults) {
            let mut others = read.script.questions.iter();
            let same = |other: &&Question| other.fact == question.fact && other.when == question.when;
            if let Some(other) = others.find(same) {
                let (this, other) = (&question.id, &other.id);
                let what = format!("`{this}` asks the same as `{other}`: keep one, or part them by `when`.");
                faults.at(entry.at(&entry.value.fact), what);
            }
            read.script.questions.push(question);
            read.places.push(entry.place);
        }
    }
    document.close("`version = …` and `[[question]]`", faults);
    reachable::check(&read, faults);
    read
}

struct Reader<'e, 'f> {
    entry: &'e Entry<'f, QuestionEntry>,
    catalogue: Option<&'e Catalogue>,
}

impl Reader<'_, '_> {
    fn question(&self, faults: &mut Faults) -> Option<Question> {
        let written = &self.entry.value;
        let fact = self.fact(&written.fact, faults)?;
        let choices = self.choices(fact, faults);
        Some(Question {
            id: written.id.get_ref().clone(),
            fact,
            when: written.when.iter().filter_map(|guard| self.guard(guard, faults)).collect(),
            choices,
            unsure: self.unsure(fact, faults).unwrap_or(Unsure::FindOut),
            only_instead: written.only_instead,
            asked_besides: written.asked_besides,
        })
    }

    fn fact(&self, written: &Spanned<String>, faults: &mut Faults) -> Option<FactKey> {
        fact_named(written.get_ref(), self.entry.at(written), faults)
    }

    fn guard(&self, written: &Spanned<GuardEntry>, faults: &mut Faults) -> Option<Guard> {
        let guard = written.get_ref();
        match (&guard.fact, &guard.is, &guard.known, &guard.unknown) {
            (Some(fact), Some(is), None, None) => {
                let key = self.fact(fact, faults)?;
                let ids = self.ids_of(key);
                if ids.is_empty() {
                    let what =
                        format!("`{}` is no choice: ask whether it is `known` or `unknown`.", key.key());
                    faults.at(self.entry.at(fact), what);
                    return None;
                }
                let places = is.iter().map(|id| (id.get_ref().as_str(), self.entry.at(id)));
                Some(Guard::OneOf(key, choices_of(key, &ids, places, faults)))
            }
            (None, None, Some(fact), None) => self.fact(fact, faults).map(Guard::Known),
            (None, None, None, Some(fact)) => self.fact(fact, faults).map(Guard::Unknown),
            _ => {
                let what =
                    "write `{ fact = \"…\", is = [\"…\"] }`, `{ known = \"…\" }` or `{ unknown = \"…\" }`.";
                faults.at(self.entry.at(written), what);
                None
            }
        }
    }

    fn choices(&self, fact: FactKey, faults: &mut Faults) -> Vec<ScriptChoice> {
        let written = &self.entry.value.choice;
        let known = self.ids_of(fact);
        let mut choices: Vec<ScriptChoice> = Vec::new();
        for choice in written.iter().map(Spanned::get_ref) {
            let id = choice.id.get_ref();
            if !known.contains(&id.as_str()) {
                let what = format!("`{id}` is no answer to `{}`: {}.", fact.key(), answers_of(fact));
                faults.at(self.entry.at(&choice.id), what);
            }
            if choices.iter().any(|known| known.id == *id) {
                faults
                    .at(self.entry.at(&choice.id), format!("the choice `{id}` is there already: keep one."));
            }
            choices.push(ScriptChoice { id: id.clone() });
        }
        if let FactKind::Choice(ids) = fact.kind() {
            let missing: Vec<&str> =
                ids.iter().copied().filter(|id| choices.iter().all(|choice| choice.id != *id)).collect();
            if !missing.is_empty() {
                let what = format!("this question leaves out {}: add a choice for each.", missing.join(", "));
                faults.at(self.entry.place, what);
            }
        }
        choices
    }

    /// The ids a fact may take; none where it is no choice.
    fn ids_of(&self, fact: FactKey) -> Vec<&str> {
        match fact.kind() {
            FactKind::Choice(ids) => ids.to_vec(),
            FactKind::Sheet => {
                let sheets = self.catalogue.iter().flat_map(|catalogue| &catalogue.sheets);
                [OWN_SHEET].into_iter().chain(sheets.map(|sheet| sheet.item.id.as_str())).collect()
            }
            FactKind::Words(detail) => detail.choices().to_vec(),
            FactKind::Quantity(_) | FactKind::Count(..) => Vec::new(),
        }
    }

    fn unsure(&self, fact: FactKey, faults: &mut Faults) -> Option<Unsure> {
        let place = self.entry.at(&self.entry.value.unsure);
        let way = match self.entry.value.unsure.get_ref() {
            UnsureEntry::Word(word) if word == "find_out" => return Some(Unsure::FindOut),
            UnsureEntry::Word(_) => None,
            UnsureEntry::Way(way) => Some(way),
        };
        let unsure = way.and_then(|way| one_way(way, fact));
        match &unsure {
            None => {
                let what = "after \"not sure\" write one of \"find_out\", `{ answer = \"…\" }`, \
                            `{ ask_instead = [\"…\"] }`, or `{ assume… = … }` with a value of the fact's own kind.";
                faults.at(place, what);
            }
            Some(Unsure::Assume(_)) if fact.is_safety() => {
                let what = format!(
                    "`{}` is a safety answer: it is never assumed. Hand over with `answer` or \"find_out\".",
                    fact.key()
                );
                faults.at(place, what);
            }
            Some(Unsure::Assume(value)) if !Facts::default().set(fact, value.clone()) => {
                faults.at(place, format!("that is no answer to `{}`: {}.", fact.key(), answers_of(fact)));
            }
            Some(Unsure::Answer(id)) if !Facts::default().set(fact, FactValue::Choice(id.clone())) => {
                faults.at(place, format!("`{id}` is no answer to `{}`: {}.", fact.key(), answers_of(fact)));
            }
            Some(_) => {}
        }
        unsure
    }
}

/// The one way that is written; `None` where it is none, several, or names an unknown fact.
fn one_way(way: &Way, fact: FactKey) -> Option<Unsure> {
    let ask_instead = way.ask_instead.as_ref().map(|facts| {
        facts.iter().map(|fact| FactKey::from_key(fact)).collect::<Option<Vec<_>>>().map(Unsure::AskInstead)
    });
    let assumed_length = way.assume_mm.and_then(Length::from_mm_f64);
    let assumed_angle = way.assume_deg.and_then(Angle::from_deg_f64);
    let assumed = [
        way.assume.clone().map(FactValue::Choice),
        assumed_length.map(|length| FactValue::Length(Measured::stated(length))),
        assumed_angle.map(|angle| FactValue::Angle(Measured::stated(angle))),
        way.assume_count.map(FactValue::Count),
    ];
    let mut ways: Vec<Option<Unsure>> = Vec::new();
    ways.extend(way.answer.clone().map(|answer| Some(Unsure::Answer(answer))));
    ways.extend(ask_instead);
    ways.extend(assumed.into_iter().flatten().map(|value| Some(Unsure::Assume(value))));
    let [Some(only)] = ways.as_slice() else { return None };
    let asks_itself = matches!(only, Unsure::AskInstead(facts) if facts.is_empty() || facts.contains(&fact));
    (!asks_itself).then(|| only.clone())
}

fn answers_of(fact: FactKey) -> String {
    match fact.kind() {
        FactKind::Choice(ids) => format!("it may be {}", ids.join(", ")),
        FactKind::Sheet => "it may be `label` or a sheet of the catalogue".to_owned(),
        FactKind::Words(detail) if detail.choices().is_empty() => {
            "it is told in words, not chosen".to_owned()
        }
        FactKind::Words(detail) => format!("it is told in words, or it is {}", detail.choices().join(", ")),
        FactKind::Quantity(_) => "it is measured, not chosen".to_owned(),
        FactKind::Count(low, high) => format!("it is a whole number from {low} to {high}"),
    }
}
