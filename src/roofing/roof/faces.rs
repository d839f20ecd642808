//! Faces and their edges: what a roof is made of, whatever its form.
//!
//! A form is a list of faces, and each face a list of edges; whoever closes, drains or draws a roof goes by these.

use super::form::{Form, Hand};

/// One face of a roof, by its name.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Face {
    /// The only one, or the one that faces somebody who stands before the building.
    Front,
    /// The one behind the ridge.
    Back,
}

/// One edge of a face. Hands are those of somebody who faces its eaves from outside.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Edge {
    /// The lowest.
    Eaves,
    /// The top, where another face climbs to it from behind.
    Ridge,
    /// The top, where there is nothing behind it.
    Top,
    /// The top, against a wall.
    TopAbutment,
    /// A free end.
    Verge(Hand),
    /// An end against a wall.
    SideAbutment(Hand),
    /// An end where another face falls away: no form has one yet.
    Hip(Hand),
    /// An end where another face falls towards it: no form has one yet.
    Valley(Hand),
}

impl Face {
    /// Every face, in the order they are planned.
    pub const ALL: [Self; 2] = [Self::Front, Self::Back];

    /// The face at a place of [`Site::slopes`](super::Site::slopes).
    pub const fn at(index: usize) -> Self {
        if index == 0 { Self::Front } else { Self::Back }
    }

    /// Where it stands in [`Site::slopes`](super::Site::slopes).
    pub const fn index(self) -> usize {
        match self {
            Self::Front => 0,
            Self::Back => 1,
        }
    }

    /// A side of the building, told by somebody before its front, as seen by somebody who faces this face.
    pub const fn seen(self, hand: Hand) -> Hand {
        match self {
            Self::Front => hand,
            Self::Back => hand.other(),
        }
    }
}

impl Form {
    /// The faces it is made of.
    pub const fn faces(self) -> &'static [Face] {
        match self {
            Self::SingleSlope => &[Face::Front],
            Self::TwoSlopes => &[Face::Front, Face::Back],
        }
    }
}
