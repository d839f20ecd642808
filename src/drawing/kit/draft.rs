//! Drawing: lines, shapes and words put on a picture one after the other.

use super::picture::{Anchor, Fill, Group, Look, Node, Outline, Pen, Picture, Point, Shape, Text, Turn};
use super::text;
use crate::drawing::Kind;

/// A picture being drawn.
#[derive(Debug, Default)]
pub(crate) struct Draft {
    nodes: Vec<Node>,
    open: Vec<Group>,
}

impl Draft {
    /// Opens a group: what is drawn until [`Draft::close`] is in it.
    pub(crate) fn open(
        &mut self,
        class: &'static str,
        id: Option<String>,
        data: Vec<(&'static str, String)>,
    ) {
        self.open.push(Group { class, id, data, look: None, nodes: Vec::new() });
    }

    /// Opens a group whose shapes look alike.
    pub(crate) fn open_alike(&mut self, class: &'static str, data: Vec<(&'static str, String)>, look: Look) {
        self.open.push(Group { class, id: None, data, look: Some(look), nodes: Vec::new() });
    }

    /// Closes the group opened last.
    pub(crate) fn close(&mut self) {
        if let Some(group) = self.open.pop() {
            self.put(Node::Group(group));
        }
    }

    /// Puts anything on the picture.
    pub(crate) fn put(&mut self, node: Node) {
        match self.open.last_mut() {
            Some(group) => group.nodes.push(node),
            None => self.nodes.push(node),
        }
    }

    /// A shape of straight lines.
    pub(crate) fn path(&mut self, points: Vec<Point>, closed: bool, pen: Option<Pen>, fill: Fill) {
        let outline = Outline::Path { points, closed };
        self.put(Node::Shape(Shape {
            class: None,
            data: Vec::new(),
            outline,
            look: Some(Look { pen, fill }),
        }));
    }

    /// A straight line.
    pub(crate) fn line(&mut self, from: Point, to: Point, pen: Pen) {
        self.path(vec![from, to], false, Some(pen), Fill::None);
    }

    /// An upright rectangle between two opposite corners.
    pub(crate) fn rect(&mut self, a: Point, b: Point, pen: Option<Pen>, fill: Fill) {
        self.path(vec![a, Point::new(b.x, a.y), b, Point::new(a.x, b.y)], true, pen, fill);
    }

    /// A circle.
    pub(crate) fn circle(&mut self, centre: Point, radius: f64, pen: Option<Pen>, fill: Fill) {
        let outline = Outline::Circle { centre, radius };
        self.put(Node::Shape(Shape {
            class: None,
            data: Vec::new(),
            outline,
            look: Some(Look { pen, fill }),
        }));
    }

    /// Words whose baseline starts, is centred or ends at a point.
    pub(crate) fn words(&mut self, at: Point, anchor: Anchor, words: impl Into<String>) {
        self.put(Node::Text(Text::plain(at, anchor, words)));
    }

    /// Words centred on a point in both ways, with paper laid under them.
    pub(crate) fn label(&mut self, middle: Point, turn: Turn, words: impl Into<String>) {
        let drop = text::half_rise(Picture::LETTERING);
        let at = match turn {
            Turn::Level => middle.shifted(0.0, drop),
            Turn::Upwards => middle.shifted(drop, 0.0),
        };
        let text = Text { turn, backed: true, ..Text::plain(at, Anchor::Middle, words) };
        self.put(Node::Text(text));
    }

    /// The title, at the top left.
    pub(crate) fn title(&mut self, words: &str) {
        let at = Point::new(MARGIN, MARGIN + Picture::LETTERING);
        self.put(Node::Text(Text { bold: true, ..Text::plain(at, Anchor::Start, words) }));
    }

    /// A filled arrow head with its tip at `tip`, pointing along (`x`, `y`), a direction of length one.
    pub(crate) fn arrow_head(&mut self, tip: Point, (x, y): (f64, f64), size: f64) {
        let back = tip.shifted(-x * size, -y * size);
        let half = size * 0.35;
        let wings = [back.shifted(-y * half, x * half), back.shifted(y * half, -x * half)];
        self.path([vec![tip], wings.to_vec()].concat(), true, None, Fill::Ink);
    }

    /// The finished picture.
    pub(crate) fn finish(mut self, head: Head, width: f64, height: f64) -> Picture {
        while !self.open.is_empty() {
            self.close();
        }
        let Head { kind, name, title, description } = head;
        Picture { kind, name, title, made: None, description, width, height, nodes: self.nodes }
    }
}

/// Space kept along the rim of every picture.
pub(crate) const MARGIN: f64 = 14.0;

/// What a picture is called and what it says.
#[derive(Debug)]
pub(crate) struct Head {
    /// Which drawing.
    pub(crate) kind: Kind,
    /// Its name among the drawings of a plan.
    pub(crate) name: String,
    /// Its title.
    pub(crate) title: String,
    /// Its text version.
    pub(crate) description: String,
}

impl Text {
    /// Words in the usual lettering.
    pub(crate) fn plain(at: Point, anchor: Anchor, words: impl Into<String>) -> Self {
        let words = words.into();
        Self { at, size: Picture::LETTERING, anchor, turn: Turn::Level, bold: false, backed: false, words }
    }
}
