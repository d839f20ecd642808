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
use crate::units::UsualUnit;
use crate::units::saying::{say_angle, say_area, say_length, say_mass, say_money, say_reading};

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
            args.set(name.as_ref(), self.value(language, arg, unit));
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
            Arg::Size(size) if size.is_whole_mm() => say_length(*size, UsualUnit::Mm).into(),
            Arg::Size(size) => say_length(*size, unit).into(),
            Arg::Reading(reading) => say_reading(reading).into(),
            Arg::Lengths(lengths) => {
                let said: Vec<String> = lengths.iter().map(|length| say_length(*length, unit)).collect();
                self.list(language, &said).into()
            }
            Arg::Angle(angle) => say_angle(*angle).into(),
            Arg::Area(area) => say_area(*area, unit).into(),
            Arg::Mass(mass) => say_mass(*mass).into(),
            Arg::Money(money) => say_money(*money).into(),
            Arg::Count(count) => (*count).into(),
            Arg::Text(text) => text.as_str().into(),
            Arg::Word(id) => self.fill(language, id, &FluentArgs::new()).into(),
            Arg::Note(note) => self.say(language, note, unit).into(),
            Arg::Notes(notes) => {
                let said: Vec<String> = notes.iter().map(|note| self.say(language, note, unit)).collect();
                self.list(language, &said).into()
            }
        }
    }

    fn list(&self, language: &str, said: &[String]) -> String {
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
        // A variant of a language has only the sentences that differ.
        let base = language.rsplit_once('-').map_or(language, |(base, _)| base);
        let found = [language, base, FALLBACK].into_iter().find_map(|language| {
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Length;

    fn words() -> Words {
        let mut words = Words::default();
        for (language, text) in [
            (
                "en",
                "lap = The lap is { $lap }.\n\
                 sheets = { $sheets ->\n    [one] one sheet\n   *[other] { $sheets } sheets\n }\n\
                 front = front slope\nwhere = On the { $slope }: { front }.\n\
                 lines = Purlins at { $lines }.\nlist-and = { $before } and { $last }\n",
            ),
            ("fr", "front = versant avant\n"),
        ] {
            assert!(words.add(language, FluentResource::try_new(text.to_owned()).unwrap()));
        }
        words
    }

    fn say(note: &Note) -> String {
        words().say("en", note, UsualUnit::Mm)
    }

    #[test]
    fn lengths_are_said_in_the_persons_units() {
        let note = Note::new("lap").length("lap", Length::from_mm(1_016));
        assert_eq!(words().say("en", &note, UsualUnit::Mm), "The lap is 1 016 mm.");
        assert_eq!(words().say("en", &note, UsualUnit::M), "The lap is 1.016 m.");
    }

    #[test]
    fn a_count_picks_the_plural() {
        assert_eq!(say(&Note::new("sheets").count("sheets", 1)), "one sheet");
        assert_eq!(say(&Note::new("sheets").count("sheets", 14)), "14 sheets");
    }

    #[test]
    fn a_word_is_another_sentence_in_the_same_language_or_else_in_english() {
        let note = Note::new("where").word("slope", "front");
        assert_eq!(say(&note), "On the front slope: front slope.");
        assert_eq!(words().say("fr", &note, UsualUnit::Mm), "On the versant avant: front slope.");
        assert_eq!(words().say("de", &note, UsualUnit::Mm), "On the front slope: front slope.");
    }

    #[test]
    fn several_lengths_are_a_list() {
        let lines = |mm: &[i64]| {
            let lengths = mm.iter().copied().map(Length::from_mm).collect();
            say(&Note::new("lines").with("lines", Arg::Lengths(lengths)))
        };
        assert_eq!(lines(&[50]), "Purlins at 50 mm.");
        assert_eq!(lines(&[50, 660]), "Purlins at 50 mm and 660 mm.");
        assert_eq!(lines(&[50, 660, 1_270]), "Purlins at 50 mm, 660 mm and 1 270 mm.");
    }

    #[test]
    fn what_is_missing_shows_its_name_and_stops_nothing() {
        assert_eq!(say(&Note::new("never-written")), "never-written");
        assert_eq!(say(&Note::new("lap")), "The lap is {$lap}.");
    }

    #[test]
    fn what_a_sentence_is_made_of_is_known() {
        let parts = words().parts("en", "where");
        assert_eq!(parts.variables, BTreeSet::from(["slope".to_owned()]));
        assert_eq!(parts.quotes, BTreeSet::from(["front".to_owned()]));
        assert_eq!(words().variables("sheets"), BTreeSet::from(["sheets".to_owned()]));
    }
}
