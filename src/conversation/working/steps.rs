//! Leading through the work: begin, done, where was I, what is left, stop.

use super::changes::recut_beyond;
use super::telling;
use crate::conversation::ears::orders::{Count, Job};
use crate::conversation::event::Event;
use crate::conversation::interview::Standing;
use crate::conversation::saying::Draft;
use crate::conversation::session::Open;
use crate::conversation::talk::Talk;
use crate::roofing::note::Note;
use crate::roofing::plan::Plan;
use crate::roofing::work::{
    Foresight, Goods, Recut, StepKey, StepKind, Stop, Tally, WorkStep, consequence, foresee, steps,
};

impl Talk<'_, '_> {
    /// Works a button of the work; `false` where it is none.
    pub(in crate::conversation) fn work_button(&mut self, id: &str) -> bool {
        let Some(order) = id.strip_prefix("work-") else { return false };
        if !self.session.planned() {
            return false;
        }
        let order = match order {
            "start" | "where" => Job::Start,
            "done" => Job::Done,
            "problem" => Job::Problem,
            "left" => Job::HowMany,
            "pause" => Job::Stop(Stop::Pause),
            "wet" => Job::Stop(Stop::Wet),
            "wind" => Job::Stop(Stop::Wind),
            "accept" => Job::Accept,
            "leave" => Job::Leave,
            "spoilt" => Job::Spoilt { sheets: 1, kept: None },
            "rotten" => match self.answer_that_stops("structure-rotten") {
                Some(answer) => {
                    self.hold(answer);
                    return true;
                }
                None => return false,
            },
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

    /// Does what the job asks for.
    pub(in crate::conversation) fn work(&mut self, job: Job) {
        // Where the plan is stopped or refused, so is the work: that is said instead.
        let Standing::Complete(plan) = self.standing() else { return self.go_on() };
        let all = steps(&plan);
        let pending = self.session.progress().proposal().is_some();
        match job {
            Job::Start | Job::WhereWasI => self.start_work(&all),
            Job::Done | Job::AllDone(_) | Job::Counted(_) if pending => self.propose_again(&plan),
            Job::Done => self.tick(&all, None),
            Job::AllDone(kind) => self.tick(&all, Some(kind)),
            Job::Peek => {
                let draft = telling::peek(&all, self.in_hand(&all));
                self.say(draft);
            }
            Job::HowMany => {
                let counted = self.foreseen(&plan, &all);
                let draft = telling::left(self.guide, &all, self.session.progress().done(), &counted);
                self.say(draft);
            }
            Job::Problem => self.say(telling::problem()),
            Job::Stop(stop) => {
                self.happen(Event::Paused(stop));
                let draft = telling::stopping(stop, &all, self.session.progress().done());
                self.say(draft);
            }
            Job::Counted(counts) => self.count(&plan, &all, &counts),
            Job::Spoilt { sheets, kept } => self.spoil(&plan, sheets, kept),
            Job::OutOfSquare(by) => self.out_of_square(&plan, by),
            Job::Diagonals(a, b) => self.diagonals(a, b),
            Job::SheetsOf(length) => self.other_sheets(&plan, length),
            Job::NoSheets(length) => self.without_sheets(&plan, length),
            Job::Accept => self.accept(&plan),
            Job::Leave => self.leave_it(&plan),
        }
    }

    /// The first step that is not done; past the last where all are.
    fn in_hand(&self, all: &[WorkStep]) -> usize {
        let done = self.session.progress().done();
        all.iter().position(|step| !done.contains(&step.key)).unwrap_or(all.len())
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
            }));
        }
        self.go_on();
    }

    /// A yes to what the step in hand ends with: it is done, and that is said, so that a slip shows.
    pub(in crate::conversation) fn checked(&mut self) {
        let Standing::Complete(plan) = self.standing() else { return self.go_on() };
        let all = steps(&plan);
        let in_hand = self.in_hand(&all);
        if in_hand < all.len() && self.session.progress().off().is_empty() {
            self.aside.push(Note::new("work-ticked").count("number", in_hand + 1));
        }
        self.tick(&all, None);
    }

    fn tick(&mut self, all: &[WorkStep], kind: Option<StepKind>) {
        if !self.session.progress().off().is_empty() {
            match kind {
                None => self.happen(Event::TakenOff),
                Some(_) => self.aside.push(Note::new("work-not-yet")),
            }
            return self.go_on();
        }
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
        if self.session.progress().proposal().is_some() {
            return self.propose_again(plan);
        }
        self.mind_what_is_built(plan);
        if *self.session.open() != Open::Plan || self.session.made().is_none() {
            self.planned(plan);
        }
        let off = self.session.progress().off();
        if !off.is_empty() {
            let draft = telling::take_off(off, plan.slopes.len());
            return self.say(draft);
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

    /// A change was accepted that left no plan until more was answered. Now that there is one: what follows of it for
    /// what was built.
    fn mind_what_is_built(&mut self, plan: &Plan) {
        // In the turn of the yes itself it was said before the yes.
        let Some(facts) = self.before.built_by().filter(|_| self.session.built_by().is_some()) else {
            return;
        };
        let Ok(earlier) = self.plan_of(facts) else { return };
        let follows = consequence(&earlier, plan, self.session.progress().done());
        let undone: Vec<StepKey> = follows.redo.iter().chain(&follows.lift).cloned().collect();
        if !undone.is_empty() {
            self.happen(Event::Unbuilt(undone));
        }
        let draft = telling::plan_again(&earlier, plan, &follows);
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
