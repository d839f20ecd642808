//! Messages that are kept: met again word for word they mean what they meant, and those that were added since the
//! last learning are known by what is near to them too.

use super::learning::learned::Learned;
use super::learning::scoring::Read;
use super::learning::table::Table;
use super::message::{Meaning, Meanings, Message, meaning, words};
use super::words::reading::Reader;
use super::words::terms::Keys;

/// How alike two messages must be to mean the same, in hundredths: the cosine of their telling words.
const ALIKE: u64 = 75;
/// How rare a term is that no learned message uses.
const UNHEARD: u16 = 140;

/// Messages that were added since the last learning: their terms and what they mean.
#[derive(Clone, Debug, Default)]
pub(super) struct Added {
    meanings: Meanings,
    terms: Vec<(Keys, Meaning)>,
}

impl Added {
    /// Those of these messages that nothing was learned from.
    pub(super) fn new<'a>(
        messages: impl IntoIterator<Item = &'a Message>,
        learned: &Learned,
        reader: &Reader,
    ) -> Self {
        let mut added = Self::default();
        for message in messages {
            let (words, meaning) = meaning(message);
            if learned.kept.get(&words) != Some(&meaning) {
                let read = Read::of(reader, &reader.read(&message.says).whole);
                added.terms.push((read.terms.telling, meaning.clone()));
                added.meanings.insert(words, meaning);
            }
        }
        added
    }

    /// What the kept message means that this one is, or is as good as.
    pub(super) fn meaning_of<'a>(
        &'a self,
        said: &str,
        read: &Read,
        learned: &'a Learned,
    ) -> Option<&'a Meaning> {
        let words = words(said);
        let kept = self.meanings.get(&words).or_else(|| learned.kept.get(&words));
        kept.or_else(|| self.near_to(read, learned))
    }

    /// What the nearest of the added messages means, where one is near.
    pub(super) fn near_to(&self, read: &Read, learned: &Learned) -> Option<&Meaning> {
        let near = self.terms.iter().map(|(keys, meaning)| {
            let alike = alike(keys, &read.terms.telling, &learned.topics);
            (alike, meaning)
        });
        let near = near.filter(|(alike, _)| *alike >= ALIKE);
        near.max_by_key(|(alike, _)| *alike).map(|(_, meaning)| meaning)
    }
}

/// How alike two messages are, in hundredths; rare terms count more.
fn alike(one: &Keys, other: &Keys, table: &Table) -> u64 {
    let square = |key: &u64| u64::from(table.rarity(*key).unwrap_or(UNHEARD)).pow(2);
    let squares = |keys: &Keys| keys.iter().map(square).sum::<u64>();
    let common: u64 = one.iter().filter(|key| other.binary_search(key).is_ok()).map(square).sum();
    let length = (squares(one) * squares(other)).isqrt().max(1);
    common * 100 / length
}
