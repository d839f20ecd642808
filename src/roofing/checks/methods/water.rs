//! Rain off a roof: EN 12056-3:2000, and Approved Document H3 (England) where it gives the same.

use crate::units::physical::Flow;
use crate::units::{Angle, Area, Length};

/// Half the tangent of the rain's slant: rain driven by wind falls two down for one across. EN 12056-3 4.3.4, Table 3.
const DRIVEN: f64 = 0.5;

/// The area that a slope catches of wind-driven rain: L (B + H/2). EN 12056-3 4.3.4.
///
/// `length` along the eaves, `width` on plan, `rise` from eaves to top.
pub fn caught(length: Length, width: Length, rise: Length) -> Area {
    length.by(width + rise.scale(DRIVEN))
}

/// The area that a slope catches of rain that falls square to it: L T, T up the slope. EN 12056-3 4.3.3 (from memory).
pub fn caught_square(length: Length, width: Length, rise: Length) -> Area {
    length.by(width.hypot(rise))
}

/// The same of wind-driven rain as a multiple of the plan: 1 + 0.5 tan α. Approved Document H3 Table 1 (1.29 at 30°, 1.50 at 45°). Above
/// 70° half the elevation counts and nothing else: [`WALL_SHARE`].
pub fn caught_by_plan(pitch: Angle) -> f64 {
    1.0 + DRIVEN * pitch.tan()
}

/// The share of a wall, or of a slope above 70°, that counts: half its elevation. EN 12056-3 4.3.4, Approved Document
/// H3 Table 1.
pub const WALL_SHARE: f64 = 0.5;

/// What a wall above a roof sends down on it: half its area. EN 12056-3 4.3.4 (from memory).
pub fn from_wall(length: Length, height: Length) -> Area {
    length.by(height.scale(WALL_SHARE))
}

/// What runs off: Q = r A C, C 1.0. EN 12056-3 (1). `rain` is what falls in an hour, by depth.
pub fn run_off(rain: Length, area: Area) -> Flow {
    // A millimetre an hour on a square metre is a litre an hour.
    Flow::from_l_per_s(rain.mm() * area.square_metres() / 3_600.0)
}

/// The cross-section of a half-round gutter of this width.
pub fn half_round(width: Length) -> Area {
    let radius = width.scale(0.5);
    radius.by(radius.scale(std::f64::consts::FRAC_PI_2))
}

/// What a half-round eaves gutter carries, short and level: 0.9 × 2.78·10⁻⁵ AE^1.25 l/s, AE in mm². EN 12056-3 5.1.3,
/// (3).
pub fn half_round_capacity(section: Area) -> Flow {
    Flow::from_l_per_s(0.9 * 2.78e-5 * libm::pow(section.square_metres() * 1e6, 1.25))
}

/// What a rectangular eaves gutter carries, short and level: 0.9 × 3.48·10⁻⁵ AE^1.25 Fd Fs l/s. EN 12056-3 5.1.4, (4).
///
/// `depth_factor` is Fd and `shape_factor` Fs, 1.0 each for one as deep as wide (Figs. 5 and 6).
pub fn rectangular_capacity(section: Area, depth_factor: f64, shape_factor: f64) -> Flow {
    let standard = 0.9 * 3.48e-5 * libm::pow(section.square_metres() * 1e6, 1.25);
    Flow::from_l_per_s(standard * depth_factor * shape_factor)
}

/// Table 6: length by depth, and what is left of the capacity of a level gutter. The rows from 100 to 175 were checked
/// against worked values, the others are from memory.
const LONG: [(f64, f64); 19] = [
    (50.0, 1.00),
    (75.0, 0.97),
    (100.0, 0.93),
    (125.0, 0.90),
    (150.0, 0.86),
    (175.0, 0.83),
    (200.0, 0.80),
    (225.0, 0.78),
    (250.0, 0.77),
    (275.0, 0.75),
    (300.0, 0.73),
    (325.0, 0.72),
    (350.0, 0.70),
    (375.0, 0.68),
    (400.0, 0.67),
    (425.0, 0.65),
    (450.0, 0.63),
    (475.0, 0.62),
    (500.0, 0.60),
];

/// FL of a long gutter, straight between the rows of Table 6. EN 12056-3 5.1.6. Falls to 3 mm in a metre count as
/// level; steeper ones carry more, which is not counted here.
///
/// `drained` is the way to the nearest outlet, `depth` the gutter's depth W. From 500 depths on 0.60, the table's last.
pub fn long_factor(drained: Length, depth: Length) -> f64 {
    if depth <= Length::ZERO {
        return 0.0;
    }
    let by_depth = drained.mm() / depth.mm();
    let (mut before, mut value) = (0.0, 1.0);
    for (ratio, factor) in LONG {
        if by_depth <= ratio {
            return value + (factor - value) * (by_depth - before) / (ratio - before);
        }
        (before, value) = (ratio, factor);
    }
    value
}

/// What each bend of more than 10° leaves of a gutter's capacity: 0.85. EN 12056-3 5.1.7.
pub const BEND: f64 = 0.85;

/// What a level half-round gutter carries over this length, with so many bends: 0.9 QN FL 0.85^bends.
///
/// A half-round gutter is half as deep as wide, but the table goes by its depth W; AD H and worked examples put half
/// the width there.
pub fn half_round_over(width: Length, drained: Length, bends: i32) -> Flow {
    let level = half_round_capacity(half_round(width));
    level * (long_factor(drained, width / 2) * libm::pow(BEND, f64::from(bends.max(0))))
}

/// Sizes of a level half-round gutter with an outlet at one end: Approved Document H3 Table 2. 100 mm was read, the
/// others are from memory; all agree with [`half_round_capacity`] at 75 mm an hour within 2 %.
pub const HALF_ROUND: [HalfRound; 5] = [
    HalfRound { width: Length::from_mm(75), most: 18, outlet: Length::from_mm(50) },
    HalfRound { width: Length::from_mm(100), most: 37, outlet: Length::from_mm(63) },
    HalfRound { width: Length::from_mm(115), most: 53, outlet: Length::from_mm(63) },
    HalfRound { width: Length::from_mm(125), most: 65, outlet: Length::from_mm(75) },
    HalfRound { width: Length::from_mm(150), most: 103, outlet: Length::from_mm(89) },
];

/// One row of [`HALF_ROUND`].
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct HalfRound {
    /// Across its top.
    pub width: Length,
    /// Largest effective roof area, in whole m², at 75 mm an hour.
    pub most: i64,
    /// Its outlet, sharp edged.
    pub outlet: Length,
}

/// The row of [`HALF_ROUND`] for a gutter this wide.
pub fn half_round_row(width: Length) -> Option<&'static HalfRound> {
    HALF_ROUND.iter().find(|row| row.width == width)
}

/// The largest effective area that a level half-round gutter drains, its run to the outlet short (50 depths).
pub fn half_round_area(width: Length, rain: Length) -> f64 {
    let litre = run_off(rain, Length::from_mm(1_000).by(Length::from_mm(1_000)));
    if litre > Flow::ZERO { half_round_capacity(half_round(width)) / litre } else { f64::INFINITY }
}

/// What an outlet lets through at this head above it: a weir D h^1.5/7500 to half its diameter, an opening
/// D² h^0.5/15000 above. EN 12056-3 5.3.3, Table 7 (7), (8); D and h in mm. A strainer halves it (5.3.5).
pub fn outlet(diameter: Length, head: Length, strainer: bool) -> Flow {
    let (d, h) = (diameter.mm().max(0.0), head.mm().max(0.0));
    let free = if h <= d / 2.0 { d * libm::pow(h, 1.5) / 7_500.0 } else { d * d * libm::sqrt(h) / 15_000.0 };
    Flow::from_l_per_s(if strainer { free / 2.0 } else { free })
}

/// What a round downpipe carries: 2.5·10⁻⁴ kb^−0.167 di^2.667 f^1.667, kb 0.25 mm, filled to a third. EN 12056-3 6.1.2,
/// (9) and Table 8. `inside` is its inner diameter.
pub fn downpipe(inside: Length, filling: f64) -> Flow {
    let rough = libm::pow(0.25, -0.167);
    let wide = libm::pow(inside.mm().max(0.0), 2.667);
    Flow::from_l_per_s(2.5e-4 * rough * wide * libm::pow(filling.clamp(0.0, 1.0), 1.667))
}

/// How full a downpipe may run: EN 12056-3 6.1.2.
pub const FILLING: f64 = 0.33;
