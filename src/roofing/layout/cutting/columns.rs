//! Columns across the slope, from side laps in whole corrugations.

use super::{CannotLay, Stock};
use crate::roofing::layout::Column;
use crate::units::Length;

/// The columns of a slope.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Columns {
    /// How many.
    pub count: i64,
    /// Corrugations across the whole slope; the far verge may overhang by less than one.
    pub corrugations: i64,
    /// How many corrugations the last column needs.
    pub last_corrugations: i64,
    /// Of a whole sheet.
    pub sheet_corrugations: i64,
    /// From the start of one column to the start of the next.
    pub step: i64,
    /// Crown to crown.
    pub pitch: Length,
}

impl Columns {
    /// How many columns are as wide as a sheet.
    pub fn full(&self) -> i64 {
        if self.last_corrugations == self.sheet_corrugations { self.count } else { self.count - 1 }
    }

    /// How many strips of the last column's width come out of one sheet side by side.
    pub fn lanes(&self) -> i64 {
        self.sheet_corrugations.checked_div(self.last_corrugations).unwrap_or(1).max(1)
    }

    /// Each column, measured from the sheets' left edge.
    pub fn each(&self) -> Vec<Column> {
        (0..self.count)
            .zip(1..)
            .map(|(index, number)| {
                let first = index * self.step;
                let wide = if number == self.number_of_last() {
                    self.last_corrugations
                } else {
                    self.sheet_corrugations
                };
                Column {
                    number,
                    first_corrugation: first,
                    corrugations: wide,
                    from: self.pitch * first,
                    to: self.pitch * (first + wide),
                }
            })
            .collect()
    }

    fn number_of_last(&self) -> usize {
        usize::try_from(self.count).unwrap_or(usize::MAX)
    }
}

/// Divides a width into columns: the first has no lap, each further one laps the one before.
///
/// # Units
/// `side_lap` in whole corrugations.
pub fn columns(width: Length, stock: &Stock, side_lap: i64) -> Result<Columns, CannotLay> {
    let sheet = stock.corrugations;
    let step = sheet - side_lap;
    if width <= Length::ZERO
        || stock.pitch <= Length::ZERO
        || stock.length <= Length::ZERO
        || step <= 0
        || side_lap < 0
    {
        return Err(CannotLay::NoSuchSheet);
    }
    let corrugations = width.div_ceil(stock.pitch);
    let further = (corrugations - sheet).max(0);
    let count = 1 + (further + step - 1).div_euclid(step);
    Ok(Columns {
        count,
        corrugations,
        last_corrugations: corrugations - (count - 1) * step,
        sheet_corrugations: sheet,
        step,
        pitch: stock.pitch,
    })
}
