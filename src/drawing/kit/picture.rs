//! A neutral picture: shapes, lines, hatches and words on a sheet of given size.
//!
//! # Units
//! Paper units, `x` to the right and `y` down from the top left. Lettering is [`Picture::LETTERING`] high
//! and the short side of a picture is at most [`Picture::SHORT_SIDE`], so that the smallest text is never
//! under 3 % of the short side: readable on a phone at arm's length.

use crate::drawing::Kind;

/// A place on the paper.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Point {
    /// To the right.
    pub x: f64,
    /// Down.
    pub y: f64,
}

impl Point {
    /// The place `x` to the right and `y` down.
    pub const fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }

    /// The place this far to the right and down from here.
    pub fn shifted(self, x: f64, y: f64) -> Self {
        Self::new(self.x + x, self.y + y)
    }
}

/// What a line means. Each kind differs by width or dashes, never by colour alone (after ISO 128-2).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pen {
    /// An edge that is seen.
    Edge,
    /// Something thin: hatching, a corrugation, a leader.
    Fine,
    /// An edge under something else: dashed.
    Hidden,
    /// The centre line of a timber: long and short dashes.
    Centre,
    /// An edge that was cut: thick, long dashes.
    Cut,
    /// A formed piece seen edge on: thick.
    Bold,
    /// A dimension line and its extension lines.
    Dimension,
}

impl Pen {
    /// Every kind of line.
    pub const ALL: [Self; 7] =
        [Self::Edge, Self::Fine, Self::Hidden, Self::Centre, Self::Cut, Self::Bold, Self::Dimension];

    /// How wide it is drawn.
    pub const fn width(self) -> f64 {
        match self {
            Self::Edge => 2.0,
            Self::Fine | Self::Dimension => 1.0,
            Self::Hidden | Self::Centre => 1.4,
            Self::Cut | Self::Bold => 4.0,
        }
    }

    /// Dash and gap lengths; empty where the line is unbroken.
    pub const fn dashes(self) -> &'static [f64] {
        match self {
            Self::Edge | Self::Fine | Self::Bold | Self::Dimension => &[],
            Self::Hidden => &[7.0, 5.0],
            Self::Centre => &[18.0, 4.0, 3.0, 4.0],
            Self::Cut => &[14.0, 6.0],
        }
    }
}

/// How an area is hatched.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Hatch {
    /// Lines rising to the right: one sheet over another.
    Lap,
    /// Crossed lines: what is left over or cut away.
    Waste,
    /// Wide lines falling to the right: a wall.
    Wall,
    /// Dots of insulation.
    Insulation,
}

impl Hatch {
    /// Every hatch.
    pub const ALL: [Self; 4] = [Self::Lap, Self::Waste, Self::Wall, Self::Insulation];
}

/// What fills an area.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fill {
    /// Nothing: what lies below is seen.
    None,
    /// The colour of the paper.
    Paper,
    /// The colour of the lines.
    Ink,
    /// Sheet.
    Sheet,
    /// Timber cut across or seen along.
    Timber,
    /// Boards.
    Deck,
    /// A hatch, with what lies below seen between its lines.
    Hatch(Hatch),
}

/// The line and the filling of a shape.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Look {
    /// The outline, where it has one.
    pub pen: Option<Pen>,
    /// The filling.
    pub fill: Fill,
}

/// The form of a shape.
#[derive(Clone, Debug, PartialEq)]
pub enum Outline {
    /// Straight lines from point to point.
    Path {
        /// The points.
        points: Vec<Point>,
        /// Whether the last is joined to the first.
        closed: bool,
    },
    /// A circle.
    Circle {
        /// Its middle.
        centre: Point,
        /// From the middle to the rim.
        radius: f64,
    },
}

/// A form with its look.
#[derive(Clone, Debug, PartialEq)]
pub struct Shape {
    /// What it stands for (`fixing`), where programs need to know.
    pub class: Option<&'static str>,
    /// Figures for programs to read back, exact, by name (`x-mm`).
    pub data: Vec<(&'static str, String)>,
    /// The form.
    pub outline: Outline,
    /// The look; `None` takes the group's.
    pub look: Option<Look>,
}

/// Where a text's own point lies along it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// At its beginning.
    Start,
    /// In its middle.
    Middle,
    /// At its end.
    End,
}

/// Which way a text runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Turn {
    /// From left to right.
    Level,
    /// From the bottom upwards, read from the right-hand side (ISO 129-1).
    Upwards,
}

/// A line of words, in the one shipped typeface (fixed width, so that it measures the same anywhere).
#[derive(Clone, Debug, PartialEq)]
pub struct Text {
    /// The point on the baseline that [`Text::anchor`] speaks of.
    pub at: Point,
    /// Height of the lettering, from line to line.
    pub size: f64,
    /// Where `at` lies along the text.
    pub anchor: Anchor,
    /// Which way it runs.
    pub turn: Turn,
    /// Whether it is set bold.
    pub bold: bool,
    /// Whether paper is laid under it, so that it can be read over lines and hatches.
    pub backed: bool,
    /// The words.
    pub words: String,
}

/// Things that belong together and can be found again.
#[derive(Clone, Debug, PartialEq)]
pub struct Group {
    /// What it stands for (`purlin`, `course`).
    pub class: &'static str,
    /// Its own name within the picture, where it has one (`line-3`).
    pub id: Option<String>,
    /// Figures for programs to read back, exact, by name (`y-mm`).
    pub data: Vec<(&'static str, String)>,
    /// The look of shapes that have none of their own.
    pub look: Option<Look>,
    /// What is in it, the lowest first.
    pub nodes: Vec<Node>,
}

/// One thing in a picture.
#[derive(Clone, Debug, PartialEq)]
pub enum Node {
    /// Several things.
    Group(Group),
    /// A form.
    Shape(Shape),
    /// Words.
    Text(Text),
}

/// A finished picture.
#[derive(Clone, Debug, PartialEq)]
pub struct Picture {
    /// Which drawing it is.
    pub kind: Kind,
    /// Its name, unique among the drawings of a plan: `sheets-front`. Fit for a file name.
    pub name: String,
    /// Its title, for people.
    pub title: String,
    /// The book and the planner that its plan was made by; `None` before there is a plan.
    pub made: Option<String>,
    /// All it shows, in words, for those who cannot see it: lines parted by line ends.
    pub description: String,
    /// To the right.
    pub width: f64,
    /// Down.
    pub height: f64,
    /// What is on it, the lowest first.
    pub nodes: Vec<Node>,
}

impl Picture {
    /// Height of the lettering.
    pub const LETTERING: f64 = 20.0;

    /// The most the short side of a picture measures.
    pub const SHORT_SIDE: f64 = Self::LETTERING / 0.03;

    /// Every line of words on it.
    pub fn texts(&self) -> Vec<&Text> {
        let mut texts = Vec::new();
        gather(&self.nodes, &mut texts);
        texts
    }
}

fn gather<'a>(nodes: &'a [Node], texts: &mut Vec<&'a Text>) {
    for node in nodes {
        match node {
            Node::Group(group) => gather(&group.nodes, texts),
            Node::Shape(_) => {}
            Node::Text(text) => texts.push(text),
        }
    }
}

/// An upright rectangle on the paper.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bounds {
    /// Its left edge.
    pub left: f64,
    /// Its top edge.
    pub top: f64,
    /// Its right edge.
    pub right: f64,
    /// Its bottom edge.
    pub bottom: f64,
}

impl Bounds {
    /// Whether the two share any area.
    pub fn overlaps(&self, other: &Self) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }
}
