//! While a stop holds: what is asked of its matter is answered, who was misheard is told how to put it right, and
//! nothing that is said here lifts it.

use crate::conversation::deciding::{Decision, Row, answer_of};
use crate::conversation::holds;
use crate::conversation::interview::Standing;
use crate::conversation::talk::Talk;
use crate::conversation::understanding::DangerKind;
use crate::roofing::note::Note;
use crate::roofing::roof::{FactKey, FactKind};

impl Talk<'_, '_> {
    /// Whoever asks while something stops the plan has answered nothing, and lifts no stop.
    pub(in crate::conversation) fn asked_while_held(&mut self, text: &str) {
        if !self.answered_by_hold(text) && !self.answered_safety(text) {
            self.aside.push(Note::new("settle-this-first"));
            self.go_on();
        }
    }

    /// Answers what is asked of the matter that stops the plan, and recalls the stop; `false` where it knows nothing.
    pub(in crate::conversation) fn answered_by_hold(&mut self, text: &str) -> bool {
        let Standing::Stopped(stop, _) = self.standing() else { return false };
        let answers = holds::answer(&self.guide.script.holds, &stop.id, text);
        let answered = !answers.is_empty();
        if answered {
            self.aside.extend(answers);
            self.go_on();
        }
        answered
    }

    /// Says how to put it right to somebody who says that what stops the plan was misheard. Nothing is lifted by it.
    pub(in crate::conversation) fn corrected_by_hold(&mut self, decision: Decision, text: &str) -> bool {
        let Standing::Stopped(stop, question) = self.standing() else { return false };
        let in_own_words =
            question.is_some_and(|question| matches!(question.fact.kind(), FactKind::Words(_)));
        let first =
            matches!(decision.row, Row::Danger | Row::Points | Row::Order | Row::Agrees | Row::Refuses);
        if in_own_words || first {
            return false;
        }
        let Some(how) = holds::correction(&self.guide.script.holds, &stop.id, text) else { return false };
        self.aside.push(how);
        self.go_on();
        true
    }

    /// Whether the plan is stopped for this very danger, so that it need not be asked or told again.
    pub(in crate::conversation) fn is_held_for(&self, kind: DangerKind) -> bool {
        let fact = match answer_of(kind) {
            Some((fact, _)) => fact,
            None if kind == DangerKind::Asbestos => FactKey::AsbestosTest,
            None => return false,
        };
        match self.standing() {
            Standing::Stopped(stop, _) => stop.facts.contains(&fact),
            Standing::Refused(_) | Standing::Ask(_) | Standing::Complete(_) | Standing::Faulty(_) => false,
        }
    }
}
