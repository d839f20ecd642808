//! Drawing 3: every fixing of one slope as a point, the plan's own, with an enlarged inset.

use super::Kind;
use super::kit::draft::{Draft, MARGIN};
use super::kit::label::{self, LINE, Label};
use super::kit::legend::{self, Entry, Sample};
use super::kit::picture::{Anchor, Fill, Hatch, Look, Node, Outline, Pen, Picture, Point, Shape, Turn};
use super::kit::place::{Frame, Margins, Paper, lay_out};
use super::kit::{half_rise, text_width};
use super::slope_view::{SlopeView, line_key, mm, number};
use crate::roofing::fixings::Fixing;
use crate::roofing::layout::{Line, LineKind};
use crate::roofing::note::Note;
use crate::roofing::plan::SlopePlan;
use crate::roofing::rules::{Limit, Requirement};
use crate::units::Length;

/// One row of the inset.
const ROW: f64 = 62.0;

pub(super) fn draw(view: &SlopeView) -> Picture {
    let words = view.words;
    let counts: Vec<String> =
        view.slope.lines.iter().map(|line| on_line(view, line).len().to_string()).collect();
    let widest = counts.iter().map(|count| text_width(count)).fold(0.0, f64::max);
    let margins = Margins {
        left: MARGIN + 6.0,
        top: MARGIN + 2.0 * LINE + 30.0,
        right: widest + 44.0 + MARGIN,
        bottom: LINE + 14.0,
    };
    let (key, shown) = (key(view), shown(view));
    let inset_height = LINE + 10.0 + ROW * super::kit::amount(shown.len()) + 16.0;
    let paper = lay_out(&view.sheeted(), margins, |width| legend::height(&key, width) + inset_height);
    let Paper { frame, .. } = paper;
    let head = view.head(Kind::FixingPattern, "drawing-title-fixings", &describe(view));
    let mut draft = Draft::default();
    draft.title(&head.title);
    legend::scale_bar(&mut draft, &frame, paper.width, |bar| {
        words.note(&Note::new("drawing-scale").length("length", bar))
    });
    slope(&mut draft, view, &frame);
    let right = frame.x(view.sheeted().right);
    let reach = (MARGIN + 2.0 * LINE, paper.height - 4.0);
    let tips = view.slope.lines.iter().zip(counts);
    let labels: Vec<Label> =
        tips.map(|(line, words)| Label { tip: Point::new(right, frame.y(line.y)), words }).collect();
    label::column(&mut draft, label::thinned(labels, reach), right + 40.0, Anchor::Start, reach);
    inset(&mut draft, view, &shown, paper.width, paper.height);
    let foot = paper.height + inset_height;
    legend::draw(&mut draft, &key, paper.width, foot);
    draft.finish(head, paper.width, foot + legend::height(&key, paper.width))
}

fn on_line<'a>(view: &'a SlopeView, line: &Line) -> Vec<&'a Fixing> {
    view.slope.fixings.iter().filter(|fixing| fixing.y == line.y).collect()
}

/// Outline, sheets, lines, and on them every fixing of the plan: once each.
fn slope(draft: &mut Draft, view: &SlopeView, frame: &Frame) {
    for laid in view.laid() {
        draft.rect(
            frame.at(laid.left, laid.low),
            frame.at(laid.right, laid.high),
            Some(Pen::Fine),
            Fill::Sheet,
        );
    }
    let bare = view.bare();
    for line in &view.slope.lines {
        draft.line(frame.at(bare.left, line.y), frame.at(bare.right, line.y), Pen::Fine);
    }
    draft.rect(frame.at(bare.left, bare.low), frame.at(bare.right, bare.high), Some(Pen::Edge), Fill::None);
    let middle = frame.x(view.length() / 2);
    draft.label(Point::new(middle, frame.y(bare.high) - 14.0), Turn::Level, view.words.say(view.top_word()));
    let eaves = frame.y(view.sheeted().low) + 16.0;
    draft.label(Point::new(middle, eaves), Turn::Level, view.words.say("drawing-eaves"));
    let size = (frame.size(view.plan.site.sheet.corrugation_pitch) * 0.26).clamp(1.0, 4.5);
    draft.open_alike("fixings", Vec::new(), Look { pen: None, fill: Fill::Ink });
    for line in &view.slope.lines {
        let data = vec![("y-mm", mm(line.y)), ("kind", line_key(line.kind).to_owned())];
        draft.open("fixing-line", None, data);
        for fixing in on_line(view, line) {
            point(draft, frame.at(fixing.x, fixing.y), size, fixing);
        }
        draft.close();
    }
    draft.close();
}

fn point(draft: &mut Draft, at: Point, radius: f64, fixing: &Fixing) {
    let data = vec![("x-mm", mm(fixing.x))];
    draft.put(Node::Shape(Shape {
        class: Some("fixing"),
        data,
        outline: Outline::Circle { centre: at, radius },
        look: None,
    }));
}

/// One line of each kind, the highest first.
fn shown<'a>(view: &SlopeView<'a>) -> Vec<&'a Line> {
    let kinds = [LineKind::Top, LineKind::EndLap, LineKind::Intermediate, LineKind::Eaves];
    kinds.into_iter().filter_map(|kind| view.slope.lines.iter().find(|line| line.kind == kind)).collect()
}

/// The stretch of the slope the inset enlarges: about the first side lap where there is one.
fn window(view: &SlopeView) -> (Length, Length) {
    let pitch = view.plan.site.sheet.corrugation_pitch;
    // So many that the inset's ends fall between crowns: the middle of a lap is on a crown or between two.
    let shown = 7 + (view.slope.side_lap + 1) % 2;
    let extent = view.sheeted();
    let laid = view.laid();
    let first = laid.iter().find(|piece| piece.piece.column == 0);
    let second = laid.iter().find(|piece| piece.piece.column == 1 && piece.piece.course == 0);
    let middle = match (first, second) {
        (Some(first), Some(second)) => (first.left.max(second.left) + first.right.min(second.right)) / 2,
        (Some(_) | None, None) | (None, Some(_)) => extent.left + pitch * shown / 2,
    };
    let wide = (pitch * shown).min(extent.right - extent.left);
    let left = (middle - wide / 2).clamp(extent.left, extent.right - wide);
    (left, left + wide)
}

/// The stretch about a side lap, one row for each kind of line, between breaks: along the eaves to scale, up
/// the slope not.
fn inset(draft: &mut Draft, view: &SlopeView, shown: &[&Line], width: f64, top: f64) {
    let words = view.words;
    let names: Vec<String> = shown.iter().map(|line| words.say(line_word(line.kind))).collect();
    let left = MARGIN + names.iter().map(|name| text_width(name)).fold(0.0, f64::max) + 16.0;
    let right = width - MARGIN;
    let (from, to) = window(view);
    let scale = (right - left) / (to - from).mm().max(1.0);
    draft.open("inset", None, vec![("from-mm", mm(from)), ("to-mm", mm(to))]);
    draft.words(Point::new(MARGIN, top + LINE), Anchor::Start, words.say(inset_word(view)));
    let first = top + LINE + 10.0;
    for (row, (line, name)) in shown.iter().zip(names).enumerate() {
        let middle = first + ROW * (super::kit::amount(row) + 0.5);
        let frame = Frame::new(Point::new(left - from.mm() * scale, middle), scale);
        let (high, low) = (middle - ROW * 0.4, middle + ROW * 0.4);
        draft.rect(Point::new(left, high), Point::new(right, low), None, Fill::Sheet);
        laps(draft, view, line, (from, to), |x| frame.x(x), (high, low));
        crowns(draft, view, (from, to), |x| frame.x(x), (high, low));
        draft.line(Point::new(left, middle), Point::new(right, middle), Pen::Centre);
        breaks(draft, (left, right), (high, low));
        for fixing in on_line(view, line) {
            if (from..=to).contains(&fixing.x) {
                draft.circle(Point::new(frame.x(fixing.x), middle), 7.0, None, Fill::Ink);
            }
        }
        draft.words(Point::new(MARGIN, middle + half_rise()), Anchor::Start, name);
    }
    draft.close();
}

fn laps(
    draft: &mut Draft,
    view: &SlopeView,
    line: &Line,
    (from, to): (Length, Length),
    x: impl Fn(Length) -> f64,
    (high, low): (f64, f64),
) {
    let hatch = Fill::Hatch(Hatch::Lap);
    if line.kind == LineKind::EndLap {
        draft.rect(Point::new(x(from), high), Point::new(x(to), low), None, hatch);
    }
    let laid = view.laid();
    let here = |piece: &&super::slope_view::Laid| (piece.low..=piece.high).contains(&line.y);
    let on_course: Vec<_> = laid.iter().filter(here).collect();
    for piece in &on_course {
        let next = on_course.iter().find(|other| {
            other.piece.course == piece.piece.course && other.piece.column == piece.piece.column + 1
        });
        let Some(next) = next else { continue };
        let (left, right) = (piece.left.max(next.left).max(from), piece.right.min(next.right).min(to));
        if left < right {
            draft.rect(Point::new(x(left), high), Point::new(x(right), low), Some(Pen::Fine), hatch);
        }
    }
}

/// A thin line on every crown.
fn crowns(
    draft: &mut Draft,
    view: &SlopeView,
    (from, to): (Length, Length),
    x: impl Fn(Length) -> f64,
    (high, low): (f64, f64),
) {
    let pitch = view.plan.site.sheet.corrugation_pitch;
    let edge = view.sheeted().left;
    for crown in 0..(to - edge).div_ceil(pitch) {
        let at = edge + pitch * crown + pitch / 2;
        if (from..=to).contains(&at) {
            draft.line(Point::new(x(at), high), Point::new(x(at), low), Pen::Fine);
        }
    }
}

/// Zigzags above and below: the sheet goes on.
fn breaks(draft: &mut Draft, (left, right): (f64, f64), (high, low): (f64, f64)) {
    for y in [high, low] {
        let steps = 24;
        let step = (right - left) / f64::from(steps);
        let zigzag = |n: i32| Point::new(left + step * f64::from(n), y + if n % 2 == 0 { 3.0 } else { -3.0 });
        draft.path((0..=steps).map(zigzag).collect(), false, Some(Pen::Fine), Fill::None);
    }
}

const fn line_word(kind: LineKind) -> &'static str {
    match kind {
        LineKind::Eaves => "drawing-line-eaves",
        LineKind::EndLap => "drawing-line-lap",
        LineKind::Intermediate => "drawing-line-between",
        LineKind::Top => "drawing-line-top",
    }
}

const fn every(kind: LineKind) -> Requirement {
    match kind {
        LineKind::Eaves => Requirement::FixEaves,
        LineKind::EndLap => Requirement::FixEndLap,
        LineKind::Intermediate => Requirement::FixIntermediate,
        LineKind::Top => Requirement::FixRidge,
    }
}

fn key(view: &SlopeView) -> Vec<Entry> {
    let words = view.words;
    let [nails, long_nails] = counted(view.slope, "drawing-key-nail", "drawing-key-long-nail");
    let dot = |note: Note| Entry { sample: Sample::Dot, words: words.note(&note) };
    let mut key: Vec<Entry> = nails.into_iter().chain(long_nails).map(dot).collect();
    key.push(Entry { sample: Sample::Nothing, words: words.say("drawing-key-counts") });
    if view.slope.columns.len() > 1 || view.slope.courses.len() > 1 {
        let sample = Sample::Area(Fill::Hatch(Hatch::Lap));
        key.push(Entry { sample, words: words.say("drawing-key-lap") });
    }
    key
}

/// The nails of a slope, and those of the longer kind where there are two.
fn counted(slope: &SlopePlan, of_one: &str, of_long: &str) -> [Option<Note>; 2] {
    let longer = slope.long_nails();
    let note = |message: &str, count: usize, length| {
        Note::new(message).with("count", number(count)).length("length", length)
    };
    let nails = note(of_one, slope.fixings.len() - longer, slope.nail_length);
    let long = slope.long_nail.as_ref().filter(|_| longer > 0);
    [Some(nails), long.map(|long| note(of_long, longer, long.length))]
}

fn inset_word(view: &SlopeView) -> &'static str {
    if view.slope.columns.len() > 1 { "drawing-inset-lap" } else { "drawing-inset" }
}

fn describe(view: &SlopeView) -> Vec<Note> {
    let slope = view.slope;
    let nails = counted(slope, "drawing-says-nails", "drawing-says-long-nails");
    let mut notes: Vec<Note> = nails.into_iter().flatten().collect();
    for line in shown(view).iter().rev() {
        let Some(contribution) = slope.requirements.deciding(every(line.kind)) else { continue };
        let Limit::Count(count) = contribution.limit else { continue };
        let name = Note::new("drawing-says-every").word("line", line_word(line.kind));
        notes.push(name.with("every", crate::roofing::note::Arg::Count(count)));
    }
    if slope.columns.len() > 1 {
        notes.push(Note::new("drawing-says-side-lap-nails"));
    }
    notes
}
