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

/// Sets labels in a column to the right of a drawing, each with a straight leader to what it names; no leader
/// crosses another.
pub(crate) fn fan(draft: &mut Draft, mut labels: Vec<Label>, x: f64, (low, high): (f64, f64)) {
    labels.sort_by(|a, b| a.tip.y.total_cmp(&b.tip.y));
    let wanted: Vec<f64> = labels.iter().map(|label| label.tip.y).collect();
    let places = spread(&wanted, &vec![LINE; wanted.len()], low, high);
    let ends: Vec<Point> = places.iter().map(|y| Point::new(x - 5.0, *y)).collect();
    uncross(&mut labels, &ends);
    for (label, end) in labels.into_iter().zip(ends) {
        draft.line(end, label.tip, Pen::Fine);
        draft.words(Point::new(x, end.y + text::half_rise(Picture::LETTERING)), Anchor::Start, label.words);
    }
}

/// Swaps labels whose leaders cross until none do. Each swap makes the leaders shorter in all, so it ends.
fn uncross(labels: &mut [Label], ends: &[Point]) {
    let mut swapped = true;
    while std::mem::take(&mut swapped) {
        for (upper, above) in ends.iter().enumerate() {
            for (lower, below) in ends.iter().enumerate().skip(upper + 1) {
                let (Some(first), Some(second)) = (labels.get(upper), labels.get(lower)) else { continue };
                if cross((first.tip, *above), (second.tip, *below)) {
                    labels.swap(upper, lower);
                    swapped = true;
                }
            }
        }
    }
}

/// Whether two stretches have a point in common that is an end of neither.
fn cross((a, b): (Point, Point), (c, d): (Point, Point)) -> bool {
    let side = |from: Point, to: Point, point: Point| {
        (to.x - from.x) * (point.y - from.y) - (to.y - from.y) * (point.x - from.x)
    };
    let parts = |from, to, one, other| side(from, to, one) * side(from, to, other) < -1e-6;
    parts(a, b, c, d) && parts(c, d, a, b)
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn leaders_of_a_fan_never_cross() {
        // Tips at one height, in a row, and one behind another: what straight leaders cross most easily.
        let tips =
            [(0.0, 10.0), (90.0, 10.0), (40.0, 12.0), (10.0, 60.0), (80.0, 30.0), (5.0, 0.0), (95.0, 61.0)];
        let mut labels: Vec<Label> =
            tips.iter().map(|(x, y)| Label { tip: Point::new(*x, *y), words: String::new() }).collect();
        let ends: Vec<Point> = (0..7).map(|place| Point::new(120.0, f64::from(place) * 10.0)).collect();
        uncross(&mut labels, &ends);
        for (index, (one, end)) in labels.iter().zip(&ends).enumerate() {
            for (other, others) in labels.iter().zip(&ends).skip(index + 1) {
                assert!(!cross((one.tip, *end), (other.tip, *others)), "{one:?} {other:?}");
            }
        }
    }
}
