//! The fewest cuts for a number of sheets: branch and bound over how many sheets are cut to each pattern.

use std::cmp::Reverse;

use super::Meter;
use super::kinds::Kind;
use super::patterns::Stacks;
use super::simplex::{Optimum, Programme, SPARE, Variable};

/// How many sheets are cut to which counts of pieces.
pub(super) type Cutting = Vec<(Vec<i64>, i64)>;

/// The search over one set of kinds.
pub(super) struct Search {
    variables: Vec<Variable>,
    demand: Vec<i64>,
    /// No cutting needs fewer sheets, as far as is known.
    pub(super) sheets_at_least: i64,
}

/// A part of the search: for some patterns the number of sheets is settled.
struct Node {
    demand: Vec<i64>,
    sheets: i64,
    cuts: i64,
    settled: Vec<(usize, i64)>,
}

/// The best cutting so far.
#[derive(Clone, Debug)]
pub(super) struct Best {
    /// Only fewer cuts than this are of interest.
    pub(super) cuts: i64,
    pub(super) cutting: Option<Cutting>,
}

impl Search {
    pub(super) fn new(kinds: &[Kind], stacks: &Stacks, meter: &mut Meter) -> Option<Self> {
        let size = kinds.len();
        let unit = |at: usize, sign: i64| (0..size).map(move |i| if i == at { sign } else { 0 });
        let variable = |sheets: i64, counts: Vec<i64>, cost: i64| Variable {
            entries: std::iter::once(sheets).chain(counts).collect(),
            cost,
            closed: false,
        };
        let mut variables = vec![variable(1, vec![0; size], 0)];
        variables.extend(
            stacks.alone.iter().enumerate().map(|(at, cuts)| variable(1, unit(at, 1).collect(), *cuts)),
        );
        variables.extend((0..size).map(|at| variable(0, unit(at, -1).collect(), 0)));
        let several = stacks.patterns.iter().filter(|pattern| pattern.counts.iter().sum::<i64>() > 1);
        variables.extend(several.map(|pattern| variable(1, pattern.counts.clone(), pattern.cuts)));
        let demand: Vec<i64> = kinds.iter().map(|kind| kind.demand).collect();
        let mut programme = Programme::new(&variables, &demand, 0);
        let sheets_at_least = -programme.spare_most(meter)?;
        Some(Self { variables, demand, sheets_at_least })
    }

    /// Improves on `best` with no more than so many sheets until nothing better exists; `None` where the meter
    /// ran out before that was certain.
    pub(super) fn improve(&mut self, sheets: i64, best: &mut Best, meter: &mut Meter) -> Option<()> {
        let root = Node { demand: self.demand.clone(), sheets, cuts: 0, settled: Vec::new() };
        self.branch(&root, best, meter).map(|_| ())
    }

    /// Says whether the branch was worth looking into.
    fn branch(&mut self, node: &Node, best: &mut Best, meter: &mut Meter) -> Option<bool> {
        let optimum = self.bound(node, meter)?;
        if node.cuts.saturating_add(optimum.bound) >= best.cuts {
            return Some(false);
        }
        // One piece alone on a sheet is never in fractions where it is needed, so only patterns of several are
        // branched on; those with most pieces say most about the rest.
        let first_pattern = 2 * self.demand.len() + 1;
        let split = optimum
            .used
            .iter()
            .filter(|(variable, _, fraction)| *fraction && *variable >= first_pattern)
            .max_by_key(|(variable, _, _)| (self.pieces(*variable), Reverse(*variable)));
        let Some(&(variable, whole, _)) = split else {
            best.cuts = node.cuts + optimum.bound;
            best.cutting = Some(self.cutting(&optimum, &node.settled));
            return Some(true);
        };
        self.close(variable, true);
        let upwards = self.fan(node, variable, whole + 1..=node.sheets, best, meter);
        let both = upwards.and_then(|()| self.fan(node, variable, (0..=whole).rev(), best, meter));
        self.close(variable, false);
        both.map(|()| true)
    }

    /// Tries numbers of sheets for one pattern. The bound is convex in that number, so going away from the
    /// optimum it only gets worse: the first number that is not worth looking into ends it.
    fn fan(
        &mut self,
        node: &Node,
        variable: usize,
        numbers: impl Iterator<Item = i64>,
        best: &mut Best,
        meter: &mut Meter,
    ) -> Option<()> {
        let Some(Variable { entries, cost, .. }) = self.variables.get(variable).cloned() else {
            return Some(());
        };
        for number in numbers {
            let given = entries.iter().skip(1).map(|gives| gives * number);
            let child = Node {
                demand: node.demand.iter().zip(given).map(|(want, given)| (want - given).max(0)).collect(),
                sheets: node.sheets - number,
                cuts: node.cuts + cost * number,
                settled: node.settled.iter().copied().chain([(variable, number)]).collect(),
            };
            if !self.branch(&child, best, meter)? {
                break;
            }
        }
        Some(())
    }

    /// The relaxed optimum of a node, out of reach where it wants more sheets than are left.
    fn bound(&self, node: &Node, meter: &mut Meter) -> Option<Optimum> {
        let mut programme = Programme::new(&self.variables, &node.demand, node.sheets);
        if programme.spare_most(meter)? < 0 {
            return Some(Optimum { bound: i64::MAX, used: Vec::new() });
        }
        programme.cut_least(meter)
    }

    fn close(&mut self, variable: usize, closed: bool) {
        if let Some(variable) = self.variables.get_mut(variable) {
            variable.closed = closed;
        }
    }

    fn pieces(&self, variable: usize) -> i64 {
        self.variables.get(variable).map_or(0, |v| v.entries.iter().skip(1).sum())
    }

    fn cutting(&self, optimum: &Optimum, settled: &[(usize, i64)]) -> Cutting {
        let lp = optimum.used.iter().map(|(variable, whole, _)| (*variable, *whole));
        settled
            .iter()
            .copied()
            .chain(lp)
            .filter(|(variable, sheets)| *sheets > 0 && *variable != SPARE && self.pieces(*variable) > 0)
            .filter_map(|(variable, sheets)| {
                let entries = &self.variables.get(variable)?.entries;
                Some((entries.iter().skip(1).copied().collect(), sheets))
            })
            .collect()
    }
}
