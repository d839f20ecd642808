//! Fixing lines up a slope: fixed ones first, the rest spread evenly between them.

use super::{Line, LineKind};
use crate::units::Length;

/// What the lines of a slope must keep to. All heights are whole millimetres above the eaves edge.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LineRule {
    /// The line at the eaves.
    pub first: Length,
    /// The line under the ridge piece, the top edge or the wall flashing: its lowest place, where it stands unless
    /// a joint needs the room.
    pub top: Length,
    /// The highest place of that line.
    pub top_highest: Length,
    /// No gap from line to line may be wider.
    pub max_gap: Length,
    /// No two lines can be closer: the timber's width.
    pub min_gap: Length,
}

impl LineRule {
    /// The rule with the top line as high above the last joint as it must be.
    pub(super) fn above(&self, last_joint: Option<&Length>) -> Self {
        let clear = last_joint.map_or(self.top, |joint| *joint + self.min_gap);
        Self { top: self.top.max(clear).min(self.top_highest), ..*self }
    }

    /// How many gaps it takes to get from one line to another.
    pub fn gaps(&self, from: Length, to: Length) -> i64 {
        Length::from_mm(to.round_mm() - from.round_mm()).div_ceil(self.whole_gap()).max(1)
    }

    /// The widest gap in whole millimetres.
    pub(super) fn whole_gap(&self) -> Length {
        Length::from_mm(self.max_gap.floor_mm().max(1))
    }
}

/// Sets out every line: the eaves, one under each joint, the top, and evenly spread ones between.
///
/// Gaps between two fixed lines differ by one millimetre at most, so that their sum is exact.
pub fn space_lines(rule: &LineRule, joints: &[Length]) -> Vec<Line> {
    let mut lines = vec![Line { y: rule.first, kind: LineKind::Eaves }];
    let mut below = rule.first;
    let fixed = joints.iter().map(|y| (*y, LineKind::EndLap)).chain([(rule.top, LineKind::Top)]);
    for (y, kind) in fixed {
        let gaps = rule.gaps(below, y);
        let rise = y.round_mm() - below.round_mm();
        for gap in 1..gaps {
            let between = Length::from_mm(below.round_mm() + (rise * gap).div_euclid(gaps));
            lines.push(Line { y: between, kind: LineKind::Intermediate });
        }
        lines.push(Line { y, kind });
        below = y;
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mm(mm: i64) -> Length {
        Length::from_mm(mm)
    }

    #[test]
    fn spreads_what_is_left_evenly_and_never_over_the_limit() {
        let rule = LineRule {
            first: mm(25),
            top: mm(1_825),
            top_highest: mm(1_900),
            max_gap: mm(610),
            min_gap: mm(50),
        };
        let lines: Vec<i64> = space_lines(&rule, &[]).iter().map(|line| line.y.round_mm()).collect();
        assert_eq!(lines, [25, 625, 1_225, 1_825]);
        let rule = LineRule { top: mm(1_856), ..rule };
        let lines: Vec<i64> = space_lines(&rule, &[mm(700)]).iter().map(|line| line.y.round_mm()).collect();
        assert_eq!(lines, [25, 362, 700, 1_278, 1_856]);
    }
}
