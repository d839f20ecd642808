//! How the building comes to the paper.

use crate::drawing::kit::draft::MARGIN;
use crate::drawing::kit::picture::{Picture, Point};

/// A point of the building in millimetres: along the eaves, back from the front eaves, up.
pub(super) type Solid = (f64, f64, f64);

/// How the building's millimetres come to the paper.
pub(super) struct View {
    pub(super) along: (f64, f64),
    back: (f64, f64),
    pub(super) scale: f64,
    origin: Point,
    pub(super) bottom: f64,
}

/// How much of a height is seen.
const UP: f64 = 0.9;

impl View {
    /// A view of these corners, from the right-hand side or the left.
    pub(super) fn new(corners: &[Solid], from_right: bool, left: f64, room: f64) -> Self {
        let way = if from_right { 1.0 } else { -1.0 };
        let mut view = Self {
            along: (0.92, 0.22 * way),
            back: (0.60 * way, -0.46),
            scale: 1.0,
            origin: Point::default(),
            bottom: 0.0,
        };
        let corners: Vec<Point> = corners.iter().map(|corner| view.at(*corner)).collect();
        let low = |pick: fn(&Point) -> f64| corners.iter().map(pick).fold(f64::INFINITY, f64::min);
        let high = |pick: fn(&Point) -> f64| corners.iter().map(pick).fold(f64::NEG_INFINITY, f64::max);
        let (across, down) = (high(|p| p.x) - low(|p| p.x), high(|p| p.y) - low(|p| p.y));
        view.scale = (room / across).min(430.0 / down);
        let top = MARGIN + Picture::LETTERING * 2.0 + 12.0;
        let spare = (room - across * view.scale) / 2.0;
        view.origin = Point::new(left + spare - low(|p| p.x) * view.scale, top - low(|p| p.y) * view.scale);
        view.bottom = top + down * view.scale;
        view
    }

    pub(super) fn at(&self, (x, back, up): Solid) -> Point {
        let right = x * self.along.0 + back * self.back.0;
        let down = x * self.along.1 + back * self.back.1 - up * UP;
        self.origin.shifted(right * self.scale, down * self.scale)
    }

    pub(super) fn all(&self, corners: &[Solid]) -> Vec<Point> {
        corners.iter().map(|corner| self.at(*corner)).collect()
    }
}
