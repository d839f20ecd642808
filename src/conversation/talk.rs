//! One turn: what a message does to a session, and what is said back.

use std::cell::RefCell;
use std::rc::Rc;

use super::Guide;
use super::event::{Answer, Change, Event, Offer};
use super::hearing::command::{self, Command};
use super::hearing::{Heard, Hearing, gives_two_sizes, hear, is_measurement};
use super::interview::{self, Standing, question_for, standing_by};
use super::questions::{is_asking, promises};
use super::saying::{Draft, Line, asking, picking, report};
use super::script::Question;
use super::session::{Open, Session};
use super::sharing::outdated;
use super::turn::{Turn, Wish};
use super::understanding::Understanding;
use super::working::starts;
use crate::message::Content;
use crate::roofing::handbook::Made;
use crate::roofing::note::Note;
use crate::roofing::plan::{self, Plan, Unplanned};
use crate::roofing::roof::Facts;

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

/// An order that may name anything is plain where it has no more words than this.
const MOST_IN_PLAIN_ORDER: usize = 2;

/// A turn in the making.
pub(super) struct Talk<'t, 'g> {
    pub(super) guide: &'t Guide<'g>,
    pub(super) session: Session,
    pub(super) events: Vec<Event>,
    pub(super) says: Vec<Draft>,
    /// What is said before the next question, in the same message.
    pub(super) aside: Vec<Note>,
    pub(super) wish: Option<Wish>,
    /// The session as it was before this message.
    pub(super) before: &'t Session,
    /// The plan that stands from now on, where it is another than before.
    pub(super) stands: Option<Box<Plan>>,
    /// What went wrong on our side.
    pub(super) faults: Vec<String>,
    /// The plan that was made last, of which facts and after which plan: a turn asks for it more than once.
    made: RefCell<Option<(Facts, Option<Made>, Result<Plan, Unplanned>)>>,
    /// The text that was understood last, and as what: the search for danger and the answer read the same one.
    pub(super) understood: RefCell<Option<(String, Rc<Understanding>)>>,
}

impl<'t, 'g> Talk<'t, 'g> {
    pub(super) fn new(guide: &'t Guide<'g>, session: &'t Session) -> Self {
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
    pub(super) fn plan(&self) -> Result<Plan, Unplanned> {
        self.plan_of(self.session.facts())
    }

    fn plan_of(&self, facts: &Facts) -> Result<Plan, Unplanned> {
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
    pub(super) fn standing(&self) -> Standing<'g> {
        standing_by(self.guide, &self.session, |facts| self.plan_of(facts))
    }

    pub(super) fn into_turn(self) -> Turn {
        let Self { events, says, wish, stands, faults, .. } = self;
        Turn { events, says, wish, plan: stands, faults }
    }

    pub(super) fn happen(&mut self, event: Event) {
        self.session.apply(&event);
        self.events.push(event);
    }

    /// Says a message, with what was put aside before it.
    pub(super) fn say(&mut self, mut draft: Draft) {
        let before = std::mem::take(&mut self.aside).into_iter().map(Line::Paragraph);
        draft.lines.splice(0..0, before);
        self.says.push(draft);
    }

    pub(super) fn typed(&mut self, text: &str) {
        if text.trim().is_empty() {
            self.aside.push(Note::new("empty-message"));
            return self.put_again();
        }
        let first = !self.session.greeted();
        if first {
            self.greet();
        }
        if self.is_plain_choice(text) {
            return self.heard(text);
        }
        if asking::speaks_of_asbestos(text) {
            self.happen(Event::Suspected);
        }
        let command = command::recognise(text);
        // A plain order holds no danger, and need not wait until the topics are ready; "why is he bleeding" may.
        let open_ended = matches!(command, Some(Command::Why(_) | Command::Change(_) | Command::How));
        let plain =
            command.is_some() && !(open_ended && text.split_whitespace().count() > MOST_IN_PLAIN_ORDER);
        if (!plain && self.warned(text)) || self.worked(text) {
            return;
        }
        match command {
            Some(Command::Start) => {
                if !first {
                    let begun = self.session.answers() > 0;
                    self.aside.push(Note::new(if begun { "welcome-back" } else { "hello-again" }));
                }
                self.put_again();
            }
            // "How" explains the measurement that is asked for; where none is, how to do a thing may be known.
            Some(Command::How) if self.open_question().is_none() && self.answered_topic(text) => {}
            Some(Command::Why(_)) | None if self.explained(text) => {}
            Some(command) => self.obey(command),
            None => self.heard(text),
        }
    }

    pub(super) fn greet(&mut self) {
        self.happen(Event::Greeted);
        self.aside.push(Note::new("greeting").word("where", self.guide.kept));
    }

    /// "back" is an order, but also the answer to where the wind comes from; "feet" is one, but also picks 8 ft.
    pub(super) fn is_plain_choice(&self, text: &str) -> bool {
        let typed = text.trim().to_lowercase();
        if let Open::Pick(offers) = self.session.open() {
            return picking::pick(self.guide, offers, text).is_some();
        }
        self.open_question().is_some_and(|question| question.choices.iter().any(|choice| choice.id == typed))
    }

    pub(super) fn open_question(&self) -> Option<&'g Question> {
        match self.session.open() {
            Open::Question(fact) => question_for(self.guide, *fact),
            Open::Pick(offers) => {
                let (fact, _) = offers.first()?.answers.first()?;
                question_for(self.guide, *fact)
            }
            Open::Nothing
            | Open::Review
            | Open::WhatToChange
            | Open::Restart
            | Open::Delete
            | Open::Share(_)
            | Open::Plan => None,
        }
    }

    /// Something was typed that is no order.
    pub(super) fn heard(&mut self, text: &str) {
        match self.session.open().clone() {
            Open::Pick(offers) => match picking::pick(self.guide, &offers, text) {
                Some(offer) => self.take_offer(&offer),
                None => match (offers.as_slice(), asking::yes_or_no(text)) {
                    ([only], Some(true)) => self.take_offer(only),
                    _ => self.listen(text),
                },
            },
            Open::Restart => match asking::surely_or_no(text) {
                Some(true) => self.restart(),
                Some(false) => self.keep_going(),
                None => self.missed(Note::new("say-yes-or-no")),
            },
            Open::Delete => match asking::surely_or_no(text) {
                Some(true) => self.wish = Some(Wish::Delete),
                Some(false) => self.keep_going(),
                None => self.missed(Note::new("say-yes-or-no")),
            },
            Open::Review => match asking::yes_or_no(text) {
                Some(true) => self.give_plan(),
                Some(false) => self.ask_what_to_change(),
                None if starts(text) => self.give_plan(),
                None => self.listen(text),
            },
            Open::WhatToChange => match asking::yes_or_no(text) {
                Some(_) => self.review(),
                None if is_asking(text) && self.answered_topic(text) => {}
                None => self.change_named(text),
            },
            Open::Share(days) => self.heard_of_sharing(text, days),
            Open::Nothing | Open::Question(_) | Open::Plan => self.listen(text),
        }
    }

    /// Hears facts in a message, and goes on from there.
    pub(super) fn listen(&mut self, text: &str) {
        if let Some(number) = self.numbered_choice(text) {
            return self.pressed(&number);
        }
        if self.corrected_by_hold(text) {
            return;
        }
        if is_asking(text) && self.is_stopped() {
            // Whoever asks has answered nothing, and lifts no stop.
            if !self.answered_by_hold(text) && !self.answered_safety(text) {
                self.aside.push(Note::new("settle-this-first"));
                self.go_on();
            }
            return;
        }
        if is_asking(text) && self.answered_topic(text) {
            return;
        }
        match hear(self.guide, &self.session, self.open_question(), text) {
            Hearing::Facts(facts) => {
                if gives_two_sizes(text) && !facts.iter().any(|heard| heard.written.is_some()) {
                    self.aside.push(Note::new("sizes-later"));
                }
                self.take(&facts);
            }
            Hearing::Offer { why, options } => self.offer(why, options),
            Hearing::Unreadable(why) => self.missed(why),
            Hearing::Asks => {
                self.aside.push(Note::new("a-question-of-theirs"));
                self.put_again();
            }
            Hearing::Nothing
                if self.events.iter().any(|event| matches!(event, Event::Greeted | Event::Suspected)) =>
            {
                if gives_two_sizes(text) {
                    self.aside.push(Note::new("sizes-later"));
                }
                self.go_on();
            }
            Hearing::Nothing if promises(text) => {
                self.aside.push(Note::new("promised"));
                self.carry_on();
            }
            Hearing::Nothing if !self.session.planned() && starts(text) => {
                self.aside.push(Note::new("no-plan-yet"));
                self.put_again();
            }
            // With a plan in hand, a figure may stand in a sentence about something else.
            Hearing::Nothing
                if self.open_question().is_none() && !self.is_stopped() && self.answered_topic(text) => {}
            Hearing::Nothing if is_measurement(text) => {
                let asked = self.open_question().is_some();
                self.missed(Note::new(if asked { "measure-not-yet" } else { "measure-of-what" }));
            }
            Hearing::Nothing
                if self.is_stopped() && (self.answered_by_hold(text) || self.answered_safety(text)) => {}
            Hearing::Nothing if self.is_stopped() || !self.answered_topic(text) => {
                self.missed(Note::new("not-understood"));
            }
            Hearing::Nothing => {}
        }
    }

    /// "2" picks the second button, where the question is a choice.
    pub(super) fn numbered_choice(&self, text: &str) -> Option<String> {
        let number: usize = text.trim().trim_end_matches(['.', ')']).parse().ok()?;
        let question = match self.session.open() {
            Open::Question(fact) => question_for(self.guide, *fact)?,
            Open::Nothing
            | Open::Pick(_)
            | Open::Review
            | Open::WhatToChange
            | Open::Restart
            | Open::Delete
            | Open::Share(_)
            | Open::Plan => {
                return None;
            }
        };
        let ids = asking::choice_ids(self.guide, question);
        ids.get(number.checked_sub(1)?).cloned()
    }

    /// Takes facts in, says them back where that is due, and goes on.
    pub(super) fn take(&mut self, heard: &[Heard]) {
        let before = self.current_plan();
        for fact in heard {
            if let Some(usual) = fact.shows {
                let news = self.session.usual().is_none();
                if news {
                    self.happen(Event::UnitsSeen { usual, chosen: false });
                }
            }
        }
        if heard.iter().any(|fact| asking::is_suspect(fact.fact, &fact.value)) {
            self.happen(Event::Suspected);
        }
        let answers: Vec<_> = heard.iter().map(|fact| (fact.fact, fact.value.clone())).collect();
        if self.waits_for_yes(&answers) {
            // What was said again as it was is no change, unless it is all that was said.
            let same = |(fact, value): &Answer| self.session.facts().get(*fact) == Some(value);
            let news: Vec<Answer> = answers.iter().filter(|one| !same(one)).cloned().collect();
            let answers = if news.is_empty() { answers } else { news };
            return self.propose(Change { answers, ..Change::default() });
        }
        self.happen(Event::Answered(answers));
        for fact in heard.iter().filter(|fact| !asking::is_not_sure(&fact.value)) {
            if let Some(value) = self.session.facts().get(fact.fact) {
                let echo = asking::echo(self.guide, self.session.usual(), fact, value);
                self.aside.push(echo);
            }
        }
        self.go_on_from(before.as_ref());
    }

    pub(super) fn take_offer(&mut self, offer: &Offer) {
        let heard: Vec<Heard> = offer
            .answers
            .iter()
            .map(|(fact, value)| Heard {
                fact: *fact,
                value: value.clone(),
                assumed: false,
                written: offer.unit,
                shows: offer.unit.and_then(|unit| picking::units_of(*fact, unit)),
            })
            .collect();
        self.take(&heard);
    }

    pub(super) fn offer(&mut self, why: Note, options: Vec<Offer>) {
        let draft = picking::offer(self.guide, why, &options);
        self.happen(Event::Offered(options));
        self.say(draft);
    }

    /// The plan as it stands before an answer changes it, where one has been given.
    pub(super) fn current_plan(&self) -> Option<Plan> {
        if !self.session.planned() {
            return None;
        }
        self.plan().ok()
    }

    /// Says what comes next.
    pub(super) fn go_on(&mut self) {
        self.go_on_from(None);
    }

    pub(super) fn go_on_from(&mut self, before: Option<&Plan>) {
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
    pub(super) fn put_again(&mut self) {
        match self.session.open().clone() {
            Open::Pick(offers) => {
                let draft = picking::offer(self.guide, Note::new("which-did-you-mean"), &offers);
                self.say(draft);
            }
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

    pub(super) fn is_stopped(&self) -> bool {
        !plan::stops(self.session.facts(), self.guide.handbook).is_empty()
    }

    /// The repair ladder: the example, then the ways out, then a person.
    pub(super) fn missed(&mut self, why: Note) {
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
