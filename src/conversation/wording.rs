//! Wording: turns a [`Note`] into a sentence of the adviser's, in the person's language and units.
//!
//! The sentences are Fluent messages, handed in by `book`. A sentence or a figure that is missing never stops a
//! turn: its id is shown, and the log says so.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt;

use fluent_bundle::concurrent::FluentBundle;
use fluent_bundle::{FluentArgs, FluentResource, FluentValue};
use fluent_syntax::ast::{Entry, Expression, InlineExpression, Pattern, PatternElement};
use unic_langid::LanguageIdentifier;

use crate::roofing::note::{Arg, Note};
use crate::units::{Length, UsualUnit};

/// The language spoken where the asked-for one has no such sentence.
const FALLBACK: &str = "en";

/// Every sentence the bot may say, by language.
#[derive(Default)]
pub struct Words {
    languages: BTreeMap<String, Language>,
}

struct Language {
    bundle: FluentBundle<FluentResource>,
    ids: BTreeSet<String>,
}

impl Words {
    /// Adds the sentences of one file. A sentence that is there already keeps its first wording.
    ///
    /// Returns `false`, and adds nothing, where `language` is no language tag.
    pub fn add(&mut self, language: &str, sentences: FluentResource) -> bool {
        let Ok(tag) = language.parse::<LanguageIdentifier>() else { return false };
        let known = self.languages.entry(language.to_owned()).or_insert_with(|| {
            let mut bundle = FluentBundle::new_concurrent(vec![tag]);
            // Isolation marks are for texts that mix directions; a terminal shows them as rubbish.
            bundle.set_use_isolating(false);
            Language { bundle, ids: BTreeSet::new() }
        });
        known.ids.extend(sentences.entries().filter_map(|entry| match entry {
            Entry::Message(message) => Some(message.id.name.to_owned()),
            Entry::Term(_)
            | Entry::Comment(_)
            | Entry::GroupComment(_)
            | Entry::ResourceComment(_)
            | Entry::Junk { .. } => None,
        }));
        // It complains only of sentences said twice, which `book` has named by then.
        let _ = known.bundle.add_resource(sentences);
        true
    }

    /// The sentence of a note, in `language` or else in English, its figures in the person's units.
    pub fn say(&self, language: &str, note: &Note, unit: UsualUnit) -> String {
        let mut args = FluentArgs::with_capacity(note.args.len());
        for (name, arg) in &note.args {
            args.set(*name, self.value(language, arg, unit));
        }
        self.fill(language, &note.message, &args)
    }

    /// The languages there are sentences in.
    pub fn languages(&self) -> impl Iterator<Item = &str> {
        self.languages.keys().map(String::as_str)
    }

    /// Whether there is such a sentence in that language itself.
    pub fn has(&self, language: &str, id: &str) -> bool {
        self.languages.get(language).is_some_and(|known| known.ids.contains(id))
    }

    /// The ids of all sentences in English.
    pub fn ids(&self) -> impl Iterator<Item = &str> {
        self.ids_in(FALLBACK)
    }

    /// The ids of all sentences in a language.
    pub fn ids_in(&self, language: &str) -> impl Iterator<Item = &str> {
        self.languages.get(language).into_iter().flat_map(|known| known.ids.iter().map(String::as_str))
    }

    /// The figures an English sentence asks for, those of sentences it quotes included.
    pub fn variables(&self, id: &str) -> BTreeSet<String> {
        self.parts(FALLBACK, id).variables
    }

    /// What a sentence in one language is made of.
    pub fn parts(&self, language: &str, id: &str) -> Parts {
        let mut parts = Parts::default();
        if let Some(known) = self.languages.get(language) {
            known.collect(id, &mut parts);
        }
        parts
    }

    fn value<'a>(&self, language: &str, arg: &'a Arg, unit: UsualUnit) -> FluentValue<'a> {
        match arg {
            Arg::Length(length) => say_length(*length, unit).into(),
            Arg::Lengths(lengths) => self.list(language, lengths, unit).into(),
            Arg::Angle(angle) => format!("{}°", round_to(angle.deg(), 10.0)).into(),
            Arg::Area(area) => format!("{} m²", decimal(area.centi_m2(), 2)).into(),
            Arg::Mass(mass) => format!("{} kg", decimal(i128::from(mass.g() + 50).div_euclid(100), 1)).into(),
            Arg::Money(money) => format!("{} {:.2}", money.currency.code(), money.amount).into(),
            Arg::Count(count) => (*count).into(),
            Arg::Text(text) => text.as_str().into(),
            Arg::Word(id) => self.fill(language, id, &FluentArgs::new()).into(),
        }
    }

    fn list(&self, language: &str, lengths: &[Length], unit: UsualUnit) -> String {
        let said: Vec<String> = lengths.iter().map(|length| say_length(*length, unit)).collect();
        match said.split_last() {
            None => String::new(),
            Some((last, [])) => last.clone(),
            Some((last, before)) => {
                let mut args = FluentArgs::with_capacity(2);
                args.set("before", before.join(", "));
                args.set("last", last.as_str());
                self.fill(language, "list-and", &args)
            }
        }
    }

    fn fill(&self, language: &str, id: &str, args: &FluentArgs<'_>) -> String {
        let found = [language, FALLBACK].into_iter().find_map(|language| {
            let known = self.languages.get(language)?;
            Some((known, known.bundle.get_message(id)?.value()?))
        });
        let Some((known, pattern)) = found else {
            tracing::error!(id, language, "no such sentence in the book");
            return id.to_owned();
        };
        let mut errors = Vec::new();
        let said = known.bundle.format_pattern(pattern, Some(args), &mut errors).into_owned();
        for error in errors {
            tracing::error!(id, language, %error, "the sentence cannot be filled");
        }
        said
    }
}

impl fmt::Debug for Words {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let counts = self.languages.iter().map(|(language, known)| (language, known.ids.len()));
        f.debug_map().entries(counts).finish()
    }
}

/// What a sentence is made of.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Parts {
    /// The figures it asks for, without their `$`.
    pub variables: BTreeSet<String>,
    /// The other sentences it quotes, and those they quote.
    pub quotes: BTreeSet<String>,
}

impl Language {
    fn collect(&self, id: &str, parts: &mut Parts) {
        if let Some(pattern) = self.bundle.get_message(id).and_then(|message| message.value()) {
            self.collect_pattern(pattern, parts);
        }
    }

    fn collect_pattern(&self, pattern: &Pattern<&str>, parts: &mut Parts) {
        for element in &pattern.elements {
            match element {
                PatternElement::Placeable { expression } => self.collect_expression(expression, parts),
                PatternElement::TextElement { .. } => {}
            }
        }
    }

    fn collect_expression(&self, expression: &Expression<&str>, parts: &mut Parts) {
        match expression {
            Expression::Inline(inline) => self.collect_inline(inline, parts),
            Expression::Select { selector, variants } => {
                self.collect_inline(selector, parts);
                for variant in variants {
                    self.collect_pattern(&variant.value, parts);
                }
            }
        }
    }

    fn collect_inline(&self, inline: &InlineExpression<&str>, parts: &mut Parts) {
        match inline {
            InlineExpression::VariableReference { id } => {
                parts.variables.insert(id.name.to_owned());
            }
            InlineExpression::MessageReference { id, .. } => {
                if parts.quotes.insert(id.name.to_owned()) {
                    self.collect(id.name, parts);
                }
            }
            InlineExpression::FunctionReference { arguments, .. } => {
                for argument in &arguments.positional {
                    self.collect_inline(argument, parts);
                }
            }
            InlineExpression::Placeable { expression } => self.collect_expression(expression, parts),
            // A term sees only what it is handed, so it asks for no figures of its own.
            InlineExpression::StringLiteral { .. }
            | InlineExpression::NumberLiteral { .. }
            | InlineExpression::TermReference { .. } => {}
        }
    }
}

fn say_length(length: Length, unit: UsualUnit) -> String {
    match unit {
        UsualUnit::Mm => format!("{} mm", length.round_mm()),
        UsualUnit::M if length.abs() < Length::from_mm(1_000) => format!("{} mm", length.round_mm()),
        UsualUnit::M => format!("{} m", decimal(i128::from(length.round_mm()), 3)),
        UsualUnit::FtIn => format!("{} in", round_to(length.mm() / 25.4, 16.0)),
    }
}

fn round_to(value: f64, parts: f64) -> f64 {
    libm::round(value * parts) / parts
}

/// A whole number of hundredths or thousandths as a decimal without needless zeros.
fn decimal(whole: i128, places: u32) -> String {
    rust_decimal::Decimal::from_i128_with_scale(whole, places).normalize().to_string()
}
