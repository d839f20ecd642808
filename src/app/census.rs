//! Where chats stand: counted once after a start, kept true by every turn, so that whoever watches never has the
//! store gone through.
//!
//! Of a chat nothing is held but a number made of its id, its state, its question and when it last moved: some forty
//! bytes, or 4 MB for 100 000 chats.

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
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
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
    #[cfg(feature = "telegram")]
    const ALL: &[(Self, &'static str)] = &[
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
#[cfg_attr(not(feature = "telegram"), expect(dead_code, reason = "only a server's metrics read it"))]
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

#[derive(Default)]
struct Counted {
    /// By a number made of the chat's id: two chats that share one are counted as one, and no harm done.
    places: BTreeMap<u64, Place>,
    missed: BTreeMap<FactKey, u64>,
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
        self.lock().places.insert(number(chat), place);
    }

    /// The answer to the question that is open in this session was not understood.
    pub(super) fn missed(&self, session: &Session) {
        if let Some(fact) = question(session) {
            *self.lock().missed.entry(fact).or_default() += 1;
        }
    }

    /// Everything of a chat was deleted.
    pub(super) fn left(&self, chat: &ChatId) {
        self.lock().places.remove(&number(chat));
    }
}

#[cfg(feature = "telegram")]
impl Census {
    /// A chat that has not moved for so long is quiet.
    const QUIET: u64 = 86_400;

    /// The numbers of this moment: every state and every question, those without chats too.
    pub(super) fn take(
        &self,
        script: &crate::conversation::script::Script,
        now: u64,
    ) -> crate::serve::Census {
        let counted = self.lock();
        let count =
            |fits: &dyn Fn(&Place) -> bool| counted.places.values().filter(|place| fits(place)).count();
        let states = State::ALL.iter().map(|(state, name)| (*name, count(&|place| place.state == *state)));
        let questions = script.questions.iter().map(|question| {
            let waits = |place: &Place| place.question == Some(question.fact);
            crate::serve::AtQuestion {
                id: question.id.clone(),
                waiting: count(&waits),
                quiet: count(&|place| waits(place) && place.last.saturating_add(Self::QUIET) <= now),
                repeats: counted.missed.get(&question.fact).copied().unwrap_or_default(),
            }
        });
        crate::serve::Census { states: states.collect(), questions: questions.collect() }
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
            let (session, _) = self.session(&chat).await?;
            let place = Place::of(&session, self.handbook(), last);
            if let Entry::Vacant(vacant) = self.census.lock().places.entry(number(&chat)) {
                vacant.insert(place);
            }
            tokio::task::yield_now().await;
        }
        Ok(())
    }
}
