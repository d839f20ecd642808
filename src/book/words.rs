//! Reads `words/<language>/*.ftl`, and checks that every sentence somebody needs is there.

use std::collections::{BTreeMap, BTreeSet};

use fluent_bundle::FluentResource;
use fluent_syntax::ast::{Entry, Expression, InlineExpression, Pattern, PatternElement};

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
    /// What each sentence and each term of a language quotes; a term by its name with the `-` before it.
    quotes: BTreeMap<&'f str, BTreeMap<String, BTreeSet<String>>>,
}

/// Reads all sentences of all languages.
pub(super) fn read<'f>(files: &'f [BookFile], faults: &mut Faults) -> WordsRead<'f> {
    let mut read = WordsRead { words: Words::default(), places: BTreeMap::new(), quotes: BTreeMap::new() };
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
        read.quotes.entry(language).or_default().extend(quotes_of(&sentences));
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
        let starts_well = id.trim_start_matches('-').starts_with(|c: char| c.is_ascii_alphabetic());
        (starts_well && id.chars().all(plain)).then_some((id, start))
    })
}

/// What each sentence and each term quotes at once.
fn quotes_of(sentences: &FluentResource) -> BTreeMap<String, BTreeSet<String>> {
    let quotes = sentences.entries().filter_map(|entry| {
        let (name, value) = match entry {
            Entry::Message(message) => (message.id.name.to_owned(), message.value.as_ref()?),
            Entry::Term(term) => (format!("-{}", term.id.name), &term.value),
            Entry::Comment(_) | Entry::GroupComment(_) | Entry::ResourceComment(_) | Entry::Junk { .. } => {
                return None;
            }
        };
        let mut quoted = BTreeSet::new();
        pattern_quotes(value, &mut quoted);
        Some((name, quoted))
    });
    quotes.collect()
}

fn pattern_quotes(pattern: &Pattern<&str>, quoted: &mut BTreeSet<String>) {
    for element in &pattern.elements {
        if let PatternElement::Placeable { expression } = element {
            expression_quotes(expression, quoted);
        }
    }
}

fn expression_quotes(expression: &Expression<&str>, quoted: &mut BTreeSet<String>) {
    match expression {
        Expression::Inline(inline) => inline_quotes(inline, quoted),
        Expression::Select { selector, variants } => {
            inline_quotes(selector, quoted);
            for variant in variants {
                pattern_quotes(&variant.value, quoted);
            }
        }
    }
}

fn inline_quotes(inline: &InlineExpression<&str>, quoted: &mut BTreeSet<String>) {
    match inline {
        InlineExpression::MessageReference { id, .. } => {
            quoted.insert(id.name.to_owned());
        }
        InlineExpression::TermReference { id, .. } => {
            quoted.insert(format!("-{}", id.name));
        }
        InlineExpression::Placeable { expression } => expression_quotes(expression, quoted),
        InlineExpression::FunctionReference { arguments, .. } => {
            for argument in &arguments.positional {
                inline_quotes(argument, quoted);
            }
        }
        InlineExpression::StringLiteral { .. }
        | InlineExpression::NumberLiteral { .. }
        | InlineExpression::VariableReference { .. } => {}
    }
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
        self.check_rings(faults);
    }

    /// Notes every sentence that quotes itself, be it by way of others: a person would read its name.
    fn check_rings(&self, faults: &mut Faults) {
        for ((language, id), place) in &self.places {
            let Some(quotes) = self.quotes.get(language) else { continue };
            let mut reached = BTreeSet::new();
            let mut next: Vec<&String> = quotes.get(*id).into_iter().flatten().collect();
            while let Some(quoted) = next.pop() {
                if reached.insert(quoted) {
                    next.extend(quotes.get(quoted).into_iter().flatten());
                }
            }
            if reached.contains(&(*id).to_owned()) {
                let by: Vec<&str> = reached.iter().map(|by| by.as_str()).filter(|by| by != id).collect();
                let by =
                    if by.is_empty() { String::new() } else { format!(", by way of `{}`", by.join("`, `")) };
                faults.at(*place, format!("`{id}` quotes itself{by}: nobody could ever read it."));
            }
        }
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
