//! Whether a safe answer is nothing but one. Somebody could be hurt by a false pass: what holds an exception, a
//! hedge, a condition, another's roof, a part of this one, or any word beyond a plain safe answer is put back as one
//! plain question.

use super::{Chosen, is_denied};
use crate::conversation::ears::clauses::{Clause, Mood, Time};
use crate::conversation::ears::lexicon::{Aspect, Hit, Means, Tag};
use crate::conversation::ears::{Message, View};
use crate::conversation::script::Question;
use crate::roofing::roof::FactKey;

/// Whether a choice that lets the plan go on is said plainly; one that stops it need not be.
///
/// `answered` are the clauses that plainly answer something else, and `safe` what else is answered safely in the same
/// breath: "timbers all sound, no cables near".
pub(in crate::conversation::ears) fn is_pure(
    view: &View<'_, '_>,
    message: &Message<'_>,
    chosen: &Chosen,
    (answered, safe): (&[usize], &[FactKey]),
) -> bool {
    let [id] = chosen.ids.as_slice() else { return false };
    let asked = view.question().filter(|question| question.fact == chosen.fact);
    if asked.is_some_and(|question| is_label(view, question, id, message.text)) {
        return true;
    }
    if view.session.facts().get(chosen.fact).is_some() && only_nods(message) {
        return false;
    }
    let answer = SafeAnswer { message, chosen, id, safe };
    let mut own = false;
    for (index, clause) in message.clauses.iter().enumerate() {
        match answer.part(clause) {
            Part::Safe => own = true,
            Part::Beside => {}
            Part::Small if index != chosen.clause => {}
            // What answers something else must do so without a doubt that could reach over.
            Part::Beyond
                if index != chosen.clause
                    && answered.contains(&index)
                    && clause.is_plain()
                    && !answer.names_asbestos(clause) => {}
            Part::Small | Part::Beyond => return false,
        }
    }
    own && answer.names_a_test() && !message.tokens.iter().any(|token| token.is_mark('?'))
}

/// What a clause is to a safe answer.
enum Part {
    /// It says that it is safe, and nothing else.
    Safe,
    /// It says how that is known, or how sure it is.
    Beside,
    /// It says nothing at all.
    Small,
    /// It says more.
    Beyond,
}

struct SafeAnswer<'m> {
    message: &'m Message<'m>,
    chosen: &'m Chosen,
    id: &'m str,
    safe: &'m [FactKey],
}

impl SafeAnswer<'_> {
    fn part(&self, clause: &Clause) -> Part {
        // "Ok" is a word in passing; "all ok" is an answer.
        let answers = |hit: &Hit<'_>| hit.len() > 1 && clause.holds(hit.start) && self.says_it(hit);
        let small = self.message.covered(&clause.tokens, |hit| hit.is(Tag::Filler));
        if small && !self.message.hits.iter().any(answers) {
            return Part::Small;
        }
        let states = clause.mood == Mood::States && !clause.others && !clause.conditional;
        let all_belongs = self.message.covered(&clause.tokens, |hit| self.belongs(hit));
        if !states || !all_belongs || self.is_doubted(clause) {
            return Part::Beyond;
        }
        // What was found by a test, and what was looked at, is past and holds; how timbers were does not.
        let holds = clause.time == Time::Now
            || (clause.time == Time::Past && self.chosen.fact == FactKey::AsbestosTest);
        let inside = |hit: &&Hit<'_>| clause.holds(hit.start);
        let mut hits = self.message.hits.iter().filter(inside);
        if hits.clone().any(|hit| self.says_it(hit)) {
            return if holds { Part::Safe } else { Part::Beyond };
        }
        let beside = hits.any(|hit| self.may_stand_alone(hit));
        if beside && clause.time != Time::Planned { Part::Beside } else { Part::Beyond }
    }

    /// Whether a hit may stand in a plain safe answer.
    fn belongs(&self, hit: &Hit<'_>) -> bool {
        match hit.means {
            Means::Choice(_, _, Aspect::Safe | Aspect::Within | Aspect::Along) => {
                self.is_own(hit)
                    && !is_denied(self.message, hit)
                    && !(hit.way.is_open() && self.holds_doubt(hit))
            }
            // How asbestos was looked at by eye is no test.
            Means::Tag(Tag::Looked) => {
                self.chosen.fact != FactKey::AsbestosTest && !is_denied(self.message, hit)
            }
            Means::Tag(Tag::Assures) => true,
            Means::Tag(Tag::Filler) => !self.holds_doubt(hit),
            Means::Tag(Tag::PlainYes) => {
                self.stands_for(true).is_none_or(|yes| yes == self.id) && !self.holds_doubt(hit)
            }
            Means::Tag(Tag::PlainNo) => self.stands_for(false) == Some(self.id) && !self.holds_doubt(hit),
            _ => false,
        }
    }

    /// Whether a hit is of this answer, or of another that is given safely in the same breath.
    fn is_own(&self, hit: &Hit<'_>) -> bool {
        let Means::Choice(fact, id, _) = hit.means else { return false };
        (*fact == self.chosen.fact && id == self.id)
            || (*fact != self.chosen.fact && self.safe.contains(fact))
    }

    /// Whether a test is spoken of, where a test is asked for: "clear" alone may be said of the sky. A yes at the head
    /// speaks of it, and not the "there is" of "there is no asbestos".
    fn names_a_test(&self) -> bool {
        let hits = &self.message.hits;
        let opens = |at: usize| {
            let head = 0..at;
            self.message.covered(&head, |hit| hit.is(Tag::Filler)) || at == 0
        };
        self.chosen.fact != FactKey::AsbestosTest
            || hits.iter().any(|hit| {
                matches!(hit.means, Means::Names(FactKey::AsbestosTest, _))
                    || (hit.is(Tag::PlainYes) && opens(hit.start) && !self.is_in_a_choice(hit))
            })
    }

    /// Whether a longer way of saying something of a choice holds a hit.
    fn is_in_a_choice(&self, hit: &Hit<'_>) -> bool {
        self.message.hits.iter().any(|other| {
            let holds = other.start <= hit.start && hit.end <= other.end && other.len() > hit.len();
            holds && matches!(other.means, Means::Choice(..))
        })
    }

    /// Whether a clause beside what a test found speaks of asbestos again.
    fn names_asbestos(&self, clause: &Clause) -> bool {
        let here = |hit: &Hit<'_>| hit.is(Tag::Asbestos) && clause.holds(hit.start);
        self.chosen.fact == FactKey::AsbestosTest && self.message.hits.iter().any(here)
    }

    fn says_it(&self, hit: &Hit<'_>) -> bool {
        match hit.means {
            Means::Choice(_, _, Aspect::Safe) => self.is_own(hit) && !self.is_part(hit),
            Means::Tag(Tag::PlainYes) => self.stands_for(true) == Some(self.id) && !self.is_part(hit),
            Means::Tag(Tag::PlainNo) => self.stands_for(false) == Some(self.id) && !self.is_part(hit),
            _ => false,
        }
    }

    /// Whether a hit is only a part of something longer that answers nothing by itself: the "no" of "no pylons".
    fn is_part(&self, hit: &Hit<'_>) -> bool {
        let longer =
            |other: &Hit<'_>| other.start <= hit.start && hit.end <= other.end && other.len() > hit.len();
        self.message.hits.iter().any(|other| {
            let beside = matches!(other.means, Means::Choice(_, _, Aspect::Within | Aspect::Along));
            longer(other) && beside && self.belongs(other)
        })
    }

    fn may_stand_alone(&self, hit: &Hit<'_>) -> bool {
        let along = matches!(hit.means, Means::Choice(_, _, Aspect::Along)) && self.is_own(hit);
        along || hit.is(Tag::Looked) || hit.is(Tag::Assures) || hit.is(Tag::PlainYes)
    }

    /// Whether a word of doubt or of exception lies in or across a hit.
    fn holds_doubt(&self, hit: &Hit<'_>) -> bool {
        self.message.hits.iter().any(|doubt| doubts(doubt) && doubt.start < hit.end && hit.start < doubt.end)
    }

    /// Whether a doubt stands in a clause that is no part of a longer way of saying that it is safe: "every one that I
    /// looked at", but not "nothing but sky".
    fn is_doubted(&self, clause: &Clause) -> bool {
        let hits = &self.message.hits;
        let held = |doubt: &Hit<'_>| {
            hits.iter().any(|hit| hit.start <= doubt.start && doubt.end <= hit.end && self.belongs(hit))
        };
        hits.iter().any(|hit| doubts(hit) && clause.holds(hit.start) && !held(hit))
    }

    /// What a plain yes, or a plain no, stands for where the fact is asked for. Tested and clear are two things: a yes
    /// may stand beside both, and never for them.
    fn stands_for(&self, yes: bool) -> Option<&str> {
        let asked = self.message.lexicon.asked(self.chosen.fact)?;
        if yes { asked.yes.as_deref() } else { asked.no.as_deref() }
    }
}

fn doubts(hit: &Hit<'_>) -> bool {
    hit.is(Tag::Hedges) || hit.is(Tag::Excepts)
}

/// Whether a message is nothing but a nod or a shake: while something is held, it may mean that it was read.
fn only_nods(message: &Message<'_>) -> bool {
    let tags = [Tag::Agrees, Tag::Refuses, Tag::PlainYes, Tag::PlainNo, Tag::Filler];
    message.covered(&(0..message.tokens.len()), |hit| tags.iter().any(|tag| hit.is(*tag)))
}

fn is_label(view: &View<'_, '_>, question: &Question, id: &str, text: &str) -> bool {
    super::by_label(view, question, text).is_some_and(|label| label.ids == [id])
}
