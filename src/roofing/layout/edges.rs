//! Pieces along an edge, each lapping the next by its own formed lap.

use crate::units::{Angle, Length};

/// How far beyond the end of a slope's rafters, up the slope, the fold of the piece over its top stands.
///
/// Timber and sheets lift the piece by `crown`, square to the slope. Over a single slope it falls plumb past the end of
/// the rafters, or stands against a wall there; over two slopes it folds where the planes of their crowns meet.
/// `other` is the pitch and crown of the other slope. Less than nothing where the other slope's crowns are so much lower
/// that the planes meet before this slope ends.
pub fn fold_beyond(pitch: Angle, crown: Length, other: Option<(Angle, Length)>) -> Length {
    let Some((other_pitch, other_crown)) = other else { return crown.scale(pitch.tan()) };
    let turn = Angle::from_microdeg(pitch.microdeg() + other_pitch.microdeg());
    if turn.sin() <= 0.0 {
        return Length::ZERO;
    }
    (other_crown - crown.scale(turn.cos())).scale(1.0 / turn.sin())
}

/// How many pieces it takes to run along an edge; none where there is no edge.
pub fn pieces_along(run: Length, piece: Length, lap: Length) -> i64 {
    if run <= Length::ZERO {
        return 0;
    }
    let further = (run - piece).max(Length::ZERO);
    1 + further.div_ceil(piece - lap)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn laps_every_piece_but_the_first() {
        let mm = Length::from_mm;
        assert_eq!(pieces_along(mm(0), mm(1_000), mm(125)), 0);
        assert_eq!(pieces_along(mm(1_000), mm(1_000), mm(125)), 1);
        assert_eq!(pieces_along(mm(1_001), mm(1_000), mm(125)), 2);
        assert_eq!(pieces_along(mm(2_750), mm(1_000), mm(125)), 3);
        assert_eq!(pieces_along(mm(2_751), mm(1_000), mm(125)), 4);
    }

    #[test]
    fn a_fold_stands_where_both_planes_of_crowns_meet() {
        let (mm, deg) = (Length::from_mm, Angle::from_deg);
        // Alike on both sides: as far beyond as on one slope alone.
        for pitch in [10, 30, 45, 60] {
            let both = fold_beyond(deg(pitch), mm(70), Some((deg(pitch), mm(70))));
            assert!((both - fold_beyond(deg(pitch), mm(70), None)).abs() <= Length::from_um(2), "{pitch}");
        }
        assert_eq!(fold_beyond(deg(45), mm(70), None), mm(70));
        // One upright against one level plane: as high as the other one's crowns.
        assert_eq!(fold_beyond(deg(45), mm(70), Some((deg(45), mm(30)))), mm(30));
        // The half sum of both pitches, where the crowns are as high: 68 x tan(17.5 degrees) = 21.44.
        let unequal = fold_beyond(deg(25), mm(68), Some((deg(10), mm(68))));
        assert_eq!(unequal.round_mm(), 21);
    }
}
