//! One section: shapes in millimetres on an upright plane, with labels to its right.

use crate::drawing::Words;
use crate::drawing::kit::draft::{Draft, MARGIN};
use crate::drawing::kit::label::{self, LINE, Label};
use crate::drawing::kit::picture::{self, Anchor, Fill, Look, Node, Outline, Pen, Picture, Point, Text};
use crate::roofing::note::Note;

/// A place in millimetres: to the right, up.
pub(super) type Spot = (f64, f64);

/// A shape in millimetres.
struct Shape {
    spots: Vec<Spot>,
    closed: bool,
    pen: Option<Pen>,
    fill: Fill,
    /// What it shows, for whoever reads the drawing as data.
    class: Option<&'static str>,
}

/// A label, as a note so that the text version says the same.
pub(super) struct Tag {
    tip: Spot,
    pub(super) note: Note,
}

/// One section.
pub(super) struct Panel {
    /// Message id of its heading.
    pub(super) title: &'static str,
    shapes: Vec<Shape>,
    pub(super) labels: Vec<Tag>,
}

/// The most width of the drawn part; labels stand to its right.
const DRAWN: f64 = 330.0;
/// From the drawn part to its labels.
const GAP: f64 = 34.0;
const TALLEST: f64 = 330.0;

impl Panel {
    pub(super) const fn new(title: &'static str) -> Self {
        Self { title, shapes: Vec::new(), labels: Vec::new() }
    }

    /// An area.
    pub(super) fn area(&mut self, spots: Vec<Spot>, fill: Fill) {
        self.shapes.push(Shape { spots, closed: true, pen: Some(Pen::Fine), fill, class: None });
    }

    /// A line through several places.
    pub(super) fn line(&mut self, spots: Vec<Spot>, pen: Pen) {
        self.shapes.push(Shape { spots, closed: false, pen: Some(pen), fill: Fill::None, class: None });
    }

    /// An area without an outline.
    pub(super) fn tint(&mut self, spots: Vec<Spot>, fill: Fill) {
        self.shapes.push(Shape { spots, closed: true, pen: None, fill, class: None });
    }

    /// Says what the shape drawn last shows.
    pub(super) fn shows(&mut self, class: &'static str) {
        if let Some(shape) = self.shapes.last_mut() {
            shape.class = Some(class);
        }
    }

    /// A dimension line between two places, with a stroke at each end.
    pub(super) fn measure(&mut self, from: Spot, to: Spot, note: Note) {
        self.line(vec![from, to], Pen::Dimension);
        let length = libm::hypot(to.0 - from.0, to.1 - from.1).max(0.001);
        let along = ((to.0 - from.0) / length * 6.0, (to.1 - from.1) / length * 6.0);
        for end in [from, to] {
            // Oblique to the line: along it and across it in equal parts.
            let stroke = (along.0 - along.1, along.1 + along.0);
            let (a, b) = ((end.0 - stroke.0, end.1 - stroke.1), (end.0 + stroke.0, end.1 + stroke.1));
            self.line(vec![a, b], Pen::Edge);
        }
        self.label((from.0.midpoint(to.0), from.1.midpoint(to.1)), note);
    }

    /// A label on a place.
    pub(super) fn label(&mut self, tip: Spot, note: Note) {
        self.labels.push(Tag { tip, note });
    }

    /// The width its labels leave to be drawn on, on paper of a width.
    pub(super) fn drawn_width(&self, words: Words, paper: f64) -> f64 {
        let labels = self.labels.iter().map(|tag| crate::drawing::kit::text_width(&words.note(&tag.note)));
        (paper - 2.0 * MARGIN - GAP - labels.fold(0.0, f64::max)).clamp(DRAWN / 2.0, DRAWN)
    }

    /// Puts the panel on the paper from `top` down; gives where the next one starts.
    pub(super) fn put(&self, draft: &mut Draft, words: Words, top: f64, drawn_width: f64) -> f64 {
        let spots = || self.shapes.iter().flat_map(|shape| &shape.spots);
        let low = |pick: fn(&Spot) -> f64| spots().map(pick).fold(f64::INFINITY, f64::min);
        let high = |pick: fn(&Spot) -> f64| spots().map(pick).fold(f64::NEG_INFINITY, f64::max);
        let (left, right, foot, head) = (low(|s| s.0), high(|s| s.0), low(|s| s.1), high(|s| s.1));
        let scale = (drawn_width / (right - left).max(1.0)).min(TALLEST / (head - foot).max(1.0));
        let first = top + LINE + 8.0;
        let spare = (drawn_width - (right - left) * scale) / 2.0;
        let place =
            |(x, y): &Spot| Point::new(MARGIN + spare + (x - left) * scale, first + (head - y) * scale);
        let title =
            Text::plain(Point::new(MARGIN, top + Picture::LETTERING), Anchor::Start, words.say(self.title));
        draft.open("section", None, vec![("mm-per-unit", (1.0 / scale).to_string())]);
        draft.put(Node::Text(Text { bold: true, ..title }));
        for shape in &self.shapes {
            draft.put(Node::Shape(picture::Shape {
                class: shape.class,
                data: Vec::new(),
                outline: Outline::Path {
                    points: shape.spots.iter().map(place).collect(),
                    closed: shape.closed,
                },
                look: Some(Look { pen: shape.pen, fill: shape.fill }),
            }));
        }
        let labels: Vec<Label> = self
            .labels
            .iter()
            .map(|tag| Label { tip: place(&tag.tip), words: words.note(&tag.note) })
            .collect();
        label::dots(draft, &labels);
        let drawn = (head - foot) * scale;
        let said = LINE * crate::drawing::kit::amount(labels.len());
        let tall = drawn.max(said);
        label::fan(draft, labels, MARGIN + drawn_width + GAP, (first, first + tall));
        draft.close();
        first + tall + 18.0
    }
}
