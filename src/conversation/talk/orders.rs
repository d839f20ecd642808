//! Orders: what a command or a button makes of a session.

use super::Wish;
use crate::conversation::NOTICE_DAYS;
use crate::conversation::ears::{Given, Order, Part, Sure, View, interpret};
use crate::conversation::event::Event;
use crate::conversation::interview::{Standing, question_for};
use crate::conversation::saying::{Button, Draft, asking, reasons, report};
use crate::conversation::script::Unsure;
use crate::conversation::session::Open;
use crate::conversation::talk::Talk;
use crate::roofing::note::{Arg, Note};
use crate::roofing::roof::{FactKey, FactValue};
use crate::units::UsualUnit;

impl Talk<'_, '_> {
    pub(in crate::conversation) fn obey(&mut self, order: Order) {
        match order {
            Order::Start | Order::Meaning(_) | Order::Everything(_) => self.put_again(),
            Order::Help => {
                let on_the_job = self.session.progress().begun();
                self.aside.push(Note::new(if on_the_job { "work-help" } else { "help" }));
                self.put_again();
            }
            Order::Back => self.back(),
            Order::Why(named) => self.why(&named),
            Order::How => self.how(),
            Order::NotSure => self.not_sure(),
            Order::Change(named) if named.is_empty() => self.ask_what_to_change(),
            Order::Change(named) => self.change_named(&named),
            Order::Restart => {
                if self.session.answers() == 0 {
                    return self.go_on();
                }
                self.happen(Event::AskedToRestart);
                let draft = asking::really_restart(&self.session);
                self.say(draft);
            }
            Order::Language => self.languages(),
            Order::Units(named) => self.units(&named),
            Order::Show(part) => self.show(part),
            Order::CarryOn => self.carry_on_by_order(),
            Order::LeaveIt if self.session.planned() => {
                if !self.drop_proposal() {
                    self.carry_on_by_order();
                }
            }
            Order::Review | Order::LeaveIt => self.review(),
            Order::Privacy => {
                self.aside.push(self.privacy());
                self.put_again();
            }
            Order::Export => {
                self.wish = Some(Wish::Export);
                self.put_again();
            }
            Order::Delete => {
                self.happen(Event::AskedToDelete);
                self.say(asking::really_delete());
            }
            Order::Person => {
                self.aside.push(Note::new("person"));
                self.put_again();
            }
            Order::More => {
                if let Some(question) = self.open_question() {
                    self.aside.push(Note::new(format!("why-{}", question.id)));
                }
                self.aside.push(Note::new("more-of-what"));
                self.put_again();
            }
            Order::Share(named) => self.wants_to_share(&named),
            Order::Revoke => self.revoke(),
        }
    }

    fn privacy(&self) -> Note {
        let long = match self.guide.keep_days {
            None => Note::new("kept-until-deleted"),
            Some(days) => Note::new("kept-for-days")
                .count("days", usize::from(days))
                .count("notice", usize::from(NOTICE_DAYS)),
        };
        Note::new("privacy").word("where", self.guide.kept).with("long", Arg::Note(Box::new(long)))
    }

    /// A button was pressed, or its id typed.
    pub(in crate::conversation) fn pressed(&mut self, id: &str) {
        if !self.session.greeted() {
            self.greet();
        }
        if let Some(order) = id.strip_prefix("do-") {
            return self.ordered(order);
        }
        if let Some(fact) = id.strip_prefix("change-").and_then(FactKey::from_key) {
            return self.reopen(fact);
        }
        match self.session.open().clone() {
            Open::Pick(offers) if id == "no" && offers.len() == 1 => self.drop_offer(),
            Open::Pick(offers) => {
                let picked = id.strip_prefix("pick-").and_then(|number| number.parse::<usize>().ok());
                match picked.and_then(|number| offers.get(number.checked_sub(1)?).cloned()) {
                    Some(offer) => self.take_offer(&offer),
                    None => self.unknown_button(),
                }
            }
            Open::Wonder(kind) if id == "yes" => {
                self.happen(Event::KeptGoing);
                self.stop(kind, None);
            }
            Open::Wonder(_) if id == "no" => {
                self.happen(Event::KeptGoing);
                self.say_draft_and_go_on(Draft::of(Note::new("danger-none")));
            }
            Open::Hurt(_) if id == "yes" => self.all_right(),
            Open::Restart if id == "yes" => self.restart(),
            Open::Delete if id == "yes" => self.wish = Some(Wish::Delete),
            Open::Restart | Open::Delete | Open::Share(_) if id == "no" => self.keep_going(),
            Open::Share(days) if id == "yes" => self.share(days),
            Open::Question(fact) => {
                let offered = question_for(self.guide, fact).is_some_and(|question| {
                    asking::choice_ids(self.guide, question).iter().any(|one| one == id)
                });
                if offered {
                    let value = FactValue::Choice(id.to_owned());
                    self.take(&[Given::plain(fact, value)]);
                } else {
                    self.unknown_button();
                }
            }
            Open::Nothing
            | Open::Review
            | Open::WhatToChange
            | Open::Restart
            | Open::Delete
            | Open::Wonder(_)
            | Open::Hurt(_)
            | Open::Share(_)
            | Open::Plan => self.unknown_button(),
        }
    }

    pub(in crate::conversation) fn ordered(&mut self, order: &str) {
        if let Some(part) = Part::ALL.iter().find(|part| order.strip_prefix("show-") == Some(part.key())) {
            return self.show(*part);
        }
        match order {
            "plan" => self.give_plan(),
            "change" => self.ask_what_to_change(),
            "not-sure" => self.not_sure(),
            "why" => self.why(""),
            "how" => self.how(),
            "person" => self.obey(Order::Person),
            "back" => self.back(),
            "review" => self.review(),
            "restart" => self.obey(Order::Restart),
            "share" => self.obey(Order::Share(String::new())),
            "revoke" => self.revoke(),
            "units-mm" => self.units("mm"),
            "units-m" => self.units("metres"),
            "units-ft" => self.units("feet"),
            _ if order.strip_prefix("language-").is_some_and(|tag| self.speaks(tag)) => {}
            _ if self.work_button(order) || self.topic_button(order) => {}
            _ => self.unknown_button(),
        }
    }

    /// Offers the languages that are whole; where there is one, says so.
    fn languages(&mut self) {
        let offered: Vec<String> = self.guide.hearing.offered().map(str::to_owned).collect();
        if offered.len() < 2 {
            self.aside.push(Note::new("language-only-one"));
            return self.put_again();
        }
        let mut draft = Draft::of(Note::new("which-language"));
        for tag in offered {
            let label = Note::new("plain-text").text("text", &*tag);
            draft.buttons.push(Button::new(format!("do-language-{tag}"), label));
        }
        self.say(draft);
    }

    /// Goes on in another language; `false` where that is not offered.
    fn speaks(&mut self, tag: &str) -> bool {
        let offered = self.guide.hearing.offered().any(|one| one == tag);
        if offered {
            self.happen(Event::Speaks(tag.to_owned()));
            self.put_again();
        }
        offered
    }

    pub(in crate::conversation) fn unknown_button(&mut self) {
        self.aside.push(Note::new("stale-button"));
        self.put_again();
    }

    pub(in crate::conversation) fn back(&mut self) {
        if self.drop_proposal() {
            return;
        }
        if !self.session.can_undo() {
            self.aside.push(Note::new("nothing-to-undo"));
            return self.put_again();
        }
        let before = self.current_plan();
        let fact = self.session.last_changed();
        self.happen(Event::Undone);
        self.aside.push(match fact.and_then(|fact| asking::name_of(self.guide, fact)) {
            Some(name) => Note::new("undone").word("fact", name),
            None => Note::new("undone-plain"),
        });
        self.go_on_from(before.as_ref());
    }

    pub(in crate::conversation) fn how(&mut self) {
        match self.open_question() {
            Some(question) => {
                self.aside.push(Note::new(format!("how-{}", question.id)));
                self.aside.push(Note::new(format!("example-{}", question.id)));
                self.put_again();
            }
            None => self.missed(Note::new("how-of-what")),
        }
    }

    pub(in crate::conversation) fn why(&mut self, named: &str) {
        match (self.open_question(), self.current_plan()) {
            (Some(question), _) if named.is_empty() => {
                self.aside.push(Note::new(format!("why-{}", question.id)));
                self.put_again();
            }
            (_, Some(plan)) => match reasons::why(self.guide, &plan, named) {
                Some(drafts) => drafts.into_iter().for_each(|draft| self.say(draft)),
                None if self.answered_surely(&format!("why {named}")) => {}
                None => {
                    let mut draft = Draft::of(Note::new("why-none"));
                    draft.buttons = report::what_next().buttons;
                    self.say(draft);
                }
            },
            (Some(_), None) if !self.is_stopped() && self.answered_surely(&format!("why {named}")) => {}
            (Some(question), None) => {
                self.aside.push(Note::new(format!("why-{}", question.id)));
                self.put_again();
            }
            (None, None) => {
                if let Standing::Stopped(stop, _) | Standing::Refused(stop) = self.standing() {
                    self.aside.push(reasons::source_of(self.guide, &stop.source));
                }
                self.put_again();
            }
        }
    }

    pub(in crate::conversation) fn not_sure(&mut self) {
        let Some(question) = self.open_question() else {
            self.aside.push(Note::new("not-sure-of-what"));
            return self.put_again();
        };
        self.aside.push(Note::new(format!("unsure-{}", question.id)));
        match &question.unsure {
            Unsure::Answer(id) => {
                let value = FactValue::Choice(id.clone());
                self.take(&[Given::plain(question.fact, value)]);
            }
            Unsure::Assume(value) => {
                self.take(&[Given { assumed: true, ..Given::plain(question.fact, value.clone()) }]);
            }
            Unsure::AskInstead(_) => {
                self.happen(Event::Declined(question.fact));
                self.go_on();
            }
            Unsure::FindOut => {
                self.happen(Event::Missed);
                let attempts = self.session.attempts();
                let draft = asking::ask_again(self.guide, &self.session, question, attempts.max(2));
                self.say(draft);
            }
        }
    }

    pub(in crate::conversation) fn ask_what_to_change(&mut self) {
        if self.session.facts().is_empty() {
            self.aside.push(Note::new("nothing-to-change"));
            return self.put_again();
        }
        self.happen(Event::AskedWhatToChange);
        let draft = asking::what_to_change(self.guide, &self.session);
        self.say(draft);
    }

    /// "slope", "line 3", or the new value itself: "slope to 20 degrees".
    pub(in crate::conversation) fn change_named(&mut self, named: &str) {
        // "Change line 2" is no word of two slopes.
        let is_line = named.trim().parse::<usize>().is_ok();
        if let Some(fact) = asking::fact_named(self.guide, &self.session, named).filter(|_| is_line) {
            return self.reopen(fact);
        }
        let said = interpret(&View { guide: self.guide, session: &self.session }, named);
        let facts = said.sure_facts();
        if !facts.is_empty() {
            return self.take(&facts);
        }
        if matches!(said.unclear(), Some(Sure::OneOf { .. })) || !said.unsure_facts().is_empty() {
            return self.put_back(&said);
        }
        if let Some(fact) = asking::fact_named(self.guide, &self.session, named) {
            self.reopen(fact);
        } else if !self.answered_topic(named) {
            self.happen(Event::AskedWhatToChange);
            let refused = matches!(self.standing(), Standing::Refused(_));
            self.aside.push(Note::new(if refused { "not-understood" } else { "which-line" }));
            if self.say_ways_on() {
                return;
            }
            let draft = asking::what_to_change(self.guide, &self.session);
            self.say(draft);
        }
    }

    /// A yes to what is open.
    pub(in crate::conversation) fn agreed(&mut self, text: &str) {
        match self.session.open().clone() {
            Open::Pick(offers) => match offers.as_slice() {
                [only] => self.take_offer(only),
                _ => self.put_again(),
            },
            Open::Review => self.give_plan(),
            Open::WhatToChange => self.review(),
            Open::Plan => self.agreed_with_the_plan(text),
            Open::Nothing
            | Open::Question(_)
            | Open::Restart
            | Open::Delete
            | Open::Share(_)
            | Open::Wonder(_)
            | Open::Hurt(_) => self.answered_nothing(text),
        }
    }

    fn agreed_with_the_plan(&mut self, text: &str) {
        match self.current_plan() {
            Some(plan) if self.session.progress().proposal().is_some() => self.accept(&plan),
            // The step in hand ended with something to look at.
            Some(_) if self.session.progress().begun() => self.checked(),
            Some(_) if self.answered_topic(text) => {}
            Some(_) => {
                self.aside.push(Note::new("promised"));
                self.put_again();
            }
            None => self.go_on(),
        }
    }

    /// A yes or a no that nothing which is open takes.
    fn answered_nothing(&mut self, text: &str) {
        let asked = matches!(self.session.open(), Open::Question(_));
        if asked && !self.is_stopped() {
            self.missed(Note::new("not-understood"));
        } else if asked || !self.answered_topic(text) {
            self.go_on();
        }
    }

    /// A no to what is open.
    pub(in crate::conversation) fn refused(&mut self, text: &str) {
        match self.session.open().clone() {
            Open::Pick(_) => self.drop_offer(),
            Open::Review => self.ask_what_to_change(),
            Open::WhatToChange => self.review(),
            Open::Plan => match self.current_plan() {
                Some(plan) if self.session.progress().proposal().is_some() => self.leave_it(&plan),
                Some(_) if self.session.progress().begun() => {
                    self.work(crate::conversation::ears::Job::Problem);
                }
                Some(_) => self.put_again(),
                None => self.go_on(),
            },
            Open::Nothing
            | Open::Question(_)
            | Open::Restart
            | Open::Delete
            | Open::Share(_)
            | Open::Wonder(_)
            | Open::Hurt(_) => self.answered_nothing(text),
        }
    }

    /// "Carry on": back to the step in hand, to the plan, or to the question, from wherever the chat is.
    fn carry_on_by_order(&mut self) {
        match self.current_plan() {
            Some(plan) if self.session.progress().begun() => self.at_work(&plan),
            Some(plan) if self.session.planned() => {
                self.planned(&plan);
                self.put_again();
            }
            Some(_) | None => self.review(),
        }
    }

    /// Where the roof is refused as it stands, says what can be done about it.
    pub(in crate::conversation) fn say_ways_on(&mut self) -> bool {
        let Standing::Refused(refusal) = self.standing() else { return false };
        let draft = asking::ways_on(self.guide, &self.session, &refusal, Draft::new("refusal-ways-on"));
        self.say(draft);
        true
    }

    pub(in crate::conversation) fn reopen(&mut self, fact: FactKey) {
        let Some(question) = question_for(self.guide, fact) else { return self.unknown_button() };
        self.happen(Event::Reopened(fact));
        if let Some(value) = self.session.facts().get(fact) {
            self.aside.push(asking::so_far(self.guide, fact, value));
        }
        let draft = asking::ask(self.guide, &self.session, question);
        self.say(draft);
    }

    pub(in crate::conversation) fn units(&mut self, named: &str) {
        if let Some(usual) = asking::units_named(self.guide, named) {
            self.happen(Event::UnitsSeen { usual, chosen: true });
            self.aside.push(Note::new(match usual {
                UsualUnit::Mm => "units-now-mm",
                UsualUnit::M => "units-now-m",
                UsualUnit::FtIn => "units-now-ft",
            }));
            self.put_again();
        } else {
            let mut draft = Draft::of(Note::new("which-units"));
            for (id, label) in [
                ("do-units-m", "button-metres"),
                ("do-units-mm", "button-millimetres"),
                ("do-units-ft", "button-feet"),
            ] {
                draft.buttons.push(Button::new(id, Note::new(label)));
            }
            self.say(draft);
        }
    }

    pub(in crate::conversation) fn show(&mut self, part: Part) {
        match self.standing() {
            Standing::Complete(plan) if self.session.planned() => {
                for draft in report::part(self.guide, &plan, part) {
                    self.say(draft);
                }
            }
            Standing::Complete(_) => self.give_plan(),
            Standing::Ask(_) => {
                self.aside.push(Note::new("no-plan-yet"));
                self.put_again();
            }
            Standing::Stopped(..) | Standing::Refused(_) | Standing::Faulty(_) => self.go_on(),
        }
    }

    pub(in crate::conversation) fn give_plan(&mut self) {
        match self.standing() {
            Standing::Complete(plan) => {
                self.planned(&plan);
                for draft in report::first(self.guide, &plan) {
                    self.say(draft);
                }
            }
            Standing::Stopped(..) | Standing::Refused(_) | Standing::Ask(_) | Standing::Faulty(_) => {
                self.go_on();
            }
        }
    }

    pub(in crate::conversation) fn review(&mut self) {
        if let Standing::Complete(_) = self.standing() {
            self.happen(Event::Reviewed);
            let draft = asking::review(self.guide, &self.session);
            return self.say(draft);
        }
        if self.session.answers() > 0 {
            let so_far = asking::answers_so_far(self.guide, &self.session);
            self.says.push(so_far);
        }
        self.go_on();
    }

    pub(in crate::conversation) fn restart(&mut self) {
        self.happen(Event::Restarted);
        let still_suspected = self.session.is_suspected();
        self.aside.push(Note::new(if still_suspected { "restarted-suspected" } else { "restarted" }));
        self.go_on();
    }

    pub(in crate::conversation) fn keep_going(&mut self) {
        self.happen(Event::KeptGoing);
        self.aside.push(Note::new("kept-going"));
        self.put_again();
    }
}
