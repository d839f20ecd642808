//! Sections up the slope: through the eaves and through the top.

use super::Build;
use super::panel::{Panel, Spot};
use crate::drawing::kit::picture::{Fill, Hatch, Pen};
use crate::drawing::slope_view::SlopeView;
use crate::roofing::catalogue::EdgeUse;
use crate::roofing::layout::Line;
use crate::roofing::note::Note;
use crate::roofing::roof::Form;
use crate::units::{Angle, Length};

/// How much of the slope is shown, in millimetres.
const SHOWN: f64 = 320.0;
/// How deep rafters are drawn: nobody asked, so a break line ends them.
const RAFTER: f64 = 70.0;

/// From along and above the slope to the upright plane, with the top edge at nought.
#[derive(Clone, Copy)]
struct Tilt {
    cos: f64,
    sin: f64,
    /// The end of the slope that lies at nought.
    zero: f64,
    /// Whether the slope falls to the right.
    falls: bool,
    /// Whether timbers meet something at the top and are cut plumb there.
    plumb: bool,
}

impl Tilt {
    fn new(pitch: Angle, zero: f64, falls: bool, plumb: bool) -> Self {
        Self { cos: pitch.cos(), sin: pitch.sin(), zero, falls, plumb }
    }

    /// The place `along` the slope and `above` its timbers.
    fn at(&self, along: f64, above: f64) -> Spot {
        let along = along - self.zero;
        let right = along * self.cos - above * self.sin;
        (if self.falls { -right } else { right }, along * self.sin + above * self.cos)
    }

    fn slab(&self, (from, to): (f64, f64), (low, high): (f64, f64)) -> Vec<Spot> {
        let end = |above: f64| {
            let cut = self.plumb && to >= self.zero && self.cos > 0.0;
            if cut { self.zero + (above * self.sin / self.cos).min(0.0) } else { to }
        };
        vec![self.at(from, low), self.at(end(low), low), self.at(end(high), high), self.at(from, high)]
    }
}

pub(super) fn eaves(view: &SlopeView, build: &Build) -> Panel {
    let mut panel = Panel::new("drawing-panel-eaves");
    let Some(site) = view.plan.site.slopes.get(view.index) else { return panel };
    let tilt = Tilt::new(site.pitch.value, 0.0, false, false);
    let reach = SHOWN.min(view.slope.rafter_length.mm());
    let start = -view.slope.eaves_overhang.mm();
    layers(&mut panel, view, build, tilt, (0.0, reach), true);
    sheet(&mut panel, build, tilt, (start, reach));
    if has(view, EdgeUse::EavesFiller) {
        let filler = tilt.slab((0.0, 30.0), (build.seat().mm(), build.crown().mm() - 3.0));
        panel.area(filler, Fill::Hatch(Hatch::Waste));
        panel.label(tilt.at(15.0, build.seat().mm() + 8.0), Note::new("drawing-tag-eaves-filler"));
    }
    nails(&mut panel, view, build, tilt, (0.0, reach));
    let above = build.crown().mm() + 22.0;
    if start < 0.0 {
        let note = Note::new("drawing-tag-overhang");
        let note = note.text("length", view.words.length(view.slope.eaves_overhang));
        panel.measure(tilt.at(start, above), tilt.at(0.0, above), note);
    }
    if let Some(line) = view.slope.lines.first() {
        let note = Note::new("drawing-tag-first-line").text("length", view.words.length(line.y));
        panel.measure(tilt.at(0.0, above + 22.0), tilt.at(line.y.mm(), above + 22.0), note);
    }
    panel
}

pub(super) fn top(view: &SlopeView, build: &Build) -> Panel {
    let title = match (view.plan.site.form, view.plan.site.wall_top) {
        (Form::TwoSlopes, _) => "drawing-panel-ridge",
        (Form::SingleSlope, true) => "drawing-panel-wall",
        (Form::SingleSlope, false) => "drawing-panel-top-edge",
    };
    let mut panel = Panel::new(title);
    let sites = &view.plan.site.slopes;
    let Some(site) = sites.get(view.index) else { return panel };
    let length = view.slope.rafter_length.mm();
    let plumb = view.plan.site.wall_top || sites.len() > 1;
    let tilt = Tilt::new(site.pitch.value, length, false, plumb);
    let other = sites.len().checked_sub(1 + view.index).filter(|other| *other != view.index);
    let beyond = other.and_then(|index| Some((sites.get(index)?, view.plan.slopes.get(index)?)));
    let share = if beyond.is_some() { 0.62 } else { 1.0 };
    let from = (length - SHOWN * share).max(0.0);
    layers(&mut panel, view, build, tilt, (from, length), true);
    sheet(&mut panel, build, tilt, (from, length));
    nails(&mut panel, view, build, tilt, (from, length));
    let mut far_side = None;
    if let Some((site, slope)) = beyond {
        let length = slope.rafter_length.mm();
        let tilt = Tilt::new(site.pitch.value, length, true, true);
        let from = (length - SHOWN * share).max(0.0);
        layers(&mut panel, view, build, tilt, (from, length), false);
        sheet(&mut panel, build, tilt, (from, length));
        far_side = Some(tilt);
    }
    closing_piece(&mut panel, view, build, tilt, far_side);
    if let Some(line) = view.slope.lines.last() {
        let note = Note::new("drawing-tag-top-line");
        let note = note.text("length", view.words.length(view.slope.rafter_length - line.y));
        let above = build.crown().mm() + 30.0;
        panel.measure(tilt.at(line.y.mm(), above), tilt.at(length, above), note);
    }
    panel
}

/// Rafter, boards, membrane, purlins and insulation, from the lowest up.
fn layers(panel: &mut Panel, view: &SlopeView, build: &Build, tilt: Tilt, (from, to): (f64, f64), say: bool) {
    let deck = build.deck.map_or(0.0, Length::mm);
    let words = view.words;
    panel.area(tilt.slab((from, to), (-deck - RAFTER, -deck)), Fill::Timber);
    if say {
        panel.label(
            tilt.at(from + (to - from) * 0.7, -deck - RAFTER * 0.6),
            Note::new("drawing-tag-timber-below"),
        );
    }
    if let Some(deck) = build.deck {
        panel.area(tilt.slab((from, to), (-deck.mm(), 0.0)), Fill::Deck);
        if say {
            let note = Note::new("drawing-tag-boards").text("thickness", words.length(deck));
            panel.label(tilt.at(from + (to - from) * 0.8, -deck.mm() / 2.0), note);
        }
    }
    if let Some(board) = build.insulation {
        panel.area(tilt.slab((from, to), (2.0, board.thickness.mm())), Fill::Hatch(Hatch::Insulation));
        if say {
            let note = Note::new("drawing-tag-insulation").text("thickness", words.length(board.thickness));
            panel.label(tilt.at(from + (to - from) * 0.6, board.thickness.mm() / 2.0), note);
        }
    }
    if build.underlay {
        panel.line(vec![tilt.at(from, 1.5), tilt.at(to, 1.5)], Pen::Hidden);
    }
    let Some((width, depth)) = build.purlin else { return };
    let slope = if say { Some(view.slope) } else { view.plan.slopes.get(1 - view.index.min(1)) };
    let lines = slope.map(|slope| slope.lines.as_slice()).unwrap_or_default();
    for (place, line) in within(lines, (from, to)).iter().enumerate() {
        let (low, high) = (line.y.mm() - width.mm() / 2.0, line.y.mm() + width.mm() / 2.0);
        panel.area(tilt.slab((low.max(from), high.min(to)), (0.0, depth.mm())), Fill::Timber);
        if say && place == 0 {
            let note = Note::new("drawing-tag-purlin").text("width", words.length(width));
            panel.label(
                tilt.at(line.y.mm() + width.mm() * 0.3, depth.mm() * 0.4),
                note.text("depth", words.length(depth)),
            );
        }
    }
}

fn within(lines: &[Line], (from, to): (f64, f64)) -> Vec<&Line> {
    lines.iter().filter(|line| (from..=to).contains(&line.y.mm())).collect()
}

/// The sheet, cut along a crown: from trough to crown, the crown in a full line.
fn sheet(panel: &mut Panel, build: &Build, tilt: Tilt, (from, to): (f64, f64)) {
    let (low, high) = (build.seat().mm(), build.crown().mm());
    panel.tint(tilt.slab((from, to), (low, high)), Fill::Sheet);
    panel.line(vec![tilt.at(from, low), tilt.at(to, low)], Pen::Fine);
    panel.line(vec![tilt.at(from, low), tilt.at(from, high), tilt.at(to, high)], Pen::Edge);
}

fn nails(panel: &mut Panel, view: &SlopeView, build: &Build, tilt: Tilt, reach: (f64, f64)) {
    let (head, point) = (build.crown().mm() + 2.0, build.crown().mm() - view.slope.nail_length.mm());
    for (place, line) in within(&view.slope.lines, reach).into_iter().enumerate() {
        let at = line.y.mm();
        panel.line(vec![tilt.at(at, head), tilt.at(at, point)], Pen::Edge);
        panel.line(vec![tilt.at(at - 7.0, head), tilt.at(at + 7.0, head)], Pen::Edge);
        if place == 0 {
            let note =
                Note::new("drawing-tag-nail").text("length", view.words.length(view.slope.nail_length));
            panel.label(tilt.at(at + 6.0, head), note);
        }
    }
}

fn has(view: &SlopeView, edge: EdgeUse) -> bool {
    view.plan.edges.iter().any(|run| run.edge == edge && run.slope == view.index)
}

/// The ridge piece over both slopes, the piece over a free top edge, or the wall with its flashing.
fn closing_piece(panel: &mut Panel, view: &SlopeView, build: &Build, tilt: Tilt, far_side: Option<Tilt>) {
    let edge = match (view.plan.site.form, view.plan.site.wall_top) {
        (Form::TwoSlopes, _) => EdgeUse::Ridge,
        (Form::SingleSlope, true) => EdgeUse::WallTop,
        (Form::SingleSlope, false) => EdgeUse::TopEdge,
    };
    let above = build.crown().mm() + 5.0;
    let length = tilt.zero;
    let corner = tilt.at(length, above);
    if edge == EdgeUse::WallTop {
        let (x, y) = tilt.at(length, 0.0);
        let wall = vec![
            (x, y - RAFTER),
            (x + 70.0, y - RAFTER),
            (x + 70.0, corner.1 + 120.0),
            (x, corner.1 + 120.0),
        ];
        panel.area(wall, Fill::Hatch(Hatch::Wall));
        panel.label((x + 35.0, corner.1 + 60.0), Note::new("drawing-wall"));
    }
    // A plan without such a piece says so among its findings; there is none to draw.
    let run = view.plan.edges.iter().find(|run| run.edge == edge);
    let piece = run.and_then(|run| view.catalogue.edges.iter().find(|piece| piece.item.id == run.piece));
    let Some(piece) = piece else { return };
    let wing = piece.wing.mm();
    let start = tilt.at(length - wing, above);
    let (bend, name) = match (edge, far_side) {
        (EdgeUse::WallTop, _) => {
            let x = tilt.at(length, 0.0).0;
            let slope_y = tilt.at(length, above).1;
            (vec![(x, slope_y + 8.0), (x, slope_y + 90.0)], "drawing-tag-flashing")
        }
        (_, Some(far)) => {
            let peak = (0.0, corner.1.max(far.at(far.zero, above).1) + above * tilt.sin * 0.5);
            (vec![peak, far.at(far.zero - wing, above)], "drawing-tag-ridge-piece")
        }
        (_, None) => {
            let down = tilt.at(length + 8.0, above);
            (vec![down, (down.0, down.1 - 90.0)], "drawing-tag-top-piece")
        }
    };
    panel.line([vec![start], bend].concat(), Pen::Bold);
    let note = Note::new(name).text("wing", view.words.length(piece.wing));
    panel.label(tilt.at(length - wing * 0.4, above), note);
}
