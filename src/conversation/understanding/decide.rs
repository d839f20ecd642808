//! From what was heard to a verdict.

use std::collections::BTreeMap;

use super::patterns::{Patterns, Strength, words_of};
use super::ranking::Ranking;
use super::reading::{Clause, Heard, Reader};
use super::topic::{Topic, TopicId, Vocabulary};
use super::{Because, Hit, Understanding, Verdict};
use crate::roofing::rules::Handover;

/// What a pattern that settles a topic against all others gives it.
const OVERRULES: i32 = 160;
/// What a pattern that settles a topic gives it.
const SURE: i32 = 100;
/// What a pattern that speaks for a topic gives it.
const LIKELY: i32 = 50;
/// What each part beyond a pattern's first adds: the more exact pattern wins.
const EACH_PART: i32 = 12;
/// The most that ranking by words can give.
const MOST_BY_RANKING: i32 = 80;
/// A topic with this score is answered, if no other is near.
const ENOUGH: i32 = 70;
/// How far the next topic must be behind.
const MARGIN: i32 = 6;
/// A topic with less than this is not even near.
const NEAR: i32 = 28;
/// No more topics than this are answered, or offered, at once.
const MOST_TOPICS: usize = 4;

/// Understands messages by the adviser's topics.
#[derive(Clone, Debug)]
pub struct Understander {
    topics: Vec<Topic>,
    reader: Reader,
    patterns: Patterns,
    ranking: Ranking,
}

impl Understander {
    /// By these topics and this vocabulary.
    ///
    /// # Errors
    /// A pattern that is no regular expression.
    pub fn new(topics: Vec<Topic>, vocabulary: &Vocabulary) -> Result<Self, regex::Error> {
        let phrasings = topics.iter().flat_map(|topic| topic.asked_as.iter().map(String::as_str));
        let pattern_words = topics.iter().flat_map(Topic::patterns).flat_map(words_of);
        let reader = Reader::new(vocabulary, phrasings.chain(pattern_words));
        let patterns = Patterns::new(&topics, &reader)?;
        let documents: Vec<Vec<Vec<String>>> = topics
            .iter()
            .map(|topic| {
                topic.asked_as.iter().map(|said| telling(&reader, &reader.read(said).whole)).collect()
            })
            .collect();
        let ranking = Ranking::new(&documents);
        Ok(Self { topics, reader, patterns, ranking })
    }

    /// The topics it knows.
    pub fn topics(&self) -> &[Topic] {
        &self.topics
    }

    /// What a message asks.
    pub fn understand(&self, message: &str) -> Understanding {
        let heard = self.reader.read(message);
        let dangers = self.dangers(&heard);
        let mut asked: Vec<Hit> = dangers.clone();
        let mut near: Vec<Hit> = Vec::new();
        for clause in &heard.clauses {
            let mut scored = self.score(clause);
            if is_settled(&scored, self.has_strangers(clause)) {
                scored.truncate(1);
                asked.append(&mut scored);
            } else {
                near.append(&mut scored);
            }
        }
        if asked.is_empty() && heard.clauses.len() > 1 {
            // A question spread over several sentences.
            let mut scored = self.score(&heard.whole);
            if is_settled(&scored, self.has_strangers(&heard.whole)) {
                scored.truncate(1);
                asked = scored;
            } else {
                near.append(&mut scored);
            }
        }
        self.conclude(asked, near, &heard)
    }

    /// Patterns of danger over the whole message and over each clause, the gravest first.
    fn dangers(&self, heard: &Heard) -> Vec<Hit> {
        let mut found: BTreeMap<(Handover, usize), Hit> = BTreeMap::new();
        for clause in heard.clauses.iter().chain([&heard.whole]) {
            for pattern in self.patterns.heard(clause).filter(|one| one.strength == Strength::Danger) {
                let Some(topic) = self.topics.get(pattern.topic) else { continue };
                let handover = topic.danger_handover.or(topic.handover).unwrap_or(Handover::Adviser);
                found.entry((handover, pattern.topic)).or_insert_with(|| Hit {
                    topic: topic.id,
                    score: 2 * SURE,
                    danger: true,
                    because: vec![Because::Pattern(pattern.text.clone())],
                });
            }
        }
        found.into_values().collect()
    }

    /// Every topic a clause may be about, the best first.
    fn score(&self, clause: &Clause) -> Vec<Hit> {
        let mut scores: BTreeMap<usize, (i32, Vec<Because>)> = BTreeMap::new();
        for pattern in self.patterns.heard(clause) {
            let base = match pattern.strength {
                Strength::Likely => LIKELY,
                Strength::Sure | Strength::Danger => SURE,
                Strength::Overrules => OVERRULES,
            };
            let parts = i32::try_from(pattern.parts()).unwrap_or(i32::MAX).saturating_sub(1);
            let score = base.saturating_add(parts.saturating_mul(EACH_PART));
            let entry = scores.entry(pattern.topic).or_default();
            entry.0 = entry.0.max(score);
            entry.1.push(Because::Pattern(pattern.text.clone()));
        }
        for (topic, rank) in self.ranking.rank(&telling(&self.reader, clause)) {
            let entry = scores.entry(topic).or_default();
            // Ranking tells near topics apart; beside a pattern it only breaks ties.
            let by_words = (rank.score / 20).min(MOST_BY_RANKING);
            entry.0 += if entry.0 >= SURE { by_words / 4 } else { by_words };
            entry.1.push(Because::Words(rank.words));
        }
        let mut hits: Vec<Hit> = scores
            .into_iter()
            .filter(|(_, (score, _))| *score >= NEAR)
            .filter_map(|(topic, (score, because))| {
                let topic = self.topics.get(topic)?.id;
                Some(Hit { topic, score, danger: false, because })
            })
            .collect();
        hits.sort_by(|a, b| b.score.cmp(&a.score).then(a.topic.cmp(&b.topic)));
        hits
    }

    fn conclude(&self, mut asked: Vec<Hit>, mut near: Vec<Hit>, heard: &Heard) -> Understanding {
        if asked.iter().any(|hit| !hit.topic.gives_way()) {
            asked.retain(|hit| !hit.topic.gives_way());
        }
        // Beside something asked plainly, a mere likeness is chatter.
        if asked.iter().any(|hit| hit.score >= SURE) {
            asked.retain(|hit| hit.score >= SURE);
        }
        keep_first(&mut asked);
        near.sort_by(|a, b| b.score.cmp(&a.score).then(a.topic.cmp(&b.topic)));
        if asked.is_empty() && near.iter().all(|hit| hit.topic.gives_way()) {
            asked = near.iter().take(1).filter(|hit| hit.score >= ENOUGH).cloned().collect();
        }
        keep_first(&mut near);
        let small_talk_only = asked.iter().all(|hit| hit.topic.gives_way());
        let (mut topics, verdict) =
            if small_talk_only && near.first().is_some_and(|hit| !hit.topic.gives_way()) {
                (near, Verdict::Near)
            } else if !asked.is_empty() {
                (asked, Verdict::One)
            } else if heard.clauses.iter().all(|clause| self.says_nothing(clause)) {
                let nothing = Hit {
                    topic: TopicId::OffTopic,
                    score: SURE,
                    danger: false,
                    because: vec![Because::NothingKnown],
                };
                (vec![nothing], Verdict::One)
            } else {
                (Vec::new(), Verdict::None)
            };
        for hit in &mut topics {
            let mended = heard.mended.iter().cloned();
            hit.because.extend(mended.map(|(typed, read)| Because::Mended { typed, read }));
        }
        let handover =
            topics.iter().filter(|_| verdict == Verdict::One).filter_map(|hit| self.handover(hit)).min();
        let stopped =
            topics.iter().filter(|hit| hit.danger).find_map(|hit| self.topic(hit.topic)?.stops.clone());
        Understanding { topics, verdict, handover, stopped }
    }

    fn says_nothing(&self, clause: &Clause) -> bool {
        self.ranking.rank(&telling(&self.reader, clause)).is_empty()
    }

    /// Whether a clause has telling words that no topic knows.
    fn has_strangers(&self, clause: &Clause) -> bool {
        let telling = telling(&self.reader, clause);
        telling.iter().any(|word| !self.reader.knows(word) && !word.starts_with(|c: char| c.is_ascii_digit()))
    }

    fn topic(&self, id: TopicId) -> Option<&Topic> {
        self.topics.iter().find(|topic| topic.id == id)
    }

    fn handover(&self, hit: &Hit) -> Option<Handover> {
        let topic = self.topic(hit.topic)?;
        let by_danger = if hit.danger { topic.danger_handover } else { None };
        topic.handover.into_iter().chain(by_danger).min()
    }
}

/// The words of a clause that tell something.
fn telling(reader: &Reader, clause: &Clause) -> Vec<String> {
    clause.words.iter().filter(|word| !reader.is_filler(word)).cloned().collect()
}

/// Whether the best is good enough and far enough ahead. Beside words that no topic knows, a likeness is not
/// enough: "change a tyre" is not about changing a figure.
fn is_settled(hits: &[Hit], strangers: bool) -> bool {
    let enough = if strangers { SURE } else { ENOUGH };
    match hits {
        [] => false,
        [only] => only.score >= enough,
        [best, next, ..] => best.score >= enough && best.score - next.score >= MARGIN,
    }
}

/// Keeps the first hit of each topic, and no more than a person can take in.
fn keep_first(hits: &mut Vec<Hit>) {
    let mut seen = Vec::new();
    hits.retain(|hit| {
        let new = !seen.contains(&hit.topic);
        seen.push(hit.topic);
        new
    });
    hits.truncate(MOST_TOPICS);
}
