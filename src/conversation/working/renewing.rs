//! Another book, or another planner, than the plan was made by.
//!
//! Before the work has begun the new one simply makes the plan, and what is different is said once. From then on the
//! earlier plan stands: what the new one would change is worked out as any change on the job is, and offered; "no"
//! keeps the earlier plan.

use crate::conversation::event::{Change, Event};
use crate::conversation::interview::{Standing, planned, stands_by};
use crate::conversation::saying::Draft;
use crate::conversation::talk::Talk;
use crate::roofing::handbook::Made;
use crate::roofing::note::Note;
use crate::roofing::plan::{self, Plan, Unplanned, difference};
use crate::roofing::work::{StepKey, steps};

impl Talk<'_, '_> {
    /// The plan is given. Where it is another than before, by what it was made goes with it, and it is to be kept.
    pub(in crate::conversation) fn planned(&mut self, plan: &Plan) {
        let known = self.session.made().is_some_and(|made| made.is_same_plan(&plan.made));
        if !known {
            self.stands = Some(Box::new(plan.clone()));
        }
        self.happen(Event::Planned((!known).then(|| plan.made.clone())));
    }

    /// Our own fault: noted for whoever runs the bot, and the person is told so.
    pub(in crate::conversation) fn faulty(&mut self, fault: String) -> Draft {
        self.faults.push(fault);
        Draft::of(Note::new("our-fault"))
    }

    /// Looks whether the plan was made by another book or planner, once everything else of the turn is said.
    pub(in crate::conversation) fn mind_the_book(&mut self) {
        let Some(was) = self.before.made() else { return };
        if was.by == self.guide.handbook.version || !self.session.planned() || self.wish.is_some() {
            return;
        }
        if self.before.progress().begun() { self.offer_the_new_book() } else { self.go_by_the_new_book(was) }
    }

    /// Nothing is built yet: what is different is said, and the new plan holds.
    fn go_by_the_new_book(&mut self, was: &Made) {
        let by_now = &self.guide.handbook.version;
        if self.session.made().is_none_or(|made| made.by != *by_now) {
            let now = planned(self.guide, &self.session, self.session.facts()).ok();
            self.happen(Event::Renewed(now.as_ref().map(|plan| plan.made.clone())));
            self.stands = now.map(Box::new);
        }
        let Some(earlier) = self.guide.earlier.filter(|earlier| earlier.made.is_same_plan(was)) else {
            return self.say(Draft::of(Note::new("book-changed-unseen")));
        };
        match plan::plan_on(self.guide.today, &earlier.facts, self.guide.handbook) {
            Ok(now) => {
                let notes = what_differs(earlier, &now);
                if !notes.is_empty() {
                    let opening = Draft::of(Note::new("book-changed"));
                    self.say(notes.into_iter().fold(opening, Draft::item));
                }
            }
            Err(Unplanned::Refused(refusals)) => {
                let opening = Draft::of(Note::new("book-changed-refuses"));
                self.say(refusals.into_iter().fold(opening, |draft, refusal| draft.item(refusal.note)));
            }
            Err(Unplanned::Missing(_)) => self.say(Draft::of(Note::new("book-changed-asks"))),
            Err(Unplanned::Fault(fault)) => {
                let draft = self.faulty(format!("{}: {}", fault.check, fault.detail));
                self.say(draft);
            }
        }
    }

    /// The work is on: the earlier plan stands, and the new one is offered once.
    fn offer_the_new_book(&mut self) {
        let by_now = self.guide.handbook.version.clone();
        let gone_on = self.session.made().is_none_or(|made| made.by == by_now);
        let settled = self.session.held() == Some(&by_now) || self.session.progress().proposal().is_some();
        if gone_on || settled {
            return;
        }
        let Some(earlier) = stands_by(self.guide, &self.session) else { return self.lost_the_plan() };
        if earlier.facts != *self.session.facts() || !matches!(self.standing(), Standing::Complete(_)) {
            return;
        }
        match plan::plan_on(self.guide.today, &earlier.facts, self.guide.handbook) {
            Ok(now) if builds_the_same(earlier, &now) => {
                let new = new_cautions(earlier, &now);
                self.happen(Event::Renewed(Some(now.made.clone())));
                self.stands = Some(Box::new(now));
                if !new.is_empty() {
                    let opening = Draft::of(Note::new("book-changed-cautions"));
                    self.say(new.into_iter().fold(opening, Draft::item));
                }
            }
            Ok(_) => self.propose(Change { renews: Some(by_now), ..Change::default() }),
            Err(Unplanned::Refused(refusals)) => {
                let opening = Draft::of(Note::new("book-changed-would-refuse"));
                self.hold_against(by_now);
                self.say(refusals.into_iter().fold(opening, |draft, refusal| draft.item(refusal.note)));
            }
            Err(Unplanned::Missing(_)) => {
                self.hold_against(by_now);
                self.say(Draft::of(Note::new("book-changed-would-ask")));
            }
            Err(Unplanned::Fault(fault)) => {
                self.hold_against(by_now);
                self.faults.push(format!("{}: {}", fault.check, fault.detail));
            }
        }
    }

    /// The earlier plan holds, without a question.
    fn hold_against(&mut self, version: crate::roofing::handbook::Version) {
        self.happen(Event::Proposed(Change { renews: Some(version), ..Change::default() }));
        self.happen(Event::LeftAsItWas);
    }

    /// What was kept of the earlier plan is gone or damaged: the new one must do, and that is said.
    fn lost_the_plan(&mut self) {
        let now = planned(self.guide, &self.session, self.session.facts()).ok();
        self.faults.push("the plan that is built by could not be read again".to_owned());
        self.happen(Event::Renewed(now.as_ref().map(|plan| plan.made.clone())));
        self.stands = now.map(Box::new);
        self.say(Draft::of(Note::new("book-changed-plan-lost")).button("do-work-where", "button-work-where"));
    }
}

/// What is built or bought otherwise, and what there is more to mind.
fn what_differs(earlier: &Plan, now: &Plan) -> Vec<Note> {
    let slopes = earlier.slopes.len().max(now.slopes.len());
    difference(earlier, now).notes(slopes).into_iter().chain(new_cautions(earlier, now)).collect()
}

fn new_cautions(earlier: &Plan, now: &Plan) -> Vec<Note> {
    let new = now.cautions.iter().filter(|one| earlier.cautions.iter().all(|other| other.rule != one.rule));
    new.map(|caution| caution.note.clone()).collect()
}

/// Whether whoever builds by one builds just the same by the other, of the same goods.
fn builds_the_same(earlier: &Plan, now: &Plan) -> bool {
    let keys = |plan: &Plan| steps(plan).into_iter().map(|step| step.key).collect::<Vec<StepKey>>();
    difference(earlier, now).is_empty() && keys(earlier) == keys(now)
}
