//! Dimension lines in the drawing-office manner (ISO 129-1): thin lines, oblique strokes at the ends, the
//! figure above the line, vertical ones read from the right. Equal neighbours are said once, as `6 × 450`.

use super::draft::Draft;
use super::label::{self, LINE};
use super::picture::{Anchor, Node, Pen, Picture, Point, Text, Turn};
use super::text;
use crate::drawing::Words;
use crate::units::Length;

/// Equal stretches one after the other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Run {
    /// Where the first starts.
    pub(crate) from: Length,
    /// Where the last ends.
    pub(crate) to: Length,
    /// How many there are.
    pub(crate) count: usize,
    /// How long each is.
    pub(crate) each: Length,
}

/// The stretches between marks, equal neighbours taken together.
pub(crate) fn runs(marks: &[Length]) -> Vec<Run> {
    let mut runs: Vec<Run> = Vec::new();
    for (from, to) in marks.iter().zip(marks.iter().skip(1)) {
        let each = *to - *from;
        match runs.last_mut() {
            Some(run) if run.each == each => (run.to, run.count) = (*to, run.count + 1),
            _ => runs.push(Run { from: *from, to: *to, count: 1, each }),
        }
    }
    runs
}

/// What stands on a run: `450` or `6 × 450`.
pub(crate) fn words(run: &Run, length: &impl Fn(Length) -> String) -> String {
    if run.count == 1 { length(run.each) } else { format!("{} × {}", run.count, length(run.each)) }
}

/// Whether a dimension line lies or stands.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Lie {
    /// From left to right, at this height on the paper.
    Level(f64),
    /// From the bottom up, at this distance from the left of the paper.
    Upright(f64),
}

const STROKE: f64 = 6.0;
const PAST: f64 = 6.0;

impl Lie {
    fn at(self, along: f64) -> Point {
        match self {
            Self::Level(y) => Point::new(along, y),
            Self::Upright(x) => Point::new(x, along),
        }
    }
}

/// One stretch on the paper with what is said of it.
#[derive(Clone, Debug)]
pub(crate) struct Stretch {
    /// Where it starts, along the line.
    pub(crate) from: f64,
    /// Where it ends.
    pub(crate) to: f64,
    /// The figure.
    pub(crate) words: String,
    /// The exact length of each stretch, for programs.
    pub(crate) each: Length,
    /// How many.
    pub(crate) count: usize,
}

impl Stretch {
    /// One stretch with its length on it.
    pub(crate) fn new(from: f64, to: f64, each: Length, words: Words) -> Self {
        Self { from, to, words: words.length(each), each, count: 1 }
    }
}

/// The widest figure on stretches between pairs of marks.
pub(crate) fn widest(stretches: &[(Length, Length)], words: Words) -> f64 {
    let width = |(from, to): &(Length, Length)| text::width(&words.length(*to - *from), Picture::LETTERING);
    stretches.iter().map(width).fold(0.0, f64::max)
}

/// A chain of dimensions on one line. `object` is where the drawing ends, from which extension lines run.
///
/// Figures that do not fit their stretch go to the far side of the line, spread out, with leaders.
pub(crate) fn chain(draft: &mut Draft, lie: Lie, object: f64, stretches: &[Stretch], room: (f64, f64)) {
    draft.open("dimensions", None, Vec::new());
    let mut ends: Vec<f64> = stretches.iter().flat_map(|stretch| [stretch.from, stretch.to]).collect();
    ends.sort_by(f64::total_cmp);
    ends.dedup_by(|a, b| (*a - *b).abs() < 0.05);
    for stretch in stretches {
        draft.line(lie.at(stretch.from), lie.at(stretch.to), Pen::Dimension);
    }
    for end in &ends {
        tick(draft, lie, *end, object);
    }
    let mut homeless = Vec::new();
    for stretch in stretches {
        let length = text::width(&stretch.words, Picture::LETTERING);
        let data = vec![("mm", stretch.each.mm().to_string()), ("count", stretch.count.to_string())];
        draft.open("dimension", None, data);
        if length + 6.0 <= (stretch.to - stretch.from).abs() {
            figure(draft, lie, stretch.from.midpoint(stretch.to), &stretch.words);
        } else {
            homeless.push(stretch);
        }
        draft.close();
    }
    beyond(draft, lie, object, &homeless, room);
    draft.close();
}

/// The extension line and the oblique stroke at one end.
fn tick(draft: &mut Draft, lie: Lie, along: f64, object: f64) {
    let here = lie.at(along);
    let (outer, inner) = match lie {
        Lie::Level(y) => {
            let way = (y - object).signum();
            (Point::new(along, y + way * PAST), Point::new(along, object + way * 4.0))
        }
        Lie::Upright(x) => {
            let way = (x - object).signum();
            (Point::new(x + way * PAST, along), Point::new(object + way * 4.0, along))
        }
    };
    draft.line(inner, outer, Pen::Dimension);
    draft.line(here.shifted(-STROKE, STROKE), here.shifted(STROKE, -STROKE), Pen::Edge);
}

/// The figure above the middle of its stretch.
fn figure(draft: &mut Draft, lie: Lie, along: f64, words: &str) {
    let (at, turn) = match lie {
        Lie::Level(y) => (Point::new(along, y - 5.0), Turn::Level),
        Lie::Upright(x) => (Point::new(x - 5.0, along), Turn::Upwards),
    };
    draft.put(Node::Text(Text { turn, ..Text::plain(at, Anchor::Middle, words) }));
}

/// Figures that had no room on their stretch.
fn beyond(draft: &mut Draft, lie: Lie, object: f64, homeless: &[&Stretch], (low, high): (f64, f64)) {
    let mut homeless = homeless.to_vec();
    homeless.sort_by(|a, b| a.from.midpoint(a.to).total_cmp(&b.from.midpoint(b.to)));
    let size = |stretch: &&Stretch| match lie {
        Lie::Level(_) => text::width(&stretch.words, Picture::LETTERING) + 12.0,
        Lie::Upright(_) => LINE,
    };
    // Where there is no room for all, every second, third … is said: the text version says the rest.
    let all: f64 = homeless.iter().map(size).sum();
    let step = super::whole((all / (high - low).max(1.0)).ceil()).max(1);
    let homeless: Vec<&Stretch> = homeless.into_iter().step_by(step).collect();
    let wanted: Vec<f64> = homeless.iter().map(|stretch| stretch.from.midpoint(stretch.to)).collect();
    let sizes: Vec<f64> = homeless.iter().map(size).collect();
    let places = label::spread(&wanted, &sizes, low, high);
    for ((stretch, want), place) in homeless.iter().zip(&wanted).zip(places) {
        let (near, far, anchor) = match lie {
            Lie::Level(y) => {
                let way = (y - object).signum();
                let base = if way > 0.0 { y + 16.0 + Picture::LETTERING } else { y - 18.0 };
                (Point::new(place, y + way * 14.0), Point::new(place, base), Anchor::Middle)
            }
            Lie::Upright(x) => {
                let way = (x - object).signum();
                let anchor = if way > 0.0 { Anchor::Start } else { Anchor::End };
                let base = place + text::half_rise(Picture::LETTERING);
                (Point::new(x + way * 14.0, place), Point::new(x + way * 18.0, base), anchor)
            }
        };
        draft.line(lie.at(*want), near, Pen::Fine);
        draft.put(Node::Text(Text { backed: true, ..Text::plain(far, anchor, stretch.words.clone()) }));
    }
}
