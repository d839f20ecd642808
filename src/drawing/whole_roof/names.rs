//! What each part of the building is called, and where its name goes.

use super::building::Building;
use super::view::{Solid, View};
use crate::drawing::kit::draft::Draft;
use crate::drawing::kit::half_rise;
use crate::drawing::kit::label::Label;
use crate::drawing::kit::picture::{Anchor, Bounds, Pen, Picture, Point, Text, Turn};
use crate::drawing::{Words, slope_word};
use crate::roofing::roof::Form;

impl Building<'_> {
    /// The slopes' names, on the slopes where they fit; the others become labels.
    pub(super) fn names(&self, draft: &mut Draft, view: &View, words: Words) -> Vec<Label> {
        let mut labels = Vec::new();
        let mut set: Vec<Bounds> = Vec::new();
        for (index, _) in self.site.slopes.iter().enumerate() {
            let name = words.say(slope_word(self.site.slopes.len(), index));
            let corners = view.all(&self.slope(i32::from(index > 0)));
            let (count, sum) =
                corners.iter().fold((0.0, Point::default()), |(n, sum), p| (n + 1.0, sum.shifted(p.x, p.y)));
            let middle = Point::new(sum.x / count, sum.y / count);
            let drop = half_rise();
            let text =
                Text { backed: true, ..Text::plain(middle.shifted(0.0, drop), Anchor::Middle, name.clone()) };
            let bounds = text.bounds();
            let high = corners.iter().map(|p| p.y).fold(f64::NEG_INFINITY, f64::max)
                - corners.iter().map(|p| p.y).fold(f64::INFINITY, f64::min);
            let seen = index == 0 || self.back_is_seen();
            let free = set.iter().all(|other| !other.overlaps(&bounds));
            if seen
                && free
                && high > 60.0
                && self.long * view.scale * view.along.0 > bounds.right - bounds.left
            {
                draft.label(middle, Turn::Level, name);
                set.push(bounds);
            } else {
                let near = if self.from_right { self.long } else { 0.0 };
                let back = (near, self.top_at.midpoint(self.deep), self.heights.1.midpoint(self.heights.2));
                let tip = if index == 0 { middle } else { view.at(back) };
                labels.push(Label { tip, words: name });
            }
        }
        labels
    }

    pub(super) fn left_labels(&self, words: Words) -> Vec<(Solid, String)> {
        let (_, top, _) = self.heights;
        let top_word = match (self.site.form, self.site.wall_top) {
            (Form::TwoSlopes, _) => "drawing-ridge",
            (Form::SingleSlope, true) => "drawing-wall",
            (Form::SingleSlope, false) => "drawing-top-edge",
        };
        let lift = if self.site.wall_top { (self.wall_high() - top) * 0.5 } else { 0.0 };
        let side = if self.has_wall(0.0) { "drawing-wall-left" } else { "drawing-verge-left" };
        vec![
            ((self.long * 0.06, self.top_at, top + lift), words.say(top_word)),
            (self.on_verge(0.0), words.say(side)),
        ]
    }

    pub(super) fn right_labels(&self, words: Words) -> Vec<(Solid, String)> {
        let side = if self.has_wall(self.long) { "drawing-wall-right" } else { "drawing-verge-right" };
        let eaves = (self.long * 0.97, 0.0, self.heights.0);
        vec![(self.on_verge(self.long), words.say(side)), (eaves, words.say("drawing-eaves"))]
    }

    /// The middle of the front slope's side edge.
    pub(super) fn on_verge(&self, x: f64) -> Solid {
        (x, self.top_at * 0.5, self.heights.0.midpoint(self.heights.1))
    }

    /// The length along the eaves, on a dimension line in front of the wall.
    pub(super) fn length_line(&self, draft: &mut Draft, view: &View, words: Words) {
        let (from, to) = (view.at((0.0, 0.0, 0.0)), view.at((self.long, 0.0, 0.0)));
        let (from, to) = (from.shifted(0.0, 14.0), to.shifted(0.0, 14.0));
        let data = vec![("mm", self.site.length.value.mm().to_string()), ("count", "1".to_owned())];
        draft.open("dimension", None, data);
        draft.line(from, to, Pen::Dimension);
        for end in [from, to] {
            draft.line(end.shifted(-6.0, 6.0), end.shifted(6.0, -6.0), Pen::Edge);
            draft.line(end.shifted(0.0, -10.0), end.shifted(0.0, 6.0), Pen::Dimension);
        }
        let middle = Point::new(from.x.midpoint(to.x), from.y.midpoint(to.y));
        let below = if self.from_right { Anchor::End } else { Anchor::Start };
        draft.words(
            middle.shifted(0.0, 24.0 + Picture::LETTERING * 0.5),
            below,
            words.length(self.site.length.value),
        );
        draft.close();
    }
}
