//! The key below a drawing, and the scale bar.

use super::draft::{Draft, MARGIN};
use super::label::LINE;
use super::picture::{Anchor, Fill, Pen, Picture, Point};
use super::place::Frame;
use super::text;
use crate::units::Length;

/// What an entry of the key shows before its words.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Sample {
    /// A piece of line.
    Line(Pen),
    /// A filled box.
    Area(Fill),
    /// A filled dot.
    Dot,
    /// A ring with a number in it.
    Numbered,
    /// Words alone.
    Nothing,
}

/// One entry of the key.
#[derive(Clone, Debug)]
pub(crate) struct Entry {
    /// What it shows.
    pub(crate) sample: Sample,
    /// What it means.
    pub(crate) words: String,
}

const SAMPLE: f64 = 44.0;
const GAP: f64 = 22.0;
const ROW: f64 = LINE + 4.0;

impl Entry {
    fn width(&self) -> f64 {
        text::width(&self.words, Picture::LETTERING) + self.sample_width()
    }

    fn sample_width(&self) -> f64 {
        match self.sample {
            Sample::Line(_) | Sample::Area(_) => SAMPLE + 8.0,
            Sample::Dot => 24.0,
            Sample::Numbered => 36.0,
            Sample::Nothing => 0.0,
        }
    }
}

/// How much the key takes on paper of this width.
pub(crate) fn height(entries: &[Entry], paper: f64) -> f64 {
    text::amount(rows(entries, paper).len()) * ROW + MARGIN
}

/// Draws the key, its first row just below `top`.
pub(crate) fn draw(draft: &mut Draft, entries: &[Entry], paper: f64, top: f64) {
    draft.open("key", None, Vec::new());
    for (row, places) in rows(entries, paper).into_iter().enumerate() {
        let base = top + ROW * text::amount(row) + Picture::LETTERING;
        for (x, entry) in places {
            sample(draft, entry.sample, x, base - text::half_rise(Picture::LETTERING));
            draft.words(Point::new(x + entry.sample_width(), base), Anchor::Start, entry.words.clone());
        }
    }
    draft.close();
}

fn rows(entries: &[Entry], paper: f64) -> Vec<Vec<(f64, &Entry)>> {
    let mut rows: Vec<Vec<(f64, &Entry)>> = Vec::new();
    let mut x = f64::INFINITY;
    for entry in entries {
        let width = entry.width();
        if x + width > paper - MARGIN {
            rows.push(Vec::new());
            x = MARGIN;
        }
        if let Some(row) = rows.last_mut() {
            row.push((x, entry));
        }
        x += width + GAP;
    }
    rows
}

fn sample(draft: &mut Draft, sample: Sample, x: f64, y: f64) {
    match sample {
        Sample::Line(pen) => draft.line(Point::new(x, y), Point::new(x + SAMPLE, y), pen),
        Sample::Area(fill) => {
            draft.rect(Point::new(x, y - 8.0), Point::new(x + SAMPLE, y + 8.0), Some(Pen::Fine), fill);
        }
        Sample::Dot => draft.circle(Point::new(x + 8.0, y), 4.5, None, Fill::Ink),
        Sample::Numbered => {
            draft.circle(Point::new(x + 12.0, y), 11.0, Some(Pen::Fine), Fill::Paper);
            let base = y + text::half_rise(Picture::LETTERING);
            draft.words(Point::new(x + 12.0, base), Anchor::Middle, "1");
        }
        Sample::Nothing => {}
    }
}

/// A bar of a round length with its ends marked, ending at the top right: it stays true however the picture
/// is scaled. `words` says the length.
pub(crate) fn scale_bar(draft: &mut Draft, frame: &Frame, paper: f64, words: impl Fn(Length) -> String) {
    let most = paper * 0.25;
    let sizes = [5_000, 2_000, 1_000, 500, 200, 100, 50].map(Length::from_mm);
    let Some(bar) = sizes.into_iter().find(|size| frame.size(*size) <= most) else { return };
    let (right, y) = (paper - MARGIN, MARGIN + Picture::LETTERING + 12.0);
    let left = right - frame.size(bar);
    let middle = left.midpoint(right);
    draft.open("scale-bar", None, vec![("mm", bar.round_mm().to_string())]);
    draft.rect(Point::new(left, y - 3.0), Point::new(middle, y + 3.0), Some(Pen::Fine), Fill::Ink);
    draft.rect(Point::new(middle, y - 3.0), Point::new(right, y + 3.0), Some(Pen::Fine), Fill::Paper);
    draft.words(Point::new(right, y - 8.0), Anchor::End, words(bar));
    draft.close();
}
