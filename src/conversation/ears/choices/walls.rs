//! At which ends a roof meets a wall, where a message speaks of each end by itself: "a wall on the left, the other end
//! is open".

use super::{Chosen, corrected};
use crate::conversation::ears::Message;
use crate::conversation::ears::lexicon::Tag;
use crate::roofing::roof::FactKey;

/// What each clause says of the ends, by its index.
pub(super) type OfEnds = Vec<(usize, Vec<String>)>;

/// Puts together what several clauses say of the ends.
pub(super) fn put_together(message: &Message<'_>, said: &OfEnds, found: &mut [Chosen]) {
    let (Some((first, _)), Some((last, _))) = (said.first(), said.last()) else { return };
    let several = said.iter().map(|(_, ids)| ids.len()).sum::<usize>() > 1;
    if !several || corrected(message, *first, *last) && first != last {
        return;
    }
    let (mut left, mut right, mut free, mut none) = (false, false, 0, false);
    for (clause, ids) in said {
        let says = |id: &str| ids.iter().any(|own| own == id);
        let is_free = says("none") || only_something_else(message, *clause);
        let here = [says("left") || says("both"), says("right") || says("both")];
        match (is_free, here) {
            (false, [at_left, at_right]) => {
                left |= at_left;
                right |= at_right;
            }
            (true, [false, false]) => none = true,
            (true, [at_left, at_right]) => free += usize::from(at_left) + usize::from(at_right),
        }
    }
    let id = match (left, right) {
        (true, true) => "both",
        (true, false) => "left",
        (false, true) => "right",
        (false, false) if none || free > 1 => "none",
        // One end is free, and nothing is said of the other.
        (false, false) => return,
    };
    if let Some(chosen) = found.iter_mut().find(|chosen| chosen.fact == FactKey::WallSide) {
        chosen.ids = vec![id.to_owned()];
    }
}

/// "Right only nettles": something stands there, and no wall.
fn only_something_else(message: &Message<'_>, clause: usize) -> bool {
    let has =
        |tag: Tag| message.hits.iter().any(|hit| hit.is(tag) && message.clause_of(hit.start) == Some(clause));
    (has(Tag::Excepts) || has(Tag::Thing)) && !has(Tag::Wall)
}
