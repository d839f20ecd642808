//! A session: the fold of a chat's events.

use std::collections::BTreeSet;

use super::progress::Progress;
use crate::conversation::event::{Answer, Event, Offer, Quoted};
use crate::conversation::understanding::DangerKind;
use crate::roofing::handbook::{Made, Version};
use crate::roofing::roof::{FactKey, FactValue, Facts};
use crate::roofing::work::StepKey;
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
    /// Whether something that was said is a danger of this kind.
    Wonder(DangerKind),
    /// Whether everybody is all right, after something of this kind.
    Hurt(DangerKind),
    /// The plan is given; anything goes.
    Plan,
}

impl Open {
    /// The fact whose question is open, or for which one of several values is picked.
    pub fn fact(&self) -> Option<FactKey> {
        match self {
            Self::Question(fact) => Some(*fact),
            Self::Pick(offers) => {
                offers.first().and_then(|offer| offer.answers.first()).map(|(fact, _)| *fact)
            }
            Self::Nothing
            | Self::Review
            | Self::WhatToChange
            | Self::Restart
            | Self::Delete
            | Self::Share(_)
            | Self::Wonder(_)
            | Self::Hurt(_)
            | Self::Plan => None,
        }
    }
}

/// What one step of the person changed, so that it can be taken back.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Step {
    replaced: Vec<(FactKey, Option<FactValue>)>,
    declined: BTreeSet<FactKey>,
    progress: Progress,
    made: Option<Made>,
}

/// Whether a question is put aside from what is open, and "no" leads back.
const fn is_aside(open: &Open) -> bool {
    matches!(open, Open::Restart | Open::Delete | Open::Share(_) | Open::Wonder(_) | Open::Hurt(_))
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
    /// For how many days the link that was given last works.
    shared: Option<u16>,
    quote: Vec<Quoted>,
    trail: Vec<Step>,
    progress: Progress,
    /// By what the plan was made that was given last.
    made: Option<Made>,
    /// The facts that the work was done by, where a change left no plan for a while.
    built_by: Option<Facts>,
    /// The book and planner whose plan was declined: the earlier plan holds against it.
    held: Option<Version>,
    /// The topics that were offered last, by their names.
    suggested: Vec<String>,
    /// The language the person is spoken to in, where they chose one.
    language: Option<String>,
    /// The dangers of this roof that were asked about because something sounded like one.
    wondered: BTreeSet<DangerKind>,
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
            Event::Suspected => self.suspect(),
            Event::Declined(fact) => self.decline(*fact),
            Event::Offered(options) => self.put(Open::Pick(options.clone())),
            Event::Reviewed => self.put(Open::Review),
            Event::AskedWhatToChange => self.put(Open::WhatToChange),
            Event::Reopened(fact) => {
                self.declined.remove(fact);
                self.put(Open::Question(*fact));
            }
            Event::Planned(made) => self.give_plan(made.as_ref()),
            Event::Renewed(made) => self.made.clone_from(made),
            Event::Undone => self.undo(),
            Event::AskedToRestart => self.put_aside(Open::Restart),
            Event::AskedToDelete => self.put_aside(Open::Delete),
            Event::KeptGoing => self.end_aside(),
            Event::AskedToShare { days } => self.put_aside(Open::Share(*days)),
            Event::Shared { days } => {
                self.shared = Some(*days);
                self.end_aside();
            }
            Event::Revoked => self.shared = None,
            Event::Quoted(quote) => self.quote.clone_from(quote),
            Event::Restarted => self.restart(),
            Event::UnitsSeen { usual, chosen } => self.see_units(*usual, *chosen),
            Event::WorkStarted => self.begin_work(),
            Event::StepDone(step) => {
                self.keep_step();
                self.progress.tick(step.clone());
                self.put(Open::Plan);
            }
            Event::Counted(tallies) => {
                self.keep_step();
                self.progress.count(tallies);
            }
            Event::Paused(stop) => self.progress.pause(*stop),
            Event::Proposed(change) => {
                self.progress.propose(change.clone());
                self.put(Open::Plan);
            }
            Event::Accepted(undone) => self.accept(undone),
            Event::Unbuilt(undone) => self.progress.unbuild(undone),
            Event::TakenOff => {
                self.keep_step();
                self.progress.taken_off();
                self.put(Open::Plan);
            }
            Event::LeftAsItWas => {
                let left = self.progress.take_proposal();
                self.held = left.and_then(|change| change.renews).or(self.held.take());
                self.put(Open::Plan);
            }
            Event::Wondered(kind) => {
                self.wondered.insert(*kind);
                self.put_aside(Open::Wonder(*kind));
            }
            Event::HeldFor(kind) => self.put_aside(Open::Hurt(*kind)),
            Event::AllRight => self.end_aside(),
            Event::Suggested(topics) => self.suggested.clone_from(topics),
            Event::Speaks(language) => self.language = Some(language.clone()),
        }
    }

    fn give_plan(&mut self, made: Option<&Made>) {
        self.planned = true;
        self.built_by = None;
        if made.is_some() {
            self.made = made.cloned();
        }
        self.put(Open::Plan);
    }

    /// Units that were chosen stay, whatever is measured in later.
    fn see_units(&mut self, usual: UsualUnit, chosen: bool) {
        if chosen || !self.units_chosen {
            self.usual = Some(usual);
            self.units_chosen |= chosen;
        }
    }

    /// Puts a question that "no" leads back from.
    fn put_aside(&mut self, open: Open) {
        let now = std::mem::take(&mut self.open);
        if !is_aside(&now) {
            self.before_aside = now;
        }
        self.put(open);
    }

    fn end_aside(&mut self) {
        let open = std::mem::take(&mut self.before_aside);
        self.put(open);
    }

    fn suspect(&mut self) {
        let _ = self.facts.set(FactKey::AsbestosSuspicion, FactValue::Choice("yes".to_owned()));
    }

    /// Forgets every answer. What is no answer stays: how the person measures, and a suspicion of asbestos that no
    /// test has cleared, which nobody gets rid of by starting again.
    fn restart(&mut self) {
        let suspected = self.is_suspected();
        *self = Self {
            usual: self.usual,
            units_chosen: self.units_chosen,
            language: self.language.take(),
            greeted: true,
            prompt: self.prompt,
            ..Self::default()
        };
        if suspected {
            self.suspect();
        }
    }

    fn put(&mut self, open: Open) {
        self.suggested.clear();
        self.open = open;
        self.attempts = 0;
        self.prompt = self.prompt.saturating_add(1);
    }

    fn answer(&mut self, answers: &[Answer]) {
        let declined = self.declined.clone();
        let (progress, made) = (self.progress.clone(), self.made.clone());
        let replaced = self.set_facts(answers);
        self.attempts = 0;
        self.open = Open::Nothing;
        self.trail.push(Step { replaced, declined, progress, made });
    }

    /// Sets facts, and gives what each was before.
    fn set_facts(&mut self, answers: &[Answer]) -> Vec<(FactKey, Option<FactValue>)> {
        let mut replaced = Vec::with_capacity(answers.len());
        for (fact, value) in answers {
            let before = self.facts.get(*fact).cloned();
            if self.facts.set(*fact, value.clone()) {
                replaced.push((*fact, before));
                self.declined.remove(fact);
            }
        }
        replaced
    }

    fn begin_work(&mut self) {
        if !self.progress.begun() {
            self.keep_step();
        }
        self.progress.begin();
        self.put(Open::Plan);
    }

    fn accept(&mut self, undone: &[StepKey]) {
        let Some(change) = self.progress.take_proposal() else { return };
        let (declined, progress) = (self.declined.clone(), self.progress.clone());
        let made = self.made.clone();
        let built_by = self.built_by.take().unwrap_or_else(|| self.facts.clone());
        self.built_by = self.progress.begun().then_some(built_by);
        let replaced = self.set_facts(&change.answers);
        self.trail.push(Step { replaced, declined, progress, made });
        if change.renews.is_some() {
            self.made = None;
        }
        self.progress.change(&change, undone);
        self.open = Open::Nothing;
        self.attempts = 0;
    }

    fn keep_step(&mut self) {
        self.trail.push(Step {
            replaced: Vec::new(),
            declined: self.declined.clone(),
            progress: self.progress.clone(),
            made: self.made.clone(),
        });
    }

    fn decline(&mut self, fact: FactKey) {
        self.keep_step();
        self.declined.insert(fact);
        self.attempts = 0;
        self.open = Open::Nothing;
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
        // Back before the change that left no plan.
        if self.built_by.as_ref() == Some(&self.facts) {
            self.built_by = None;
        }
        self.declined = step.declined;
        self.progress = step.progress;
        // Work that goes back to before a new book was accepted goes back to the plan of then.
        if self.progress.begun() {
            self.made = step.made;
        }
        self.open = Open::Nothing;
    }

    /// The facts that the work was done by, where a change left no plan since.
    pub fn built_by(&self) -> Option<&Facts> {
        self.built_by.as_ref()
    }

    /// What is known of the roof.
    pub fn facts(&self) -> &Facts {
        &self.facts
    }

    /// How many answers were given; a suspicion of asbestos is none.
    pub fn answers(&self) -> usize {
        self.facts.iter().filter(|(fact, _)| *fact != FactKey::AsbestosSuspicion).count()
    }

    /// Whether asbestos was spoken of, and no test has found the roof clear of it.
    pub fn is_suspected(&self) -> bool {
        self.facts.choice(FactKey::AsbestosSuspicion).is_some()
            && self.facts.choice(FactKey::AsbestosTest) != Some("tested_clear")
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
        self.shared.is_some()
    }

    /// What the supplier who answered last said; empty where none did.
    pub fn quote(&self) -> &[Quoted] {
        &self.quote
    }

    /// How far the work is.
    pub fn progress(&self) -> &Progress {
        &self.progress
    }

    /// By what the plan was made that was given last; `None` where none was, or where that was not kept yet.
    pub fn made(&self) -> Option<&Made> {
        self.made.as_ref()
    }

    /// By what the plan was made that [`Event::Undone`] would go back to.
    pub fn made_before(&self) -> Option<&Made> {
        self.trail.last()?.made.as_ref()
    }

    /// The book and planner that the earlier plan is held against: the person said no to theirs.
    pub fn held(&self) -> Option<&Version> {
        self.held.as_ref()
    }

    /// Whether there is an answer to take back.
    pub fn can_undo(&self) -> bool {
        !self.trail.is_empty()
    }

    /// The facts that were given or changed, the newest first.
    pub fn recent(&self) -> Vec<FactKey> {
        let mut recent: Vec<FactKey> = Vec::new();
        for (fact, _) in self.trail.iter().rev().flat_map(|step| step.replaced.iter().rev()) {
            if !recent.contains(fact) {
                recent.push(*fact);
            }
        }
        recent
    }

    /// What was open before something else was asked aside.
    pub fn before_aside(&self) -> &Open {
        &self.before_aside
    }

    /// Whether this danger was asked about, however that was answered, if it was.
    pub fn has_wondered(&self, kind: DangerKind) -> bool {
        self.wondered.contains(&kind)
    }

    /// The topics that were offered last, by their names.
    pub fn suggested(&self) -> &[String] {
        &self.suggested
    }

    /// The language the person is spoken to in, where they chose one.
    pub fn language(&self) -> Option<&str> {
        self.language.as_deref()
    }

    /// The facts as they were before the last change of any, where a plan had been given by then.
    pub fn before_last_change(&self) -> Option<Facts> {
        let step = self.trail.iter().rev().find(|step| !step.replaced.is_empty())?;
        let mut facts = self.facts.clone();
        for (fact, was) in &step.replaced {
            match was {
                Some(value) => {
                    facts.set(*fact, value.clone());
                }
                None => {
                    facts.remove(*fact);
                }
            }
        }
        Some(facts)
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
