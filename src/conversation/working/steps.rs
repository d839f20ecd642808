//! Leading through the work: begin, done, where was I, what is left, stop.

use super::changes::recut_beyond;
use super::hearing::{self, Count, Order};
use super::telling;
use crate::conversation::event::Event;
use crate::conversation::holds;
use crate::conversation::interview::Standing;
use crate::conversation::saying::{Draft, asking};
use crate::conversation::session::Open;
use crate::conversation::talk::Talk;
use crate::roofing::note::Note;
use crate::roofing::plan::Plan;
use crate::roofing::work::{
    Foresight, Goods, Recut, StepKey, StepKind, Stop, Tally, WorkStep, foresee, steps,
};

impl Talk<'_, '_> {
    /// Works a message that speaks of the work; `false` where it does not.
    ///
    /// Whoever speaks of asbestos is heard elsewhere first, whatever else they say.
    pub(in crate::conversation) fn worked(&mut self, text: &str) -> bool {
        let elsewhere = match self.session.open() {
            Open::Restart | Open::Delete | Open::Share(_) | Open::Review | Open::WhatToChange => true,
            Open::Nothing | Open::Question(_) | Open::Pick(_) | Open::Plan => false,
        };
        if elsewhere || !self.session.planned() || asking::speaks_of_asbestos(text) {
            return false;
        }
        if self.session.progress().waits_for_all_right() && holds::is_all_right(self.guide.script, text) {
            self.all_right();
            return true;
        }
        let progress = self.session.progress();
        let settles = progress.proposal().and_then(|_| hearing::settles(text));
        let order = match (progress.begun(), settles) {
            (false, _) => hearing::starts(text).then_some(Order::Start),
            (true, Some(settled)) => Some(settled),
            (true, None) => hearing::recognise(text),
        };
        let Some(order) = order else { return false };
        self.work(order);
        true
    }

    /// Works a button of the work; `false` where it is none.
    pub(in crate::conversation) fn work_button(&mut self, id: &str) -> bool {
        let Some(order) = id.strip_prefix("work-") else { return false };
        if !self.session.planned() {
            return false;
        }
        let order = match order {
            "start" | "where" => Order::Start,
            "done" => Order::Done,
            "problem" => Order::Problem,
            "left" => Order::HowMany,
            "pause" => Order::Stop(Stop::Pause),
            "wet" => Order::Stop(Stop::Wet),
            "wind" => Order::Stop(Stop::Wind),
            "accept" => Order::Accept,
            "leave" => Order::Leave,
            "spoilt" => Order::Spoilt { sheets: 1, kept: None },
            "rotten" => match self.answer_that_stops("structure-rotten") {
                Some(answer) => {
                    self.hold(answer);
                    return true;
                }
                None => return false,
            },
            "all-right" if self.session.progress().waits_for_all_right() => {
                self.all_right();
                return true;
            }
            "still-hurt" if self.session.progress().waits_for_all_right() => {
                self.say_what_to_do_for_the_hurt();
                return true;
            }
            "measure" | "short" => {
                self.aside.push(Note::new(format!("work-tell-{order}")));
                let draft = Draft::of(Note::new("work-tell")).button("do-work-where", "button-work-where");
                self.say(draft);
                return true;
            }
            _ => return false,
        };
        self.work(order);
        true
    }

    fn work(&mut self, order: Order) {
        // Where the plan is stopped or refused, so is the work: that is said instead.
        let Standing::Complete(plan) = self.standing() else { return self.go_on() };
        if self.session.progress().waits_for_all_right() {
            return self.say(telling::hurt("hurt-asks"));
        }
        let all = steps(&plan);
        let pending = self.session.progress().proposal().is_some();
        match order {
            Order::Start | Order::WhereWasI => self.start_work(&all),
            Order::Done | Order::AllDone(_) | Order::Counted(_) if pending => self.propose_again(&plan),
            Order::Done => self.tick(&all, None),
            Order::AllDone(kind) => self.tick(&all, Some(kind)),
            Order::Peek => {
                let draft = telling::peek(&all, self.in_hand(&all));
                self.say(draft);
            }
            Order::HowMany => {
                let counted = self.foreseen(&plan, &all);
                let draft = telling::left(self.guide, &all, self.session.progress().done(), &counted);
                self.say(draft);
            }
            Order::Problem => self.say(telling::problem()),
            Order::Stop(stop) => {
                self.happen(Event::Paused(stop));
                let draft = telling::stopping(stop, &all, self.session.progress().done());
                self.say(draft);
            }
            Order::Counted(counts) => self.count(&plan, &all, &counts),
            Order::Spoilt { sheets, kept } => self.spoil(&plan, sheets, kept),
            Order::OutOfSquare(by) => self.out_of_square(&plan, by),
            Order::Diagonals(a, b) => self.diagonals(a, b),
            Order::SheetsOf(length) => self.other_sheets(&plan, length),
            Order::NoSheets(length) => self.without_sheets(&plan, length),
            Order::Accept => self.accept(&plan),
            Order::Leave => self.leave_it(&plan),
        }
    }

    /// The first step that is not done; past the last where all are.
    fn in_hand(&self, all: &[WorkStep]) -> usize {
        let done = self.session.progress().done();
        all.iter().position(|step| !done.contains(&step.key)).unwrap_or(all.len())
    }

    /// Everybody is all right: the work goes on where it was begun, and can be begun where it was not.
    fn all_right(&mut self) {
        match self.standing() {
            Standing::Complete(plan) if self.session.progress().begun() => self.start_work(&steps(&plan)),
            Standing::Complete(_)
            | Standing::Stopped(..)
            | Standing::Refused(_)
            | Standing::Ask(_)
            | Standing::Faulty(_) => {
                self.happen(Event::Paused(Stop::Pause));
                self.aside.push(Note::new("hurt-settled"));
                self.put_again();
            }
        }
    }

    fn start_work(&mut self, all: &[WorkStep]) {
        let progress = self.session.progress();
        let (begun, rests) = (progress.begun(), progress.rests());
        self.happen(Event::WorkStarted);
        if !begun {
            self.aside.push(Note::new("work-start").count("steps", all.len()));
        }
        if let Some(stop) = rests {
            self.aside.push(Note::new(match stop {
                Stop::Pause => "work-after-pause",
                Stop::Wet => "work-after-wet",
                Stop::Wind => "work-after-wind",
                Stop::Hurt => "work-after-hurt",
            }));
        }
        self.go_on();
    }

    fn tick(&mut self, all: &[WorkStep], kind: Option<StepKind>) {
        let from = self.in_hand(all);
        let Some(first) = all.get(from) else { return self.say(telling::finished()) };
        let wanted = kind.unwrap_or(first.key.kind);
        if first.key.kind != wanted {
            self.aside.push(Note::new("work-not-yet"));
            return self.go_on();
        }
        let run = all.iter().skip(from).take_while(|step| {
            kind.is_some() && step.key.kind == wanted && step.key.slope == first.key.slope
        });
        let ticked: Vec<StepKey> = match kind {
            None => vec![first.key.clone()],
            Some(_) => run.map(|step| step.key.clone()).collect(),
        };
        let next = from + ticked.len();
        for key in ticked {
            self.happen(Event::StepDone(key));
        }
        if self.in_hand(all) > next {
            self.aside.push(Note::new("work-done-between"));
        }
        self.go_on();
    }

    /// Shows the step in hand; what the conversation goes on with while the work is on.
    pub(in crate::conversation) fn at_work(&mut self, plan: &Plan) {
        if self.session.progress().waits_for_all_right() {
            return self.say(telling::hurt("hurt-asks"));
        }
        if self.session.progress().proposal().is_some() {
            return self.propose_again(plan);
        }
        if *self.session.open() != Open::Plan || self.session.made().is_none() {
            self.planned(plan);
        }
        let all = steps(plan);
        let in_hand = self.in_hand(&all);
        // What will run short is said again as long as the step in hand uses it.
        for (goods, foresight) in self.foreseen(plan, &all) {
            let uses = all.get(in_hand).is_some_and(|step| step.uses.iter().any(|one| one.goods == goods));
            if uses && foresight.short() > 0 {
                self.aside.push(telling::count_note(goods, &foresight));
            }
        }
        let draft = telling::step(self.guide, plan, &all, in_hand);
        self.say(draft);
    }

    /// How everything that was counted stands now. Offcuts that save a sheet are counted on.
    fn foreseen(&self, plan: &Plan, all: &[WorkStep]) -> Vec<(Goods, Foresight)> {
        let mut foreseen = self.by_the_plan(plan, all);
        if let Some(recut) = self.cut_again(plan, all) {
            let needed = i64::try_from(recut.sheets.len()).unwrap_or(i64::MAX);
            for (_, seen) in foreseen.iter_mut().filter(|(goods, _)| *goods == Goods::Sheets) {
                seen.likely -= seen.needed - needed;
                seen.needed = needed;
            }
        }
        foreseen
    }

    fn by_the_plan(&self, plan: &Plan, all: &[WorkStep]) -> Vec<(Goods, Foresight)> {
        let progress = self.session.progress();
        let is_done = |key: &StepKey| progress.done().contains(key);
        // Only sheets are told to be spoilt one by one.
        let spoilt = |goods: Goods| if goods == Goods::Sheets { progress.spoilt() } else { 0 };
        let tallies = progress.tallies().iter();
        let foreseen = tallies
            .map(|(goods, tally)| (*goods, foresee(*goods, *tally, spoilt(*goods), plan, all, is_done)));
        foreseen.collect()
    }

    fn count(&mut self, plan: &Plan, all: &[WorkStep], counts: &[Count]) {
        let progress = self.session.progress();
        let is_done = |key: &StepKey| progress.done().contains(key);
        let tallies: Vec<_> = counts
            .iter()
            .map(|one| (one.goods, Tally::now(one.goods, one.number, one.left, all, is_done)))
            .collect();
        let counted: Vec<Goods> = tallies.iter().map(|(goods, _)| *goods).collect();
        self.happen(Event::Counted(tallies));
        let mut foreseen = self.foreseen(plan, all);
        foreseen.retain(|(goods, _)| counted.contains(goods));
        let recut = self.cut_again(plan, all).filter(|_| counted.contains(&Goods::Sheets));
        self.say(telling::counted(plan, &foreseen, recut.as_ref()));
    }

    /// What is still to be laid, cut again from what was counted; `None` where no sheet is missing, or no offcut
    /// saves one.
    fn cut_again(&self, plan: &Plan, all: &[WorkStep]) -> Option<Recut> {
        let seen = self.by_the_plan(plan, all);
        let (_, seen) = seen.iter().find(|(goods, seen)| *goods == Goods::Sheets && seen.short() > 0)?;
        // Who has used what the step in hand takes has cut its sheets.
        let in_hand = all.get(self.in_hand(all)).map(|step| &step.key);
        let recut = recut_beyond(&self.session, plan, in_hand.filter(|_| seen.used >= seen.planned));
        let recut = recut.with_sheets(seen.left);
        (recut.buy < seen.short()).then_some(recut)
    }
}
