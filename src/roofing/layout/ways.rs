//! Ways to divide a slope into courses: where the end laps could go, given that purlins may go anywhere.

use super::lines::LineRule;
use super::{Course, Line, space_lines};
use crate::units::Length;

/// A slope to be divided into courses.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rise {
    /// From the eaves edge to where the sheets end, a whole number of millimetres.
    pub sheets_to: Length,
    /// How far sheets pass the eaves edge.
    pub eaves_overhang: Length,
    /// How far a course covers the one below; an even number of millimetres, so that it centres on its line.
    pub end_lap: Length,
    /// Of a bought sheet.
    pub sheet_length: Length,
    /// The shortest piece worth laying.
    pub min_piece: Length,
    /// What the lines must keep to.
    pub lines: LineRule,
}

/// One way: its joints, its lines and its courses.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Way {
    /// Heights of the end laps' centres.
    pub joints: Vec<Length>,
    /// Every line.
    pub lines: Vec<Line>,
    /// Every course.
    pub courses: Vec<Course>,
}

/// How many courses more than the fewest are tried where the fewest cannot be laid.
const MORE_COURSES: i64 = 4;

impl Rise {
    /// The fewest courses that reach the top.
    pub fn fewest_courses(&self) -> Option<i64> {
        let gain = self.sheet_length - self.end_lap;
        let beyond_one_lap = self.sheets_to + self.eaves_overhang - self.end_lap;
        (gain > Length::ZERO).then(|| beyond_one_lap.div_ceil(gain).max(1))
    }

    /// Every way worth weighing, with the fewest courses for which there is one. Whole sheets at the eaves come
    /// first; the others save lines or make courses even.
    pub fn ways(&self) -> Vec<Way> {
        let Some(fewest) = self.fewest_courses() else { return Vec::new() };
        for courses in fewest..=fewest + MORE_COURSES {
            let mut ways: Vec<Way> = Vec::new();
            for joints in self.joint_sets(courses) {
                if self.can_lay(&joints) && !ways.iter().any(|way| way.joints == joints) {
                    ways.push(self.way(joints));
                }
            }
            if !ways.is_empty() {
                return ways;
            }
        }
        Vec::new()
    }

    fn joint_sets(&self, courses: i64) -> Vec<Vec<Length>> {
        let mut sets = vec![
            self.whole_at_the_eaves(courses, Length::from_um(1)),
            self.whole_at_the_eaves(courses, self.lines.whole_gap()),
            self.whole_at_the_top(courses),
            self.even(courses),
        ];
        let gaps = self.lines.gaps(self.lines.first, self.lines.top);
        for more in 0..=2 {
            sets.extend(self.on_the_grid(courses, gaps + more));
        }
        sets
    }

    /// The highest joint a course can have whose lower edge is at `from`.
    fn highest_joint(&self, from: Length) -> Length {
        Length::from_mm((from + self.sheet_length - self.end_lap / 2).floor_mm())
    }

    /// The highest joint that leaves a piece worth laying at the top, on a line of its own.
    fn last_joint(&self) -> Length {
        let worth_laying = self.sheets_to - self.min_piece + self.end_lap / 2;
        let under_the_sheet = self.sheets_to - self.end_lap / 2;
        worth_laying.min(under_the_sheet).min(self.lines.top_highest - self.lines.min_gap)
    }

    /// Courses as long as sheets allow from the eaves up, each joint on a multiple of `step` above the last line.
    fn whole_at_the_eaves(&self, courses: i64, step: Length) -> Vec<Length> {
        let mut joints = Vec::new();
        let (mut from, mut below) = (-self.eaves_overhang, self.lines.first);
        for _ in 1..courses {
            let reach = self.highest_joint(from) - below;
            let y = (below + step * reach.div_floor(step)).min(self.last_joint());
            joints.push(Length::from_mm(y.floor_mm()));
            from = y - self.end_lap / 2;
            below = y;
        }
        joints
    }

    /// Courses as long as sheets allow from the top down, the short one at the eaves.
    fn whole_at_the_top(&self, courses: i64) -> Vec<Length> {
        let mut joints = Vec::new();
        let mut to = self.sheets_to;
        for _ in 1..courses {
            let y = Length::from_mm((to - self.sheet_length + self.end_lap / 2).ceil_mm());
            joints.push(y);
            to = y + self.end_lap / 2;
        }
        joints.reverse();
        joints
    }

    /// Courses as even as whole millimetres allow.
    fn even(&self, courses: i64) -> Vec<Length> {
        let total = self.sheets_to + self.eaves_overhang + self.end_lap * (courses - 1);
        let step = total / courses - self.end_lap;
        let joint = |number| step * number - self.eaves_overhang + self.end_lap / 2;
        (1..courses).map(|number| Length::from_mm(joint(number).round_mm())).collect()
    }

    /// Joints on lines that are spread evenly from the eaves to the top, as high as sheets allow.
    fn on_the_grid(&self, courses: i64, gaps: i64) -> Option<Vec<Length>> {
        let (first, rise) =
            (self.lines.first.round_mm(), self.lines.top.round_mm() - self.lines.first.round_mm());
        let grid = (1..gaps).map(|gap| Length::from_mm(first + (rise * gap).div_euclid(gaps)));
        let grid: Vec<Length> = grid.collect();
        let mut joints = Vec::new();
        let mut from = -self.eaves_overhang;
        for _ in 1..courses {
            let highest = self.highest_joint(from).min(self.last_joint());
            let y = *grid.iter().rev().find(|y| **y <= highest)?;
            joints.push(y);
            from = y - self.end_lap / 2;
        }
        Some(joints)
    }

    /// Whether every course is a piece that can be had and is worth laying, and every joint has a line to itself.
    fn can_lay(&self, joints: &[Length]) -> bool {
        let top = self.lines.above(joints.last()).top;
        let fixed: Vec<Length> =
            [self.lines.first].into_iter().chain(joints.iter().copied()).chain([top]).collect();
        let apart = fixed.windows(2).all(|pair| match pair {
            [below, above] => *above - *below >= self.lines.min_gap,
            _ => true,
        });
        // Where laps meet, three sheets would lie on each other.
        let two_deep = joints.windows(2).all(|pair| match pair {
            [below, above] => *above - *below >= self.end_lap,
            _ => true,
        });
        let below_the_top = joints.last().is_none_or(|last| *last + self.end_lap / 2 <= self.sheets_to);
        let pieces = |course: &Course| {
            // A roof shorter than the shortest piece is still covered by one.
            let worth_laying = course.length() >= self.min_piece || joints.is_empty();
            worth_laying && course.length() <= self.sheet_length
        };
        apart && two_deep && below_the_top && self.courses(joints).iter().all(pieces)
    }

    fn courses(&self, joints: &[Length]) -> Vec<Course> {
        let half = self.end_lap / 2;
        let starts = [-self.eaves_overhang].into_iter().chain(joints.iter().map(|y| *y - half));
        let ends = joints.iter().map(|y| (*y + half, true)).chain([(self.sheets_to, false)]);
        starts.zip(ends).map(|(from, (to, top_is_lapped))| Course { from, to, top_is_lapped }).collect()
    }

    fn way(&self, joints: Vec<Length>) -> Way {
        Way {
            lines: space_lines(&self.lines.above(joints.last()), &joints),
            courses: self.courses(&joints),
            joints,
        }
    }
}
