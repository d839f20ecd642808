//! The ears of every language of a book, each made ready when the first message in it comes: starting does not wait.

use std::collections::BTreeMap;
use std::fmt;
use std::sync::OnceLock;

use super::Ears;

/// How the ears of a language are made.
pub type Make = Box<dyn Fn() -> Ears + Send + Sync>;

/// The ears of every language.
pub struct Hearing {
    languages: BTreeMap<String, Language>,
    none: Ears,
}

struct Language {
    make: Make,
    ready: OnceLock<Ears>,
    /// What it lacks to be offered.
    lacking: usize,
}

impl Hearing {
    /// The ears of these languages, each with how many things it lacks.
    pub fn new(languages: impl IntoIterator<Item = (String, Make, usize)>) -> Self {
        let languages = languages
            .into_iter()
            .map(|(tag, make, lacking)| (tag, Language { make, ready: OnceLock::new(), lacking }));
        Self { languages: languages.collect(), none: Ears::default() }
    }

    /// The ears of a language; those of English where it has none.
    pub fn of(&self, language: &str) -> &Ears {
        let found = self.languages.get(language).or_else(|| self.languages.get("en"));
        found.map_or(&self.none, |language| language.ready.get_or_init(&language.make))
    }

    /// Every language that is whole, and may be offered.
    pub fn offered(&self) -> impl Iterator<Item = &str> {
        self.languages.iter().filter(|(_, language)| language.lacking == 0).map(|(tag, _)| tag.as_str())
    }

    /// Every language that is not whole yet, and how many things it lacks.
    pub fn incomplete(&self) -> impl Iterator<Item = (&str, usize)> {
        let lacking = self.languages.iter().filter(|(_, language)| language.lacking > 0);
        lacking.map(|(tag, language)| (tag.as_str(), language.lacking))
    }
}

impl fmt::Debug for Hearing {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Hearing").field("languages", &self.languages.len()).finish_non_exhaustive()
    }
}
