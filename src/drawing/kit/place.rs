//! Where the roof comes to lie on the paper, and at what scale.

use super::picture::{Picture, Point};
use crate::units::Length;

/// Room kept free around what is drawn to scale.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Margins {
    /// To the left.
    pub(crate) left: f64,
    /// Above.
    pub(crate) top: f64,
    /// To the right.
    pub(crate) right: f64,
    /// Below.
    pub(crate) bottom: f64,
}

/// A true scale from the roof to the paper: `x` to the right, `y` up.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Frame {
    /// Where the roof's zero lies.
    origin: Point,
    /// Paper units to a millimetre.
    scale: f64,
}

impl Frame {
    /// The scale at which `scale` paper units are a millimetre, with the roof's zero at `origin`.
    pub(crate) const fn new(origin: Point, scale: f64) -> Self {
        Self { origin, scale }
    }

    /// How long a length is on the paper.
    pub(crate) fn size(&self, length: Length) -> f64 {
        length.mm() * self.scale
    }

    /// Where a length along the eaves lies on the paper.
    pub(crate) fn x(&self, x: Length) -> f64 {
        self.origin.x + self.size(x)
    }

    /// Where a length up the slope lies on the paper.
    pub(crate) fn y(&self, y: Length) -> f64 {
        self.origin.y - self.size(y)
    }

    /// Where a point of the slope lies on the paper.
    pub(crate) fn at(&self, x: Length, y: Length) -> Point {
        Point::new(self.x(x), self.y(y))
    }
}

/// A rectangle of the roof, as long as it is wide or not.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Extent {
    /// Its left edge.
    pub(crate) left: Length,
    /// Its lower edge.
    pub(crate) low: Length,
    /// Its right edge.
    pub(crate) right: Length,
    /// Its upper edge.
    pub(crate) high: Length,
}

/// A sheet of paper with the roof on it.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Paper {
    /// To the right.
    pub(crate) width: f64,
    /// Down, without what [`Margins::bottom`] does not hold.
    pub(crate) height: f64,
    /// The scale.
    pub(crate) frame: Frame,
}

/// The most the long side measures: beyond twice the short side a phone shows a ribbon.
const LONG_SIDE: f64 = 2.0 * Picture::SHORT_SIDE;

/// The longer side of the roof is never smaller than this: absurdly long words widen the paper instead.
const LEAST_DRAWN: f64 = 40.0;

/// The least width: a title and a legend must stand on it.
const LEAST_WIDTH: f64 = 560.0;

/// The paper on which `extent` is largest, lying or standing, and the roof's place in the middle of it.
///
/// `below` says how much the legend takes on paper of a given width.
pub(crate) fn lay_out(extent: &Extent, margins: Margins, below: impl Fn(f64) -> f64) -> Paper {
    let lying = fit(extent, margins, (LONG_SIDE, Picture::SHORT_SIDE), &below);
    let standing = fit(extent, margins, (Picture::SHORT_SIDE, LONG_SIDE), &below);
    if lying.frame.scale >= standing.frame.scale { lying } else { standing }
}

fn fit(extent: &Extent, margins: Margins, most: (f64, f64), below: &impl Fn(f64) -> f64) -> Paper {
    let (across, up) = ((extent.right - extent.left).mm().max(1.0), (extent.high - extent.low).mm().max(1.0));
    let (beside, above) = (margins.left + margins.right, margins.top + margins.bottom);
    // The legend takes fewer rows on wide paper; the width follows from the scale and the scale from the
    // legend, so it is found in two steps, the second never wider than the first.
    let least = LEAST_DRAWN / across.max(up);
    let mut legend = below(most.0);
    let mut scale = 0.0;
    let mut width = most.0;
    for _ in 0..2 {
        scale = ((most.0 - beside) / across).min((most.1 - above - legend) / up).max(least);
        width = (scale * across + beside).max(LEAST_WIDTH);
        legend = below(width);
    }
    scale = scale.min((most.1 - above - legend) / up).max(least);
    let height = scale * up + above;
    let spare = width - beside - scale * across;
    let origin = Point::new(
        margins.left + spare / 2.0 - extent.left.mm() * scale,
        margins.top + extent.high.mm() * scale,
    );
    Paper { width, height, frame: Frame { origin, scale } }
}
