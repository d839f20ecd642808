//! One turn: what a message does to a session, and what is said back.

use super::Guide;
use super::event::{Event, Offer};
use super::hearing::command::{self, Command, Part};
use super::hearing::{Heard, Hearing, hear};
use super::interview::{Standing, question_for, standing};
use super::saying::{Button, Draft, Line, asking, picking, report};
use super::script::{Question, Unsure};
use super::session::{Open, Session};
use super::sharing::outdated;
use crate::message::Content;
use crate::roofing::note::Note;
use crate::roofing::plan::{self, Plan};
use crate::roofing::roof::{FactKey, FactValue};
use crate::units::UsualUnit;

/// What one message led to.
#[derive(Clone, Debug, PartialEq)]
pub struct Turn {
    /// What happened, to be appended to the session.
    pub events: Vec<Event>,
    /// What to say.
    pub says: Vec<Draft>,
}

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
    talk.into_turn()
}

/// A turn in the making.
pub(super) struct Talk<'t, 'g> {
    pub(super) guide: &'t Guide<'g>,
    pub(super) session: Session,
    events: Vec<Event>,
    says: Vec<Draft>,
    /// What is said before the next question, in the same message.
    pub(super) aside: Vec<Note>,
}

impl<'t, 'g> Talk<'t, 'g> {
    pub(super) fn new(guide: &'t Guide<'g>, session: &Session) -> Self {
        Self { guide, session: session.clone(), events: Vec::new(), says: Vec::new(), aside: Vec::new() }
    }

    pub(super) fn into_turn(self) -> Turn {
        Turn { events: self.events, says: self.says }
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

    fn typed(&mut self, text: &str) {
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
        match command::recognise(text) {
            Some(Command::Start) => {
                if !first {
                    self.aside.push(Note::new("welcome-back"));
                }
                self.put_again();
            }
            Some(command) => self.obey(command),
            None => self.heard(text),
        }
    }

    fn greet(&mut self) {
        self.happen(Event::Greeted);
        self.aside.push(Note::new("greeting").word("where", self.guide.kept));
    }

    /// "back" is an order, but also the answer to where the wind comes from.
    fn is_plain_choice(&self, text: &str) -> bool {
        let typed = text.trim().to_lowercase();
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
            | Open::Share(_)
            | Open::Plan => None,
        }
    }

    /// Something was typed that is no order.
    fn heard(&mut self, text: &str) {
        if asking::speaks_of_asbestos(text) {
            self.happen(Event::Suspected);
        }
        match self.session.open().clone() {
            Open::Pick(offers) => match picking::pick(self.guide, &offers, text) {
                Some(offer) => self.take_offer(&offer),
                None => self.listen(text),
            },
            Open::Restart => match asking::yes_or_no(text) {
                Some(true) => self.restart(),
                Some(false) => self.keep_going(),
                None => self.missed(Note::new("say-yes-or-no")),
            },
            Open::Review => match asking::yes_or_no(text) {
                Some(true) => self.give_plan(),
                Some(false) => self.ask_what_to_change(),
                None => self.listen(text),
            },
            Open::WhatToChange => match asking::yes_or_no(text) {
                Some(_) => self.review(),
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
        match hear(self.guide, &self.session, self.open_question(), text) {
            Hearing::Facts(facts) => self.take(&facts),
            Hearing::Offer { why, options } => self.offer(why, options),
            Hearing::Unreadable(why) => self.missed(why),
            Hearing::Asks => {
                self.aside.push(Note::new("a-question-of-theirs"));
                self.put_again();
            }
            Hearing::Nothing
                if self.events.iter().any(|event| matches!(event, Event::Greeted | Event::Suspected)) =>
            {
                self.go_on();
            }
            Hearing::Nothing => self.missed(Note::new("not-understood")),
        }
    }

    /// "2" picks the second button, where the question is a choice.
    fn numbered_choice(&self, text: &str) -> Option<String> {
        let number: usize = text.trim().trim_end_matches(['.', ')']).parse().ok()?;
        let question = match self.session.open() {
            Open::Question(fact) => question_for(self.guide, *fact)?,
            Open::Nothing
            | Open::Pick(_)
            | Open::Review
            | Open::WhatToChange
            | Open::Restart
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
        self.happen(Event::Answered(answers));
        for fact in heard.iter().filter(|fact| !asking::is_not_sure(&fact.value)) {
            if let Some(value) = self.session.facts().get(fact.fact) {
                self.aside.push(asking::echo(self.guide, fact, value));
            }
        }
        self.go_on_from(before);
    }

    fn take_offer(&mut self, offer: &Offer) {
        let heard: Vec<Heard> = offer
            .answers
            .iter()
            .map(|(fact, value)| Heard {
                fact: *fact,
                value: value.clone(),
                assumed: false,
                shows: offer.unit.and_then(|unit| picking::units_of(*fact, unit)),
            })
            .collect();
        self.take(&heard);
    }

    fn offer(&mut self, why: Note, options: Vec<Offer>) {
        let draft = picking::offer(self.guide, why, &options);
        self.happen(Event::Offered(options));
        self.say(draft);
    }

    /// The plan as it stands before an answer changes it, where one has been given.
    pub(super) fn current_plan(&self) -> Option<Plan> {
        if !self.session.planned() {
            return None;
        }
        plan::plan(self.session.facts(), self.guide.handbook).ok()
    }

    /// Says what comes next.
    pub(super) fn go_on(&mut self) {
        self.go_on_from(None);
    }

    fn go_on_from(&mut self, before: Option<Plan>) {
        match standing(self.guide, &self.session) {
            Standing::Stopped(stop, question) => {
                let fact = question.map(|question| question.fact);
                if let Some(fact) = fact {
                    self.happen(Event::Asked(fact));
                }
                let draft = asking::stopped(self.guide, &stop, question);
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
            Standing::Complete(plan) if self.session.planned() => {
                self.happen(Event::Planned);
                if before.as_ref().is_some_and(|before| before.materials != plan.materials)
                    && let Some(draft) = outdated(&self.session)
                {
                    self.say(draft);
                }
                for draft in report::changed(self.guide, before.as_ref(), &plan) {
                    self.say(draft);
                }
            }
            Standing::Complete(_) => {
                self.happen(Event::Reviewed);
                let draft = asking::review(self.guide, &self.session);
                self.say(draft);
            }
            Standing::Faulty(_) => {
                self.say(Draft::of(Note::new("our-fault")).button("do-review", "button-review"))
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
            Open::WhatToChange => {
                let draft = asking::what_to_change(self.guide, &self.session);
                self.say(draft);
            }
            Open::Share(days) => self.ask_to_share(days),
            Open::Plan => match self.current_plan() {
                Some(_) => self.say(report::what_next()),
                None => self.go_on(),
            },
            Open::Question(_) | Open::Nothing | Open::Review => self.go_on(),
        }
    }

    /// The repair ladder: the example, then the ways out, then a person.
    pub(super) fn missed(&mut self, why: Note) {
        self.happen(Event::Missed);
        self.aside.push(why);
        if matches!(standing(self.guide, &self.session), Standing::Stopped(..)) {
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
            None => self.put_again(),
        }
    }

    fn obey(&mut self, command: Command) {
        match command {
            Command::Start => self.put_again(),
            Command::Help => {
                self.aside.push(Note::new("help"));
                self.put_again();
            }
            Command::Back => self.back(),
            Command::Why(named) => self.why(&named),
            Command::How => self.how(),
            Command::NotSure => self.not_sure(),
            Command::Change(named) if named.is_empty() => self.ask_what_to_change(),
            Command::Change(named) => self.change_named(&named),
            Command::Restart => {
                if self.session.facts().is_empty() {
                    return self.go_on();
                }
                self.happen(Event::AskedToRestart);
                let draft = asking::really_restart(&self.session);
                self.say(draft);
            }
            Command::Units(named) => self.units(&named),
            Command::Show(part) => self.show(part),
            Command::Review => self.review(),
            Command::Person => {
                self.aside.push(Note::new("person"));
                self.put_again();
            }
            Command::Share(named) => self.wants_to_share(&named),
            Command::Revoke => self.revoke(),
        }
    }

    /// A button was pressed, or its id typed.
    fn pressed(&mut self, id: &str) {
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
            Open::Pick(offers) => {
                let picked = id.strip_prefix("pick-").and_then(|number| number.parse::<usize>().ok());
                match picked.and_then(|number| offers.get(number.checked_sub(1)?).cloned()) {
                    Some(offer) => self.take_offer(&offer),
                    None => self.unknown_button(),
                }
            }
            Open::Restart if id == "yes" => self.restart(),
            Open::Restart | Open::Share(_) if id == "no" => self.keep_going(),
            Open::Share(days) if id == "yes" => self.share(days),
            Open::Question(fact) => {
                let offered = question_for(self.guide, fact).is_some_and(|question| {
                    asking::choice_ids(self.guide, question).iter().any(|one| one == id)
                });
                if offered {
                    let value = FactValue::Choice(id.to_owned());
                    self.take(&[Heard { fact, value, assumed: false, shows: None }]);
                } else {
                    self.unknown_button();
                }
            }
            Open::Nothing
            | Open::Review
            | Open::WhatToChange
            | Open::Restart
            | Open::Share(_)
            | Open::Plan => self.unknown_button(),
        }
    }

    fn ordered(&mut self, order: &str) {
        if let Some(part) = Part::ALL.iter().find(|part| order.strip_prefix("show-") == Some(part.key())) {
            return self.show(*part);
        }
        match order {
            "plan" => self.give_plan(),
            "change" => self.ask_what_to_change(),
            "not-sure" => self.not_sure(),
            "why" => self.why(""),
            "how" => self.how(),
            "person" => self.obey(Command::Person),
            "back" => self.back(),
            "review" => self.review(),
            "restart" => self.obey(Command::Restart),
            "share" => self.obey(Command::Share(String::new())),
            "revoke" => self.revoke(),
            "units-mm" => self.units("mm"),
            "units-m" => self.units("metres"),
            "units-ft" => self.units("feet"),
            _ => self.unknown_button(),
        }
    }

    fn unknown_button(&mut self) {
        self.aside.push(Note::new("stale-button"));
        self.put_again();
    }

    fn back(&mut self) {
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
        self.go_on_from(before);
    }

    fn how(&mut self) {
        match self.open_question() {
            Some(question) => {
                self.aside.push(Note::new(format!("how-{}", question.id)));
                self.aside.push(Note::new(format!("example-{}", question.id)));
                self.put_again();
            }
            None => self.missed(Note::new("how-of-what")),
        }
    }

    fn why(&mut self, named: &str) {
        match (self.open_question(), self.current_plan()) {
            (Some(question), _) if named.is_empty() => {
                self.aside.push(Note::new(format!("why-{}", question.id)));
                self.put_again();
            }
            (_, Some(plan)) => {
                for draft in report::why(self.guide, &plan, named) {
                    self.say(draft);
                }
            }
            (Some(question), None) => {
                self.aside.push(Note::new(format!("why-{}", question.id)));
                self.put_again();
            }
            (None, None) => {
                if let Standing::Stopped(stop, _) | Standing::Refused(stop) =
                    standing(self.guide, &self.session)
                {
                    self.aside.push(report::source_of(self.guide, &stop.source));
                }
                self.put_again();
            }
        }
    }

    fn not_sure(&mut self) {
        let Some(question) = self.open_question() else {
            self.aside.push(Note::new("not-sure-of-what"));
            return self.put_again();
        };
        self.aside.push(Note::new(format!("unsure-{}", question.id)));
        match &question.unsure {
            Unsure::Answer(id) => {
                let value = FactValue::Choice(id.clone());
                self.take(&[Heard { fact: question.fact, value, assumed: false, shows: None }]);
            }
            Unsure::Assume(value) => {
                self.take(&[Heard { fact: question.fact, value: value.clone(), assumed: true, shows: None }]);
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

    fn ask_what_to_change(&mut self) {
        if self.session.facts().is_empty() {
            self.aside.push(Note::new("nothing-to-change"));
            return self.put_again();
        }
        self.happen(Event::AskedWhatToChange);
        let draft = asking::what_to_change(self.guide, &self.session);
        self.say(draft);
    }

    /// "slope", "line 3", or the new value itself: "slope to 20 degrees".
    fn change_named(&mut self, named: &str) {
        match hear(self.guide, &self.session, None, named) {
            Hearing::Facts(facts) => return self.take(&facts),
            Hearing::Offer { why, options } => return self.offer(why, options),
            Hearing::Unreadable(_) | Hearing::Asks | Hearing::Nothing => {}
        }
        match asking::fact_named(self.guide, &self.session, named) {
            Some(fact) => self.reopen(fact),
            None => {
                self.happen(Event::AskedWhatToChange);
                self.aside.push(Note::new("which-line"));
                let draft = asking::what_to_change(self.guide, &self.session);
                self.say(draft);
            }
        }
    }

    fn reopen(&mut self, fact: FactKey) {
        let Some(question) = question_for(self.guide, fact) else { return self.unknown_button() };
        self.happen(Event::Reopened(fact));
        if let Some(value) = self.session.facts().get(fact) {
            self.aside.push(asking::so_far(self.guide, fact, value));
        }
        let draft = asking::ask(self.guide, &self.session, question);
        self.say(draft);
    }

    fn units(&mut self, named: &str) {
        match asking::units_named(named) {
            Some(usual) => {
                self.happen(Event::UnitsSeen { usual, chosen: true });
                self.aside.push(Note::new(match usual {
                    UsualUnit::Mm => "units-now-mm",
                    UsualUnit::M => "units-now-m",
                    UsualUnit::FtIn => "units-now-ft",
                }));
                self.put_again();
            }
            None => {
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
    }

    fn show(&mut self, part: Part) {
        match standing(self.guide, &self.session) {
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

    fn give_plan(&mut self) {
        match standing(self.guide, &self.session) {
            Standing::Complete(plan) => {
                self.happen(Event::Planned);
                for draft in report::first(self.guide, &plan) {
                    self.say(draft);
                }
            }
            Standing::Stopped(..) | Standing::Refused(_) | Standing::Ask(_) | Standing::Faulty(_) => {
                self.go_on()
            }
        }
    }

    fn review(&mut self) {
        match standing(self.guide, &self.session) {
            Standing::Complete(_) => {
                self.happen(Event::Reviewed);
                let draft = asking::review(self.guide, &self.session);
                self.say(draft);
            }
            Standing::Ask(_) => {
                if !self.session.facts().is_empty() {
                    let so_far = asking::answers_so_far(self.guide, &self.session);
                    self.says.push(so_far);
                }
                self.go_on();
            }
            Standing::Stopped(..) | Standing::Refused(_) | Standing::Faulty(_) => self.go_on(),
        }
    }

    fn restart(&mut self) {
        self.happen(Event::Restarted);
        self.aside.push(Note::new("restarted"));
        self.go_on();
    }

    pub(super) fn keep_going(&mut self) {
        self.happen(Event::KeptGoing);
        self.aside.push(Note::new("kept-going"));
        self.put_again();
    }
}
