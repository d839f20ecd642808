//! Whether a safe answer is nothing but one. Somebody could be hurt by a false pass: what holds an exception, a
//! hedge, a condition, another's roof, a part of this one, or any word beyond a plain safe answer is put back as one
//! plain question.

use super::Chosen;
use crate::conversation::ears::clauses::{Clause, Time};
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
    let speaks = message.clauses.iter().enumerate();
    let mut own = false;
    for (index, clause) in speaks {
        let passes = |hit: &Hit<'_>| passes(message, hit, chosen, id, safe);
        let plain = clause.is_plain() && message.covered(&clause.tokens, passes);
        let only_small = message.covered(&clause.tokens, |hit| hit.is(Tag::Filler));
        let elsewhere = answered.contains(&index) && is_plainly_said(clause);
        if index == chosen.clause && !plain {
            return false;
        }
        own |= plain && (index == chosen.clause || !only_small);
        if !plain && !elsewhere && !only_small {
            return false;
        }
    }
    own && names_a_test(message, chosen) && !message.tokens.iter().any(|token| token.is_mark('?'))
}

/// Whether a test is spoken of, where a test is asked for: "clear" alone may be said of the sky.
fn names_a_test(message: &Message<'_>, chosen: &Chosen) -> bool {
    let test =
        |hit: &Hit<'_>| hit.is(Tag::PlainYes) || matches!(hit.means, Means::Names(FactKey::AsbestosTest, _));
    chosen.fact != FactKey::AsbestosTest || message.hits.iter().any(test)
}

/// Whether a message is nothing but a nod or a shake: while something is held, it may mean that it was read.
fn only_nods(message: &Message<'_>) -> bool {
    let tags = [Tag::Agrees, Tag::Refuses, Tag::PlainYes, Tag::PlainNo, Tag::Filler];
    message.covered(&(0..message.tokens.len()), |hit| tags.iter().any(|tag| hit.is(*tag)))
}

fn is_label(view: &View<'_, '_>, question: &Question, id: &str, text: &str) -> bool {
    super::by_label(view, question, text).is_some_and(|label| label.ids == [id])
}

/// Whether a clause that answers something else does so without a doubt that could reach over.
fn is_plainly_said(clause: &Clause) -> bool {
    clause.is_plain() && clause.time == Time::Now
}

/// Whether a hit may stand in a plain safe answer.
fn passes(message: &Message<'_>, hit: &Hit<'_>, chosen: &Chosen, id: &str, safe: &[FactKey]) -> bool {
    let hedged = || {
        message.hits.iter().any(|hedge| {
            (hedge.is(Tag::Hedges) || hedge.is(Tag::Excepts))
                && hedge.start < hit.end
                && hit.start < hedge.end
        })
    };
    match hit.means {
        Means::Choice(fact, own, Aspect::Plain) => {
            (*fact == chosen.fact && own == id) || (*fact != chosen.fact && safe.contains(fact))
        }
        Means::Tag(Tag::Filler) => !hedged(),
        Means::Tag(Tag::PlainYes) => {
            stands_for(message, chosen, true).is_none_or(|yes| yes == id) && !hedged()
        }
        Means::Tag(Tag::PlainNo) => stands_for(message, chosen, false) == Some(id) && !hedged(),
        _ => false,
    }
}

/// What a plain yes, or a plain no, stands for where the fact is asked for. Tested and clear are two things: a yes
/// may stand beside both, and never for them.
fn stands_for<'m>(message: &'m Message<'_>, chosen: &'m Chosen, yes: bool) -> Option<&'m str> {
    let asked = message.lexicon.asked(chosen.fact)?;
    if yes { asked.yes.as_deref() } else { asked.no.as_deref() }
}
