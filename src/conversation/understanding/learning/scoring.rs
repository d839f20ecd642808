//! What a clause scores by what was learned: for each topic, and for each kind of danger.

use super::evidence;
use super::learned::Learned;
use crate::conversation::understanding::danger::Alarm;
use crate::conversation::understanding::words::reading::{Clause, Heard, Reader};
use crate::conversation::understanding::words::terms::{Keys, Terms};
use crate::conversation::understanding::{DangerKind, TopicId};

/// Danger is looked for in stretches of this many words: what else a message says must not drown it.
const STRETCH: usize = 12;
/// So many neighbouring clauses may speak of it together.
const TOGETHER: usize = 3;

/// A clause as it is scored.
#[derive(Clone, Debug)]
pub(in super::super) struct Read {
    pub(in super::super) terms: Terms,
}

/// What one topic scores.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in super::super) struct Score {
    pub(in super::super) topic: TopicId,
    pub(in super::super) score: i32,
}

impl Read {
    /// A clause, read by this reader.
    pub(in super::super) fn of(reader: &Reader, clause: &Clause) -> Self {
        Self { terms: Terms::of(clause, |word| reader.is_filler(word)) }
    }

    /// The blocks that danger is told by: words as they were typed too, for the vocabulary reads "crushed" as "split".
    pub(in super::super) fn danger_blocks(&self) -> [Keys; 2] {
        let mut words: Keys = self.terms.read.iter().chain(&self.terms.typed).copied().collect();
        words.sort_unstable();
        [words, self.terms.letters.clone()]
    }
}

/// Every topic's score, the highest first.
pub(in super::super) fn scores_of(learned: &Learned, read: &Read) -> Vec<Score> {
    let linear = learned.topics.score([&read.terms.read, &read.terms.letters]);
    let evident = evidence::weigh(&learned.evidence, &read.terms.telling, read.terms.told);
    let both = linear.into_iter().zip(evident).map(|(linear, evident)| linear + evident);
    let mut scores: Vec<Score> =
        learned.columns.iter().zip(both).map(|(topic, score)| Score { topic: *topic, score }).collect();
    scores.sort_by_key(|one| (std::cmp::Reverse(one.score), one.topic));
    scores
}

/// The loudest alarm of a message: of the whole of it, and of every stretch, so that what else is said drowns nothing.
pub(in super::super) fn alarm(
    learned: &Learned,
    reader: &Reader,
    heard: &Heard,
    whole: &Read,
) -> Option<Alarm> {
    let loudest = stretches(reader, heard).map(|read| alarm_of(learned, &read)).max().flatten();
    loudest.max(alarm_of(learned, whole))
}

/// The stretches of a message that is longer than one: neighbouring clauses together, and no more words than go
/// well together.
pub(in super::super) fn stretches<'a>(
    reader: &'a Reader,
    heard: &'a Heard,
) -> impl Iterator<Item = Read> + 'a {
    let clauses = &heard.clauses;
    let in_one = clauses.len() <= 1 && heard.whole.words.len() <= STRETCH;
    let one = clauses.iter().filter(move |_| !in_one).flat_map(|clause| clause.spans(STRETCH));
    let many = (2..=TOGETHER).flat_map(|many| clauses.windows(many)).map(Clause::together);
    one.chain(many.filter(|clause| clause.words.len() <= 2 * STRETCH)).map(|span| Read::of(reader, &span))
}

/// The alarm of one stretch: how much it sounds like any danger, and like which most.
fn alarm_of(learned: &Learned, read: &Read) -> Option<Alarm> {
    let [words, letters] = read.danger_blocks();
    let scores = learned.dangers.score([&words, &letters]);
    let (any, kinds) = scores.split_last()?;
    let kind = kinds.iter().zip(DangerKind::ALL).max_by_key(|(score, _)| **score).map(|(_, kind)| *kind)?;
    Some(Alarm { score: *any, kind })
}
