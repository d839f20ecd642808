//! The roof the facts describe: typed, complete, and free of contradictions or not built at all.

use super::FactKey;
use super::contradictions::Contradiction;
use super::faces::{Edge, Face};
use super::form::{Form, Hand};
use crate::roofing::catalogue::{Covering, Sheet};
use crate::units::{Angle, Length, Measured};

/// What the sheets will lie on, as found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Base {
    /// Boards, plywood or OSB of this thickness.
    Deck(Measured<Length>),
    /// Bare rafters, running up the slope.
    Rafters,
    /// Open purlins, running along the slope.
    Purlins,
}

/// One rectangular slope as it stands, before any sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SlopeSite {
    /// Steepness.
    pub pitch: Measured<Angle>,
    /// From the eaves edge to the top edge or ridge line, along the slope.
    pub rafter_length: Measured<Length>,
}

/// Everything about one roof that the plan needs.
#[derive(Clone, Debug, PartialEq)]
pub struct Site {
    /// One slope or two.
    pub form: Form,
    /// The front slope, then the back one if there is one.
    pub slopes: Vec<SlopeSite>,
    /// Along the eaves, barge board to barge board.
    pub length: Measured<Length>,
    /// How far the front slope's top edge stands to the right of its eaves; zero where it is square or not known.
    pub lean: Length,
    /// What the sheets will lie on.
    pub base: Base,
    /// Centre to centre of the timbers below (rafters, or existing purlins).
    pub timber_spacing: Measured<Length>,
    /// Whether a wall stands at the top edge of a single slope.
    pub wall_top: bool,
    /// Sides of the front slope at which a wall stands.
    pub wall_sides: Vec<Hand>,
    /// The side the wind mostly comes from, where that is a side at all.
    pub wind_from: Option<Hand>,
    /// Whether insulation goes between the purlins.
    pub insulation: bool,
    /// The sheet as bought.
    pub sheet: Sheet,
    /// What it is of.
    pub covering: Covering,
}

/// The facts that must still be asked for before a site can be built, in asking order.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Missing(pub Vec<FactKey>);

/// Why no site can be built yet.
#[derive(Clone, Debug, PartialEq)]
pub enum Unready {
    /// Facts are missing.
    Missing(Missing),
    /// Measurements contradict each other.
    Contradictions(Vec<Contradiction>),
}

impl Site {
    /// The sides of a slope at which a wall stands, each as seen facing that slope's own eaves.
    pub fn walls_of(&self, slope: usize) -> Vec<Hand> {
        let face = Face::at(slope);
        let turned = self.wall_sides.iter().map(|hand| face.seen(*hand));
        let mut hands: Vec<Hand> = turned.collect();
        hands.sort_unstable();
        hands
    }

    /// The side of a slope the wind mostly comes from, seen facing that slope's own eaves.
    pub fn wind_on(&self, slope: usize) -> Option<Hand> {
        self.wind_from.map(|hand| Face::at(slope).seen(hand))
    }

    /// The edges of a face: eaves, both ends from the left, top.
    pub fn edges(&self, face: Face) -> Vec<Edge> {
        let end = |hand| {
            if self.walls_of(face.index()).contains(&hand) {
                Edge::SideAbutment(hand)
            } else {
                Edge::Verge(hand)
            }
        };
        vec![Edge::Eaves, end(Hand::Left), end(Hand::Right), self.top()]
    }

    /// What the top of each face is.
    pub const fn top(&self) -> Edge {
        match (self.form, self.wall_top) {
            (Form::TwoSlopes, _) => Edge::Ridge,
            (Form::SingleSlope, true) => Edge::TopAbutment,
            (Form::SingleSlope, false) => Edge::Top,
        }
    }
}
