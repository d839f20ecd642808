//! Where chats stand: counted once after a start, kept true by every turn, so that whoever watches never has the
//! store gone through.
//!
//! Of a chat nothing is held but a number made of its id, its state, its question and when it last moved: some forty
//! bytes, or 4 MB for 100 000 chats. Whoever asks reads counters: no turn waits until all chats were gone through.

use std::collections::{BTreeMap, btree_map::Entry};
use std::hash::{DefaultHasher, Hash as _, Hasher as _};
use std::sync::{Mutex, MutexGuard, PoisonError};

use super::{App, AppError};
use crate::conversation::session::{Open, Session};
use crate::message::ChatId;
use crate::roofing::plan::{Handbook, stops};
use crate::roofing::roof::FactKey;
use crate::store::Store;

/// How far a chat has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum State {
    /// Nothing has been said yet, or all of it was deleted.
    New,
    /// Questions are being asked.
    Interviewing,
    /// Everything was shown back.
    Reviewing,
    /// Somebody could get hurt: no plan until that is settled.
    Stopped,
    /// There is a plan.
    Planned,
    /// The roof is being covered.
    Working,
    /// The work rests.
    Resting,
}

impl State {
    #[cfg(any(test, feature = "serve"))]
    const ALL: [(Self, &'static str); 7] = [
        (Self::New, "new"),
        (Self::Interviewing, "interviewing"),
        (Self::Reviewing, "reviewing"),
        (Self::Stopped, "stopped"),
        (Self::Planned, "planned"),
        (Self::Working, "working"),
        (Self::Resting, "resting"),
    ];

    fn of(session: &Session, handbook: &Handbook) -> Self {
        let progress = session.progress();
        if !session.greeted() {
            Self::New
        } else if !stops(session.facts(), handbook).is_empty() {
            Self::Stopped
        } else if progress.rests().is_some() {
            Self::Resting
        } else if progress.begun() {
            Self::Working
        } else if session.planned() {
            Self::Planned
        } else if matches!(session.open(), Open::Review | Open::WhatToChange) {
            Self::Reviewing
        } else {
            Self::Interviewing
        }
    }
}

/// Where one chat stands.
#[derive(Clone, Copy, Debug)]
struct Place {
    state: State,
    question: Option<FactKey>,
    last: u64,
}

impl Place {
    fn of(session: &Session, handbook: &Handbook, last: u64) -> Self {
        Self { state: State::of(session, handbook), question: question(session), last }
    }
}

/// The question that is open.
fn question(session: &Session) -> Option<FactKey> {
    if let Open::Question(fact) = session.open() { Some(*fact) } else { None }
}

/// The chats that wait at one question.
#[derive(Default)]
struct Waiting {
    /// Of those that moved lately, how many moved when.
    lately: BTreeMap<u64, usize>,
    /// How many are quiet.
    quiet: usize,
    /// Those that moved last at this time or before are quiet.
    quiet_to: Option<u64>,
}

impl Waiting {
    fn is_quiet(&self, last: u64) -> bool {
        self.quiet_to.is_some_and(|to| last <= to)
    }

    fn enter(&mut self, last: u64) {
        if self.is_quiet(last) {
            self.quiet = self.quiet.saturating_add(1);
        } else {
            let count = self.lately.entry(last).or_default();
            *count = count.saturating_add(1);
        }
    }

    fn leave(&mut self, last: u64) {
        if self.is_quiet(last) {
            self.quiet = self.quiet.saturating_sub(1);
        } else if let Entry::Occupied(mut count) = self.lately.entry(last) {
            *count.get_mut() = count.get().saturating_sub(1);
            if *count.get() == 0 {
                count.remove();
            }
        }
    }

    /// Moves those over that have become quiet: each of them once.
    #[cfg(feature = "serve")]
    fn fall_quiet(&mut self, to: u64) {
        while let Some(oldest) = self.lately.first_entry().filter(|oldest| *oldest.key() <= to) {
            self.quiet = self.quiet.saturating_add(oldest.remove());
        }
        self.quiet_to = self.quiet_to.max(Some(to));
    }
}

#[derive(Default)]
struct Counted {
    /// By a number made of the chat's id: two chats that share one are counted as one, and no harm done.
    places: BTreeMap<u64, Place>,
    states: BTreeMap<State, usize>,
    questions: BTreeMap<FactKey, Waiting>,
    missed: BTreeMap<FactKey, u64>,
}

impl Counted {
    /// A chat stands here now, or nowhere any more.
    fn stands(&mut self, number: u64, place: Option<Place>) {
        let before = match place {
            Some(place) => self.places.insert(number, place),
            None => self.places.remove(&number),
        };
        if let Some(Place { state, question, last }) = before {
            let count = self.states.entry(state).or_default();
            *count = count.saturating_sub(1);
            if let Some(waiting) = question.and_then(|question| self.questions.get_mut(&question)) {
                waiting.leave(last);
            }
        }
        if let Some(Place { state, question, last }) = place {
            let count = self.states.entry(state).or_default();
            *count = count.saturating_add(1);
            if let Some(question) = question {
                self.questions.entry(question).or_default().enter(last);
            }
        }
    }
}

/// Where all chats stand, as far as was seen.
#[derive(Default)]
pub(super) struct Census(Mutex<Counted>);

fn number(chat: &ChatId) -> u64 {
    let mut hasher = DefaultHasher::new();
    chat.hash(&mut hasher);
    hasher.finish()
}

impl Census {
    fn lock(&self) -> MutexGuard<'_, Counted> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// A chat moved.
    pub(super) fn stands(&self, chat: &ChatId, session: &Session, handbook: &Handbook, now: u64) {
        let place = Place::of(session, handbook, now);
        self.lock().stands(number(chat), Some(place));
    }

    /// A chat stood here before the start, if it has not moved since.
    fn stood(&self, chat: &ChatId, place: Place) {
        let mut counted = self.lock();
        if !counted.places.contains_key(&number(chat)) {
            counted.stands(number(chat), Some(place));
        }
    }

    /// The answer to the question that is open in this session was not understood.
    pub(super) fn missed(&self, session: &Session) {
        if let Some(fact) = question(session) {
            *self.lock().missed.entry(fact).or_default() += 1;
        }
    }

    /// Everything of a chat was deleted.
    pub(super) fn left(&self, chat: &ChatId) {
        self.lock().stands(number(chat), None);
    }
}

#[cfg(feature = "serve")]
impl Census {
    /// A chat that has not moved for so long is quiet.
    const QUIET: u64 = 86_400;

    /// The numbers of this moment: every state and every question, those without chats too.
    pub(super) fn take(
        &self,
        script: &crate::conversation::script::Script,
        now: u64,
    ) -> crate::serve::Census {
        let mut counted = self.lock();
        let states = State::ALL.map(|(state, name)| (name, counted.states.get(&state).copied().unwrap_or(0)));
        let questions = script.questions.iter().map(|question| {
            let waiting = counted.questions.entry(question.fact).or_default();
            if let Some(to) = now.checked_sub(Self::QUIET) {
                waiting.fall_quiet(to);
            }
            let (lately, quiet): (usize, usize) = (waiting.lately.values().sum(), waiting.quiet);
            crate::serve::AtQuestion {
                id: question.id.clone(),
                waiting: lately.saturating_add(quiet),
                quiet,
                repeats: counted.missed.get(&question.fact).copied().unwrap_or_default(),
            }
        });
        let questions = questions.collect();
        crate::serve::Census { states: states.to_vec(), questions }
    }
}

#[cfg(feature = "serve")]
impl<S: Store> crate::serve::Watched for App<S> {
    fn census(&self) -> crate::serve::Census {
        self.census.take(&self.book.script, (self.clock)())
    }
}

impl<S: Store> App<S> {
    /// Counts the chats that are kept, one after the other and beside everything else; those that have moved since
    /// the start are known already.
    pub async fn count_chats(&self) -> Result<(), AppError> {
        for (chat, last) in self.store.chats().await? {
            if self.census.lock().places.contains_key(&number(&chat)) {
                continue;
            }
            let session = self.session(&chat).await?.session;
            let place = Place::of(&session, self.handbook(), last);
            self.census.stood(&chat, place);
            tokio::task::yield_now().await;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    const FACTS: [FactKey; 2] = [FactKey::CoveringNow, FactKey::Length];

    proptest! {
        /// The counters say what going through all chats would say.
        #[test]
        fn counters_hold_what_a_count_would_find(
            moves in proptest::collection::vec((0_u64..6, 0_usize..8, 0_usize..3, 0_u64..4, any::<bool>()), 1..80),
        ) {
            const DAY: u64 = 86_400;
            let (mut counted, mut now) = (Counted::default(), 2 * DAY);
            for (chat, state, question, half_days, looks) in moves {
                now += half_days * DAY / 2;
                let state = State::ALL.get(state).map(|(state, _)| *state);
                let question = FACTS.get(question).copied();
                counted.stands(chat, state.map(|state| Place { state, question, last: now }));
                if looks {
                    for waiting in counted.questions.values_mut() {
                        waiting.fall_quiet(now - DAY);
                    }
                    for fact in FACTS {
                        let at = || counted.places.values().filter(|place| place.question == Some(fact));
                        let waiting = counted.questions.get(&fact);
                        let quiet = at().filter(|place| place.last + DAY <= now).count();
                        let lately = waiting.map_or(0, |waiting| waiting.lately.values().sum::<usize>());
                        prop_assert_eq!(waiting.map_or(0, |waiting| waiting.quiet), quiet);
                        prop_assert_eq!(lately + quiet, at().count());
                    }
                }
                for (state, _) in State::ALL {
                    let there = counted.places.values().filter(|place| place.state == state).count();
                    prop_assert_eq!(counted.states.get(&state).copied().unwrap_or(0), there);
                }
            }
        }
    }
}
