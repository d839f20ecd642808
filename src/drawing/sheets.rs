//! Drawing 2: one slope with its sheets in laying order, laps hatched, cut edges marked, overhangs dimensioned.

use super::Kind;
use super::kit::dimension::{self, Lie, Stretch};
use super::kit::draft::{Draft, MARGIN};
use super::kit::label::LINE;
use super::kit::legend::{self, Entry, Sample};
use super::kit::picture::{Anchor, Fill, Hatch, Pen, Picture, Point, Turn};
use super::kit::place::{Extent, Frame, Margins, Paper, lay_out};
use super::kit::text_width;
use super::slope_view::{Laid, SlopeView, mm, number};
use super::wind;
use crate::roofing::note::{Arg, Note, ranges};
use crate::roofing::roof::Hand;
use crate::units::Length;

/// Radius of the rings that number columns and courses.
const RING: f64 = 15.0;
const BESIDE: f64 = 34.0;
/// From the sheets down to the first line of dimensions, and from there to the second: figures of the first
/// that find no room on it stand between the two.
const FIRST_CHAIN: f64 = 40.0;
const SECOND_CHAIN: f64 = 3.0 * LINE;

pub(super) fn draw(view: &SlopeView) -> Picture {
    let words = view.words;
    let extent = view.sheeted();
    let (laps, edges) = (laps(view), course_edges(view));
    let second = BESIDE + 26.0 + dimension::widest(&edges, words);
    let margins = Margins {
        left: MARGIN + 2.0 * RING + 14.0,
        top: MARGIN + LINE + wind_room(view) + 2.0 * RING + 16.0,
        right: second + 30.0 + dimension::widest(&laps, words) + MARGIN,
        bottom: FIRST_CHAIN + SECOND_CHAIN * if view.slope.staggered.is_empty() { 1.0 } else { 2.0 } + 60.0,
    };
    let key = key(view);
    let paper = lay_out(&extent, margins, |width| legend::height(&key, width));
    let Paper { frame, .. } = paper;
    let head = view.head(Kind::Sheets, "drawing-title-sheets", &describe(view));
    let mut draft = Draft::default();
    draft.title(&head.title);
    legend::scale_bar(&mut draft, &frame, paper.width, |bar| {
        words.note(&Note::new("drawing-scale").length("length", bar))
    });
    if let Some(hand) = view.wind() {
        wind::arrow(&mut draft, hand, words, (MARGIN, paper.width - MARGIN), MARGIN + 2.0 * LINE + 10.0);
    }
    let laid = view.laid();
    lay(&mut draft, view, &frame, &laid);
    rings(&mut draft, view, &frame, &extent);

    let right = frame.x(extent.right);
    let reach = (MARGIN + 2.0 * LINE, paper.height - LINE);
    let up = |stretches: &[(Length, Length)]| -> Vec<Stretch> {
        stretches
            .iter()
            .map(|(from, to)| Stretch::new(frame.y(*from), frame.y(*to), *to - *from, words))
            .collect()
    };
    dimension::chain(&mut draft, Lie::Upright(right + second), right, &up(&laps), reach);
    dimension::chain(&mut draft, Lie::Upright(right + BESIDE), right, &up(&edges), reach);
    widths(&mut draft, view, &paper, &extent);
    legend::draw(&mut draft, &key, paper.width, paper.height);
    let height = paper.height + legend::height(&key, paper.width);
    draft.finish(head, paper.width, height)
}

/// From the lowest edge of the sheets to each course's lower edge and to the top.
fn course_edges(view: &SlopeView) -> Vec<(Length, Length)> {
    let starts = view.slope.courses.iter().map(|course| course.from);
    let mut marks: Vec<Length> = starts.collect();
    marks.extend(view.slope.courses.last().map(|course| course.to));
    marks.iter().copied().zip(marks.iter().skip(1).copied()).collect()
}

/// The overhang at the eaves and every end lap.
fn laps(view: &SlopeView) -> Vec<(Length, Length)> {
    let mut laps = vec![(-view.slope.eaves_overhang, Length::ZERO)];
    laps.extend(view.end_laps());
    laps.retain(|(from, to)| from < to);
    laps
}

fn wind_room(view: &SlopeView) -> f64 {
    if view.wind().is_some() { LINE + 18.0 } else { 0.0 }
}

/// Sheets, then hatched laps, then edges, then labels: nothing that says something lies under something else.
fn lay(draft: &mut Draft, view: &SlopeView, frame: &Frame, laid: &[Laid]) {
    for piece in laid {
        let data = vec![
            ("sheet", piece.label.clone()),
            ("course", (piece.piece.course + 1).to_string()),
            ("column", (piece.piece.column + 1).to_string()),
            ("x-mm", mm(piece.left)),
            ("y-mm", mm(piece.low)),
            ("width-mm", mm(piece.right - piece.left)),
            ("length-mm", mm(piece.high - piece.low)),
        ];
        draft.open("piece", Some(format!("piece-{}", piece.label)), data);
        draft.rect(frame.at(piece.left, piece.low), frame.at(piece.right, piece.high), None, Fill::Sheet);
        draft.close();
    }
    let extent = view.sheeted();
    for (low, high) in view.end_laps() {
        draft.open("end-lap", None, vec![("y-mm", mm(low)), ("lap-mm", mm(high - low))]);
        draft.rect(frame.at(extent.left, low), frame.at(extent.right, high), None, Fill::Hatch(Hatch::Lap));
        draft.close();
    }
    for (piece, next) in neighbours(laid) {
        let (left, right) = (piece.left.max(next.left), piece.right.min(next.right));
        let (low, high) = (piece.low.max(next.low), piece.high.min(next.high));
        draft.open("side-lap", None, vec![("x-mm", mm(left)), ("lap-mm", mm(right - left))]);
        draft.rect(frame.at(left, low), frame.at(right, high), None, Fill::Hatch(Hatch::Lap));
        draft.close();
    }
    let bare = view.bare();
    for piece in laid {
        edges(draft, view, frame, piece);
    }
    draft.rect(frame.at(bare.left, bare.low), frame.at(bare.right, bare.high), Some(Pen::Fine), Fill::None);
    for piece in laid {
        label(draft, view, frame, piece, laid);
    }
}

/// Every piece with the one laid next to it in its course.
fn neighbours<'l, 'a>(laid: &'l [Laid<'a>]) -> Vec<(&'l Laid<'a>, &'l Laid<'a>)> {
    let next = |piece: &Laid| (piece.piece.course, piece.piece.column + 1);
    let place = |piece: &Laid| (piece.piece.course, piece.piece.column);
    let find = |wanted| laid.iter().find(|other| place(other) == wanted);
    laid.iter().filter_map(|piece| Some((piece, find(next(piece))?))).collect()
}

/// The four edges: cut ones thick and broken, those under another sheet dashed, the others plain.
fn edges(draft: &mut Draft, view: &SlopeView, frame: &Frame, laid: &Laid) {
    let last_column = laid.piece.column + 1 == view.slope.columns_of(laid.piece.course).len();
    let last_course = laid.piece.course + 1 == view.slope.courses.len();
    // Each sheet is laid over the one before it, so that the far edge of the earlier one is out of sight.
    let (left_under, right_under) = match view.slope.start_from {
        Hand::Left => (false, !last_column),
        Hand::Right => (!last_column, false),
    };
    let pen = |cut: bool, under: bool| match (cut, under) {
        (true, _) => Pen::Cut,
        (false, true) => Pen::Hidden,
        (false, false) => Pen::Edge,
    };
    let (low_left, low_right) = (frame.at(laid.left, laid.low), frame.at(laid.right, laid.low));
    let (high_left, high_right) = (frame.at(laid.left, laid.high), frame.at(laid.right, laid.high));
    draft.line(low_left, low_right, pen(laid.cut.low, false));
    draft.line(high_left, high_right, pen(laid.cut.high, !last_course));
    draft.line(low_left, high_left, pen(laid.cut.left, left_under));
    draft.line(low_right, high_right, pen(laid.cut.right, right_under));
}

/// The sheet's number, in the middle of what is seen of the piece.
fn label(draft: &mut Draft, view: &SlopeView, frame: &Frame, laid: &Laid, all: &[Laid]) {
    let (mut left, mut right, mut high) = (laid.left, laid.right, laid.high);
    if let Some(next) = all
        .iter()
        .find(|other| (other.piece.course, other.piece.column) == (laid.piece.course, laid.piece.column + 1))
    {
        match view.slope.start_from {
            Hand::Left => right = right.min(next.left),
            Hand::Right => left = left.max(next.right),
        }
    }
    if let Some(above) = view.slope.courses.get(laid.piece.course + 1) {
        // A strip too thin for its label carries it over the lap.
        if frame.size(above.from - laid.low) >= LINE {
            high = high.min(above.from);
        }
    }
    let middle = frame.at((left + right) / 2, (laid.low + high) / 2);
    let room = frame.size(right - left);
    let turn = if room >= text_width(&laid.label) + 8.0 { Turn::Level } else { Turn::Upwards };
    if room >= LINE {
        draft.label(middle, turn, laid.label.clone());
    }
}

/// Numbers of columns above and of courses to the left, in rings, in laying order.
fn rings(draft: &mut Draft, view: &SlopeView, frame: &Frame, extent: &Extent) {
    let above = frame.y(extent.high) - RING - 10.0;
    let beside = frame.x(extent.left) - RING - 10.0;
    let columns =
        view.slope.columns.iter().map(|column| (column.number, frame.x((column.from + column.to) / 2)));
    for (number, x) in spaced(columns.collect()) {
        ring(draft, Point::new(x, above), number);
    }
    let courses = view.slope.courses.iter().enumerate();
    let courses = courses.map(|(index, course)| (index + 1, frame.y((course.from + course.to) / 2)));
    for (number, y) in spaced(courses.collect()) {
        ring(draft, Point::new(beside, y), number);
    }
}

/// Those that keep clear of the one before: a long row says its numbers only where there is room.
fn spaced(all: Vec<(usize, f64)>) -> Vec<(usize, f64)> {
    let mut kept: Vec<(usize, f64)> = Vec::new();
    for (number, at) in all {
        if kept.last().is_none_or(|(_, before)| (at - before).abs() >= 2.0 * RING + 2.0) {
            kept.push((number, at));
        }
    }
    kept
}

fn ring(draft: &mut Draft, at: Point, number: usize) {
    draft.circle(at, RING, Some(Pen::Fine), Fill::Paper);
    draft.words(at.shifted(0.0, super::kit::half_rise()), Anchor::Middle, number.to_string());
}

/// Below: overhangs with the length between them, and the widths that are seen of each column.
fn widths(draft: &mut Draft, view: &SlopeView, paper: &Paper, extent: &Extent) {
    let frame = &paper.frame;
    let low = frame.y(extent.low);
    let reach = (MARGIN, paper.width - MARGIN);
    let along = |marks: &[Length]| -> Vec<Stretch> {
        let run = |run: &dimension::Run| {
            let words = dimension::words(run, &|length| view.words.length(length));
            Stretch { from: frame.x(run.from), to: frame.x(run.to), words, each: run.each, count: run.count }
        };
        dimension::runs(marks).iter().map(run).collect()
    };
    let staggers = !view.slope.staggered.is_empty();
    let courses: &[usize] = if staggers { &[0, 1] } else { &[0] };
    let mut edges = vec![extent.left, Length::ZERO, view.length(), extent.right];
    edges.dedup();
    // The outermost first: figures of inner chains lay paper over the lines that pass them.
    let outer = low + FIRST_CHAIN + SECOND_CHAIN * super::kit::amount(courses.len());
    dimension::chain(draft, Lie::Level(outer), low, &along(&edges), reach);
    for course in courses.iter().rev() {
        let y = low + FIRST_CHAIN + SECOND_CHAIN * super::kit::amount(*course);
        dimension::chain(draft, Lie::Level(y), low, &along(&seen_edges(view, extent, *course)), reach);
        if staggers {
            let which = Note::new("drawing-chain-course").with("number", number(course + 1));
            let beside = Point::new(frame.x(extent.right) + 14.0, y + super::kit::half_rise());
            draft.words(beside, Anchor::Start, view.words.note(&which));
        }
    }
}

/// Where sheets of a course are seen to end: each lies over the one laid before it.
fn seen_edges(view: &SlopeView, extent: &Extent, course: usize) -> Vec<Length> {
    let columns = view.slope.columns_of(course).iter();
    let mut seen: Vec<Length> = match view.slope.start_from {
        Hand::Left => columns.map(|column| column.from).collect(),
        Hand::Right => columns.map(|column| column.to).collect(),
    };
    seen.extend([extent.left, extent.right]);
    seen.sort_unstable();
    seen.dedup();
    seen
}

fn key(view: &SlopeView) -> Vec<Entry> {
    let words = view.words;
    let mut key = vec![Entry { sample: Sample::Numbered, words: words.say("drawing-key-order") }];
    let cut = view.laid().iter().any(|laid| laid.cut != super::slope_view::CutEdges::default());
    key.push(Entry { sample: Sample::Nothing, words: words.say("drawing-key-sheet-number") });
    key.extend(offcuts(view).map(|note| Entry { sample: Sample::Nothing, words: words.note(&note) }));
    if view.slope.columns.len() > 1 || view.slope.courses.len() > 1 {
        key.push(Entry {
            sample: Sample::Area(Fill::Hatch(Hatch::Lap)),
            words: words.say("drawing-key-lap"),
        });
        key.push(Entry { sample: Sample::Line(Pen::Hidden), words: words.say("drawing-key-under") });
    }
    if cut {
        key.push(Entry { sample: Sample::Line(Pen::Cut), words: words.say("drawing-key-cut") });
    }
    key.push(Entry { sample: Sample::Line(Pen::Fine), words: words.say("drawing-key-roof-edge") });
    key.extend(words.unit());
    key
}

/// Which sheets of the front slope this one gets pieces of.
fn offcuts(view: &SlopeView) -> Option<Note> {
    let offcuts = view.plan.offcuts_for(view.index);
    let sheets: Vec<usize> = offcuts.iter().map(|(sheet, _, _)| *sheet).collect();
    let note = Note::new("drawing-key-offcuts").with("count", number(sheets.len()));
    (!sheets.is_empty()).then(|| note.text("sheets", ranges(&sheets)))
}

fn describe(view: &SlopeView) -> Vec<Note> {
    let slope = view.slope;
    let start = match slope.start_from {
        Hand::Left => "drawing-says-start-left",
        Hand::Right => "drawing-says-start-right",
    };
    let mut notes = vec![
        Note::new("drawing-says-sheets")
            .with("sheets", number(slope.cuts.sheets.len()))
            .with("columns", number(slope.columns.len()))
            .with("courses", number(slope.courses.len())),
        Note::new(start),
    ];
    notes.extend(offcuts(view));
    notes.extend(view.wind().map(wind::note));
    for (index, course) in slope.courses.iter().enumerate() {
        notes.push(
            Note::new("drawing-says-course")
                .with("number", number(index + 1))
                .length("length", course.length())
                .length("from", course.from),
        );
    }
    if slope.courses.len() > 1 {
        notes.push(Note::new("drawing-says-end-lap").length("lap", slope.end_lap));
    }
    if slope.columns.len() > 1 {
        notes.push(Note::new("drawing-says-side-lap").with("lap", Arg::Count(slope.side_lap)));
    }
    notes.push(
        Note::new("drawing-says-overhangs")
            .length("eaves", slope.eaves_overhang)
            .length("verge", slope.verge_overhang)
            .length("far", slope.far_verge_overhang),
    );
    notes
}
