//! Beams over one and more spans, by the theorem of three moments: elastic, one stiffness throughout, supports that do
//! not give, shear deformation left out (it adds 2 to 5 % to the deflection of timber). EN 1995-1-1 5.1.

use crate::units::Length;
use crate::units::physical::{Force, LineLoad, Moment, Stiffness};

/// A load at a place of a span.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PointLoad {
    /// From the span's left end.
    pub at: Length,
    /// Down, where positive.
    pub force: Force,
}

/// One span with what lies on it.
#[derive(Clone, Debug, PartialEq)]
pub struct Span {
    /// From support to support.
    pub length: Length,
    /// Along all of it; down where positive.
    pub line: LineLoad,
    /// At places of it.
    pub points: Vec<PointLoad>,
}

/// What a beam does under its load.
#[derive(Clone, Debug, PartialEq)]
pub struct Analysis {
    /// The most that bends it hollow, in a span; not negative.
    pub sagging: Moment,
    /// The most that bends it round, over a support or under uplift; not negative.
    pub hogging: Moment,
    /// The hardest shear, of either sign.
    pub shear: Force,
    /// What each support bears, from the left; negative where it must hold down.
    pub reactions: Vec<Force>,
    /// The largest deflection, of either sign.
    pub deflection: Length,
}

impl Analysis {
    /// The larger moment of either sign.
    pub const fn moment(&self) -> Moment {
        self.sagging.max(self.hogging)
    }

    /// The hardest push on a support.
    pub fn reaction(&self) -> Force {
        self.reactions.iter().copied().fold(Force::ZERO, Force::max)
    }
}

/// So many spans alike.
pub fn equal_spans(count: usize, length: Length, line: LineLoad) -> Vec<Span> {
    vec![Span { length, line, points: Vec::new() }; count]
}

/// One span in metres and newtons, with the moments at its ends.
struct Bent<'a> {
    long: f64,
    line: f64,
    points: &'a [PointLoad],
    /// Sagging positive.
    left: f64,
    right: f64,
}

impl Bent<'_> {
    fn loads(&self) -> impl Iterator<Item = (f64, f64)> {
        self.points.iter().map(|point| (point.at.mm() / 1_000.0, point.force.n()))
    }

    /// The shear just right of the left support.
    fn shear_left(&self) -> f64 {
        let points: f64 = self.loads().map(|(at, force)| force * (self.long - at) / self.long).sum();
        self.line * self.long / 2.0 + points + (self.right - self.left) / self.long
    }

    /// What the span sends down its right support.
    fn shear_right(&self) -> f64 {
        let points: f64 = self.loads().map(|(_, force)| force).sum();
        self.line * self.long + points - self.shear_left()
    }

    fn moment(&self, x: f64) -> f64 {
        let points: f64 = self.loads().filter(|(at, _)| *at < x).map(|(at, force)| force * (x - at)).sum();
        self.left + self.shear_left() * x - self.line * x * x / 2.0 - points
    }

    /// The largest and least moment within: at its ends, under each load, and where the shear between them is nothing.
    fn moments(&self) -> (f64, f64) {
        let mut marks: Vec<f64> = self.loads().map(|(at, _)| at).collect();
        marks.extend([0.0, self.long]);
        marks.sort_by(f64::total_cmp);
        let mut found = (self.left.max(self.right), self.left.min(self.right));
        for mark in &marks {
            let passed: f64 = self.loads().filter(|(at, _)| at <= mark).map(|(_, force)| force).sum();
            let still = if self.line.abs() > 0.0 { (self.shear_left() - passed) / self.line } else { -1.0 };
            for x in [*mark, still] {
                if (0.0..=self.long).contains(&x) {
                    let moment = self.moment(x);
                    found = (found.0.max(moment), found.1.min(moment));
                }
            }
        }
        found
    }

    /// Deflection times E I, down positive.
    fn sag(&self, x: f64) -> f64 {
        let (l, rest) = (self.long, self.long - x);
        let line = self.line * x * (l * l * l - 2.0 * l * x * x + x * x * x) / 24.0;
        let points: f64 = self
            .loads()
            .map(|(a, force)| {
                let b = l - a;
                if x <= a {
                    force * b * x * (l * l - b * b - x * x) / (6.0 * l)
                } else {
                    force * a * rest * (l * l - a * a - rest * rest) / (6.0 * l)
                }
            })
            .sum();
        let ends =
            self.left * x * rest * (l + rest) / (6.0 * l) + self.right * x * rest * (l + x) / (6.0 * l);
        line + points + ends
    }

    /// The largest deflection times E I, without its sign: the best of even steps, refined by the parabola through it
    /// and its neighbours.
    fn deepest(&self) -> f64 {
        const STEPS: i32 = 24;
        let step = self.long / f64::from(STEPS);
        let mut best = (0.0_f64, 0.0_f64);
        for at in 1..STEPS {
            let x = step * f64::from(at);
            let sag = self.sag(x);
            if sag.abs() > best.1.abs() {
                best = (x, sag);
            }
        }
        let (before, after) = (self.sag(best.0 - step), self.sag(best.0 + step));
        let bend = before - 2.0 * best.1 + after;
        if bend.abs() <= f64::EPSILON || best.0 <= 0.0 {
            return best.1.abs();
        }
        (best.1 - (after - before) * (after - before) / (8.0 * bend)).abs()
    }
}

/// What the loads of a span turn its ends by, times E I: (left, right).
fn turned(span: &Span) -> (f64, f64) {
    let long = span.length.mm() / 1_000.0;
    let line = span.line.n_per_m() * long * long * long / 24.0;
    let (mut left, mut right) = (line, line);
    for point in &span.points {
        let at = (point.at.mm() / 1_000.0).clamp(0.0, long);
        let rest = long - at;
        let force = point.force.n();
        left += force * at * rest * (long + rest) / (6.0 * long);
        right += force * at * rest * (long + at) / (6.0 * long);
    }
    (left, right)
}

/// The moments over the supports, sagging positive, both ends free: the three-moment equations, solved from the left.
fn over_supports(spans: &[Span]) -> Vec<f64> {
    let long = |span: &Span| span.length.mm() / 1_000.0;
    // Each row: what multiplies the moment before, this one and the next, and the right side; before is eliminated.
    let mut rows: Vec<(f64, f64, f64)> = Vec::with_capacity(spans.len());
    for pair in spans.windows(2) {
        let [one, next] = pair else { continue };
        let mut middle = 2.0 * (long(one) + long(next));
        let mut side = -6.0 * (turned(one).1 + turned(next).0);
        if let Some((above, over, value)) = rows.last() {
            let share = long(one) / above;
            middle -= share * over;
            side -= share * value;
        }
        rows.push((middle, long(next), side));
    }
    let mut moments = vec![0.0];
    let mut next = 0.0;
    for (middle, over, side) in rows.iter().rev() {
        next = (side - over * next) / middle;
        moments.push(next);
    }
    moments.push(0.0);
    moments.reverse();
    moments
}

/// The deflection in the middle of one span under a line load: 5 w L⁴ / 384 E I.
pub fn sag_of_one_span(line: LineLoad, span: Length, stiffness: Stiffness) -> Length {
    let long = span.mm() / 1e3;
    let sag = 5.0 * line.n_per_m() * long * long * long * long * 1e3 / (384.0 * stiffness.nm2());
    Length::from_mm_f64(sag).unwrap_or_default()
}

/// Moments, shear, reactions and deflection of a beam over its spans, its ends free to turn.
///
/// `None` without spans, or where one has no length or a load that stands outside it, or nothing stiff.
pub fn analyse(spans: &[Span], stiffness: Stiffness) -> Option<Analysis> {
    worked_out(spans, stiffness, true)
}

/// The same, its deflection left at nothing where it is not asked for: it is the dear part.
pub(super) fn worked_out(spans: &[Span], stiffness: Stiffness, bends: bool) -> Option<Analysis> {
    let sound = |span: &Span| {
        let within = |point: &PointLoad| point.at >= Length::ZERO && point.at <= span.length;
        span.length > Length::ZERO && span.points.iter().all(within)
    };
    if spans.is_empty() || !spans.iter().all(sound) || stiffness <= Stiffness::ZERO {
        return None;
    }
    let moments = over_supports(spans);
    let mut reactions = Vec::with_capacity(spans.len() + 1);
    let (mut sagging, mut hogging, mut shear, mut deepest) = (0.0_f64, 0.0_f64, 0.0_f64, 0.0_f64);
    let mut carried = 0.0;
    for (span, ends) in spans.iter().zip(moments.windows(2)) {
        let [left, right] = ends else { continue };
        let bent = Bent {
            long: span.length.mm() / 1_000.0,
            line: span.line.n_per_m(),
            points: &span.points,
            left: *left,
            right: *right,
        };
        let (most, least) = bent.moments();
        sagging = sagging.max(most);
        hogging = hogging.max(-least);
        let (from, to) = (bent.shear_left(), bent.shear_right());
        shear = shear.max(from.abs()).max(to.abs());
        if bends {
            deepest = deepest.max(bent.deepest());
        }
        reactions.push(Force::from_n(carried + from));
        carried = to;
    }
    reactions.push(Force::from_n(carried));
    Some(Analysis {
        sagging: Moment::from_nm(sagging),
        hogging: Moment::from_nm(hogging),
        shear: Force::from_n(shear),
        reactions,
        deflection: Length::from_mm_f64(1_000.0 * deepest / stiffness.nm2())?,
    })
}
