//! A yes to everything that was shown back, in whatever words: there it is enough that one is said and nothing against
//! it. A yes to anything that could hurt somebody, or that cannot be undone, is heard only where it is all that is said.

use super::super::lexicon::{Aspect, Hit, Means, Tag};
use super::super::sentence::clauses::Mood;
use super::super::{Message, View};
use crate::conversation::session::Open;

/// What speaks against a yes, or puts it off.
const AGAINST: [Tag; 14] = [
    Tag::Denies,
    Tag::Instead,
    Tag::Recorded,
    Tag::Corrects,
    Tag::But,
    Tag::Excepts,
    Tag::Hedges,
    Tag::Conditions,
    Tag::Refuses,
    Tag::Delays,
    Tag::Planned,
    Tag::Promises,
    Tag::More,
    Tag::Less,
];

/// Whether a message agrees to what was shown back, whatever else it says.
pub(super) fn agrees_to_all(view: &View<'_, '_>, message: &Message<'_>) -> bool {
    if !matches!(view.session.open(), Open::Review) || !message.figures.is_empty() {
        return false;
    }
    let small = |hit: &Hit<'_>| hit.is(Tag::Filler);
    let yes = |hit: &Hit<'_>| hit.is(Tag::Agrees) || hit.is(Tag::PlainYes);
    let whole = message.clauses.iter().any(|clause| {
        message.covered(&clause.tokens, |hit| yes(hit) || small(hit))
            && message.hits.iter().any(|hit| yes(hit) && clause.holds(hit.start))
    });
    let opens = super::opens_with(message) == Some(true);
    let states =
        message.clauses.iter().all(|clause| clause.mood == Mood::States && !clause.marked && !clause.others);
    (whole || opens) && states && !message.hits.iter().any(|hit| is_against(message, hit))
}

/// Whether a hit speaks against a yes, and is no part of one: "no changes", "as I said it".
fn is_against(message: &Message<'_>, hit: &Hit<'_>) -> bool {
    let of_the_roof = match hit.means {
        Means::Names(..) | Means::Compares(..) => true,
        Means::Choice(_, _, aspect) => *aspect == Aspect::Tells,
        Means::Tag(tag) => AGAINST.contains(tag),
        Means::Goods(_) | Means::AllDone(_) => false,
    };
    of_the_roof
        && !message.hits.iter().any(|yes| {
            yes.is(Tag::Agrees) && yes.start <= hit.start && hit.end <= yes.end && yes.len() >= hit.len()
        })
}
