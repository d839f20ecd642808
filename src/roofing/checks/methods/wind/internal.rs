//! What presses from inside a building: EN 1991-1-4 7.2.9.

/// The two values of cpi, each to be tried, where nobody can say how open the walls are: 7.2.9(6) NOTE 2.
pub const fn openings_unknown() -> [f64; 2] {
    [0.2, -0.3]
}

/// cpi behind a dominant opening: 0.75 cpe where it is twice the area of all others, 0.90 cpe from three times on, in
/// between in proportion. 7.2.9(5), (7.2) and (7.3); from memory. A smaller one is not dominant: `None`.
///
/// `ratio` is the opening's area by that of the openings in all other faces, `cpe` the pressure at the opening.
pub fn dominant_opening(ratio: f64, cpe: f64) -> Option<f64> {
    (ratio >= 2.0).then(|| cpe * (0.75 + 0.15 * (ratio.min(3.0) - 2.0)))
}

/// cpe,10 of the wall that the wind meets, zone D: 0.7 where h/d ≤ 0.25, 0.8 from 1 on. EN 1991-1-4 Table 7.1.
///
/// It presses on the underside of an overhang beside that wall, too (7.2.1(3)): there it stands for cpi.
pub fn windward_wall(height_by_depth: f64) -> f64 {
    0.7 + 0.1 * ((height_by_depth - 0.25) / 0.75).clamp(0.0, 1.0)
}
