//! The linear programme that bounds a cutting: how few sheets, then how few cuts, if sheets could be shared out
//! in fractions.
//!
//! A revised simplex in whole numbers: the basis inverse is kept times its determinant, so every number is a
//! minor of the pattern table, exact and small. The first row counts sheets (used + spare = allowed); the
//! others say that each kind of piece is cut often enough (used - surplus = wanted).

use super::Meter;

/// A variable of the programme.
#[derive(Clone, Debug)]
pub(super) struct Variable {
    /// In the row of sheets, then in the row of each kind.
    pub(super) entries: Vec<i64>,
    /// Cuts.
    pub(super) cost: i64,
    /// Not to be used (its number of sheets is settled already).
    pub(super) closed: bool,
}

/// A row of the basis inverse, its right-hand side and the variable it solves, all times the determinant.
#[derive(Clone, Debug)]
struct Row {
    inverse: Vec<i128>,
    value: i128,
    variable: usize,
}

impl Row {
    fn dot(&self, entries: &[i64]) -> i128 {
        self.inverse.iter().zip(entries).map(|(a, b)| if *b == 0 { 0 } else { a * i128::from(*b) }).sum()
    }

    /// This row less so much of the pivot row that its entry in the entering column is gone.
    fn eliminate(&mut self, entry: i128, pivot: &Row, pivot_entry: i128, determinant: i128) {
        let step = |own: i128, of_pivot: i128| (own * pivot_entry - of_pivot * entry) / determinant;
        for (own, of_pivot) in self.inverse.iter_mut().zip(&pivot.inverse) {
            *own = step(*own, *of_pivot);
        }
        self.value = step(self.value, pivot.value);
    }
}

/// The programme at one corner.
pub(super) struct Programme<'a> {
    variables: &'a [Variable],
    sheets: Row,
    kinds: Vec<Row>,
    determinant: i128,
}

/// The variables in use at an optimum.
pub(super) struct Optimum {
    /// The objective, rounded up to a whole number.
    pub(super) bound: i64,
    /// Each variable above zero: index, whole part, and whether it has a fraction.
    pub(super) used: Vec<(usize, i64, bool)>,
}

/// The index of the variable that is "sheets not used"; those for one piece of each kind alone follow it.
pub(super) const SPARE: usize = 0;

/// After so many pivots the slower rule that cannot cycle takes over.
const PATIENCE: usize = 200;

impl<'a> Programme<'a> {
    /// Starts with every piece alone on a sheet, however many sheets that takes.
    pub(super) fn new(variables: &'a [Variable], demand: &[i64], sheets: i64) -> Self {
        let size = demand.len() + 1;
        let wanted: i64 = demand.iter().sum();
        let unit = |at: usize| (0..size).map(|i| i128::from(i == at)).collect::<Vec<_>>();
        let sheets = Row {
            inverse: (0..size).map(|i| if i == 0 { 1 } else { -1 }).collect(),
            value: i128::from(sheets - wanted),
            variable: SPARE,
        };
        let kinds = demand
            .iter()
            .zip(1..)
            .map(|(count, at)| Row { inverse: unit(at), value: i128::from(*count), variable: SPARE + at })
            .collect();
        Self { variables, sheets, kinds, determinant: 1 }
    }

    /// Frees as many sheets as can be; says how many are spare at most (below zero: too few were allowed).
    pub(super) fn spare_most(&mut self, meter: &mut Meter) -> Option<i64> {
        for pivots in 0.. {
            let gain = self.variables.iter().map(|v| if v.closed { 0 } else { -self.sheets.dot(&v.entries) });
            let Some(entering) = entering(gain, pivots) else { break };
            self.pivot(entering, false, None, meter)?;
        }
        Some(to_i64(self.sheets.value.div_euclid(self.determinant)))
    }

    /// Then cuts as little as can be. Call only where sheets are spare, or just enough.
    pub(super) fn cut_least(&mut self, meter: &mut Meter) -> Option<Optimum> {
        let mut prices = Row { inverse: vec![0; self.kinds.len() + 1], value: 0, variable: SPARE };
        for row in self.kinds.iter().chain([&self.sheets]) {
            let cost = i128::from(self.variables.get(row.variable).map_or(0, |v| v.cost));
            for (price, entry) in prices.inverse.iter_mut().zip(&row.inverse) {
                *price += cost * entry;
            }
            prices.value += cost * row.value;
        }
        for pivots in 0.. {
            let determinant = self.determinant;
            let gain = self.variables.iter().map(|v| {
                if v.closed { 0 } else { prices.dot(&v.entries) - i128::from(v.cost) * determinant }
            });
            let Some(entering) = entering(gain, pivots) else { break };
            self.pivot(entering, true, Some(&mut prices), meter)?;
        }
        let used = self.kinds.iter().chain([&self.sheets]).filter(|row| row.value > 0).map(|row| {
            let whole = row.value.div_euclid(self.determinant);
            (row.variable, to_i64(whole), row.value.rem_euclid(self.determinant) != 0)
        });
        Some(Optimum { bound: to_i64(-(-prices.value).div_euclid(self.determinant)), used: used.collect() })
    }

    /// Brings a variable in; the one that reaches zero first goes out.
    fn pivot(
        &mut self,
        entering: usize,
        hold_sheets: bool,
        prices: Option<&mut Row>,
        meter: &mut Meter,
    ) -> Option<()> {
        meter.spend(self.variables.len() * 2 + (self.kinds.len() + 1) * (self.kinds.len() + 1))?;
        let variable = self.variables.get(entering)?;
        let held = hold_sheets.then_some(&self.sheets);
        let leaving = self
            .kinds
            .iter()
            .chain(held)
            .map(|row| (row.dot(&variable.entries), row))
            .filter(|(entry, _)| *entry > 0)
            .min_by(|(a, left), (b, right)| {
                (left.value * b).cmp(&(right.value * a)).then(left.variable.cmp(&right.variable))
            });
        let (pivot_entry, pivot) = leaving.map(|(entry, row)| (entry, row.clone()))?;
        let determinant = self.determinant;
        if let Some(prices) = prices {
            let entry = prices.dot(&variable.entries) - i128::from(variable.cost) * determinant;
            prices.eliminate(entry, &pivot, pivot_entry, determinant);
        }
        for row in self.kinds.iter_mut().chain([&mut self.sheets]) {
            if row.variable == pivot.variable {
                row.variable = entering;
            } else {
                let entry = row.dot(&variable.entries);
                row.eliminate(entry, &pivot, pivot_entry, determinant);
            }
        }
        self.determinant = pivot_entry;
        Some(())
    }
}

/// The variable with the greatest gain; when that has gone on for long, the first with any.
fn entering(gains: impl Iterator<Item = i128>, pivots: usize) -> Option<usize> {
    let mut gaining = gains.enumerate().filter(|(_, gain)| *gain > 0);
    if pivots > PATIENCE {
        return gaining.next().map(|(index, _)| index);
    }
    gaining.max_by(|(i, a), (j, b)| a.cmp(b).then(j.cmp(i))).map(|(index, _)| index)
}

fn to_i64(value: i128) -> i64 {
    i64::try_from(value).unwrap_or(if value < 0 { i64::MIN } else { i64::MAX })
}
