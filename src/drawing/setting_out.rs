//! Drawing 1: one slope in plan, true to scale, with every purlin or nail line dimensioned from the eaves edge
//! and from its neighbour.

use super::kit::dimension::{self, Lie, Stretch};
use super::kit::draft::{Draft, MARGIN};
use super::kit::label::{self, LINE, Label};
use super::kit::legend::{self, Entry, Sample};
use super::kit::picture::{Anchor, Fill, Pen, Picture, Point, Turn};
use super::kit::place::{Frame, Margins, Paper, lay_out};
use super::kit::text_width;
use super::slope_view::{SlopeView, line_key, mm, number};
use super::{Kind, Words};
use crate::roofing::layout::{Line, LineKind};
use crate::roofing::note::{Arg, Note};
use crate::roofing::roof::Base;
use crate::units::Length;

const ABOVE: f64 = MARGIN + 2.0 * LINE + 26.0;
const BELOW: f64 = LINE + 66.0;

pub(super) fn draw(view: &SlopeView) -> Picture {
    let words = view.words;
    let marks = marks(view);
    let runs = dimension::runs(&marks);
    let gap_words: Vec<String> = runs.iter().map(|run| dimension::words(run, &|l| words.length(l))).collect();
    let running: Vec<String> = view.slope.lines.iter().map(|line| running(line, words)).collect();
    let widest = |all: &[String]| all.iter().map(|one| text_width(one)).fold(0.0, f64::max);
    let gaps_at = 34.0;
    let all_at = gaps_at + 24.0 + widest(&gap_words) + 40.0;
    let margins = Margins {
        left: MARGIN + widest(&running) + 44.0,
        top: ABOVE,
        // The figure of a slope too low for it stands beside its line.
        right: all_at + MARGIN + if view.length() > view.slope.rafter_length * 6 { 80.0 } else { 10.0 },
        bottom: BELOW,
    };
    let key = key(view);
    let paper = lay_out(&view.bare(), margins, |width| legend::height(&key, width));
    let Paper { frame, .. } = paper;
    let head = view.head(Kind::SettingOut, "drawing-title-setting-out", &describe(view));
    let mut draft = Draft::default();
    draft.title(&head.title);
    legend::scale_bar(&mut draft, &frame, paper.width, |bar| {
        words.note(&Note::new("drawing-scale").length("length", bar))
    });
    slope(&mut draft, view, &frame);

    let (left, right) = (frame.x(Length::ZERO), frame.x(view.length()));
    let reach = (MARGIN + 2.0 * LINE, paper.height - LINE);
    heights(&mut draft, view, &frame, &running, left, reach);
    let stretches: Vec<Stretch> = runs
        .iter()
        .zip(gap_words)
        .map(|(run, words)| Stretch {
            from: frame.y(run.from),
            to: frame.y(run.to),
            words,
            each: run.each,
            count: run.count,
        })
        .collect();
    let (foot, top) = (Length::ZERO, view.slope.rafter_length);
    let whole = |from, to, length: Length| [Stretch::new(from, to, length, words)];
    let up = whole(frame.y(foot), frame.y(top), top);
    dimension::chain(&mut draft, Lie::Upright(right + all_at), right, &up, reach);
    dimension::chain(&mut draft, Lie::Upright(right + gaps_at), right, &stretches, reach);
    let along = whole(left, right, view.length());
    let low = frame.y(foot);
    dimension::chain(&mut draft, Lie::Level(low + 50.0), low, &along, (MARGIN, paper.width - MARGIN));
    legend::draw(&mut draft, &key, paper.width, paper.height);
    let height = paper.height + legend::height(&key, paper.width);
    draft.finish(head, paper.width, height)
}

/// The eaves edge, every line, the top.
fn marks(view: &SlopeView) -> Vec<Length> {
    let lines = view.slope.lines.iter().map(|line| line.y);
    let mut marks: Vec<Length> =
        [Length::ZERO].into_iter().chain(lines).chain([view.slope.rafter_length]).collect();
    marks.dedup();
    marks
}

fn running(line: &Line, words: Words) -> String {
    let height = words.length(line.y);
    match line.kind {
        LineKind::EndLap => words.note(&Note::new("drawing-line-end-lap").text("height", height)),
        LineKind::Eaves | LineKind::Intermediate | LineKind::Top => height,
    }
}

fn slope(draft: &mut Draft, view: &SlopeView, frame: &Frame) {
    let (length, top) = (view.length(), view.slope.rafter_length);
    let (low_left, high_right) = (frame.at(Length::ZERO, Length::ZERO), frame.at(length, top));
    draft.rect(low_left, high_right, None, Fill::Paper);
    timbers_below(draft, view, frame);
    for (low, _) in view.end_laps() {
        draft.open("lap-edge", None, vec![("y-mm", mm(low))]);
        draft.line(frame.at(Length::ZERO, low), frame.at(length, low), Pen::Edge);
        draft.close();
    }
    for (index, line) in view.slope.lines.iter().enumerate() {
        let data = vec![("y-mm", mm(line.y)), ("kind", line_key(line.kind).to_owned())];
        draft.open("line", Some(format!("line-{}", index + 1)), data);
        one_line(draft, view, frame, index, line);
        draft.close();
    }
    draft.rect(low_left, high_right, Some(Pen::Edge), Fill::None);
    let middle = frame.x(length / 2);
    draft.label(Point::new(middle, high_right.y - 14.0), Turn::Level, view.words.say(view.top_word()));
    draft.label(Point::new(middle, low_left.y + 16.0), Turn::Level, view.words.say("drawing-eaves"));
}

fn one_line(draft: &mut Draft, view: &SlopeView, frame: &Frame, index: usize, line: &Line) {
    let ends = (frame.at(Length::ZERO, line.y), frame.at(view.length(), line.y));
    let Some(timber) = view.timber() else {
        draft.line(ends.0, ends.1, Pen::Centre);
        return;
    };
    let half = (frame.size(timber.width) / 2.0).max(1.5);
    draft.rect(ends.0.shifted(0.0, half), ends.1.shifted(0.0, -half), Some(Pen::Fine), Fill::Timber);
    for piece in
        view.slope.purlin_pieces.iter().filter(|piece| piece.line == index && piece.from > Length::ZERO)
    {
        let joint = frame.at(piece.from, line.y);
        draft.line(joint.shifted(0.0, half + 3.0), joint.shifted(0.0, -half - 3.0), Pen::Edge);
    }
}

/// Rafters are drawn where they would be, counted from the left: the drawing says to find one's own.
fn timbers_below(draft: &mut Draft, view: &SlopeView, frame: &Frame) {
    let spacing = view.plan.site.timber_spacing.value;
    if !has_rafters(view) || spacing <= Length::ZERO {
        return;
    }
    draft.open("timbers-below", None, vec![("spacing-mm", mm(spacing))]);
    for number in 1..view.length().div_ceil(spacing) {
        let x = spacing * number;
        draft.line(frame.at(x, Length::ZERO), frame.at(x, view.slope.rafter_length), Pen::Hidden);
    }
    draft.close();
}

fn has_rafters(view: &SlopeView) -> bool {
    match view.plan.site.base {
        Base::Deck(_) | Base::Rafters => true,
        Base::Purlins => false,
    }
}

/// Heights above the eaves edge, to the left. Where there are too many for the paper, lines between the others
/// are said only every second, third … time; the chain on the right says them all.
fn heights(
    draft: &mut Draft,
    view: &SlopeView,
    frame: &Frame,
    words: &[String],
    left: f64,
    (low, high): (f64, f64),
) {
    let lines = view.slope.lines.iter().zip(words).enumerate();
    let room = super::kit::whole((high - low) / LINE);
    let all = view.slope.lines.len();
    let fits = |step: &usize| {
        let kept = view.slope.lines.iter().enumerate().filter(|(index, line)| keeps(*index, line, *step));
        kept.count() <= room
    };
    let step = (1..=all).find(fits).unwrap_or(all);
    let labels: Vec<Label> = lines
        .filter(|(index, (line, _))| keeps(*index, line, step))
        .map(|(_, (line, words))| Label { tip: Point::new(left, frame.y(line.y)), words: words.clone() })
        .collect();
    label::column(draft, labels, left - 40.0, Anchor::End, (low, high));
}

fn keeps(index: usize, line: &Line, step: usize) -> bool {
    line.kind != LineKind::Intermediate || index.is_multiple_of(step)
}

fn key(view: &SlopeView) -> Vec<Entry> {
    let words = view.words;
    let mut key = Vec::new();
    match view.timber() {
        Some(_) => {
            key.push(Entry { sample: Sample::Area(Fill::Timber), words: words.say("drawing-key-purlin") });
        }
        None => key.push(Entry { sample: Sample::Line(Pen::Centre), words: words.say(line_word(view)) }),
    }
    if !view.end_laps().is_empty() {
        key.push(Entry { sample: Sample::Line(Pen::Edge), words: words.say("drawing-key-lap-edge") });
    }
    if has_rafters(view) {
        let spacing = view.plan.site.timber_spacing.value;
        let note = Note::new("drawing-key-timber").text("spacing", words.length(spacing));
        key.push(Entry { sample: Sample::Line(Pen::Hidden), words: words.note(&note) });
    }
    let from = Entry { sample: Sample::Nothing, words: words.say("drawing-key-from-eaves") };
    key.push(from);
    key.extend(words.unit());
    key
}

fn line_word(view: &SlopeView) -> &'static str {
    if view.on_purlins() { "drawing-key-purlin" } else { "drawing-key-nail-line" }
}

fn describe(view: &SlopeView) -> Vec<Note> {
    let slope = view.slope;
    let heights = Arg::Lengths(slope.lines.iter().map(|line| line.y).collect());
    let lines = if view.on_purlins() { "drawing-says-purlins" } else { "drawing-says-nail-lines" };
    let mut notes = vec![
        Note::new("drawing-says-slope").length("length", view.length()).length("up", slope.rafter_length),
        Note::new(lines).with("count", number(slope.lines.len())).with("heights", heights),
    ];
    if let Some(limit) = slope.max_line_gap() {
        notes.push(Note::new("drawing-says-gap").length("limit", limit));
    }
    let laps: Vec<Length> =
        slope.lines.iter().filter(|line| line.kind == LineKind::EndLap).map(|line| line.y).collect();
    if !laps.is_empty() {
        notes.push(
            Note::new("drawing-says-end-laps")
                .with("heights", Arg::Lengths(laps))
                .length("lap", slope.end_lap),
        );
    }
    notes
}
