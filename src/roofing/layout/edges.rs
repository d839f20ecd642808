//! Pieces along an edge, each lapping the next by its own formed lap.

use crate::units::Length;

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
}
