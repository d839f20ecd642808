//! The second line: how much the words of a message look like the phrasings kept beside each topic.
//!
//! # Source
//! Okapi BM25 (Robertson and Zaragoza, "The Probabilistic Relevance Framework", 2009), over single words and
//! pairs of neighbours, with one document a topic; k1 and b at their usual values (from memory).

use std::collections::{BTreeMap, BTreeSet};

/// Term-frequency saturation.
const K1: f64 = 1.2;
/// Length normalisation.
const B: f64 = 0.5;

/// A weight for every word in every topic that uses it.
#[derive(Clone, Debug, Default)]
pub(super) struct Ranking {
    weights: BTreeMap<String, Vec<(usize, f64)>>,
}

/// What the ranking gives one topic.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Rank {
    /// The sum of the weights, in hundredths.
    pub(super) score: i32,
    /// The words that gave it.
    pub(super) words: Vec<String>,
}

impl Ranking {
    /// Weighs the words of every topic's phrasings; each phrasing is a list of words without fillers.
    pub(super) fn new(topics: &[Vec<Vec<String>>]) -> Self {
        let counts: Vec<BTreeMap<String, f64>> = topics.iter().map(|phrasings| count(phrasings)).collect();
        let sizes: Vec<f64> = counts.iter().map(|count| count.values().sum()).collect();
        let topic_count = number(topics.len());
        let usual_size = (sizes.iter().sum::<f64>() / topic_count.max(1.0)).max(1.0);
        let terms: BTreeSet<&String> = counts.iter().flat_map(BTreeMap::keys).collect();
        let mut weights = BTreeMap::new();
        for term in terms {
            let users = number(counts.iter().filter(|count| count.contains_key(term)).count());
            let rarity = libm::log1p((topic_count - users + 0.5) / (users + 0.5));
            let by_topic = counts.iter().zip(&sizes).enumerate().filter_map(|(topic, (count, size))| {
                let times = count.get(term)?;
                let damped = times * (K1 + 1.0) / (times + K1 * (1.0 - B + B * size / usual_size));
                Some((topic, rarity * damped))
            });
            weights.insert(term.clone(), by_topic.collect());
        }
        Self { weights }
    }

    /// What each topic gets for these words, by the topic's index.
    pub(super) fn rank(&self, words: &[String]) -> BTreeMap<usize, Rank> {
        let mut sums: BTreeMap<usize, (f64, Vec<String>)> = BTreeMap::new();
        let unique: BTreeSet<String> = terms(words).collect();
        for term in unique {
            for (topic, weight) in self.weights.get(&term).into_iter().flatten() {
                let (sum, why) = sums.entry(*topic).or_default();
                *sum += weight;
                why.push(term.clone());
            }
        }
        sums.into_iter()
            .map(|(topic, (sum, words))| (topic, Rank { score: hundredths(sum), words }))
            .collect()
    }
}

fn count(phrasings: &[Vec<String>]) -> BTreeMap<String, f64> {
    let mut counts = BTreeMap::new();
    for term in phrasings.iter().flat_map(|words| terms(words)) {
        *counts.entry(term).or_insert(0.0) += 1.0;
    }
    counts
}

/// Words, and pairs of neighbours.
fn terms(words: &[String]) -> impl Iterator<Item = String> {
    let pairs = words.windows(2).map(|pair| pair.join(" "));
    words.iter().cloned().chain(pairs)
}

fn number(count: usize) -> f64 {
    u32::try_from(count).map_or(f64::from(u32::MAX), f64::from)
}

#[expect(clippy::as_conversions, clippy::cast_possible_truncation, reason = "bounded on the same line")]
fn hundredths(score: f64) -> i32 {
    libm::round(score * 100.0).clamp(0.0, 1e6) as i32
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_word_only_one_topic_uses_weighs_more_than_one_they_share() {
        let words = |text: &str| text.split(' ').map(str::to_owned).collect::<Vec<_>>();
        let ranking =
            Ranking::new(&[vec![words("sheet moss")], vec![words("sheet paint")], vec![words("sheet wall")]]);
        let ranks = ranking.rank(&words("moss on sheet"));
        assert!(ranks[&0].score > ranks[&1].score);
        assert_eq!(ranks[&1].score, ranks[&2].score);
        assert_eq!(ranks[&0].words, ["moss", "sheet"]);
    }
}
