//! Sections up the slope: through the eaves and through the top.

use super::Build;
use super::panel::{Panel, Spot};
use crate::drawing::kit::picture::{Fill, Hatch, Pen};
use crate::drawing::slope_view::SlopeView;
use crate::roofing::catalogue::{EdgePiece, EdgeUse};
use crate::roofing::layout::{Line, LineKind};
use crate::roofing::note::Note;
use crate::roofing::plan::SlopePlan;
use crate::roofing::roof::Form;
use crate::units::{Angle, Length};

/// How much of the slope is shown, in millimetres.
const SHOWN: f64 = 320.0;
/// How deep rafters are drawn: nobody asked, so a break line ends them.
const RAFTER: f64 = 70.0;
/// How much of the slope is shown below the edge of the piece along the top.
const BELOW_THE_PIECE: f64 = 30.0;
/// How far a piece goes down past a free top edge, or up a wall.
const LEG: f64 = 90.0;
/// How much of a wall is shown above the fold of its flashing.
const WALL_ABOVE: f64 = 120.0;

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
    let shown = if beyond.is_some() { SHOWN * 0.62 } else { SHOWN };
    let piece = closing(view);
    // All of the piece is shown, and a little below it.
    let shown = |index: usize| {
        let wing = piece.map_or(0.0, |(_, piece)| (piece.wing - view.plan.fold_beyond(index)).mm());
        shown.max(wing + BELOW_THE_PIECE)
    };
    let from = (length - shown(view.index)).max(0.0);
    layers(&mut panel, view, build, tilt, (from, length), true);
    sheet(&mut panel, build, tilt, (from, sheets_to(view.slope)));
    nails(&mut panel, view, build, tilt, (from, length));
    let mut far_side = None;
    if let Some((site, slope)) = beyond {
        let length = slope.rafter_length.mm();
        let tilt = Tilt::new(site.pitch.value, length, true, true);
        let from = (length - shown(1 - view.index.min(1))).max(0.0);
        layers(&mut panel, view, build, tilt, (from, length), false);
        sheet(&mut panel, build, tilt, (from, sheets_to(slope)));
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
        panel.shows("purlin");
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

/// Where the sheets of a slope end.
fn sheets_to(slope: &SlopePlan) -> f64 {
    slope.courses.last().map_or(slope.rafter_length, |course| course.to).mm()
}

/// The sheet, cut along a crown: from trough to crown, the crown in a full line. Its end is square.
fn sheet(panel: &mut Panel, build: &Build, tilt: Tilt, (from, to): (f64, f64)) {
    let (low, high) = (build.seat().mm(), build.crown().mm());
    let end = vec![tilt.at(from, low), tilt.at(to, low), tilt.at(to, high), tilt.at(from, high)];
    panel.tint(end, Fill::Sheet);
    panel.shows("sheet");
    panel.line(vec![tilt.at(from, low), tilt.at(to, low)], Pen::Fine);
    panel.line(vec![tilt.at(from, low), tilt.at(from, high), tilt.at(to, high)], Pen::Edge);
}

fn nails(panel: &mut Panel, view: &SlopeView, build: &Build, tilt: Tilt, reach: (f64, f64)) {
    for (place, line) in within(&view.slope.lines, reach).into_iter().enumerate() {
        let piece = closing(view).filter(|_| line.kind == LineKind::Top);
        let head = (build.crown() + piece.map_or(Length::ZERO, |(_, piece)| piece.thickness)).mm();
        let (_, length) = view.slope.nail_on(line.kind);
        let (head, point) = (head + 2.0, head - length.mm());
        let at = line.y.mm();
        panel.line(vec![tilt.at(at, head), tilt.at(at, point)], Pen::Edge);
        panel.shows("nail");
        panel.line(vec![tilt.at(at - 7.0, head), tilt.at(at + 7.0, head)], Pen::Edge);
        if place == 0 {
            let note = Note::new("drawing-tag-nail").text("length", view.words.length(length));
            panel.label(tilt.at(at + 6.0, head), note);
        }
    }
}

fn has(view: &SlopeView, edge: EdgeUse) -> bool {
    view.plan.edges.iter().any(|run| run.edge == edge && run.slope == view.index)
}

/// The piece along the top and the edge it is for. A plan without such a piece says so among its findings.
fn closing<'a>(view: &SlopeView<'a>) -> Option<(EdgeUse, &'a EdgePiece)> {
    let edge = top_edge(view);
    let run = view.plan.edges.iter().find(|run| run.edge == edge)?;
    let piece = view.catalogue.edges.iter().find(|piece| piece.item.id == run.piece)?;
    Some((edge, piece))
}

fn top_edge(view: &SlopeView) -> EdgeUse {
    match (view.plan.site.form, view.plan.site.wall_top) {
        (Form::TwoSlopes, _) => EdgeUse::Ridge,
        (Form::SingleSlope, true) => EdgeUse::WallTop,
        (Form::SingleSlope, false) => EdgeUse::TopEdge,
    }
}

/// The ridge piece over both slopes, the piece over a free top edge, or the wall with its flashing: at its true size,
/// lying on the crowns.
fn closing_piece(panel: &mut Panel, view: &SlopeView, build: &Build, tilt: Tilt, far_side: Option<Tilt>) {
    let fold_at = |index: usize, tilt: Tilt| tilt.zero + view.plan.fold_beyond(index).mm();
    let crown = build.crown().mm();
    let fold = tilt.at(fold_at(view.index, tilt), crown);
    if top_edge(view) == EdgeUse::WallTop {
        let (x, y) = tilt.at(tilt.zero, 0.0);
        let high = fold.1 + WALL_ABOVE;
        let wall = vec![(x, y - RAFTER), (x + 70.0, y - RAFTER), (x + 70.0, high), (x, high)];
        panel.area(wall, Fill::Hatch(Hatch::Wall));
        panel.label((x + 35.0, high - WALL_ABOVE / 2.0), Note::new("drawing-wall"));
    }
    let Some((edge, piece)) = closing(view) else { return };
    let wing = piece.wing.mm();
    let start = fold_at(view.index, tilt) - wing;
    let (bend, name) = match (edge, far_side) {
        (EdgeUse::WallTop, _) => (vec![(fold.0, fold.1 + LEG)], "drawing-tag-flashing"),
        (_, Some(far)) => {
            let other = 1 - view.index.min(1);
            let crown = view.plan.slopes.get(other).map_or(crown, |slope| view.plan.crown(slope).mm());
            (vec![far.at(fold_at(other, far) - wing, crown)], "drawing-tag-ridge-piece")
        }
        (_, None) => (vec![(fold.0, fold.1 - LEG)], "drawing-tag-top-piece"),
    };
    panel.line([vec![tilt.at(start, crown), fold], bend].concat(), Pen::Bold);
    panel.shows("piece");
    let note = Note::new(name).text("wing", view.words.length(piece.wing));
    panel.label(tilt.at(start + wing * 0.6, crown), note);
    if let Some(line) = view.slope.lines.last().filter(|line| line.kind == LineKind::Top) {
        let inside = Length::from_mm_f64(line.y.mm() - start).unwrap_or_default();
        let note = Note::new("drawing-tag-nail-inside");
        let note = note.text("length", view.words.length(Length::from_mm(inside.round_mm())));
        panel.measure(tilt.at(start, crown + 14.0), tilt.at(line.y.mm(), crown + 14.0), note);
    }
}
