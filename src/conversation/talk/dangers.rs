//! Danger before anything else: what is said of it, what it stops, and until when.

use super::questions::told_whole;

use crate::conversation::answers::answer;
use crate::conversation::deciding::{answer_of, is_harmless, is_plain_order};
use crate::conversation::ears::{Given, Interpretation};
use crate::conversation::event::{Answer as Answered, Event};
use crate::conversation::saying::{Draft, asking};
use crate::conversation::session::Open;
use crate::conversation::talk::Talk;
use crate::conversation::understanding::{DangerHeard, DangerKind, Understanding};
use crate::roofing::facts::choices::{AsbestosTest, Choice as _};
use crate::roofing::note::Note;
use crate::roofing::roof::{FactKey, FactValue};
use crate::roofing::rules::Handover;
use crate::roofing::work::Stop;

/// Figures with foot or inch marks and no letter, as in `9'11"`; digits alone may be an emergency number.
fn is_bare_measurement(text: &str) -> bool {
    let marks = ['\'', '"', '’', '”', '′', '″'];
    !text.chars().any(char::is_alphabetic) && text.contains(marks)
}

impl Talk<'_, '_> {
    /// The danger that a message speaks of. A plain order and a plain yes hold none, and need not wait until the
    /// topics are ready; nor is nine foot eleven, written short, a call for help.
    pub(in crate::conversation) fn danger_in(
        &self,
        text: &str,
        said: &Interpretation,
    ) -> Option<DangerHeard> {
        if is_plain_order(said, text) || said.yes_or_no().is_some() || is_bare_measurement(text) {
            return None;
        }
        self.understand(text).danger.clone()
    }

    /// Whether asbestos may be on this roof: the question is about it, or a word of danger tells of it. What only
    /// sounds so is asked about first.
    pub(in crate::conversation) fn is_about_asbestos(&self, danger: Option<&DangerHeard>) -> bool {
        let asked = matches!(
            self.session.open(),
            Open::Question(FactKey::CoveringNow | FactKey::AsbestosTest) | Open::Wonder(DangerKind::Asbestos)
        );
        asked || danger.is_some_and(|danger| danger.kind == DangerKind::Asbestos && !danger.only_sounds_so())
    }

    /// A danger for sure: what to do is said, and nothing goes on until it is settled.
    pub(in crate::conversation) fn stop_for(&mut self, danger: Option<&DangerHeard>, text: &str) {
        if let Some(danger) = danger {
            self.stop(danger.kind, Some(text));
        }
    }

    pub(in crate::conversation) fn stop(&mut self, kind: DangerKind, text: Option<&str>) {
        if kind.handover() == Handover::Emergency {
            if self.session.progress().begun() {
                self.happen(Event::Paused(Stop::Pause));
            }
            self.say_danger(kind, text);
            self.happen(Event::HeldFor(kind));
            return self.say(asking::all_right());
        }
        if kind == DangerKind::Asbestos {
            // Asbestos raises its own stop, which asks for the test.
            self.happen(Event::Suspected);
            let found = self.session.facts().chosen::<AsbestosTest>(FactKey::AsbestosTest);
            if found == Some(AsbestosTest::TestedClear) {
                // A test counts for what was tested: what is found after it is not tested.
                let untested = FactValue::Choice(AsbestosTest::NotTested.id().to_owned());
                self.happen(Event::Answered(vec![(FactKey::AsbestosTest, untested)]));
            }
        }
        match answer_of(kind).or_else(|| self.answer_that_stops(kind.stops())) {
            Some(answer) if kind != DangerKind::Asbestos => {
                self.say_danger(kind, text);
                self.hold(answer);
            }
            Some(_) | None if self.is_stopped() => self.go_on(),
            Some(_) | None => {
                self.say_danger(kind, text);
                self.carry_on();
            }
        }
    }

    /// What to do about a danger.
    fn say_danger(&mut self, kind: DangerKind, text: Option<&str>) {
        match text.map(|text| self.understand(text)).filter(|heard| heard.danger.is_some()) {
            Some(understood) => {
                let sure = Understanding {
                    danger: understood.danger.clone().map(|danger| DangerHeard { sure: true, ..danger }),
                    ..(*understood).clone()
                };
                let reply = self.reply_to(&sure);
                self.say_reply(&reply);
            }
            None => {
                let told = told_whole(&self.about_the_roof(|roof| answer(kind.topic(), true, roof)));
                self.say(told);
            }
        }
    }

    /// What may be a danger is asked about in one line; nothing is stored, and all else stays as it is.
    pub(in crate::conversation) fn wonder(&mut self, danger: Option<&DangerHeard>) {
        match danger {
            // Where asbestos was spoken of, a test is asked for at once.
            Some(danger) if danger.kind == DangerKind::Asbestos && self.session.is_suspected() => {
                self.stop(danger.kind, None);
            }
            Some(danger) => {
                self.happen(Event::Wondered(danger.kind));
                self.say(asking::wonder(danger.kind));
            }
            None => {}
        }
    }

    /// Whether a fact denies a danger that something sounded like before: "no" passes for that only when asked plainly.
    pub(in crate::conversation) fn denies_what_was_wondered(&self, given: &Given) -> bool {
        let wondered = |kind: &DangerKind| {
            let of_it = answer_of(*kind).is_some_and(|(fact, _)| fact == given.fact);
            of_it && self.session.has_wondered(*kind)
        };
        is_harmless(given) && !asking::is_not_sure(&given.value) && DangerKind::ALL.iter().any(wondered)
    }

    /// Everybody is all right: the chat goes on where it was.
    pub(in crate::conversation) fn all_right(&mut self) {
        self.happen(Event::AllRight);
        self.say(Draft::of(Note::new("danger-all-right")));
        self.put_again();
    }

    /// Somebody may still be hurt: what to do once more, in short, or what was asked about it.
    pub(in crate::conversation) fn still_hurt(&mut self, kind: DangerKind, text: &str) {
        let understood = self.understand(text);
        if understood.danger.as_ref().is_some_and(|danger| danger.sure) {
            self.say_danger(kind, Some(text));
        }
        self.say(asking::all_right());
    }

    /// The answer that a danger stands for, where a rule stops the plan by it.
    pub(in crate::conversation) fn answer_that_stops(&self, rule: &str) -> Option<Answered> {
        self.guide.handbook.rules.rule(rule)?.stopping_answer()
    }

    /// A danger that was spoken of holds the plan until its question is answered: nobody has to be asked first.
    pub(in crate::conversation) fn hold(&mut self, answer: Answered) {
        if self.session.facts().get(answer.0) != Some(&answer.1) {
            self.happen(Event::Answered(vec![answer]));
        }
        self.go_on();
    }
}
