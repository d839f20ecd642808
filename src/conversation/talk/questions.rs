//! What the person asks, answered for their own roof.
//!
//! After an answer the chat goes on where it was.

use std::rc::Rc;

use crate::conversation::answers::{Answer, Reply, Roof, TopicAction, answer, reply};
use crate::conversation::ears::asked::Heard;
use crate::conversation::ears::{Interpretation, Job, Loose, Order};
use crate::conversation::event::Event;
use crate::conversation::saying::{Button, Draft, Line, asking};
use crate::conversation::session::Open;
use crate::conversation::talk::Talk;
use crate::conversation::understanding::{Hit, TopicId, Understanding, Verdict};
use crate::roofing::note::Note;
use crate::roofing::plan::Unplanned;

/// Beside an open question, what is no question must speak of a topic as clearly as this to be taken for one.
const CLEARLY: u8 = 85;

impl Talk<'_, '_> {
    /// What a text is about.
    pub(in crate::conversation) fn understand(&self, text: &str) -> Rc<Understanding> {
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

    /// A question: explained, answered, or put off, and then the chat goes on.
    pub(in crate::conversation) fn asked(&mut self, text: &str) {
        if self.answered_topic(text) {
            return;
        }
        if self.events.contains(&Event::Greeted) {
            return self.go_on();
        }
        if self.open_question().is_some() {
            self.aside.push(Note::new("a-question-of-theirs"));
            return self.put_again();
        }
        self.missed(Note::new("not-understood"));
    }

    /// Something was said that changes nothing: a word to it, and the chat goes on.
    pub(in crate::conversation) fn word(&mut self, text: &str, said: &Interpretation) {
        let just_met = |event: &Event| matches!(event, Event::Greeted | Event::Suspected);
        if self.events.iter().any(just_met) {
            if said.loose.is_none() && self.begins_with_a_matter(text) {
                return;
            }
            if said.loose == Some(Loose::Sizes) {
                self.aside.push(Note::new("sizes-later"));
            }
            return self.go_on();
        }
        if said.promises {
            self.aside.push(Note::new("promised"));
            return self.carry_on();
        }
        if said.job == Some(Job::Start) && !self.session.planned() {
            self.aside.push(Note::new("no-plan-yet"));
            return self.put_again();
        }
        // With a plan in hand, a figure may stand in a sentence about something else.
        let asks_nothing = self.open_question().is_none();
        if asks_nothing && !self.is_stopped() && self.answered_topic(text) {
            return;
        }
        if said.loose.is_some() {
            return self.missed(Note::new(if asks_nothing { "measure-of-what" } else { "measure-not-yet" }));
        }
        let answered = if self.is_stopped() {
            self.answered_by_hold(text) || self.answered_safety(text)
        } else {
            self.answered_topic(text)
        };
        if !answered {
            self.missed(Note::new("not-understood"));
        }
    }

    /// Whoever begins with what is the matter hears of it first: "my shed roof leaks".
    fn begins_with_a_matter(&mut self, text: &str) -> bool {
        let understood = self.understand(text);
        let leaks = |hit: &Hit| hit.topic == TopicId::LeakRepair && hit.confidence >= CLEARLY;
        let told = understood.verdict == Verdict::One && understood.topics.iter().all(leaks);
        self.events.contains(&Event::Greeted) && told && self.answered_topic(text)
    }

    /// There is no plan yet that the work could go by.
    pub(in crate::conversation) fn not_yet(&mut self, text: &str) {
        if matches!(self.session.open(), Open::Review) && !self.session.planned() {
            return self.give_plan();
        }
        if !self.session.planned() {
            self.aside.push(Note::new("no-plan-yet"));
            return self.put_again();
        }
        if !self.answered_topic(text) {
            self.go_on();
        }
    }

    /// "The first one": of what was offered, or of the topics that were.
    pub(in crate::conversation) fn pick_it(&mut self, place: usize) {
        if let Open::Pick(offers) = self.session.open().clone() {
            let at = place.min(offers.len().saturating_sub(1));
            return match offers.get(at) {
                Some(offer) if place == usize::MAX || place < offers.len() => self.take_offer(offer),
                _ => self.missed(Note::new("which-did-you-mean")),
            };
        }
        let suggested = self.session.suggested().to_vec();
        let at = place.min(suggested.len().saturating_sub(1));
        match suggested.get(at) {
            Some(topic) => {
                let _ = self.topic_button(&format!("topic-{topic}"));
            }
            None => self.missed(Note::new("not-understood")),
        }
    }

    /// Answers a message that asks, and goes on; `false` where nothing in it is known.
    pub(in crate::conversation) fn answered_topic(&mut self, text: &str) -> bool {
        let understood = self.understand(text);
        if self.judged(text, &understood) {
            return true;
        }
        let knows = self.knows(&understood, text);
        if knows {
            self.answer_understood(&understood);
        }
        knows
    }

    /// Answers a message that asks, and says nothing more.
    pub(in crate::conversation) fn answers_topic(&mut self, text: &str) -> bool {
        let understood = self.understand(text);
        let told = understood
            .topics
            .iter()
            .any(|hit| hit.topic != TopicId::ChangeMeasurement && !hit.topic.gives_way());
        if understood.verdict != Verdict::One || !told {
            return false;
        }
        let reply = self.reply_to(&understood);
        self.say_reply(&reply);
        true
    }

    fn knows(&self, understood: &Understanding, text: &str) -> bool {
        let has_figures = text.chars().any(|c| c.is_ascii_digit());
        let only_figures =
            has_figures && understood.topics.iter().all(|hit| hit.topic == TopicId::ChangeMeasurement);
        // Beside an open question, words that mean little are an answer that missed, not chatter. What keeps people
        // safe need not be said as clearly.
        let sure = understood.verdict == Verdict::One;
        let means_little = understood.topics.iter().all(|hit| {
            let heard = hit.topic.gives_way() || (sure && hit.topic.keeps_safe());
            let unclear = !heard && hit.confidence < CLEARLY;
            hit.topic == TopicId::OffTopic || unclear
        });
        let awaits = self.open_question().is_some() || matches!(self.session.open(), Open::WhatToChange);
        let missed = awaits && !self.asks(text) && means_little;
        match understood.verdict {
            Verdict::None => false,
            Verdict::One | Verdict::Near if missed => false,
            // A figure to change is heard as a figure.
            Verdict::One | Verdict::Near if only_figures => false,
            Verdict::One | Verdict::Near => true,
        }
    }

    /// Whether a message asks anything.
    fn asks(&self, text: &str) -> bool {
        use crate::conversation::ears::clauses::Mood;
        self.guide.ears.hear(text).clauses.iter().any(|clause| clause.mood == Mood::Asks)
    }

    /// Answers a message that asks for what is known for sure.
    pub(in crate::conversation) fn answered_surely(&mut self, text: &str) -> bool {
        self.understand(text).verdict == Verdict::One && self.answered_topic(text)
    }

    /// Answers what is asked while something stops the plan, where that keeps people safe or leads to a person.
    pub(in crate::conversation) fn answered_safety(&mut self, text: &str) -> bool {
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

    /// Does what is told, unless what follows the order is to be explained or answered.
    pub(in crate::conversation) fn ordered_by_word(&mut self, order: Order, text: &str) {
        match order {
            Order::Start => {
                let begun = self.session.answers() > 0;
                if !self.events.iter().any(|event| matches!(event, Event::Greeted)) {
                    self.aside.push(Note::new(if begun { "welcome-back" } else { "hello-again" }));
                }
                self.put_again();
            }
            // "How" explains the measurement that is asked for; where none is, how to do a thing may be known.
            Order::How if self.open_question().is_none() && self.answered_topic(text) => {}
            Order::Meaning(word) => match self.meaning_of(&word) {
                Some(note) => self.say_draft_and_go_on(Draft::of(note)),
                None if self.is_stopped() => self.asked_while_held(text),
                None => self.asked(text),
            },
            Order::Everything(named) => {
                if self.is_stopped() || !self.told_everything(&named) {
                    self.asked(text);
                }
            }
            Order::Why(named) if !self.session.planned() && !named.is_empty() => {
                match asking::question_named(self.guide, &named).filter(|_| !self.is_stopped()) {
                    Some(question) => {
                        let note = Note::new(format!("why-{}", question.id));
                        self.say_draft_and_go_on(Draft::of(note));
                    }
                    None => self.obey(Order::Why(named)),
                }
            }
            order => self.obey(order),
        }
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
            Some(TopicAction::StartOver) => self.obey(Order::Restart),
            Some(TopicAction::DeleteData) => self.obey(Order::Delete),
            Some(TopicAction::HandToAdviser) => self.obey(Order::Person),
            None => {
                self.say_reply(&reply);
                self.carry_on();
            }
        }
    }

    /// A button that asks one topic, or for more of it; `false` where it is none.
    pub(in crate::conversation) fn topic_button(&mut self, order: &str) -> bool {
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

    /// The reply to a message whose danger, where there is one, is for sure: one that is not is asked about apart.
    pub(super) fn reply_to(&self, understood: &Understanding) -> Reply {
        let sure = understood.danger.clone().filter(|danger| danger.sure);
        let understood = Understanding { danger: sure, ..understood.clone() };
        self.about_the_roof(|roof| reply(&understood, &Heard::default(), roof))
    }

    /// What is asked of the roof as far as it is known.
    pub(super) fn about_the_roof<T>(&self, ask: impl FnOnce(&Roof<'_>) -> T) -> T {
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

    pub(super) fn say_reply(&mut self, reply: &Reply) {
        self.aside.extend(reply.opening.iter().cloned());
        if !reply.which.is_empty() {
            let mut draft = Draft::new("answer-which-one");
            for topic in &reply.which {
                let asked = self.guide.topics.example(*topic).unwrap_or_else(|| topic.key());
                let label = Note::new("plain-text").text("text", asked);
                draft.buttons.push(Button::new(format!("do-topic-{}", topic.key()), label));
            }
            self.happen(Event::Suggested(reply.which.iter().map(|topic| topic.key().to_owned()).collect()));
            self.say(draft);
        }
        let mut said: Vec<&Note> = Vec::new();
        // Where somebody may be hurt, nothing is a button away.
        let whole = reply.handover.is_some();
        for answer in &reply.answers {
            // What another answer has just said is not said twice.
            let news = |notes: &[Note]| notes.iter().filter(|note| !said.contains(note)).cloned().collect();
            let fresh = Answer { short: news(&answer.short), more: news(&answer.more), ..answer.clone() };
            said.extend(answer.short.iter().chain(answer.more.iter().filter(|_| whole)));
            if !fresh.short.is_empty() {
                let draft = if whole { told_whole(&fresh) } else { Self::draft_of(&fresh) };
                self.say(draft);
            }
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
    pub(in crate::conversation) fn carry_on(&mut self) {
        match self.session.open() {
            Open::Plan if self.session.progress().proposal().is_some() => self.put_again(),
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
            | Open::Wonder(_)
            | Open::Hurt(_)
            | Open::Share(_) => self.put_again(),
        }
    }
}

pub(super) fn told_whole(answer: &Answer) -> Draft {
    let notes: Vec<Note> = answer.short.iter().chain(&answer.more).cloned().collect();
    told(answer.topic.key(), &notes)
}

fn told(key: &str, notes: &[Note]) -> Draft {
    let mut draft = Draft::new(format!("topic-{key}"));
    draft.lines.extend(notes.iter().cloned().map(Line::Paragraph));
    draft
}
