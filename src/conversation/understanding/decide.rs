//! From what was heard to a verdict.

use super::danger::{Alarm, Frames, hear};
use super::kept::Added;
use super::learning::confidence::Confidence;
use super::learning::held_out::HeldOut;
use super::learning::learned::Learned;
use super::learning::scoring::{Read, Score, alarm, scores_of};
use super::message::{Meaning, Message, meaning};
use super::topic::{Topic, TopicId, Vocabulary};
use super::words::reading::{Clause, Heard, Reader};
use super::words::terms::{hash, key_of};
use super::{BadFrame, Because, DangerHeard, DangerKind, DangerWords, Hit, Understanding, Verdict};
use crate::roofing::rules::Handover;

/// A topic that is right so often of a hundred times is answered.
const ANSWERS_FROM: u8 = 75;
/// The same for one part of a message beside another that is answered.
const BESIDE_FROM: u8 = 92;
/// A topic that is handed on to a licensed person is answered where it is right so often.
const GRAVE_FROM: u8 = 40;
/// Topics no further behind the first than this are near it.
const NEAR: i32 = 600;
/// A first topic that scores less than this is not even near.
const FAINT: i32 = -900;
/// A message that is kept, or nearly so, is right this often.
const KEPT: u8 = 100;
/// So many words say why a topic was heard.
const MOST_WORDS: usize = 3;
/// No more topics than this are answered, or offered, at once.
const MOST_TOPICS: usize = 4;

/// Understands messages by the adviser's topics, and by what was learned from the kept messages.
#[derive(Clone, Debug)]
pub struct Understander {
    topics: Vec<Topic>,
    vocabulary: Vocabulary,
    reader: Reader,
    learned: Learned,
    frames: Frames,
    added: Added,
}

impl Understander {
    /// By these topics and this vocabulary, with what was learned from messages.
    ///
    /// # Errors
    /// Every frame of danger that cannot be used.
    pub fn new(
        topics: Vec<Topic>,
        vocabulary: Vocabulary,
        dangers: &DangerWords,
        learned: Learned,
    ) -> Result<Self, Vec<BadFrame>> {
        let reader = Reader::of(&topics, &vocabulary);
        let frames = Frames::new(dangers)?;
        Ok(Self { topics, vocabulary, reader, learned, frames, added: Added::default() })
    }

    /// Knows these messages again, and what is near to those that nothing was learned from.
    pub fn knowing(mut self, messages: &[Message]) -> Self {
        self.added = Added::new(messages, &self.learned, &self.reader);
        self
    }

    /// The same, with something else learned.
    pub(super) fn with(&self, learned: Learned) -> Self {
        let Self { topics, vocabulary, reader, frames, .. } = self.clone();
        Self { topics, vocabulary, reader, learned, frames, added: Added::default() }
    }

    /// The same, trusting what was learned so far.
    pub(super) fn trusting(mut self, confidence: &Confidence, asks_from: i32) -> Self {
        self.learned.confidence.clone_from(confidence);
        self.learned.asks_from = asks_from;
        self
    }

    pub(super) fn learned(&self) -> &Learned {
        &self.learned
    }

    pub(super) fn reader(&self) -> &Reader {
        &self.reader
    }

    /// A mark of everything by which messages are read.
    pub(super) fn reader_mark(&self) -> u64 {
        let asked: Vec<(&str, &Vec<String>)> =
            self.topics.iter().map(|topic| (topic.id.key(), &topic.asked_as)).collect();
        hash(format!("{asked:?} {:?}", self.vocabulary).bytes())
    }

    /// How much a message sounds like those that speak of danger: nothing or more where more like them than not.
    pub fn sounds_like_danger(&self, message: &str) -> i32 {
        self.alarm(message).map_or(0, |alarm| alarm.score)
    }

    /// How much a message sounds like danger, and like which.
    pub(super) fn alarm(&self, message: &str) -> Option<Alarm> {
        let heard = self.reader.read(message);
        alarm(&self.learned, &self.reader, &heard, &Read::of(&self.reader, &heard.whole))
    }

    /// The topics it knows.
    pub fn topics(&self) -> &[Topic] {
        &self.topics
    }

    /// Whether everything was learned from the text with this mark, read as it is read now.
    pub fn has_learned(&self, heard: u64) -> bool {
        self.learned.heard == heard && self.learned.reader == self.reader_mark()
    }

    /// How messages were understood that were held out when it learned.
    pub fn held_out(&self) -> HeldOut {
        self.learned.held_out
    }

    /// Whether a message means what it meant when it was learned from.
    pub fn has_learned_from(&self, message: &Message) -> bool {
        let (words, meaning) = meaning(message);
        self.learned.kept.get(&words) == Some(&meaning)
    }

    /// What a message asks.
    pub fn understand(&self, message: &str) -> Understanding {
        let heard = self.reader.read(message);
        let whole = Read::of(&self.reader, &heard.whole);
        let kept = self.added.meaning_of(message, &whole, &self.learned);
        self.conclude(&heard, &whole, kept)
    }

    /// What a message asks, were it not kept word for word: as one nearly like it is understood.
    pub fn without_kept(&self, message: &str) -> Understanding {
        let heard = self.reader.read(message);
        let whole = Read::of(&self.reader, &heard.whole);
        self.conclude(&heard, &whole, self.added.near_to(&whole, &self.learned))
    }

    fn conclude(&self, heard: &Heard, whole: &Read, kept: Option<&Meaning>) -> Understanding {
        let harmless = kept.is_some_and(|kept| kept.harmless);
        let parts = self.parts(heard);
        let (topics, verdict): (Vec<Hit>, Verdict) = match kept.filter(|kept| !kept.topics.is_empty()) {
            Some(kept) => {
                let hit = |topic: &TopicId| self.hit(*topic, KEPT, vec![Because::Kept], &heard.whole);
                (kept.topics.iter().map(hit).collect(), Verdict::One)
            }
            None => self.ranked(heard, whole, &parts),
        };
        let told = topics.first().filter(|_| verdict == Verdict::One).and_then(|hit| of_danger(hit.topic));
        let told = told.or_else(|| self.told_beside(&parts));
        let danger = self.danger(heard, whole, told).filter(|danger| danger.sure || !harmless);
        let grave = danger.as_ref().filter(|danger| danger.sure).map(|danger| danger.kind);
        let by_topic = topics.iter().filter(|_| verdict == Verdict::One).filter_map(|hit| self.handover(hit));
        let handover = by_topic.chain(grave.map(DangerKind::handover)).min();
        let stopped = grave.map(|kind| kind.stops().to_owned());
        Understanding { danger, topics, verdict, handover, stopped }
    }

    /// The clauses of a message that has several, each with the topics it may be about.
    fn parts<'h>(&self, heard: &'h Heard) -> Vec<(&'h Clause, Vec<Score>)> {
        let several = heard.clauses.iter().filter(|_| heard.clauses.len() > 1);
        let scored = |clause| (clause, scores_of(&self.learned, &Read::of(&self.reader, clause)));
        several.map(scored).collect()
    }

    /// The danger that a part of the message is all about, whatever stands beside it.
    fn told_beside(&self, parts: &[(&Clause, Vec<Score>)]) -> Option<DangerKind> {
        let told = parts.iter().filter_map(|(_, scores)| {
            let first = scores.first().map(|score| score.topic)?;
            of_danger(first).filter(|_| self.is_answered(first, self.confidence(scores)))
        });
        told.min()
    }

    /// The gravest danger in any stretch of the message.
    fn danger(&self, heard: &Heard, whole: &Read, told: Option<DangerKind>) -> Option<DangerHeard> {
        let loudest = alarm(&self.learned, &self.reader, heard, whole);
        let is_known = |word: &str| self.learned.dangers.knows(key_of(&format!("r:{word}")));
        hear(&self.frames, &heard.sentences, loudest, told, self.learned.asks_from, is_known)
    }

    /// The topics of a message that is not kept, clause by clause, and how sure they are.
    fn ranked(&self, heard: &Heard, whole: &Read, parts: &[(&Clause, Vec<Score>)]) -> (Vec<Hit>, Verdict) {
        let by_whole = scores_of(&self.learned, whole);
        let mut asked = self.handed_on(heard);
        let first = by_whole.first().map(|score| score.topic);
        let sure = self.confidence(&by_whole);
        if let Some(topic) = first.filter(|topic| self.is_answered(*topic, sure)) {
            asked.push(self.hit(topic, sure, self.why(topic, &heard.whole), &heard.whole));
        }
        for (clause, scores) in parts {
            let sure = self.confidence(scores);
            let best = scores.first().filter(|best| best.score > 0 && sure >= BESIDE_FROM);
            if let Some(best) = best {
                asked.push(self.hit(best.topic, sure, self.why(best.topic, clause), &heard.whole));
            }
        }
        if asked.iter().any(|hit| !hit.topic.gives_way()) {
            asked.retain(|hit| !hit.topic.gives_way());
        }
        keep_first(&mut asked);
        if !asked.is_empty() {
            return (asked, Verdict::One);
        }
        if self.says_nothing(whole) {
            let nothing = Hit {
                topic: TopicId::OffTopic,
                confidence: ANSWERS_FROM,
                handed_on: false,
                because: vec![Because::NothingKnown],
            };
            return (vec![nothing], Verdict::One);
        }
        let top = by_whole.first().map_or(FAINT, |score| score.score);
        let near = by_whole.iter().take_while(|score| score.score > FAINT && top - score.score < NEAR);
        let mut near: Vec<Hit> = near
            .map(|score| self.hit(score.topic, sure, self.why(score.topic, &heard.whole), &heard.whole))
            .collect();
        near.retain(|hit| !hit.topic.gives_way());
        near.truncate(MOST_TOPICS);
        if near.is_empty() { (near, Verdict::None) } else { (near, Verdict::Near) }
    }

    fn is_answered(&self, topic: TopicId, sure: u8) -> bool {
        let handover = self.topic(topic).and_then(|topic| topic.handover);
        let is_grave = handover.is_some_and(|to| to < Handover::Adviser);
        sure >= if is_grave { GRAVE_FROM } else { ANSWERS_FROM }
    }

    /// How often the first of these is right.
    fn confidence(&self, scores: &[Score]) -> u8 {
        let ahead = match scores {
            [] => return 0,
            [only] => only.score,
            [first, next, ..] => first.score - next.score,
        };
        self.learned.confidence.of(ahead)
    }

    fn hit(&self, topic: TopicId, confidence: u8, because: Vec<Because>, whole: &Clause) -> Hit {
        let handed_on = self.hands_on(topic, whole);
        Hit { topic, confidence, handed_on, because }
    }

    /// Topics that hand the person on whenever certain words are said.
    fn handed_on(&self, heard: &Heard) -> Vec<Hit> {
        let topics = self.topics.iter().filter(|topic| self.hands_on(topic.id, &heard.whole));
        topics
            .map(|topic| self.hit(topic.id, KEPT, vec![Because::Words(topic.hands_on.clone())], &heard.whole))
            .collect()
    }

    fn hands_on(&self, topic: TopicId, clause: &Clause) -> bool {
        let said = self.topic(topic).map_or([].as_slice(), |topic| topic.hands_on.as_slice());
        said.iter().any(|word| clause.words.contains(word))
    }

    /// The words of a clause that speak for a topic.
    fn why(&self, topic: TopicId, clause: &Clause) -> Vec<Because> {
        let column = self.learned.columns.iter().position(|known| *known == topic);
        let weight = |word: &String| self.learned.topics.weight(key_of(&format!("w:{word}")), column?);
        let mut words: Vec<(i32, &String)> = clause
            .words
            .iter()
            .filter_map(|word| Some((weight(word)?, word)))
            .filter(|(weight, _)| *weight > 0)
            .collect();
        words.sort_by(|a, b| b.cmp(a));
        words.dedup();
        vec![Because::Words(words.into_iter().take(MOST_WORDS).map(|(_, word)| word.clone()).collect())]
    }

    /// Whether a message is about nothing here: nothing of what it tells is in words that a topic knows.
    fn says_nothing(&self, whole: &Read) -> bool {
        !whole.terms.telling.iter().any(|key| self.learned.evidence.knows(*key))
    }

    fn topic(&self, id: TopicId) -> Option<&Topic> {
        self.topics.iter().find(|topic| topic.id == id)
    }

    fn handover(&self, hit: &Hit) -> Option<Handover> {
        let topic = self.topic(hit.topic)?;
        topic.handover.into_iter().chain(topic.hands_on_to.filter(|_| hit.handed_on)).min()
    }
}

/// The danger that a topic is all about; what a frame carries is asked about for other reasons too.
fn of_danger(topic: TopicId) -> Option<DangerKind> {
    let own = |kind: &DangerKind| kind.topic() == topic && *kind != DangerKind::Rot;
    DangerKind::ALL.iter().copied().find(own)
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
