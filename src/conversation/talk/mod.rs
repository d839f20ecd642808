//! One turn: what a message does to a session, and what is said back.

mod dangers;
mod figures;
mod held;
mod orders;
mod outcome;
mod questions;
mod sharing;
mod taking;

pub use self::outcome::{Turn, Wish};
pub use self::sharing::quoted;
use std::cell::RefCell;
use std::rc::Rc;

use self::sharing::outdated;
use crate::conversation::Guide;
use crate::conversation::deciding::{Decision, Move, Place, Row, decide};
use crate::conversation::ears::{Interpretation, Order, View, interpret};
use crate::conversation::event::{Event, Offer};
use crate::conversation::interview::{self, Standing, question_for, standing_by};
use crate::conversation::saying::{Draft, Line, asking, picking, report};
use crate::conversation::script::Question;
use crate::conversation::session::{Open, Session};
use crate::conversation::understanding::{DangerHeard, Understanding};
use crate::message::Content;
use crate::roofing::handbook::Made;
use crate::roofing::note::Note;
use crate::roofing::plan::{self, Plan, Unplanned};
use crate::roofing::roof::Facts;
use crate::roofing::rules::Handover;

/// Works one message.
pub fn turn(guide: &Guide<'_>, session: &Session, content: &Content) -> Turn {
    let mut talk = Talk::new(guide, session);
    match content {
        Content::Choice { prompt: Some(prompt), .. } if *prompt != session.prompt() => {
            talk.aside.push(Note::new("stale-button"));
            talk.put_again();
        }
        Content::Choice { id, .. } => talk.pressed(id),
        Content::Text(text) => talk.typed(text),
        Content::Other(kind) => {
            talk.aside.push(Note::new("other-kind").text("kind", kind));
            talk.put_again();
        }
    }
    talk.mind_the_book();
    talk.into_turn()
}

/// A plan, of which facts it was made, and after which other plan.
type PlanMade = (Facts, Option<Made>, Result<Plan, Unplanned>);

/// A turn in the making.
pub(in crate::conversation) struct Talk<'t, 'g> {
    pub(in crate::conversation) guide: &'t Guide<'g>,
    pub(in crate::conversation) session: Session,
    pub(in crate::conversation) events: Vec<Event>,
    pub(in crate::conversation) says: Vec<Draft>,
    /// What is said before the next question, in the same message.
    pub(in crate::conversation) aside: Vec<Note>,
    pub(in crate::conversation) wish: Option<Wish>,
    /// The session as it was before this message.
    pub(in crate::conversation) before: &'t Session,
    /// The plan that stands from now on, where it is another than before.
    pub(in crate::conversation) stands: Option<Box<Plan>>,
    /// What went wrong on our side.
    pub(in crate::conversation) faults: Vec<String>,
    /// The plan that was made last, of which facts and after which plan: a turn asks for it more than once.
    made: RefCell<Option<PlanMade>>,
    /// The text that was understood last, and as what: the search for danger and the answer read the same one.
    pub(in crate::conversation) understood: RefCell<Option<(String, Rc<Understanding>)>>,
}

impl<'t, 'g> Talk<'t, 'g> {
    pub(in crate::conversation) fn new(guide: &'t Guide<'g>, session: &'t Session) -> Self {
        Self {
            guide,
            session: session.clone(),
            events: Vec::new(),
            says: Vec::new(),
            aside: Vec::new(),
            wish: None,
            before: session,
            stands: None,
            faults: Vec::new(),
            made: RefCell::default(),
            understood: RefCell::default(),
        }
    }

    /// The plan of the facts as they stand.
    pub(in crate::conversation) fn plan(&self) -> Result<Plan, Unplanned> {
        self.plan_of(self.session.facts())
    }

    pub(in crate::conversation) fn plan_of(&self, facts: &Facts) -> Result<Plan, Unplanned> {
        let mut planned = self.made.borrow_mut();
        let by = self.session.made();
        match &*planned {
            Some((of, before, outcome)) if of == facts && before.as_ref() == by => outcome.clone(),
            Some(_) | None => {
                let outcome = interview::planned(self.guide, &self.session, facts);
                *planned = Some((facts.clone(), by.cloned(), outcome.clone()));
                outcome
            }
        }
    }

    /// Where the chat stands.
    pub(in crate::conversation) fn standing(&self) -> Standing<'g> {
        standing_by(self.guide, &self.session, |facts| self.plan_of(facts))
    }

    pub(in crate::conversation) fn into_turn(self) -> Turn {
        let Self { events, says, wish, stands, faults, .. } = self;
        Turn { events, says, wish, plan: stands, faults }
    }

    pub(in crate::conversation) fn happen(&mut self, event: Event) {
        self.session.apply(&event);
        self.events.push(event);
    }

    /// Says a message, with what was put aside before it.
    pub(in crate::conversation) fn say(&mut self, mut draft: Draft) {
        let before = std::mem::take(&mut self.aside).into_iter().map(Line::Paragraph);
        draft.lines.splice(0..0, before);
        self.says.push(draft);
    }

    /// Something was typed: heard once, decided once, followed once.
    pub(in crate::conversation) fn typed(&mut self, text: &str) {
        if text.trim().is_empty() {
            self.aside.push(Note::new("empty-message"));
            return self.put_again();
        }
        let first = !self.session.greeted();
        if first {
            self.greet();
        }
        if let Some(offer) = self.picked(text) {
            return self.take_offer(&offer);
        }
        if let Some(number) = self.numbered_choice(text) {
            return self.pressed(&number);
        }
        let mut said = interpret(&View { guide: self.guide, session: &self.session }, text);
        said.doubt(|given| self.denies_what_was_wondered(given));
        let danger = self.danger_in(text, &said).filter(|danger| !self.is_held_for(danger.kind));
        if said.asbestos && self.is_about_asbestos(danger.as_ref()) {
            self.happen(Event::Suspected);
        }
        let view = View { guide: self.guide, session: &self.session };
        let decision = decide(self.place(), &view, &said, danger.as_ref());
        if self.settled_aside(decision, &said, text) {
            return;
        }
        if self.corrected_by_hold(decision, text) || self.judged_first(decision, text, &said) {
            return;
        }
        self.follow(decision, text, &said, danger.as_ref());
    }

    /// Does what was decided.
    fn follow(
        &mut self,
        decision: Decision,
        text: &str,
        said: &Interpretation,
        danger: Option<&DangerHeard>,
    ) {
        match decision.does {
            Move::Stop => self.stop_for(danger, text),
            Move::Wonder => self.wonder(danger),
            Move::PickIt => self.pick_it(said.points_at.unwrap_or_default()),
            Move::NotYet => self.not_yet(text),
            Move::Work => match &said.job {
                Some(job) => self.work(job.clone()),
                None => self.word(text, said),
            },
            Move::Obey => match &said.order {
                Some(order) => self.ordered_by_word(order.clone(), text),
                None => self.word(text, said),
            },
            Move::Agreed => self.agreed(text),
            Move::Refused => self.refused(text),
            Move::Take => self.take_and_put_back(said),
            Move::Propose if self.is_known(&said.sure_facts()) && !said.unsure_facts().is_empty() => {
                self.put_back(said);
            }
            Move::Propose => self.take(&said.sure_facts()),
            Move::TakeAndAnswer => {
                let before = self.current_plan();
                if self.took(&said.sure_facts()) {
                    self.answers_topic(text);
                    self.go_on_from(before.as_ref());
                }
            }
            Move::ProposeAndAnswer => {
                let _ = self.answers_topic(text);
                self.take(&said.sure_facts());
            }
            Move::PutBack => self.put_back(said),
            Move::WorkOut => self.work_out(&said.supposed()),
            Move::Answer => self.asked(text),
            Move::AnswerOfTheHold => self.asked_while_held(text),
            Move::SettleFirst if decision.row == Row::WhatIf => self.asked_while_held(text),
            Move::SettleFirst => self.go_on(),
            Move::Word => self.word(text, said),
        }
    }

    /// Where the chat is: the column of the table.
    pub(in crate::conversation) fn place(&self) -> Place {
        let begun = self.session.progress().begun();
        if self.is_stopped() {
            return Place::Held;
        }
        let has_plan = self.session.planned() && matches!(self.standing(), Standing::Complete(_));
        match self.session.open() {
            Open::Review | Open::WhatToChange if !has_plan => Place::Review,
            _ if has_plan && begun => Place::AtWork,
            _ if has_plan => Place::Planned,
            _ => Place::Asking,
        }
    }

    pub(in crate::conversation) fn greet(&mut self) {
        self.happen(Event::Greeted);
        self.aside.push(Note::new("greeting").word("where", self.guide.kept));
    }

    /// What is picked of what was offered, by its number, its unit or its words: "feet" picks 8 ft.
    fn picked(&self, text: &str) -> Option<Offer> {
        let Open::Pick(offers) = self.session.open() else { return None };
        picking::pick(self.guide, offers, text)
    }

    pub(in crate::conversation) fn open_question(&self) -> Option<&'g Question> {
        View { guide: self.guide, session: &self.session }.question()
    }

    /// "2" picks the second button, where the question is a choice.
    fn numbered_choice(&self, text: &str) -> Option<String> {
        let number: usize = text.trim().trim_end_matches(['.', ')']).parse().ok()?;
        let Open::Question(fact) = self.session.open() else { return None };
        let ids = asking::choice_ids(self.guide, question_for(self.guide, *fact)?);
        ids.get(number.checked_sub(1)?).cloned()
    }

    /// What was asked aside takes its yes or its no before anything else; `true` where that was all.
    fn settled_aside(&mut self, decision: Decision, said: &Interpretation, text: &str) -> bool {
        let steers = matches!(decision.row, Row::Danger | Row::Order);
        match (self.session.open().clone(), said.yes_or_no()) {
            (Open::Hurt(kind), _) => {
                // Leave to go on is no word of how anybody is.
                let yes = said.yes_or_no() == Some(true) && said.opens_with == Some(true);
                if said.all_right || yes {
                    self.all_right();
                } else if !(steers && may_order_while_hurt(said)) {
                    self.still_hurt(kind, text);
                } else {
                    return false;
                }
                true
            }
            (Open::Wonder(kind), answer)
                if answer == Some(true)
                    || said.opens_with == Some(true)
                    || decision.row == Row::PossibleDanger =>
            {
                self.happen(Event::KeptGoing);
                self.stop(kind, None);
                true
            }
            // Where somebody may be hurt, nothing but an answer will do.
            (Open::Wonder(kind), None)
                if decision.row == Row::Remark
                    && kind.handover() == Handover::Emergency
                    && !said.all_right =>
            {
                self.say(asking::wonder(kind));
                true
            }
            (Open::Wonder(_), answer) => {
                self.happen(Event::KeptGoing);
                if answer == Some(false) || said.all_right {
                    self.say_draft_and_go_on(Draft::of(Note::new("danger-none")));
                } else if decision.row == Row::Danger {
                    return false;
                } else {
                    // Whoever talks of something else has answered: the message is heard as ever.
                    self.typed(text);
                }
                true
            }
            (Open::Restart | Open::Delete, answer) if !steers => {
                let restart = *self.session.open() == Open::Restart;
                match (answer, said.surely) {
                    (Some(false), _) => self.keep_going(),
                    (_, true) if restart => self.restart(),
                    (_, true) => self.wish = Some(Wish::Delete),
                    (_, false) => self.missed(Note::new("say-yes-or-no")),
                }
                true
            }
            (Open::Share(days), answer) if !steers => {
                self.heard_of_sharing(text, days, answer);
                true
            }
            _ => false,
        }
    }

    /// Says what comes next.
    pub(in crate::conversation) fn go_on(&mut self) {
        self.go_on_from(None);
    }

    pub(in crate::conversation) fn go_on_from(&mut self, before: Option<&Plan>) {
        match self.standing() {
            Standing::Stopped(stop, question) => {
                let fact = question.map(|question| question.fact);
                if let Some(fact) = fact {
                    self.happen(Event::Asked(fact));
                }
                // What was told just before is only recalled.
                let before = plan::stops(self.before.facts(), self.guide.handbook);
                let told = before.first().is_some_and(|before| before.id == stop.id);
                let draft = asking::stopped(self.guide, &stop, question, told);
                self.say(draft);
            }
            Standing::Refused(refusal) => {
                self.happen(Event::AskedWhatToChange);
                let draft = asking::refused(self.guide, &self.session, &refusal);
                self.say(draft);
            }
            Standing::Ask(question) => {
                self.happen(Event::Asked(question.fact));
                let draft = asking::ask(self.guide, &self.session, question);
                self.say(draft);
            }
            Standing::Complete(plan) if self.session.progress().begun() => self.at_work(&plan),
            Standing::Complete(plan) if self.session.planned() => {
                self.planned(&plan);
                if before.is_some_and(|before| before.materials != plan.materials)
                    && let Some(draft) = outdated(&self.session)
                {
                    self.say(draft);
                }
                for draft in report::changed(self.guide, before, &plan) {
                    self.say(draft);
                }
            }
            Standing::Complete(_) => {
                self.happen(Event::Reviewed);
                let draft = asking::review(self.guide, &self.session);
                self.say(draft);
            }
            Standing::Faulty(fault) => {
                let draft = self.faulty(fault);
                self.say(draft.button("do-review", "button-review"));
            }
        }
    }

    /// Puts what is open once more, without counting it as a miss.
    pub(in crate::conversation) fn put_again(&mut self) {
        match self.session.open().clone() {
            Open::Pick(offers) => {
                let draft = match offers.as_slice() {
                    [only] => asking::confirm(self.guide, &self.session, &only.answers),
                    _ => picking::offer(self.guide, Note::new("which-did-you-mean"), &offers),
                };
                self.say(draft);
            }
            Open::Wonder(kind) => self.say(asking::wonder(kind)),
            Open::Hurt(_) => self.say(asking::all_right()),
            Open::Restart => {
                let draft = asking::really_restart(&self.session);
                self.say(draft);
            }
            Open::Delete => {
                let draft = asking::really_delete();
                self.say(draft);
            }
            Open::WhatToChange if self.say_ways_on() => {}
            Open::WhatToChange => {
                let draft = asking::what_to_change(self.guide, &self.session);
                self.say(draft);
            }
            Open::Share(days) => self.ask_to_share(days),
            Open::Plan => match self.current_plan() {
                Some(plan) if self.session.progress().begun() => self.at_work(&plan),
                Some(plan) if self.session.progress().proposal().is_some() => self.propose_again(&plan),
                Some(_) => self.say(report::what_next()),
                None => self.go_on(),
            },
            // A question put again by name is not the one that comes next.
            Open::Question(fact) => match (question_for(self.guide, fact), self.is_stopped()) {
                (Some(question), false) => {
                    self.happen(Event::Asked(fact));
                    let draft = asking::ask(self.guide, &self.session, question);
                    self.say(draft);
                }
                (Some(_) | None, _) => self.go_on(),
            },
            Open::Nothing | Open::Review => self.go_on(),
        }
    }

    pub(in crate::conversation) fn is_stopped(&self) -> bool {
        !plan::stops(self.session.facts(), self.guide.handbook).is_empty()
    }

    /// The repair ladder: the example, then the ways out, then a person.
    pub(in crate::conversation) fn missed(&mut self, why: Note) {
        self.happen(Event::Missed);
        self.aside.push(why);
        if self.is_stopped() {
            return self.go_on();
        }
        let attempts = self.session.attempts();
        match self.open_question() {
            Some(question) => {
                let draft = asking::ask_again(self.guide, &self.session, question, attempts);
                self.say(draft);
            }
            None if attempts >= 3 => {
                self.aside.push(Note::new("person-offer"));
                self.put_again();
            }
            None if matches!(self.session.open(), Open::Review) => self.carry_on(),
            None => self.put_again(),
        }
    }
}

/// Whether an order may be obeyed although somebody may be hurt: to reach a person, or what is kept.
fn may_order_while_hurt(said: &Interpretation) -> bool {
    matches!(said.order, None | Some(Order::Person | Order::Privacy | Order::Export | Order::Delete))
}
