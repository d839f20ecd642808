//! Which lines the course joints sit on.

use super::Meter;
use super::{Laps, Slope, Stock};
use crate::roofing::layout::Course;
use crate::units::Length;

/// Whether every course is a piece that can be had and is worth laying.
pub(super) fn can_lay(courses: &[Course], stock: &Stock) -> bool {
    !courses.is_empty()
        && courses.iter().all(|course| course.length() >= stock.min_piece && course.length() <= stock.length)
}

/// Ways to lay a slope in courses.
pub(super) struct Ways {
    /// Higher joints first.
    pub(super) ways: Vec<Vec<Course>>,
    /// What the pieces of one column add up to at least, where these are not all the ways there are.
    pub(super) incomplete: Option<Length>,
}

/// All sets of courses that reach from the eaves to the top, or as many as the meter allows.
pub(super) fn course_sets(slope: &Slope, stock: &Stock, laps: Laps, meter: Meter) -> Ways {
    let interior = slope.lines.get(1..slope.lines.len().saturating_sub(1)).unwrap_or_default();
    let mut walk = Walk { slope, stock, interior, meter, ways: Vec::new(), complete: true };
    let fewest = walk.fewest().unwrap_or(0);
    let most = match laps {
        Laps::Fewest => fewest,
        Laps::Any => walk.interior.len() + 1,
    };
    if fewest > 0 {
        walk.extend(&mut Vec::new(), most);
    }
    let least = slope.length + slope.end_lap * times(fewest.saturating_sub(1));
    Ways { ways: walk.ways, incomplete: (!walk.complete).then_some(least) }
}

fn times(count: usize) -> i64 {
    i64::try_from(count).unwrap_or(i64::MAX)
}

struct Walk<'a> {
    slope: &'a Slope,
    stock: &'a Stock,
    interior: &'a [Length],
    meter: Meter,
    ways: Vec<Vec<Course>>,
    complete: bool,
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
        for &line in self.interior {
            let here = reached.iter().filter(|(from, _)| self.fits(&self.course(*from, Some(line))));
            if let Some(courses) = here.map(|(_, courses)| courses + 1).min() {
                reached.push((Some(line), courses));
            }
        }
        let last = reached.iter().filter(|(from, _)| self.fits(&self.course(*from, None)));
        last.map(|(_, courses)| courses + 1).min()
    }

    /// Adds every way to go on from the courses laid so far with no more than `left` further ones.
    fn extend(&mut self, laid: &mut Vec<Course>, left: usize) {
        let under = self.slope.end_lap / 2;
        let below = laid.last().map(|course| course.to - under);
        let top = self.course(below, None);
        // What is left must not be longer than so many whole sheets can reach.
        let reach = self.stock.length * times(left) - self.slope.end_lap * times(left.saturating_sub(1));
        if left == 0 || top.length() > reach || !self.go_on(laid.len()) {
            return;
        }
        if self.fits(&top) {
            self.ways.push(laid.iter().copied().chain([top]).collect());
        }
        let higher = self.interior.iter().rev().take_while(|line| below.is_none_or(|from| **line > from));
        for &line in higher {
            let course = self.course(below, Some(line));
            if self.fits(&course) {
                laid.push(course);
                self.extend(laid, left - 1);
                laid.pop();
            }
        }
    }

    /// Whether the meter allows one more look; one way is always found where there is one.
    fn go_on(&mut self, courses: usize) -> bool {
        if !self.ways.is_empty() && self.meter.spend(courses + self.interior.len() / 4).is_none() {
            self.complete = false;
        }
        self.complete
    }
}
