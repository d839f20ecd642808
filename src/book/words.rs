//! Reads `words/<language>/*.ftl`, and checks that every sentence somebody needs is there.

use std::collections::BTreeMap;

use fluent_bundle::FluentResource;

use super::catalogue::CatalogueRead;
use super::fault::{Faults, Place};
use super::files::BookFile;
use super::holds::HoldsRead;
use super::rules::RulesRead;
use super::script::ScriptRead;
use crate::conversation::wording::Words;

/// The sentences, and where each stands.
pub(super) struct WordsRead<'f> {
    pub(super) words: Words,
    places: BTreeMap<(&'f str, &'f str), Place<'f>>,
}

/// Reads all sentences of all languages.
pub(super) fn read<'f>(files: &'f [BookFile], faults: &mut Faults) -> WordsRead<'f> {
    let mut read = WordsRead { words: Words::default(), places: BTreeMap::new() };
    for file in files {
        let Some((language, _)) = file.name.strip_prefix("words/").and_then(|rest| rest.split_once('/'))
        else {
            continue;
        };
        let (sentences, errors) = match FluentResource::try_new(file.text.clone()) {
            Ok(sentences) => (sentences, Vec::new()),
            Err((sentences, errors)) => (sentences, errors),
        };
        for error in errors {
            let what = format!("this sentence cannot be read: {error}. Compare it with its neighbours.");
            faults.unreadable(Place { file, offset: error.pos.start }, what);
        }
        for (id, offset) in ids(&file.text) {
            let place = Place { file, offset };
            if read.places.insert((language, id), place).is_some() {
                faults.at(place, format!("the sentence `{id}` is there already: keep one."));
            }
        }
        if !read.words.add(language, sentences) {
            let what = format!("`{language}` is no language: name the folder as \"en\" or \"en-GB\".");
            faults.at(Place { file, offset: 0 }, what);
        }
    }
    if read.words.ids().next().is_none() {
        let what = "there are no English sentences: every other language falls back on them.";
        faults.missing_from("words/en", what);
    }
    read
}

/// Every id that starts a sentence, and where: Fluent wants it at the start of its line.
fn ids(text: &str) -> impl Iterator<Item = (&str, usize)> {
    let starts = text.split_inclusive('\n').scan(0, |offset, line| {
        let start = *offset;
        *offset += line.len();
        Some((line, start))
    });
    starts.filter_map(|(line, start)| {
        let (id, _) = line.split_once('=')?;
        let id = id.trim_end();
        let plain = |c: char| c.is_ascii_alphanumeric() || c == '-' || c == '_';
        let starts_well = id.starts_with(|c: char| c.is_ascii_alphabetic());
        (starts_well && id.chars().all(plain)).then_some((id, start))
    })
}

impl WordsRead<'_> {
    /// Notes at `place` that a sentence is missing, where it is.
    fn need(&self, id: &str, place: Place<'_>, faults: &mut Faults) {
        if !self.words.has("en", id) {
            faults.at(place, format!("there is no sentence `{id}`: add it to a file in words/en/."));
        }
    }

    /// Notes, at the sentence itself, every figure it asks for that it is not given.
    fn given(&self, id: &str, figures: &[&str], faults: &mut Faults) {
        for language in self.words.languages() {
            let Some(place) = self.places.get(&(language, id)) else { continue };
            for asked in self.words.parts(language, id).variables {
                if !figures.contains(&asked.as_str()) {
                    let has = if figures.is_empty() {
                        "none".to_owned()
                    } else {
                        format!("${}", figures.join(", $"))
                    };
                    faults.at(
                        *place,
                        format!("`{id}` asks for the figure ${asked}, which it is not given. It has {has}."),
                    );
                }
            }
        }
    }

    /// Checks that rules, goods and questions have their sentences, and that these can be filled.
    pub(super) fn check(
        &self,
        rules: &RulesRead<'_>,
        goods: Option<&CatalogueRead<'_>>,
        script: &ScriptRead<'_>,
        faults: &mut Faults,
    ) {
        for (rule, place) in rules.book.rules.iter().zip(&rules.places) {
            self.need(&rule.message, *place, faults);
            self.given(&rule.message, &rule.figures(), faults);
            if let Some(again) = &rule.again {
                self.need(&again.message, *place, faults);
                self.given(&again.message, &rule.figures(), faults);
            }
        }
        for (pace, place) in rules.book.paces.iter().zip(&rules.pace_places) {
            if let Some(id) = &pace.caution {
                self.need(id, *place, faults);
                self.given(id, &[], faults);
            }
        }
        if let Some(goods) = goods {
            for id in goods.catalogue.tools.iter().chain(&goods.catalogue.protective) {
                self.need(id, goods.range, faults);
                self.given(id, &[], faults);
            }
        }
        for (question, place) in script.script.questions.iter().zip(&script.places) {
            for id in question.messages() {
                self.need(&id, *place, faults);
                self.given(&id, &[], faults);
            }
        }
        self.check_quotes(faults);
    }

    /// Checks that every answer of a hold has its sentence, whole as it stands.
    pub(super) fn check_holds(&self, read: &HoldsRead<'_>, faults: &mut Faults) {
        for (hold, place) in read.holds.iter().zip(&read.places) {
            for id in hold.answers.iter().map(|answer| &answer.says).chain([&hold.recalled]) {
                self.need(id, *place, faults);
                self.given(id, &[], faults);
            }
        }
    }

    /// Notes every sentence that quotes one that is not there.
    fn check_quotes(&self, faults: &mut Faults) {
        for ((language, id), place) in &self.places {
            for quoted in self.words.parts(language, id).quotes {
                if !self.words.has(language, &quoted) {
                    faults.at(*place, format!("`{id}` quotes the sentence `{quoted}`, which is not there."));
                }
            }
        }
    }
}
