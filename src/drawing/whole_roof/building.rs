//! The building itself: walls, gable, slopes, the farthest drawn first.

use super::view::{Solid, View};
use crate::drawing::kit::draft::Draft;
use crate::drawing::kit::picture::{Fill, Hatch, Pen};
use crate::roofing::roof::{Form, Hand, Site, SlopeSite};

/// The building's measures and the side it is looked at from.
pub(super) struct Building<'a> {
    pub(super) site: &'a Site,
    /// Along the eaves.
    pub(super) long: f64,
    /// From the front eaves back to the ridge or top edge.
    pub(super) top_at: f64,
    /// From the front eaves back to the back eaves or wall.
    pub(super) deep: f64,
    /// Height of the front eaves, of the ridge or top edge, of the back eaves.
    pub(super) heights: (f64, f64, f64),
    /// Whether the right-hand side faces the viewer.
    pub(super) from_right: bool,
}

impl<'a> Building<'a> {
    pub(super) fn new(site: &'a Site) -> Self {
        let measure = |slope: Option<&SlopeSite>| {
            slope.map_or((0.0, 0.0), |slope| {
                let (length, pitch) = (slope.rafter_length.value.mm(), slope.pitch.value);
                (length * pitch.cos(), length * pitch.sin())
            })
        };
        let (top_at, rise) = measure(site.slopes.first());
        let (run_back, rise_back) = measure(site.slopes.get(1));
        let deep = top_at + run_back;
        let long = site.length.value.mm();
        let wall = (deep.min(long) * 0.5).clamp(400.0, 2_000.0);
        // The lower of the two eaves stands `wall` high.
        let eaves = if run_back > 0.0 { wall + (rise_back - rise).max(0.0) } else { wall };
        let heights = (eaves, eaves + rise, eaves + rise - rise_back);
        let from_right = !site.wall_sides.contains(&Hand::Right) || site.wall_sides.contains(&Hand::Left);
        Self { site, long, top_at, deep, heights, from_right }
    }

    pub(super) fn corners(&self) -> Vec<Solid> {
        let top = if self.site.wall_top || !self.site.wall_sides.is_empty() {
            self.wall_high()
        } else {
            self.heights.1
        };
        let mut corners = Vec::new();
        for x in [0.0, self.long] {
            corners.extend([
                (x, 0.0, 0.0),
                (x, self.deep, 0.0),
                (x, self.top_at, self.heights.1),
                (x, 0.0, self.heights.0),
            ]);
            if self.site.wall_top || self.has_wall(x) {
                corners.push((x, self.top_at, top));
                corners.push((x, self.deep, top));
            }
        }
        corners
    }

    pub(super) fn wall_high(&self) -> f64 {
        self.heights.1 + self.deep.min(self.long) * 0.22
    }

    pub(super) fn has_wall(&self, x: f64) -> bool {
        let hand = if x > 0.0 { Hand::Right } else { Hand::Left };
        self.site.wall_sides.contains(&hand)
    }

    pub(super) fn figures(&self) -> Vec<(&'static str, String)> {
        let mut figures = vec![("length-mm", self.site.length.value.mm().to_string())];
        let names = [("front-pitch-deg", "front-length-mm"), ("back-pitch-deg", "back-length-mm")];
        for (slope, (pitch, length)) in self.site.slopes.iter().zip(names) {
            figures.push((pitch, slope.pitch.value.deg().to_string()));
            figures.push((length, slope.rafter_length.value.mm().to_string()));
        }
        figures
    }

    /// Walls behind the roof.
    pub(super) fn far_walls(&self, draft: &mut Draft, view: &View) {
        let high = self.wall_high();
        let far = if self.from_right { 0.0 } else { self.long };
        if self.has_wall(far) {
            let wall = [(far, 0.0, 0.0), (far, self.deep, 0.0), (far, self.deep, high), (far, 0.0, high)];
            draft.path(view.all(&wall), true, Some(Pen::Edge), Fill::Hatch(Hatch::Wall));
        }
        if self.site.wall_top {
            let (back, top) = (self.top_at, self.heights.1);
            let wall = [(0.0, back, top), (self.long, back, top), (self.long, back, high), (0.0, back, high)];
            draft.path(view.all(&wall), true, Some(Pen::Edge), Fill::Hatch(Hatch::Wall));
        }
    }

    /// Gable, front wall and slopes, the farthest first.
    pub(super) fn body(&self, draft: &mut Draft, view: &View) {
        let (eaves, top, back) = self.heights;
        let near = if self.from_right { self.long } else { 0.0 };
        let gable = [
            (near, 0.0, 0.0),
            (near, 0.0, eaves),
            (near, self.top_at, top),
            (near, self.deep, back),
            (near, self.deep, 0.0),
        ];
        if self.site.form == Form::TwoSlopes {
            let far_slope = self.slope(1);
            let fill = if self.back_is_seen() { Fill::Sheet } else { Fill::None };
            let pen = if self.back_is_seen() { Pen::Edge } else { Pen::Hidden };
            draft.path(view.all(&far_slope), true, Some(pen), fill);
        }
        draft.path(view.all(&gable), true, Some(Pen::Edge), Fill::Paper);
        let front = [(0.0, 0.0, 0.0), (0.0, 0.0, eaves), (self.long, 0.0, eaves), (self.long, 0.0, 0.0)];
        draft.path(view.all(&front), true, Some(Pen::Edge), Fill::Paper);
        draft.path(view.all(&self.slope(0)), true, Some(Pen::Edge), Fill::Sheet);
        self.corrugations(draft, view);
        self.break_line(draft, view, (0.0, 0.0), (self.long, 0.0));
        self.break_line(draft, view, (near, 0.0), (near, self.deep));
    }

    /// A hint of corrugations, so that it is plain which faces are roof.
    pub(super) fn corrugations(&self, draft: &mut Draft, view: &View) {
        let seen = if self.site.form == Form::TwoSlopes && self.back_is_seen() { 2 } else { 1 };
        for slope in 0..seen {
            let [low_left, low_right, high_right, high_left] = self.slope(slope);
            for step in 1..12 {
                let part = f64::from(step) / 12.0;
                let between = |a: Solid, b: Solid| {
                    (a.0 + (b.0 - a.0) * part, a.1 + (b.1 - a.1) * part, a.2 + (b.2 - a.2) * part)
                };
                let (low, high) = (between(low_left, low_right), between(high_left, high_right));
                draft.line(view.at(low), view.at(high), Pen::Fine);
            }
        }
    }

    /// The four corners of a slope: its eaves from left to right on the paper, then its top back again.
    pub(super) fn slope(&self, index: i32) -> [Solid; 4] {
        let (eaves, top, back) = self.heights;
        let (depth, low) = if index == 0 { (0.0, eaves) } else { (self.deep, back) };
        [(0.0, depth, low), (self.long, depth, low), (self.long, self.top_at, top), (0.0, self.top_at, top)]
    }

    /// Whether a back slope is turned to the viewer or away.
    pub(super) fn back_is_seen(&self) -> bool {
        // The line of sight climbs 0.67 over one back (what the two axes of the view leave unseen).
        self.site.slopes.get(1).is_some_and(|slope| slope.pitch.value.tan() < 0.6)
    }

    /// Paper over the foot of a wall, ending in a zigzag: the wall goes on, how far is not said.
    pub(super) fn break_line(&self, draft: &mut Draft, view: &View, from: (f64, f64), to: (f64, f64)) {
        let steps = 16;
        let high = self.heights.0.min(self.heights.2.max(self.heights.0 * 0.5)) * 0.12;
        let mut zigzag = Vec::new();
        for step in 0..=steps {
            let part = f64::from(step) / f64::from(steps);
            let up = if step % 2 == 0 { high } else { high * 0.3 };
            zigzag.push(view.at((from.0 + (to.0 - from.0) * part, from.1 + (to.1 - from.1) * part, up)));
        }
        let mut mask = zigzag.clone();
        mask.extend(
            [view.at((to.0, to.1, -high)), view.at((from.0, from.1, -high))].map(|p| p.shifted(0.0, 2.0)),
        );
        // Wide enough to take the corner's own line away.
        if let [first, .., last] = mask.as_mut_slice() {
            first.x -= 2.0;
            last.x -= 2.0;
        }
        draft.path(mask, true, None, Fill::Paper);
        draft.path(zigzag, false, Some(Pen::Fine), Fill::None);
    }

    /// A wall between the viewer and the roof: its outline alone.
    pub(super) fn near_walls(&self, draft: &mut Draft, view: &View) {
        let near = if self.from_right { self.long } else { 0.0 };
        if self.has_wall(near) {
            let (high, low) = (self.wall_high(), self.heights.0 * 0.12);
            let wall = [(near, 0.0, low), (near, self.deep, low), (near, self.deep, high), (near, 0.0, high)];
            draft.path(view.all(&wall), true, Some(Pen::Hidden), Fill::None);
        }
    }
}
