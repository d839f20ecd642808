//! From what was heard to a verdict.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use super::patterns::{Patterns, Strength, words_of};
use super::ranking::{Rank, Ranking, Said};
use super::reading::{Clause, Heard, Reader};
use super::topic::{Topic, TopicId, Vocabulary};
use super::{Because, DangerHeard, DangerKind, Hit, Understanding, Verdict};
use crate::roofing::rules::Handover;

/// What a pattern that settles a topic against all others gives it.
const OVERRULES: i32 = 180;
/// What a pattern that settles a topic gives it, where the words do not speak for another.
const SURE: i32 = 50;
/// What a pattern that speaks for a topic gives it.
const LIKELY: i32 = 10;
/// What each part beyond a pattern's first adds: the more exact pattern wins.
const EACH_PART: i32 = 4;
/// What one unit of the weight of a clause's words gives.
const BY_CLAUSE: i32 = 2;
/// What one unit of the weight of the whole message's words gives beside it.
const BY_WHOLE: i32 = 2;
/// The most that ranking by the words of a clause, or of the message, can give.
const MOST_BY_RANKING: i32 = 150;
/// A topic with this score is answered, if no other is near.
const ENOUGH: i32 = 50;
/// How far the next topic must be behind.
const MARGIN: i32 = 28;
/// A topic with less than this is not even near.
const NEAR: i32 = 24;
/// Danger is spoken of within this many words: a nail here and a finger there are no injury.
const SPAN: usize = 12;
/// A topic of danger with this score is answered where it is the nearest.
const GRAVE: i32 = 45;
/// What a pattern that hands the person on scores.
const HANDS_ON: i32 = 200;
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
        let phrasings: Vec<(usize, Said)> = topics
            .iter()
            .enumerate()
            .flat_map(|(index, topic)| {
                let all = topic.asked_as.iter().chain(&topic.heard_as);
                all.map(move |phrasing| (index, phrasing))
            })
            .map(|(index, phrasing)| (index, said(&reader, &reader.read(phrasing).whole)))
            .collect();
        let ranking = Ranking::new(&phrasings);
        Ok(Self { topics, reader, patterns, ranking })
    }

    /// The topics it knows.
    pub fn topics(&self) -> &[Topic] {
        &self.topics
    }

    /// What a message asks.
    pub fn understand(&self, message: &str) -> Understanding {
        let heard = self.reader.read(message);
        let danger = self.danger(&heard);
        let mut asked: Vec<Hit> = self.handed_on(&heard);
        let mut near: Vec<Hit> = Vec::new();
        let by_whole = self.ranking.rank(&said(&self.reader, &heard.whole));
        for clause in &heard.clauses {
            let mut scored = self.score(clause, &by_whole);
            if self.is_settled(&scored) {
                scored.truncate(1);
                asked.append(&mut scored);
            } else {
                near.append(&mut scored);
            }
        }
        if asked.is_empty() && heard.clauses.len() > 1 {
            // A question spread over several sentences.
            let mut scored = self.score(&heard.whole, &by_whole);
            if self.is_settled(&scored) {
                scored.truncate(1);
                asked = scored;
            } else {
                near.append(&mut scored);
            }
        }
        self.conclude(asked, near, danger, &heard)
    }

    /// The gravest danger in any stretch of a clause or of the whole message.
    fn danger(&self, heard: &Heard) -> Option<DangerHeard> {
        let found = self.in_stretches(heard, Strength::Danger);
        let kinds = found.into_iter().filter_map(|(topic, because)| {
            let kind = DangerKind::ALL.iter().find(|kind| kind.topic() == topic)?;
            Some(DangerHeard { kind: *kind, sure: true, because: vec![because] })
        });
        kinds.min_by_key(|danger| danger.kind)
    }

    /// Topics that hand the person on, by their patterns.
    fn handed_on(&self, heard: &Heard) -> Vec<Hit> {
        let found = self.in_stretches(heard, Strength::HandsOn);
        let hit = |(topic, because)| Hit { topic, score: HANDS_ON, handed_on: true, because: vec![because] };
        found.into_iter().map(hit).collect()
    }

    /// The topics of patterns of one strength over every stretch of each clause and of the whole message.
    fn in_stretches(&self, heard: &Heard, strength: Strength) -> BTreeMap<TopicId, Because> {
        let mut found = BTreeMap::new();
        let spans = heard.clauses.iter().chain([&heard.whole]).flat_map(|clause| clause.spans(SPAN));
        for span in spans {
            for pattern in self.patterns.heard(&span).filter(|one| one.strength == strength) {
                let Some(topic) = self.topics.get(pattern.topic) else { continue };
                found.entry(topic.id).or_insert_with(|| Because::Pattern(pattern.text.clone()));
            }
        }
        found
    }

    /// Every topic a clause may be about, the best first; `by_whole` is what the whole message is ranked as.
    fn score(&self, clause: &Clause, by_whole: &BTreeMap<usize, Rank>) -> Vec<Hit> {
        let mut scores: BTreeMap<usize, (i32, Vec<Because>)> = BTreeMap::new();
        for pattern in self.patterns.heard(clause) {
            let base = match pattern.strength {
                Strength::Likely => LIKELY,
                Strength::Sure | Strength::HandsOn | Strength::Danger => SURE,
                Strength::Overrules => OVERRULES,
            };
            let parts = i32::try_from(pattern.parts()).unwrap_or(i32::MAX).saturating_sub(1);
            let score = base.saturating_add(parts.saturating_mul(EACH_PART));
            let entry = scores.entry(pattern.topic).or_default();
            entry.0 = entry.0.max(score);
            entry.1.push(Because::Pattern(pattern.text.clone()));
        }
        for (topic, rank) in self.ranking.rank(&said(&self.reader, clause)) {
            let entry = scores.entry(topic).or_default();
            entry.0 += (rank.score * BY_CLAUSE / 100).min(MOST_BY_RANKING);
            entry.1.push(Because::Words(rank.words));
        }
        for (topic, rank) in by_whole {
            let entry = scores.entry(*topic).or_default();
            entry.0 += (rank.score * BY_WHOLE / 100).min(MOST_BY_RANKING);
            if entry.1.is_empty() {
                entry.1.push(Because::Words(rank.words.clone()));
            }
        }
        let mut hits: Vec<Hit> = scores
            .into_iter()
            .filter(|(_, (score, _))| *score >= NEAR)
            .filter_map(|(topic, (score, because))| {
                let topic = self.topics.get(topic)?.id;
                Some(Hit { topic, score, handed_on: false, because })
            })
            .collect();
        hits.sort_by(|a, b| b.score.cmp(&a.score).then(a.topic.cmp(&b.topic)));
        hits
    }

    fn conclude(
        &self,
        mut asked: Vec<Hit>,
        mut near: Vec<Hit>,
        danger: Option<DangerHeard>,
        heard: &Heard,
    ) -> Understanding {
        if asked.iter().any(|hit| !hit.topic.gives_way()) {
            asked.retain(|hit| !hit.topic.gives_way());
        }
        keep_first(&mut asked);
        near.sort_by(|a, b| b.score.cmp(&a.score).then(a.topic.cmp(&b.topic)));
        if asked.is_empty() && near.iter().all(|hit| hit.topic.gives_way()) {
            asked = near.iter().take(1).cloned().collect();
        }
        keep_first(&mut near);
        let small_talk_only = asked.iter().all(|hit| hit.topic.gives_way());
        let (mut topics, verdict) =
            if small_talk_only && near.first().is_some_and(|hit| !hit.topic.gives_way()) {
                (near, Verdict::Near)
            } else if !asked.is_empty() {
                (asked, Verdict::One)
            } else if self.says_nothing(&heard.whole) {
                let nothing = Hit {
                    topic: TopicId::OffTopic,
                    score: ENOUGH,
                    handed_on: false,
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
        let grave = danger.as_ref().filter(|danger| danger.sure).map(|danger| danger.kind);
        let by_topic = topics.iter().filter(|_| verdict == Verdict::One).filter_map(|hit| self.handover(hit));
        let handover = by_topic.chain(grave.map(DangerKind::handover)).min();
        let stopped = grave.map(|kind| kind.stops().to_owned());
        Understanding { danger, topics, verdict, handover, stopped }
    }

    /// Whether a message is about nothing here: nothing of what it tells is in words that a topic knows, or
    /// what little is known is small talk.
    fn says_nothing(&self, clause: &Clause) -> bool {
        let said = said(&self.reader, clause);
        let unknown = said.telling().iter().filter(|word| !self.ranking.knows(word)).count();
        let ranks = self.ranking.rank(&said);
        let nearest = ranks.iter().max_by_key(|(topic, rank)| (rank.score, Reverse(**topic)));
        let is_small_talk = |topic: usize| self.topics.get(topic).is_some_and(|topic| topic.id.gives_way());
        unknown == said.telling().len() || nearest.is_some_and(|(topic, _)| is_small_talk(*topic))
    }

    fn topic(&self, id: TopicId) -> Option<&Topic> {
        self.topics.iter().find(|topic| topic.id == id)
    }

    /// Whether the best is good enough and far enough ahead. Danger need only be the nearest: better said once too
    /// often than asked about.
    fn is_settled(&self, hits: &[Hit]) -> bool {
        match hits {
            [] => false,
            [best, ..] if self.is_grave(best) => true,
            [only] => only.score >= ENOUGH,
            [best, next, ..] => best.score >= ENOUGH && best.score - next.score >= MARGIN,
        }
    }

    /// Whether a topic is handed on even without a pattern of danger, and scores enough to be one.
    fn is_grave(&self, hit: &Hit) -> bool {
        let handover = self.topic(hit.topic).and_then(|topic| topic.handover);
        hit.score >= GRAVE && handover.is_some_and(|to| to < Handover::Adviser)
    }

    fn handover(&self, hit: &Hit) -> Option<Handover> {
        let topic = self.topic(hit.topic)?;
        topic.handover.into_iter().chain(topic.hands_on_to.filter(|_| hit.handed_on)).min()
    }
}

/// The words of a clause as the ranking takes them.
fn said(reader: &Reader, clause: &Clause) -> Said {
    Said::new(&clause.words, |word| reader.is_filler(word))
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
