//! Labels beside a drawing: as near as they can be to what they name, never over one another.

use super::draft::Draft;
use super::picture::{Anchor, Pen, Picture, Point};
use super::text;

/// A label and what it names.
#[derive(Clone, Debug)]
pub(crate) struct Label {
    /// The point on the drawing that is named.
    pub(crate) tip: Point,
    /// The words.
    pub(crate) words: String,
}

/// From one line of labels to the next.
pub(crate) const LINE: f64 = Picture::LETTERING * 1.1;

/// Moves wanted middles apart until none overlaps, as little as possible and in their own order.
///
/// `wanted` is in rising order and `sizes` belong to it; the result stays between `low` and `high` where
/// there is room. Neighbours that collide are moved as one block to the mean of where they want to be.
pub(crate) fn spread(wanted: &[f64], sizes: &[f64], low: f64, high: f64) -> Vec<f64> {
    // Taking away the room that earlier labels need turns "apart" into "not falling", which is the isotonic
    // regression that pooling neighbours solves exactly.
    let mut taken = 0.0;
    let mut offsets = Vec::with_capacity(wanted.len());
    let mut blocks: Vec<(f64, usize)> = Vec::new();
    for (want, size) in wanted.iter().zip(sizes) {
        let offset = taken + size / 2.0;
        taken += size;
        offsets.push(offset);
        blocks.push((want - offset, 1));
        while let [.., (before, many), (last, few)] = blocks.as_slice()
            && last < before
        {
            let (many, few) = (*many, *few);
            let mean = (before * text::amount(many) + last * text::amount(few)) / text::amount(many + few);
            blocks.truncate(blocks.len() - 2);
            blocks.push((mean, many + few));
        }
    }
    let ceiling = (high - taken).max(low);
    let starts = blocks.iter().flat_map(|(start, many)| std::iter::repeat_n(*start, *many));
    starts.zip(offsets).map(|(start, offset)| start.clamp(low, ceiling) + offset).collect()
}

/// A dot on what each label names, where a leader runs over other things before it gets there.
pub(crate) fn dots(draft: &mut Draft, labels: &[Label]) {
    for label in labels {
        draft.circle(label.tip, 3.0, None, super::picture::Fill::Ink);
    }
}

/// Sets labels in a column beside the drawing, each with a thin leader to what it names.
///
/// `x` is the side of the words that faces the drawing: their end where `anchor` is `End`.
pub(crate) fn column(
    draft: &mut Draft,
    mut labels: Vec<Label>,
    x: f64,
    anchor: Anchor,
    (low, high): (f64, f64),
) {
    labels.sort_by(|a, b| a.tip.y.total_cmp(&b.tip.y));
    let wanted: Vec<f64> = labels.iter().map(|label| label.tip.y).collect();
    let places = spread(&wanted, &vec![LINE; wanted.len()], low, high);
    let gap = match anchor {
        Anchor::End => 5.0,
        Anchor::Start | Anchor::Middle => -5.0,
    };
    for (label, y) in labels.into_iter().zip(places) {
        let knee = Point::new(x + gap, y);
        let elbow = Point::new(x + 4.0 * gap, label.tip.y);
        // A level label needs no knee.
        let points = if (y - label.tip.y).abs() < 0.5 {
            vec![Point::new(x + gap, label.tip.y), label.tip]
        } else {
            vec![knee, elbow, label.tip]
        };
        draft.path(points, false, Some(Pen::Fine), super::picture::Fill::None);
        draft.words(Point::new(x, y + text::half_rise(Picture::LETTERING)), anchor, label.words);
    }
}

/// Every label, or every second, third … where there is no room for all; the first and the last stay.
pub(crate) fn thinned(labels: Vec<Label>, (low, high): (f64, f64)) -> Vec<Label> {
    let room = super::whole((high - low) / LINE).max(2);
    let step = labels.len().div_ceil(room).max(1);
    let last = labels.len().saturating_sub(1);
    let keeps = |index: usize| {
        index == last || (index.is_multiple_of(step) && (step == 1 || index + step / 2 < last))
    };
    labels.into_iter().enumerate().filter(|(index, _)| keeps(*index)).map(|(_, label)| label).collect()
}
