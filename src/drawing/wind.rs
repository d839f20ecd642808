//! The arrow of the prevailing wind, the same on every drawing.

use super::Words;
use super::kit::draft::Draft;
use super::kit::half_rise;
use super::kit::picture::{Anchor, Pen, Point};
use crate::roofing::note::Note;
use crate::roofing::roof::Hand;

/// An arrow that blows from a side, with its word, between two edges of the paper at height `y`.
pub(super) fn arrow(draft: &mut Draft, from: Hand, words: Words, (left, right): (f64, f64), y: f64) {
    let (start, way, anchor) = match from {
        Hand::Left => (left, 1.0, Anchor::Start),
        Hand::Right => (right, -1.0, Anchor::End),
    };
    let from_word = match from {
        Hand::Left => "left",
        Hand::Right => "right",
    };
    draft.open("wind", None, vec![("from", from_word.to_owned())]);
    let tip = Point::new(start + way * 70.0, y);
    for line in [-6.0, 0.0, 6.0] {
        draft.line(Point::new(start, y + line), Point::new(tip.x - way * 18.0, y + line), Pen::Edge);
    }
    draft.arrow_head(tip, (way, 0.0), 22.0);
    draft.words(Point::new(tip.x + way * 10.0, y + half_rise()), anchor, words.say("drawing-wind"));
    draft.close();
}

/// The same in words.
pub(super) fn note(from: Hand) -> Note {
    Note::new(match from {
        Hand::Left => "drawing-wind-from-left",
        Hand::Right => "drawing-wind-from-right",
    })
}
