//! Drawing 5: what is cut from each bought sheet and what is left of it. Sheets cut alike are drawn once.

use super::Kind;
use super::cut_list::{Alike, Cut, alike, by_size, label, left_over};
use super::kit::draft::{Draft, Head, MARGIN};
use super::kit::label::LINE;
use super::kit::legend::{self, Entry, Sample};
use super::kit::picture::{Anchor, Fill, Hatch, Pen, Picture, Point, Turn};
use super::kit::place::Frame;
use super::kit::text_width;
use super::slope_view::{SlopeView, mm, number};
use crate::roofing::note::{Arg, Note, ranges};
use crate::units::Length;

const WIDTH: f64 = Picture::SHORT_SIDE - 8.0;
/// The lowest a drawing may reach before the next one is begun.
const FLOOR: f64 = 1_240.0;
const GAP: f64 = 28.0;

/// One block on the paper: the sheet, and the lines of words under it.
struct Block<'a> {
    alike: &'a Alike<'a>,
    lines: Vec<String>,
}

/// As many drawings as it takes.
pub(super) fn draw(view: &SlopeView) -> Vec<Picture> {
    let groups = alike(view.slope);
    let columns = columns(view, &groups);
    let wide = (WIDTH - 2.0 * MARGIN - GAP * (columns - 1.0)) / columns;
    let scale = wide / view.plan.site.sheet.length.mm().max(1.0);
    let blocks: Vec<Block> =
        groups.iter().map(|alike| Block { alike, lines: captions(view, alike, wide) }).collect();
    let tall = |block: &Block| {
        view.plan.site.sheet.width.mm() * scale + LINE * super::kit::amount(block.lines.len()) + GAP
    };
    let top = MARGIN + LINE + 16.0;
    let mut pages: Vec<Vec<(Point, &Block)>> = vec![Vec::new()];
    let mut y = top;
    for row in blocks.chunks(super::kit::whole(columns)) {
        let high = row.iter().map(tall).fold(0.0, f64::max);
        if y + high > FLOOR && y > top {
            pages.push(Vec::new());
            y = top;
        }
        for (index, block) in row.iter().enumerate() {
            let x = MARGIN + (wide + GAP) * super::kit::amount(index);
            if let Some(page) = pages.last_mut() {
                page.push((Point::new(x, y), block));
            }
        }
        y += high;
    }
    let all = pages.len();
    let pages = pages.into_iter().enumerate();
    pages.map(|(index, blocks)| page(view, (index, all), &blocks, scale, tall)).collect()
}

/// Two beside each other, unless the narrowest piece would be too small to carry its letter.
fn columns(view: &SlopeView, groups: &[Alike]) -> f64 {
    let sheet = &view.plan.site.sheet;
    let pieces = groups.iter().flat_map(|alike| alike.first.all_pieces());
    let least = pieces.map(|piece| piece.length.min(sheet.corrugation_pitch * piece.corrugations)).min();
    let scale = (WIDTH - 2.0 * MARGIN - GAP) / 2.0 / sheet.length.mm().max(1.0);
    if least.unwrap_or_default().mm() * scale < LINE { 1.0 } else { 2.0 }
}

fn page(
    view: &SlopeView,
    (index, all): (usize, usize),
    blocks: &[(Point, &Block)],
    scale: f64,
    tall: impl Fn(&Block) -> f64,
) -> Picture {
    let head = head(view, index, all);
    let mut draft = Draft::default();
    draft.title(&head.title);
    let mut foot: f64 = 0.0;
    for (at, block) in blocks {
        sheet(&mut draft, view, *at, block, scale);
        foot = foot.max(at.y + tall(block));
    }
    let words = view.words;
    let mut key = vec![
        Entry { sample: Sample::Line(Pen::Cut), words: words.say("drawing-key-cut") },
        Entry { sample: Sample::Area(Fill::Hatch(Hatch::Waste)), words: words.say("drawing-key-left-over") },
        Entry { sample: Sample::Nothing, words: words.say("drawing-key-corrugations-across") },
    ];
    key.extend(words.unit());
    legend::draw(&mut draft, &key, WIDTH, foot);
    draft.finish(head, WIDTH, foot + legend::height(&key, WIDTH))
}

fn head(view: &SlopeView, index: usize, all: usize) -> Head {
    let mut head = view.head(Kind::CutDiagram, "drawing-title-cuts", &describe(view));
    if all > 1 {
        let part = Note::new("drawing-part").with("part", number(index + 1)).with("parts", number(all));
        head.title = format!("{} {}", head.title, view.words.note(&part));
        head.name = format!("{}-{}", head.name, index + 1);
    }
    head
}

/// One sheet lying on its side: its lower end to the left.
fn sheet(draft: &mut Draft, view: &SlopeView, at: Point, block: &Block, scale: f64) {
    let (sheet, bought) = (&view.plan.site.sheet, block.alike.first);
    let (wide, high) = (bought.length.mm() * scale, sheet.width.mm() * scale);
    let frame = Frame::new(at.shifted(0.0, high), scale);
    let numbers = block.alike.numbers.iter().map(ToString::to_string).collect::<Vec<_>>().join(" ");
    draft.open("bought-sheet", Some(format!("sheet-{}", bought.number)), vec![("sheets", numbers)]);
    let far = at.shifted(wide, high);
    draft.rect(at, far, Some(Pen::Edge), Fill::Paper);
    draft.rect(at, far, None, Fill::Hatch(Hatch::Waste));
    for (place, piece) in bought.all_pieces().enumerate() {
        let (low, left) = (piece.at, sheet.corrugation_pitch * piece.at_corrugation);
        let (top, right) = (low + piece.length, left + sheet.corrugation_pitch * piece.corrugations);
        let data = vec![
            ("course", (piece.course + 1).to_string()),
            ("column", (piece.column + 1).to_string()),
            ("length-mm", mm(piece.length)),
            ("corrugations", piece.corrugations.to_string()),
        ];
        draft.open("cut-piece", None, data);
        let corners =
            [(low, left), (top, left), (top, right), (low, right)].map(|(along, up)| frame.at(along, up));
        let [a, b, c, d] = corners;
        draft.path(corners.to_vec(), true, None, Fill::Sheet);
        let pen = |cut: bool| if cut { Pen::Cut } else { Pen::Edge };
        draft.line(a, b, pen(left > Length::ZERO));
        draft.line(b, c, pen(top < bought.length));
        draft.line(c, d, pen(right < sheet.width));
        draft.line(d, a, pen(low > Length::ZERO));
        let label = label(block.alike, place);
        let middle = frame.at((low + top) / 2, (left + right) / 2);
        let turn =
            if frame.size(piece.length) > text_width(&label) + 8.0 { Turn::Level } else { Turn::Upwards };
        draft.label(middle, turn, label);
        draft.close();
    }
    for (row, line) in block.lines.iter().enumerate() {
        let base = at.y + high + LINE * (super::kit::amount(row) + 1.0) + 2.0;
        draft.words(Point::new(at.x, base), Anchor::Start, line.clone());
    }
    draft.close();
}

/// The words under a sheet, none longer than the sheet is drawn.
fn captions(view: &SlopeView, alike: &Alike, wide: f64) -> Vec<String> {
    let (words, sheet) = (view.words, &view.plan.site.sheet);
    let note = Note::new("drawing-cut-sheets").with("count", number(alike.numbers.len()));
    let mut lines = wrapped(&words.note(&note.text("numbers", ranges(&alike.numbers))), wide);
    let size = |note: Note, length: Length, across: Length| {
        note.text("length", words.length(length)).text("width", words.length(across))
    };
    for Cut { labels, piece, for_back } in by_size(alike) {
        let across = sheet.corrugation_pitch * piece.corrugations;
        let message = match (alike.gives_several(), for_back) {
            (true, true) => "drawing-cut-piece-for-back",
            (true, false) => "drawing-cut-piece",
            (false, _) => "drawing-cut-only-piece",
        };
        let note =
            Note::new(message).text("piece", labels).with("corrugations", Arg::Count(piece.corrugations));
        lines.extend(wrapped(&words.note(&size(note, piece.length, across)), wide));
    }
    for (length, across) in left_over(sheet, alike.first) {
        lines.extend(wrapped(&words.note(&size(Note::new("drawing-cut-left-over"), length, across)), wide));
    }
    lines
}

/// Broken between words so that no line is longer than `wide`.
fn wrapped(words: &str, wide: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in words.split(' ') {
        match lines.last_mut() {
            Some(line) if text_width(line) + text_width(word) + text_width(" ") <= wide => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}

fn describe(view: &SlopeView) -> Vec<Note> {
    let cuts = &view.slope.cuts;
    let mut notes = vec![
        Note::new("drawing-says-cuts")
            .with("sheets", number(cuts.sheets.len()))
            .with("cuts", number(cuts.cuts)),
    ];
    for group in alike(view.slope) {
        let numbers = ranges(&group.numbers);
        for (place, piece) in group.first.all_pieces().enumerate() {
            let across = view.plan.site.sheet.corrugation_pitch * piece.corrugations;
            let for_back = place >= group.first.pieces.len();
            let message = if for_back { "drawing-says-cut-piece-for-back" } else { "drawing-says-cut-piece" };
            let note = Note::new(message).text("sheets", numbers.clone());
            let note = note.text("piece", label(&group, place)).length("length", piece.length);
            notes.push(note.length("width", across).with("corrugations", Arg::Count(piece.corrugations)));
        }
    }
    notes
}
