//! Something turned out different: what follows is said first, and holds only once it is accepted.

use super::telling;
use crate::conversation::Guide;
use crate::conversation::event::{Answer, Change, Event, Offer};
use crate::conversation::interview::{Standing, standing};
use crate::conversation::saying::Draft;
use crate::conversation::session::Session;
use crate::conversation::talk::Talk;
use crate::roofing::layout::cutting::Part;
use crate::roofing::note::Note;
use crate::roofing::plan::{self, Plan};
use crate::roofing::roof::{FactKey, FactValue, Facts, OWN_SHEET, own_sheets};
use crate::roofing::work::{Recut, StepKey, consequence, recut, steps};
use crate::units::{Length, Measured};

/// A length as a fact, plainly said.
fn said(length: Length) -> FactValue {
    FactValue::Length(Measured::stated(length))
}

impl Talk<'_, '_> {
    /// Whether these answers wait for a yes: there is a plan to hold against, and nobody could get hurt by waiting.
    /// What stops the plan because somebody could be hurt holds at once.
    pub(in crate::conversation) fn waits_for_yes(&self, answers: &[Answer]) -> bool {
        self.session.planned()
            && matches!(self.standing(), Standing::Complete(_))
            && !self.would_stop(answers)
    }

    /// The facts as they would be with these answers.
    pub(in crate::conversation) fn facts_with(&self, answers: &[Answer]) -> Facts {
        let mut facts = self.session.facts().clone();
        for (fact, value) in answers {
            let _ = facts.set(*fact, value.clone());
        }
        facts
    }

    fn would_stop(&self, answers: &[Answer]) -> bool {
        let facts = self.facts_with(answers);
        answers.iter().any(|(fact, _)| fact.is_safety())
            && !plan::stops(&facts, self.guide.handbook).is_empty()
    }

    /// Proposes a change on top of what is proposed already, and says what would follow.
    pub(in crate::conversation) fn propose(&mut self, change: Change) {
        let mut all = self.session.progress().proposal().cloned().unwrap_or_default();
        for (fact, value) in change.answers {
            all.answers.retain(|(earlier, _)| *earlier != fact);
            all.answers.push((fact, value));
        }
        all.spoilt = all.spoilt.saturating_add(change.spoilt);
        all.kept.extend(change.kept);
        all.renews = change.renews.or(all.renews);
        self.happen(Event::Proposed(all));
        match self.standing() {
            Standing::Complete(plan) => self.say_proposal(&plan, false),
            Standing::Stopped(..) | Standing::Refused(_) | Standing::Ask(_) | Standing::Faulty(_) => {
                self.go_on();
            }
        }
    }

    /// Says once more what is proposed, with a fresh set of buttons.
    pub(in crate::conversation) fn propose_again(&mut self, plan: &Plan) {
        if let Some(change) = self.session.progress().proposal().cloned() {
            self.aside.push(Note::new("work-settle-first"));
            self.happen(Event::Proposed(change));
        }
        self.say_proposal(plan, false);
    }

    /// What would be, worked out: only a yes makes it so.
    pub(in crate::conversation) fn suppose(&mut self, change: Change) {
        self.happen(Event::Proposed(change));
        match self.standing() {
            Standing::Complete(plan) => self.say_proposal(&plan, true),
            Standing::Stopped(..) | Standing::Refused(_) | Standing::Ask(_) | Standing::Faulty(_) => {
                self.go_on();
            }
        }
    }

    fn say_proposal(&mut self, plan: &Plan, supposed: bool) {
        let Some(change) = self.session.progress().proposal().cloned() else { return };
        let after = self.if_accepted();
        let draft = match standing(self.guide, &after) {
            Standing::Complete(then) => {
                let follows = consequence(plan, &then, self.session.progress().done());
                let cut = (change.spoilt > 0).then(|| recut_now(&after, &then));
                telling::change(self.guide, plan, &change, &then, &follows, cut.as_ref(), supposed)
            }
            Standing::Stopped(refusal, _) | Standing::Refused(refusal) => {
                telling::change_refused(self.guide, plan, &change, &refusal, supposed)
            }
            Standing::Ask(_) => telling::change_asks(self.guide, plan, &change, supposed),
            Standing::Faulty(fault) => {
                self.happen(Event::LeftAsItWas);
                self.faulty(fault).button("do-work-where", "button-work-where")
            }
        };
        self.say(draft);
    }

    /// The session as it would be, were the proposed change to hold.
    fn if_accepted(&self) -> Session {
        let mut after = self.session.clone();
        after.apply(&Event::Accepted(Vec::new()));
        after
    }

    pub(in crate::conversation) fn accept(&mut self, plan: &Plan) {
        if self.session.progress().proposal().is_none() {
            self.aside.push(Note::new("work-nothing-to-accept"));
            return self.go_on();
        }
        let undone: Vec<StepKey> = match standing(self.guide, &self.if_accepted()) {
            Standing::Complete(then) => {
                let follows = consequence(plan, &then, self.session.progress().done());
                follows.redo.into_iter().chain(follows.lift).collect()
            }
            Standing::Stopped(..) | Standing::Refused(_) | Standing::Ask(_) | Standing::Faulty(_) => {
                Vec::new()
            }
        };
        let before = self.current_plan();
        self.happen(Event::Accepted(undone));
        self.aside.push(Note::new("work-accepted"));
        self.go_on_from(before.as_ref());
    }

    pub(in crate::conversation) fn leave_it(&mut self, plan: &Plan) {
        if self.session.progress().proposal().is_some() {
            self.happen(Event::LeftAsItWas);
            self.aside.push(Note::new("work-left-as-it-was"));
        }
        if self.session.progress().begun() { self.at_work(plan) } else { self.put_again() }
    }

    pub(super) fn spoil(&mut self, plan: &Plan, sheets: i64, kept: Option<Length>) {
        let corrugations = plan.site.sheet.corrugations;
        let kept = kept.filter(|length| *length < plan.site.sheet.length);
        let kept = kept.map(|length| Part { length, corrugations });
        self.propose(Change { spoilt: sheets.max(1), kept: kept.into_iter().collect(), ..Change::default() });
    }

    /// By how much is known, but not which way: that is asked, as the two diagonals it would give.
    pub(super) fn out_of_square(&mut self, plan: &Plan, by: Option<Length>) {
        let slope = plan.slopes.first();
        let (Some(by), Some(slope)) = (by.filter(|by| *by > Length::ZERO), slope) else {
            let draft = Draft::of(Note::new("work-measure-diagonals"));
            return self.say(draft.button("do-work-where", "button-work-where"));
        };
        let (width, up) = (plan.site.length.value, slope.rafter_length);
        let whole = |length: Length| Length::from_mm(length.round_mm());
        let (long, short) = (whole((width + by).hypot(up)), whole((width - by).hypot(up)));
        let leaning = |a: Length, b: Length| Offer {
            answers: vec![(FactKey::DiagonalA, said(a)), (FactKey::DiagonalB, said(b))],
            unit: None,
        };
        self.offer(Note::new("work-which-way"), vec![leaning(long, short), leaning(short, long)]);
    }

    pub(super) fn diagonals(&mut self, a: Length, b: Length) {
        let answers = vec![(FactKey::DiagonalA, said(a)), (FactKey::DiagonalB, said(b))];
        self.propose(Change { answers, ..Change::default() });
    }

    /// A sheet of that length out of the catalogue, or else one like the present one but for its length.
    pub(super) fn other_sheets(&mut self, plan: &Plan, length: Length) {
        let now = &plan.site.sheet;
        let sheets = &self.guide.handbook.catalogue.sheets;
        let listed = sheets.iter().find(|sheet| sheet.length == length && sheet.covering == now.covering);
        let answers = match listed {
            Some(sheet) => vec![(FactKey::Sheet, FactValue::Choice(sheet.item.id.clone()))],
            None => vec![
                (FactKey::Sheet, FactValue::Choice(own_sheet_of(plan, self.guide))),
                (FactKey::SheetLength, said(length)),
                (FactKey::SheetWidth, said(now.width)),
                (FactKey::SheetCorrugations, FactValue::Count(now.corrugations)),
                (FactKey::CorrugationHeight, said(now.corrugation_height)),
            ],
        };
        self.propose(Change { answers, ..Change::default() });
    }

    /// Sheets like the planned ones are sold out: the others of the list are offered. Those of another length were
    /// never needed.
    pub(super) fn without_sheets(&mut self, plan: &Plan, length: Option<Length>) {
        let others = telling::other_sheets(self.guide, plan).filter(|sheet| Some(sheet.length) != length);
        let answer = |id: &str| vec![(FactKey::Sheet, FactValue::Choice(id.to_owned()))];
        let offers = others.map(|sheet| Offer { answers: answer(&sheet.item.id), unit: None }).collect();
        match length.filter(|length| *length != plan.site.sheet.length) {
            Some(length) => {
                self.aside.push(Note::new("work-not-that-sheet").length("length", length));
                self.at_work(plan);
            }
            None => self.offer(Note::new("work-which-other-sheet"), offers),
        }
    }

    /// Drops what is proposed; `false` where nothing is.
    pub(in crate::conversation) fn drop_proposal(&mut self) -> bool {
        let pending = self.session.progress().proposal().is_some();
        if pending {
            self.happen(Event::LeftAsItWas);
            self.aside.push(Note::new("work-left-as-it-was"));
            self.put_again();
        }
        pending
    }
}

/// The id of an own sheet of the covering that is laid.
fn own_sheet_of(plan: &Plan, guide: &Guide<'_>) -> String {
    let own = own_sheets(&guide.handbook.catalogue);
    let same = own.into_iter().find(|(_, covering)| covering.id == plan.site.covering.id);
    same.map_or_else(|| OWN_SHEET.to_owned(), |(id, _)| id)
}

/// How what is still to be laid is cut from what is left.
fn recut_now(session: &Session, plan: &Plan) -> Recut {
    recut_beyond(session, plan, None)
}

/// The same where one more step than those done has taken its sheets.
pub(super) fn recut_beyond(session: &Session, plan: &Plan, begun: Option<&StepKey>) -> Recut {
    let progress = session.progress();
    let keys: Vec<StepKey> = steps(plan).into_iter().map(|step| step.key).collect();
    let done = |key: &StepKey| progress.done().contains(key) || begun == Some(key);
    recut(plan, done, &keys, progress.spoilt(), progress.kept())
}
