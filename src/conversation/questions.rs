//! What the person asks, answered for their own roof; danger before anything else.
//!
//! A question is never taken for an answer, and an answer never for a question: "12 mm" answers what is open,
//! "12 mm, will nails poke through?" asks. After an answer the chat goes on where it was.

use std::rc::Rc;
use std::sync::LazyLock;

use regex::Regex;

use super::answers::{Answer, Reply, Roof, TopicAction, answer, reply};
use super::event::{Answer as Answered, Event};
use super::hearing::answer::follows_denial;
use super::hearing::command::{self, Command, Wanted};
use super::hearing::{Hearing, hear};
use super::holds;
use super::interview::{Standing, question_for};
use super::saying::{Button, Draft, Line, asking};
use super::session::Open;
use super::talk::Talk;
use super::working::telling;
use super::understanding::{DangerKind, TopicId, Understanding, Verdict};
use crate::roofing::note::Note;
use crate::roofing::plan::Unplanned;
use crate::roofing::roof::{FactKey, FactKind};
use crate::roofing::rules::Handover;
use crate::roofing::work::Stop;

static ASKS: LazyLock<Option<Regex>> = LazyLock::new(|| {
    Regex::new(
        r"(?i)\?\s*$|^(?:(?:so|and|but|ok|hi|hey|please|hang on|wait)[ ,]+)*(?:will|would|can|could|do|does|did|is|are|am|should|shall|may|must|what|where|when|which|who|how|why)\b|\b(?:will|can|should|shall|do|does) (?:i|we|it|they|the|that|this|nails?|sheets?)\b|\bhow (?:do|many|much|far|long|big|deep)\b|\bwhat (?:if|about)\b|\bok to\b|^(?:please )?(?:tell me about|explain|show me)\b",
    )
    .ok()
});

/// Figures with foot or inch marks and no letter, such as `9'11"`; digits alone may be an emergency number.
fn is_bare_measurement(text: &str) -> bool {
    let marks = ['\'', '"', '’', '”', '′', '″'];
    !text.chars().any(char::is_alphabetic) && text.contains(marks)
}

/// "OK, will do" promises.
static PROMISES: LazyLock<Option<Regex>> = LazyLock::new(|| {
    Regex::new(
        r"(?i)^(?:(?:so|and|but|ok|okay|yes|right|fine)[ ,]+)*will (?:do|stay|keep|try|check|measure|get|have|be|go|ask|come|make|leave|see|look|send|take|wait|stop|ring|call|find)\b[^?]*$",
    )
    .ok()
});

/// Whether a message asks something.
pub(super) fn is_asking(text: &str) -> bool {
    ASKS.as_ref().is_some_and(|asks| asks.is_match(text)) && !promises(text)
}

/// Whether a message only says that something will be done.
pub(super) fn promises(text: &str) -> bool {
    PROMISES.as_ref().is_some_and(|promise| promise.is_match(text))
}

/// Beside an open question, what is no question must speak of a topic as clearly as this to be taken for one.
const CLEARLY: i32 = 80;

impl Talk<'_, '_> {
    /// What a text is about.
    fn understand(&self, text: &str) -> Rc<Understanding> {
        let mut understood = self.understood.borrow_mut();
        match &*understood {
            Some((of, found)) if of == text => Rc::clone(found),
            Some(_) | None => {
                let found = Rc::new(self.guide.topics.understand(text));
                *understood = Some((text.to_owned(), Rc::clone(&found)));
                found
            }
        }
    }

    /// Emergencies come before anything, whatever else is in the message; other dangers before everything but an
    /// answer to the question that is open. `true` where the message has been dealt with.
    pub(super) fn warned(&mut self, text: &str) -> bool {
        // Nine foot eleven, written short, is no call for help.
        if is_bare_measurement(text) {
            return false;
        }
        let understood = self.understand(text);
        let Some(danger) = &understood.danger else { return self.handed_on(&understood, text) };
        if !danger.sure {
            // A possible danger is asked about, whatever else is done with the message.
            self.aside.push(Note::new(danger.kind.asks()));
            return false;
        }
        if danger.kind.handover() == Handover::Emergency {
            if self.session.planned() {
                self.happen(Event::Paused(Stop::Hurt));
            }
            let reply = self.reply_to(&understood);
            self.say_reply(&reply);
            if self.session.planned() {
                self.say(telling::hurt("hurt-waits"));
            }
            return true;
        }
        // Asbestos raises its own stop, which asks for the test.
        let speaks_of_asbestos = |understood: &Understanding| {
            understood.danger.as_ref().is_some_and(|danger| danger.kind == DangerKind::Asbestos)
        };
        let asbestos = speaks_of_asbestos(&understood);
        if asbestos && !self.session.is_suspected() {
            let rest = asking::without_denied_asbestos(text);
            if speaks_of_asbestos(&self.guide.topics.understand(&rest)) {
                self.happen(Event::Suspected);
            }
        }
        if asbestos || self.answers_open_question(text) {
            return false;
        }
        if self.corrected_by_hold(text) || (is_asking(text) && self.answered_by_hold(text)) {
            return true;
        }
        let held = understood.stopped.as_deref().and_then(|id| self.answer_that_stops(id));
        match held {
            Some((fact, _)) if self.is_denied(fact, text) => false,
            Some(answer) => {
                let reply = self.reply_to(&understood);
                self.say_reply(&reply);
                self.hold(answer);
                true
            }
            None => {
                self.answer_understood(&understood);
                true
            }
        }
    }

    /// Answers what hands the person on, unless it answers the question that is open.
    fn handed_on(&mut self, understood: &Understanding, text: &str) -> bool {
        let handed_on = understood.topics.iter().any(|hit| hit.handed_on) && !self.answers_open_question(text);
        if handed_on {
            self.answer_understood(understood);
        }
        handed_on
    }

    /// The answer that a danger stands for, where a rule stops the plan by it.
    pub(super) fn answer_that_stops(&self, rule: &str) -> Option<Answered> {
        self.guide.handbook.rules.rule(rule)?.stopping_answer()
    }

    /// A danger that was spoken of holds the plan until its question is answered: nobody has to be asked first.
    pub(super) fn hold(&mut self, answer: Answered) {
        if self.session.facts().get(answer.0) != Some(&answer.1) {
            self.happen(Event::Answered(vec![answer]));
        }
        self.go_on();
    }

    /// Whether a message names a danger only to say that there is none: "no power lines".
    fn is_denied(&self, fact: FactKey, text: &str) -> bool {
        let Some(question) = question_for(self.guide, fact).filter(|_| !is_asking(text)) else {
            return false;
        };
        let mut named = question.mentions.iter().flat_map(|words| words.find_iter(text)).peekable();
        named.peek().is_some() && named.all(|hit| follows_denial(text, hit.start()))
    }

    /// Answers a message that asks; `false` where nothing in it is known.
    pub(super) fn answered_topic(&mut self, text: &str) -> bool {
        let understood = self.understand(text);
        let has_figures = text.chars().any(|c| c.is_ascii_digit());
        let only_figures =
            has_figures && understood.topics.iter().all(|hit| hit.topic == TopicId::ChangeMeasurement);
        // Beside an open question, words that mean little are an answer that missed, not chatter. What keeps people
        // safe need not be said as clearly.
        let sure = understood.verdict == Verdict::One;
        let means_little = understood.topics.iter().all(|hit| {
            let heard = hit.topic.gives_way() || (sure && hit.topic.keeps_safe());
            let unclear = !heard && hit.score < CLEARLY;
            hit.topic == TopicId::OffTopic || unclear
        });
        let awaits = self.open_question().is_some() || matches!(self.session.open(), Open::WhatToChange);
        let missed = awaits && !is_asking(text) && means_little;
        match understood.verdict {
            Verdict::None => false,
            Verdict::One | Verdict::Near if missed => false,
            // A figure to change is heard as a figure.
            Verdict::One | Verdict::Near if only_figures => false,
            Verdict::One | Verdict::Near => {
                self.answer_understood(&understood);
                true
            }
        }
    }

    /// Answers a message that asks for what is known for sure.
    pub(super) fn answered_surely(&mut self, text: &str) -> bool {
        self.understand(text).verdict == Verdict::One && self.answered_topic(text)
    }

    /// Says once more, and whole, what to do for somebody who is hurt; the job waits on.
    pub(super) fn say_what_to_do_for_the_hurt(&mut self) {
        let whole = told_whole(&self.about_the_roof(|roof| answer(TopicId::InjuryEmergency, true, roof)));
        self.say(whole);
        self.say(telling::hurt("hurt-waits"));
    }

    /// Answers what is asked of the matter that stops the plan, and recalls the stop.
    pub(super) fn answered_by_hold(&mut self, text: &str) -> bool {
        let Standing::Stopped(stop, _) = self.standing() else { return false };
        let answers = holds::answer(self.guide.script, &stop.id, text);
        let answered = !answers.is_empty();
        if answered {
            self.aside.extend(answers);
            self.go_on();
        }
        answered
    }

    /// Says how to put it right to somebody who says that what stops the plan was misheard.
    pub(super) fn corrected_by_hold(&mut self, text: &str) -> bool {
        let Standing::Stopped(stop, question) = self.standing() else { return false };
        if question.is_some_and(|question| matches!(question.fact.kind(), FactKind::Words(_))) {
            return false;
        }
        let Some(how) = holds::correction(self.guide.script, &stop.id, text) else { return false };
        self.aside.push(how);
        self.go_on();
        true
    }

    /// Answers what is asked while something stops the plan, where that keeps people safe or leads to a person.
    pub(super) fn answered_safety(&mut self, text: &str) -> bool {
        let understood = self.understand(text);
        let is_due = |topic: TopicId| {
            topic.keeps_safe()
                || matches!(
                    topic,
                    TopicId::TalkToHuman
                        | TopicId::DeleteMyData
                        | TopicId::StartOver
                        | TopicId::Thanks
                        | TopicId::Greeting
                )
        };
        let answers =
            understood.verdict == Verdict::One && understood.topics.iter().all(|hit| is_due(hit.topic));
        if answers {
            self.answer_understood(&understood);
        }
        answers
    }

    /// Explains a word of the trade, all there is to say of a topic, or why something is asked; `false` where the
    /// message wants nothing explained that is known.
    pub(super) fn explained(&mut self, text: &str) -> bool {
        let note = match command::wanted(text) {
            Some(Wanted::Meaning(word)) => self.meaning_of(&word),
            Some(Wanted::Reason(named)) if !self.session.planned() => {
                let question = asking::question_named(self.guide, &named);
                question.map(|question| Note::new(format!("why-{}", question.id)))
            }
            Some(Wanted::Everything(named)) if !self.is_stopped() => return self.told_everything(&named),
            Some(Wanted::Reason(_) | Wanted::Everything(_)) | None => None,
        };
        let Some(note) = note else { return false };
        self.say(Draft::of(note));
        self.carry_on();
        true
    }

    /// The sentence for a word, or for the one it is the plural of.
    fn meaning_of(&self, word: &str) -> Option<Note> {
        let ids = [word, word.trim_end_matches('s')].map(|word| format!("word-{}", word.replace(' ', "-")));
        ids.into_iter().find(|id| self.guide.words.has(self.guide.language, id)).map(Note::new)
    }

    fn told_everything(&mut self, named: &str) -> bool {
        let understood = self.guide.topics.understand(named);
        let asked: Vec<TopicId> = understood.topics.iter().map(|hit| hit.topic).collect();
        if understood.verdict != Verdict::One || asked.iter().any(|topic| topic.gives_way()) {
            return false;
        }
        for topic in asked {
            let whole = told_whole(&self.about_the_roof(|roof| answer(topic, false, roof)));
            self.say(whole);
        }
        self.carry_on();
        true
    }

    fn answer_understood(&mut self, understood: &Understanding) {
        let reply = self.reply_to(understood);
        let action = reply.answers.iter().find_map(|answer| answer.action);
        match action {
            Some(TopicAction::StartOver) => self.obey(Command::Restart),
            Some(TopicAction::DeleteData) => self.obey(Command::Delete),
            Some(TopicAction::HandToAdviser) => self.obey(Command::Person),
            Some(
                TopicAction::ChangeFact
                | TopicAction::SendToSupplier
                | TopicAction::Pause
                | TopicAction::CarryOn,
            )
            | None => {
                self.say_reply(&reply);
                self.carry_on();
            }
        }
    }

    /// A button that asks one topic, or for more of it; `false` where it is none.
    pub(super) fn topic_button(&mut self, order: &str) -> bool {
        let (key, more) = match (order.strip_prefix("topic-"), order.strip_prefix("more-")) {
            (Some(key), _) => (key, false),
            (None, Some(key)) => (key, true),
            (None, None) => return false,
        };
        let Some(topic) = TopicId::from_key(key) else { return false };
        let answer = self.about_the_roof(|roof| answer(topic, false, roof));
        let draft = if more { told(key, &answer.more) } else { Self::draft_of(&answer) };
        self.say(draft);
        self.carry_on();
        true
    }

    fn reply_to(&self, understood: &Understanding) -> Reply {
        self.about_the_roof(|roof| reply(understood, roof))
    }

    /// What is asked of the roof as far as it is known.
    fn about_the_roof<T>(&self, ask: impl FnOnce(&Roof<'_>) -> T) -> T {
        let (plan, refusals) = match self.plan() {
            Ok(plan) => (Some(plan), Vec::new()),
            Err(Unplanned::Refused(refusals)) => (None, refusals),
            Err(Unplanned::Missing(_) | Unplanned::Fault(_)) => (None, Vec::new()),
        };
        let (book, facts) = (self.guide.handbook, self.session.facts());
        let before = self.session.before_last_change();
        let topics = self.guide.topics.understander().topics();
        ask(&Roof { book, facts, plan: plan.as_ref(), refusals: &refusals, topics, before: before.as_ref() })
    }

    fn say_reply(&mut self, reply: &Reply) {
        self.aside.extend(reply.opening.iter().cloned());
        if !reply.which.is_empty() {
            let mut draft = Draft::new("answer-which-one");
            for topic in &reply.which {
                let asked = self.guide.topics.example(*topic).unwrap_or_else(|| topic.key());
                let label = Note::new("plain-text").text("text", asked);
                draft.buttons.push(Button::new(format!("do-topic-{}", topic.key()), label));
            }
            self.say(draft);
        }
        for answer in &reply.answers {
            // Where somebody may be hurt, nothing is a button away.
            let draft = if reply.handover.is_some() { told_whole(answer) } else { Self::draft_of(answer) };
            self.say(draft);
        }
    }

    /// Short first; "more" is a button away.
    fn draft_of(answer: &Answer) -> Draft {
        let key = answer.topic.key();
        let mut draft = told(key, &answer.short);
        if !answer.more.is_empty() {
            draft.buttons.push(Button::new(format!("do-more-{key}"), Note::new("button-more")));
        }
        draft
    }

    /// Puts the open question again, without all that was said with it; with a plan in hand nothing is put, the
    /// answer stands by itself.
    pub(super) fn carry_on(&mut self) {
        match self.session.open() {
            Open::Plan => {}
            Open::Review if !self.is_stopped() => {
                self.happen(Event::Reviewed);
                self.say(asking::review_ask(Draft::new("review-ask")));
            }
            Open::Nothing
            | Open::Question(_)
            | Open::Pick(_)
            | Open::Review
            | Open::WhatToChange
            | Open::Restart
            | Open::Delete
            | Open::Share(_) => self.put_again(),
        }
    }

    /// Whether a message is a plain answer to the question that is open.
    fn answers_open_question(&self, text: &str) -> bool {
        let Some(question) = self.open_question().filter(|_| !is_asking(text)) else { return false };
        match hear(self.guide, &self.session, Some(question), text) {
            Hearing::Facts(facts) => facts.iter().any(|heard| heard.fact == question.fact),
            Hearing::Offer { .. } => true,
            Hearing::Unreadable(_) | Hearing::Asks | Hearing::Nothing => false,
        }
    }
}

fn told_whole(answer: &Answer) -> Draft {
    let notes: Vec<Note> = answer.short.iter().chain(&answer.more).cloned().collect();
    told(answer.topic.key(), &notes)
}

fn told(key: &str, notes: &[Note]) -> Draft {
    let mut draft = Draft::new(format!("topic-{key}"));
    draft.lines.extend(notes.iter().cloned().map(Line::Paragraph));
    draft
}
