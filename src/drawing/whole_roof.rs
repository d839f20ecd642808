//! The whole building in one view, so that a person sees what was understood. Made from the site alone: it is
//! sent before there is a plan.
//!
//! A parallel view (axonometric): the eaves run to the right, the depth of the building goes back. Roof
//! planes are true to each other; the walls are cut off by a break line, for nobody asked how high they are.

use super::kit::draft::{Draft, Head, MARGIN};
use super::kit::label::{self, Label};
use super::kit::legend::{self, Entry, Sample};
use super::kit::picture::{Anchor, Bounds, Fill, Hatch, Pen, Picture, Point, Text, Turn};
use super::{Captions, Kind, Words, wind};
use crate::roofing::note::{Arg, Note};
use crate::roofing::roof::{Base, Form, Hand, Site, SlopeSite};

/// A point of the building in millimetres: along the eaves, back from the front eaves, up.
type Solid = (f64, f64, f64);

/// The building's measures and the side it is looked at from.
struct Building<'a> {
    site: &'a Site,
    /// Along the eaves.
    long: f64,
    /// From the front eaves back to the ridge or top edge.
    top_at: f64,
    /// From the front eaves back to the back eaves or wall.
    deep: f64,
    /// Height of the front eaves, of the ridge or top edge, of the back eaves.
    heights: (f64, f64, f64),
    /// Whether the right-hand side faces the viewer.
    from_right: bool,
}

pub(super) fn draw(site: &Site, captions: &dyn Captions) -> Picture {
    let words = Words(captions);
    let building = Building::new(site);
    let key = key(site, words);
    let title = words.say("drawing-title-whole-roof");
    let mut draft = Draft::default();
    draft.title(&title);
    let side_words = [building.left_labels(words), building.right_labels(words)];
    let [left, right] = side_words.map(|labels| {
        labels.iter().map(|(_, words)| super::kit::text_width(words)).fold(40.0, f64::max)
            + 2.0 * MARGIN
            + 24.0
    });
    // Long names widen the paper rather than squeeze the building out.
    let width = (Picture::SHORT_SIDE - 8.0).max(left + right + 240.0);
    let view = View::new(&building, left, width - left - right);
    let floor = view.bottom + 46.0;
    draft.open("building", None, building.figures());
    building.far_walls(&mut draft, &view);
    building.body(&mut draft, &view);
    building.near_walls(&mut draft, &view);
    draft.close();
    let reach = (MARGIN + Picture::LETTERING + 20.0, floor);
    let inside = building.names(&mut draft, &view, words);
    let tips = |labels: Vec<(Solid, String)>, more: Vec<Label>| {
        let plain = labels.into_iter().map(|(tip, words)| Label { tip: view.at(tip), words });
        plain.chain(more).collect::<Vec<_>>()
    };
    for (labels, x, anchor) in [
        (tips(building.left_labels(words), Vec::new()), left - 24.0, Anchor::End),
        (tips(building.right_labels(words), inside), width - right + 24.0, Anchor::Start),
    ] {
        label::dots(&mut draft, &labels);
        label::column(&mut draft, labels, x, anchor, reach);
    }
    building.length_line(&mut draft, &view, words);
    let foot = wind_row(&mut draft, site, words, width, floor);
    legend::draw(&mut draft, &key, width, foot);
    let height = foot + legend::height(&key, width) + MARGIN;
    let description = describe(site, words);
    let head = Head { kind: Kind::WholeRoof, name: Kind::WholeRoof.key().to_owned(), title, description };
    draft.finish(head, width, height)
}

/// How the building's millimetres come to the paper.
struct View {
    along: (f64, f64),
    back: (f64, f64),
    scale: f64,
    origin: Point,
    bottom: f64,
}

/// How much of a height is seen.
const UP: f64 = 0.9;

impl View {
    fn new(building: &Building, left: f64, room: f64) -> Self {
        let way = if building.from_right { 1.0 } else { -1.0 };
        let mut view = Self {
            along: (0.92, 0.22 * way),
            back: (0.60 * way, -0.46),
            scale: 1.0,
            origin: Point::default(),
            bottom: 0.0,
        };
        let corners: Vec<Point> = building.corners().into_iter().map(|corner| view.at(corner)).collect();
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

    fn at(&self, (x, back, up): Solid) -> Point {
        let right = x * self.along.0 + back * self.back.0;
        let down = x * self.along.1 + back * self.back.1 - up * UP;
        self.origin.shifted(right * self.scale, down * self.scale)
    }

    fn all(&self, corners: &[Solid]) -> Vec<Point> {
        corners.iter().map(|corner| self.at(*corner)).collect()
    }
}

impl<'a> Building<'a> {
    fn new(site: &'a Site) -> Self {
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

    fn corners(&self) -> Vec<Solid> {
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

    fn wall_high(&self) -> f64 {
        self.heights.1 + self.deep.min(self.long) * 0.22
    }

    fn has_wall(&self, x: f64) -> bool {
        let hand = if x > 0.0 { Hand::Right } else { Hand::Left };
        self.site.wall_sides.contains(&hand)
    }

    fn figures(&self) -> Vec<(&'static str, String)> {
        let mut figures = vec![("length-mm", self.site.length.value.mm().to_string())];
        let names = [("front-pitch-deg", "front-length-mm"), ("back-pitch-deg", "back-length-mm")];
        for (slope, (pitch, length)) in self.site.slopes.iter().zip(names) {
            figures.push((pitch, slope.pitch.value.deg().to_string()));
            figures.push((length, slope.rafter_length.value.mm().to_string()));
        }
        figures
    }

    /// Walls behind the roof.
    fn far_walls(&self, draft: &mut Draft, view: &View) {
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
    fn body(&self, draft: &mut Draft, view: &View) {
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
    fn corrugations(&self, draft: &mut Draft, view: &View) {
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
    fn slope(&self, index: i32) -> [Solid; 4] {
        let (eaves, top, back) = self.heights;
        let (depth, low) = if index == 0 { (0.0, eaves) } else { (self.deep, back) };
        [(0.0, depth, low), (self.long, depth, low), (self.long, self.top_at, top), (0.0, self.top_at, top)]
    }

    /// Whether a back slope is turned to the viewer or away.
    fn back_is_seen(&self) -> bool {
        // The line of sight climbs 0.67 over one back (what the two axes of the view leave unseen).
        self.site.slopes.get(1).is_some_and(|slope| slope.pitch.value.tan() < 0.6)
    }

    /// Paper over the foot of a wall, ending in a zigzag: the wall goes on, how far is not said.
    fn break_line(&self, draft: &mut Draft, view: &View, from: (f64, f64), to: (f64, f64)) {
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
    fn near_walls(&self, draft: &mut Draft, view: &View) {
        let near = if self.from_right { self.long } else { 0.0 };
        if self.has_wall(near) {
            let (high, low) = (self.wall_high(), self.heights.0 * 0.12);
            let wall = [(near, 0.0, low), (near, self.deep, low), (near, self.deep, high), (near, 0.0, high)];
            draft.path(view.all(&wall), true, Some(Pen::Hidden), Fill::None);
        }
    }

    /// The slopes' names, on the slopes where they fit; the others become labels.
    fn names(&self, draft: &mut Draft, view: &View, words: Words) -> Vec<Label> {
        let mut labels = Vec::new();
        let mut set: Vec<Bounds> = Vec::new();
        for (index, _) in self.site.slopes.iter().enumerate() {
            let name = words.say(super::slope_word(self.site.slopes.len(), index));
            let corners = view.all(&self.slope(i32::from(index > 0)));
            let (count, sum) =
                corners.iter().fold((0.0, Point::default()), |(n, sum), p| (n + 1.0, sum.shifted(p.x, p.y)));
            let middle = Point::new(sum.x / count, sum.y / count);
            let drop = super::kit::half_rise();
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

    fn left_labels(&self, words: Words) -> Vec<(Solid, String)> {
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

    fn right_labels(&self, words: Words) -> Vec<(Solid, String)> {
        let side = if self.has_wall(self.long) { "drawing-wall-right" } else { "drawing-verge-right" };
        let eaves = (self.long * 0.97, 0.0, self.heights.0);
        vec![(self.on_verge(self.long), words.say(side)), (eaves, words.say("drawing-eaves"))]
    }

    /// The middle of the front slope's side edge.
    fn on_verge(&self, x: f64) -> Solid {
        (x, self.top_at * 0.5, self.heights.0.midpoint(self.heights.1))
    }

    /// The length along the eaves, on a dimension line in front of the wall.
    fn length_line(&self, draft: &mut Draft, view: &View, words: Words) {
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

/// The arrow of the prevailing wind, below the building; gives the room it took up to.
fn wind_row(draft: &mut Draft, site: &Site, words: Words, width: f64, top: f64) -> f64 {
    let Some(hand) = site.wind_from else { return top };
    wind::arrow(draft, hand, words, (MARGIN, width - MARGIN), top + Picture::LETTERING * 0.5);
    top + Picture::LETTERING + 8.0
}

/// What was understood, line by line.
fn facts(site: &Site) -> Vec<Note> {
    let mut facts = Vec::new();
    for (index, slope) in site.slopes.iter().enumerate() {
        let name = super::slope_word(site.slopes.len(), index);
        let note = Note::new("drawing-whole-slope").word("slope", name);
        facts.push(
            note.with("pitch", Arg::Angle(slope.pitch.value)).length("length", slope.rafter_length.value),
        );
    }
    facts.push(Note::new("drawing-whole-length").length("length", site.length.value));
    let spacing = site.timber_spacing.value;
    facts.push(match site.base {
        Base::Deck(thickness) => Note::new("drawing-whole-deck").length("thickness", thickness.value),
        Base::Rafters => Note::new("drawing-whole-rafters").length("spacing", spacing),
        Base::Purlins => Note::new("drawing-whole-purlins").length("spacing", spacing),
    });
    if site.insulation {
        facts.push(Note::new("drawing-whole-insulation"));
    }
    facts
}

fn key(site: &Site, words: Words) -> Vec<Entry> {
    let entry = |words| Entry { sample: Sample::Nothing, words };
    let mut entries: Vec<Entry> = facts(site).iter().map(|note| entry(words.note(note))).collect();
    entries.push(entry(words.say("drawing-whole-not-to-scale")));
    entries
}

fn describe(site: &Site, words: Words) -> String {
    let form = match site.form {
        Form::SingleSlope => "drawing-whole-form-single",
        Form::TwoSlopes => "drawing-whole-form-two",
    };
    let mut notes = vec![Note::new(form)];
    notes.extend(facts(site));
    if site.wall_top {
        notes.push(Note::new("drawing-whole-wall-top"));
    }
    for hand in &site.wall_sides {
        notes.push(Note::new(match hand {
            Hand::Left => "drawing-whole-wall-left",
            Hand::Right => "drawing-whole-wall-right",
        }));
    }
    if let Some(hand) = site.wind_from {
        notes.push(wind::note(hand));
    }
    words.lines(&notes)
}
