//! What the person asks, answered for their own roof; danger before anything else.
//!
//! A question is never taken for an answer, and an answer never for a question: "12 mm" answers what is open,
//! "12 mm, will nails poke through?" asks. After an answer the chat goes on where it was.

use std::sync::LazyLock;

use regex::Regex;

use super::answers::{Answer, Reply, Roof, TopicAction, answer, reply};
use super::event::{Answer as Answered, Event};
use super::hearing::answer::follows_denial;
use super::hearing::command::Command;
use super::interview::question_for;
use super::saying::{Button, Draft, Line, asking};
use super::session::Open;
use super::talk::Talk;
use super::understanding::{TopicId, Understanding, Verdict};
use crate::roofing::note::Note;
use crate::roofing::plan::Unplanned;
use crate::roofing::roof::FactKey;
use crate::roofing::rules::Handover;
use crate::roofing::work::Stop;

static ASKS: LazyLock<Option<Regex>> = LazyLock::new(|| {
    Regex::new(
        r"(?i)\?\s*$|^(?:(?:so|and|but|ok|hi|hey|please|hang on|wait)[ ,]+)*(?:will|would|can|could|do|does|did|is|are|am|should|shall|may|must|what|where|when|which|who|how|why)\b|\b(?:will|can|should|shall|do|does) (?:i|we|it|they|the|that|this|nails?|sheets?)\b|\bhow (?:do|many|much|far|long|big|deep)\b|\bwhat (?:if|about)\b|\bok to\b",
    )
    .ok()
});

/// Figures with foot or inch marks and no letter, such as `9'11"`; digits alone may be an emergency number.
fn is_bare_measurement(text: &str) -> bool {
    let marks = ['\'', '"', '’', '”', '′', '″'];
    !text.chars().any(char::is_alphabetic) && text.contains(marks)
}

/// Whether a message asks something.
pub(super) fn is_asking(text: &str) -> bool {
    ASKS.as_ref().is_some_and(|asks| asks.is_match(text))
}

impl Talk<'_, '_> {
    /// Emergencies come before anything, whatever else is in the message; other dangers before everything but an
    /// answer to the question that is open. `true` where the message has been dealt with.
    pub(super) fn warned(&mut self, text: &str) -> bool {
        // Nine foot eleven, written short, is no call for help.
        if is_bare_measurement(text) {
            return false;
        }
        let understood = self.guide.topics.understand(text);
        if !understood.topics.iter().any(|hit| hit.danger) {
            return false;
        }
        if understood.handover == Some(Handover::Emergency) {
            if self.session.progress().begun() {
                self.happen(Event::Paused(Stop::Pause));
            }
            let reply = self.reply_to(&understood);
            self.say_reply(&reply);
            return true;
        }
        // Asbestos raises its own stop, which asks for the test.
        let speaks_of_asbestos = |understood: &Understanding| {
            understood.topics.iter().any(|hit| hit.topic == TopicId::AsbestosSuspect)
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
        let understood = self.guide.topics.understand(text);
        let has_figures = text.chars().any(|c| c.is_ascii_digit());
        let only_figures =
            has_figures && understood.topics.iter().all(|hit| hit.topic == TopicId::ChangeMeasurement);
        // Beside an open question, words that mean nothing are an answer that missed, not chatter.
        let missed = self.open_question().is_some()
            && !is_asking(text)
            && understood.topics.iter().all(|hit| hit.topic == TopicId::OffTopic);
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
        ask(&Roof { book, facts, plan: plan.as_ref(), refusals: &refusals })
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

    /// Puts the open question again; with a plan in hand nothing is put, the answer stands by itself.
    fn carry_on(&mut self) {
        if !matches!(self.session.open(), Open::Plan) {
            self.put_again();
        }
    }

    /// Whether a message is a plain answer to the question that is open.
    fn answers_open_question(&self, text: &str) -> bool {
        !is_asking(text) && self.open_question().is_some_and(|question| self.reads_as(question, text))
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
