//! A session: the fold of a chat's events.

use std::collections::BTreeSet;

use super::event::{Answer, Event, Offer, Quoted};
use crate::roofing::roof::{FactKey, FactValue, Facts};
use crate::units::UsualUnit;

/// What the person's next message is taken to answer.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Open {
    /// Nothing has been asked.
    #[default]
    Nothing,
    /// This fact's question.
    Question(FactKey),
    /// Which of these was meant.
    Pick(Vec<Offer>),
    /// Whether everything shown back is right.
    Review,
    /// Which line to change.
    WhatToChange,
    /// Whether really to start again.
    Restart,
    /// Whether really to delete everything that is kept.
    Delete,
    /// Whether to make a link for a supplier, and for how many days.
    Share(u16),
    /// The plan is given; anything goes.
    Plan,
}

/// What one step of the person changed, so that it can be taken back.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Step {
    replaced: Vec<(FactKey, Option<FactValue>)>,
    declined: BTreeSet<FactKey>,
}

/// One person's chat about one roof.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Session {
    facts: Facts,
    usual: Option<UsualUnit>,
    units_chosen: bool,
    open: Open,
    before_aside: Open,
    attempts: u32,
    prompt: u64,
    declined: BTreeSet<FactKey>,
    greeted: bool,
    planned: bool,
    shared: bool,
    quote: Vec<Quoted>,
    trail: Vec<Step>,
}

impl Session {
    /// Folds a chat's events, oldest first.
    pub fn fold<'a>(events: impl IntoIterator<Item = &'a Event>) -> Self {
        let mut session = Self::default();
        for event in events {
            session.apply(event);
        }
        session
    }

    /// Takes in one event more.
    pub fn apply(&mut self, event: &Event) {
        match event {
            Event::Greeted => self.greeted = true,
            Event::Asked(fact) => self.put(Open::Question(*fact)),
            Event::Missed => self.attempts = self.attempts.saturating_add(1),
            Event::Answered(answers) => self.answer(answers),
            Event::Suspected => {
                let _ = self.facts.set(FactKey::AsbestosSuspicion, FactValue::Choice("yes".to_owned()));
            }
            Event::Declined(fact) => self.decline(*fact),
            Event::Offered(options) => self.put(Open::Pick(options.clone())),
            Event::Reviewed => self.put(Open::Review),
            Event::AskedWhatToChange => self.put(Open::WhatToChange),
            Event::Reopened(fact) => {
                self.declined.remove(fact);
                self.put(Open::Question(*fact));
            }
            Event::Planned => {
                self.planned = true;
                self.put(Open::Plan);
            }
            Event::Undone => self.undo(),
            Event::AskedToRestart => self.put_aside(Open::Restart),
            Event::AskedToDelete => self.put_aside(Open::Delete),
            Event::KeptGoing => self.end_aside(),
            Event::AskedToShare { days } => self.put_aside(Open::Share(*days)),
            Event::Shared { .. } => {
                self.shared = true;
                self.end_aside();
            }
            Event::Revoked => self.shared = false,
            Event::Quoted(quote) => self.quote.clone_from(quote),
            Event::Restarted => {
                *self = Self {
                    usual: self.usual,
                    units_chosen: self.units_chosen,
                    greeted: true,
                    prompt: self.prompt,
                    ..Self::default()
                };
            }
            Event::UnitsSeen { usual, chosen } => {
                if *chosen || !self.units_chosen {
                    self.usual = Some(*usual);
                    self.units_chosen |= *chosen;
                }
            }
        }
    }

    /// Puts a question that "no" leads back from.
    fn put_aside(&mut self, open: Open) {
        let now = std::mem::take(&mut self.open);
        if !matches!(now, Open::Restart | Open::Delete | Open::Share(_)) {
            self.before_aside = now;
        }
        self.put(open);
    }

    fn end_aside(&mut self) {
        let open = std::mem::take(&mut self.before_aside);
        self.put(open);
    }

    fn put(&mut self, open: Open) {
        self.open = open;
        self.attempts = 0;
        self.prompt = self.prompt.saturating_add(1);
    }

    fn answer(&mut self, answers: &[Answer]) {
        let mut replaced = Vec::with_capacity(answers.len());
        let declined = self.declined.clone();
        for (fact, value) in answers {
            let before = self.facts.get(*fact).cloned();
            if self.facts.set(*fact, value.clone()) {
                replaced.push((*fact, before));
                self.declined.remove(fact);
            }
        }
        self.attempts = 0;
        self.open = Open::Nothing;
        self.trail.push(Step { replaced, declined });
    }

    fn decline(&mut self, fact: FactKey) {
        let step = Step { replaced: Vec::new(), declined: self.declined.clone() };
        self.declined.insert(fact);
        self.attempts = 0;
        self.open = Open::Nothing;
        self.trail.push(step);
    }

    /// Puts the facts back as they were before the last answer. A suspicion of asbestos is no answer, and stays.
    fn undo(&mut self) {
        let Some(step) = self.trail.pop() else { return };
        for (fact, before) in step.replaced.into_iter().rev() {
            match before {
                Some(value) => {
                    let _ = self.facts.set(fact, value);
                }
                None => {
                    let _ = self.facts.remove(fact);
                }
            }
        }
        self.declined = step.declined;
        self.open = Open::Nothing;
    }

    /// What is known of the roof.
    pub fn facts(&self) -> &Facts {
        &self.facts
    }

    /// The units the person thinks in, as far as they showed.
    pub fn usual(&self) -> Option<UsualUnit> {
        self.usual
    }

    /// What the next message is taken to answer.
    pub fn open(&self) -> &Open {
        &self.open
    }

    /// How often the open question has been answered with something unreadable.
    pub fn attempts(&self) -> u32 {
        self.attempts
    }

    /// The token of the question that is open; every question has a new one.
    pub fn prompt(&self) -> u64 {
        self.prompt
    }

    /// Questions passed over with "not sure".
    pub fn declined(&self) -> &BTreeSet<FactKey> {
        &self.declined
    }

    /// Whether the person has been greeted.
    pub fn greeted(&self) -> bool {
        self.greeted
    }

    /// Whether a plan has been given: from then on a changed answer gives a new one at once.
    pub fn planned(&self) -> bool {
        self.planned
    }

    /// Whether a supplier has been given a link that was not closed since. It may have run out.
    pub fn shared(&self) -> bool {
        self.shared
    }

    /// What the supplier who answered last said; empty where none did.
    pub fn quote(&self) -> &[Quoted] {
        &self.quote
    }

    /// Whether there is an answer to take back.
    pub fn can_undo(&self) -> bool {
        !self.trail.is_empty()
    }

    /// The facts changed by the step that [`Event::Undone`] would take back.
    pub fn last_changed(&self) -> Option<FactKey> {
        let step = self.trail.last()?;
        step.replaced
            .first()
            .map(|(fact, _)| *fact)
            .or_else(|| self.declined.difference(&step.declined).next().copied())
    }
}
