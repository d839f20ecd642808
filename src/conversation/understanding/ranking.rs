//! The second line: how much the words of a message look like the phrasings kept for each topic.
//!
//! Every word, and every pair of neighbours, is weighed by how much more often phrasings of a topic use it than
//! phrasings of all the others do. A word that speaks for no topic weighs nothing; none weighs against one.
//!
//! # Source
//! The weight is the logarithm of the ratio of two smoothed frequencies, the "weight of evidence" (Good,
//! "Probability and the Weighing of Evidence", 1950); the smoothing is common practice, no source.

use std::collections::{BTreeMap, BTreeSet};

/// How many phrasings that use each word as everybody does are added to a topic's own.
const PRIOR: f64 = 1.0;
/// What keeps a word that no other topic uses from weighing without end.
const UNSEEN: f64 = 0.05;

/// How the length of a message tells against what its words weigh: by this power.
const DAMPING: f64 = 0.2;

/// Words of a phrasing or a clause, and which of them tell something.
#[derive(Clone, Debug, Default)]
pub(super) struct Said {
    words: Vec<String>,
    telling: Vec<String>,
}

/// A weight for every word in every topic that uses it.
#[derive(Clone, Debug, Default)]
pub(super) struct Ranking {
    weights: BTreeMap<String, Vec<(usize, f64)>>,
}

/// What the ranking gives one topic.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Rank {
    /// The sum of the weights for each word of a message of usual length, in hundredths.
    pub(super) score: i32,
    /// The words that gave it.
    pub(super) words: Vec<String>,
}

impl Said {
    /// These words, of which `is_filler` tells those that say nothing alone.
    pub(super) fn new(words: &[String], is_filler: impl Fn(&str) -> bool) -> Self {
        let telling = words.iter().filter(|word| !is_filler(word)).cloned().collect();
        Self { words: words.to_vec(), telling }
    }

    /// The words that tell something.
    pub(super) fn telling(&self) -> &[String] {
        &self.telling
    }

    /// Telling words, pairs of them with what stands between left out, and pairs of any neighbours.
    fn terms(&self) -> BTreeSet<String> {
        let pairs = self.telling.windows(2).chain(self.words.windows(2)).map(|pair| pair.join(" "));
        self.telling.iter().cloned().chain(pairs).collect()
    }
}

impl Ranking {
    /// Weighs the terms of phrasings, each with the index of the topic it asks for.
    pub(super) fn new(phrasings: &[(usize, Said)]) -> Self {
        let mut sizes: BTreeMap<usize, f64> = BTreeMap::new();
        let mut uses: BTreeMap<String, BTreeMap<usize, f64>> = BTreeMap::new();
        let mut all = 0.0;
        for (topic, said) in phrasings {
            all += 1.0;
            *sizes.entry(*topic).or_default() += 1.0;
            for term in said.terms() {
                *uses.entry(term).or_default().entry(*topic).or_default() += 1.0;
            }
        }
        let weigh = |by_topic: BTreeMap<usize, f64>| {
            let everywhere: f64 = by_topic.values().sum();
            let usual = PRIOR * everywhere / all;
            let weight = |(topic, here): (usize, f64)| {
                let size = sizes.get(&topic).copied().unwrap_or_default();
                let own = (here + usual) / (size + PRIOR);
                let others = (everywhere - here + usual + UNSEEN) / (all - size + PRIOR);
                (topic, libm::log(own / others))
            };
            by_topic.into_iter().map(weight).filter(|(_, weight)| *weight > 0.0).collect()
        };
        Self { weights: uses.into_iter().map(|(term, by_topic)| (term, weigh(by_topic))).collect() }
    }

    /// What each topic gets for these words, by the topic's index.
    pub(super) fn rank(&self, said: &Said) -> BTreeMap<usize, Rank> {
        let mut sums: BTreeMap<usize, (f64, Vec<String>)> = BTreeMap::new();
        for term in said.terms() {
            for (topic, weight) in self.weights.get(&term).into_iter().flatten() {
                let (sum, why) = sums.entry(*topic).or_default();
                *sum += weight;
                why.push(term.clone());
            }
        }
        // A long message has more words that weigh by chance.
        let length = libm::pow(u32::try_from(said.telling.len().max(1)).map_or(f64::MAX, f64::from), DAMPING);
        sums.into_iter()
            .map(|(topic, (sum, words))| (topic, Rank { score: hundredths(sum / length), words }))
            .collect()
    }

    /// Whether any phrasing uses a word.
    pub(super) fn knows(&self, word: &str) -> bool {
        self.weights.contains_key(word)
    }
}

#[expect(clippy::as_conversions, clippy::cast_possible_truncation, reason = "bounded on the same line")]
fn hundredths(score: f64) -> i32 {
    libm::round(score * 100.0).clamp(0.0, 1e6) as i32
}

#[cfg(test)]
mod tests {
    use super::*;

    fn said(text: &str) -> Said {
        let words: Vec<String> = text.split(' ').map(str::to_owned).collect();
        Said::new(&words, |word| word == "on")
    }

    #[test]
    fn a_word_only_one_topic_uses_weighs_more_than_one_they_share() {
        let ranking =
            Ranking::new(&[(0, said("sheet moss")), (1, said("sheet paint")), (1, said("sheet wall"))]);
        let ranks = ranking.rank(&said("moss on sheet"));
        assert!(ranks[&0].score > 0);
        assert!(ranks.get(&1).is_none_or(|rank| rank.score < ranks[&0].score));
        assert!(ranks[&0].words.contains(&"moss".to_owned()));
    }

    #[test]
    fn what_every_topic_says_alike_weighs_nothing() {
        let ranking = Ranking::new(&[(0, said("sheet")), (1, said("sheet"))]);
        assert!(ranking.rank(&said("sheet")).values().all(|rank| rank.score < 5));
    }
}
