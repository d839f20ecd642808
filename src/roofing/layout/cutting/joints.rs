//! Which lines the course joints sit on.

use super::{Laps, Slope, Stock};
use crate::roofing::layout::Course;
use crate::units::Length;

/// More joint sets than this are not looked at: far beyond any roof with believable purlins.
const MOST_SETS: usize = 50_000;

/// Whether every course is a piece that can be had and is worth laying.
pub(super) fn can_lay(courses: &[Course], stock: &Stock) -> bool {
    !courses.is_empty()
        && courses.iter().all(|course| course.length() >= stock.min_piece && course.length() <= stock.length)
}

/// All sets of courses that reach from the eaves to the top, higher joints first.
pub(super) fn course_sets(slope: &Slope, stock: &Stock, laps: Laps) -> Vec<Vec<Course>> {
    let interior: Vec<Length> =
        slope.lines.iter().skip(1).take(slope.lines.len().saturating_sub(2)).copied().collect();
    let walk = Walk { slope, stock, interior };
    let Some(fewest) = walk.fewest() else { return Vec::new() };
    let most = match laps {
        Laps::Fewest => fewest,
        Laps::Any => walk.interior.len() + 1,
    };
    let mut sets = Vec::new();
    walk.extend(&mut Vec::new(), most, &mut sets);
    sets
}

struct Walk<'a> {
    slope: &'a Slope,
    stock: &'a Stock,
    interior: Vec<Length>,
}

impl Walk<'_> {
    /// The course from the last joint (or the eaves) to the next (or the top).
    fn course(&self, below: Option<Length>, above: Option<Length>) -> Course {
        let under = self.slope.end_lap / 2;
        let over = self.slope.end_lap - under;
        Course {
            from: below.map_or(Length::ZERO, |line| line - over),
            to: above.map_or(self.slope.length, |line| line + under),
            top_is_lapped: above.is_some(),
        }
    }

    fn fits(&self, course: &Course) -> bool {
        can_lay(std::slice::from_ref(course), self.stock)
    }

    /// The fewest courses, by the fewest to each line in turn.
    fn fewest(&self) -> Option<usize> {
        let mut reached: Vec<(Option<Length>, usize)> = vec![(None, 0)];
        for &line in &self.interior {
            let here = reached.iter().filter(|(from, _)| self.fits(&self.course(*from, Some(line))));
            if let Some(courses) = here.map(|(_, courses)| courses + 1).min() {
                reached.push((Some(line), courses));
            }
        }
        let last = reached.iter().filter(|(from, _)| self.fits(&self.course(*from, None)));
        last.map(|(_, courses)| courses + 1).min()
    }

    /// Adds every way to go on from the courses laid so far with no more than `left` further ones.
    fn extend(&self, laid: &mut Vec<Course>, left: usize, sets: &mut Vec<Vec<Course>>) {
        if left == 0 || sets.len() >= MOST_SETS {
            return;
        }
        let under = self.slope.end_lap / 2;
        let below = laid.last().map(|course| course.to - under);
        // What is left must not be longer than so many whole sheets can reach.
        let reach = self.stock.length * i64::try_from(left).unwrap_or(i64::MAX)
            - self.slope.end_lap * i64::try_from(left - 1).unwrap_or(0);
        let start = self.course(below, None).from;
        if self.slope.length - start > reach {
            return;
        }
        let top = self.course(below, None);
        if self.fits(&top) {
            laid.push(top);
            sets.push(laid.clone());
            laid.pop();
        }
        for &line in self.interior.iter().rev().filter(|line| below.is_none_or(|from| **line > from)) {
            let course = self.course(below, Some(line));
            if self.fits(&course) {
                laid.push(course);
                self.extend(laid, left - 1, sets);
                laid.pop();
            }
        }
    }
}
