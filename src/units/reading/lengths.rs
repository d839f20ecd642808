//! Which length is meant: the unit that is written, the person's usual one, or the only believable one.

use super::exact::Exact;
use super::figures::{Figure, Remark, Said, Size, length_of};
use super::terms::{
    Term, is_bare, is_length, lend, length_of_term, summed, times, without_strays, written_unit,
};
use super::tokens::{Form, Numeral};
use super::words::{Link, Unit};
use super::{Amount, Context, Reading, Verdict, Why, WrittenUnit};
use crate::units::{Doubt, Length, Quantity, UsualUnit};

/// The verdict on what was said, for a length.
pub(super) fn verdict(said: &Said, context: &Context<'_>) -> Verdict {
    let figures: Vec<Figure> = said.figures.iter().copied().filter(|figure| is_length(figure.size)).collect();
    let is_slope = figures.iter().skip(1).any(|figure| matches!(figure.link, Some(Link::In | Link::Over)));
    if figures.is_empty() || is_slope {
        return Verdict::Reject { why: Why::WantsLength };
    }
    if said.has(Remark::Stuck) {
        return Verdict::Reject { why: Why::UnitUnknown };
    }
    let terms = summed(&lend(&without_strays(&figures), said.lent));
    let band = Band::of(context);
    match terms.as_slice() {
        [] => Verdict::Reject { why: Why::NoNumber },
        [only] => band.single(*only),
        several => band.several(several, said),
    }
}

/// A bare number above this is no length in inches.
const MOST_INCHES: u32 = 144;

/// What is believable, and in which units it is tried.
struct Band {
    low: Length,
    high: Length,
    /// The band of what is given along with it: a width with a length.
    partner: (Length, Length),
    /// Units tried for a bare number.
    tried: &'static [Unit],
    /// The unit the person means.
    usual: Option<Unit>,
}

impl Band {
    fn of(context: &Context<'_>) -> Self {
        let quantity = context.quantity;
        let (low, high) = quantity.length_band().unwrap_or_default();
        let partner = partner(quantity).length_band().unwrap_or((low, high));
        Self {
            low,
            high,
            partner,
            tried: tried(quantity),
            usual: context.usual.map(|usual| meant(usual, quantity)),
        }
    }

    fn believes(&self, length: Length) -> bool {
        self.low <= length && length <= self.high
    }

    fn reject(&self) -> Verdict {
        let (low, high) = (Amount::Length(self.low), Amount::Length(self.high));
        Verdict::Reject { why: Why::OutOfBand { low, high } }
    }

    /// The verdict on one figure.
    fn single(&self, term: Term) -> Verdict {
        match term.size {
            Size::Length(length, unit) if self.believes(length) => {
                Verdict::Value(reading(length, unit, false))
            }
            Size::Length(..) | Size::Foreign => self.reject(),
            Size::Either(tenths, hundredths) => self.either(tenths, hundredths),
            Size::Written(numeral, unit) => self.written(numeral, unit),
            Size::Bare(numeral) => match term.lent.and_then(|unit| self.in_written(numeral, unit)) {
                Some(reading) => Verdict::Value(reading),
                None => self.beside(term.lent).bare(numeral),
            },
        }
    }

    /// Beside a metric figure, a bare number is not in feet.
    fn beside(&self, lent: Option<Unit>) -> Self {
        let metric = matches!(lent, Some(Unit::Mm | Unit::Cm | Unit::M));
        let tried: &[Unit] = if metric { &[Unit::Mm, Unit::Cm, Unit::M] } else { self.tried };
        Self { tried, ..*self }
    }

    fn either(&self, tenths: Length, hundredths: Length) -> Verdict {
        let readings = [tenths, hundredths]
            .into_iter()
            .filter(|length| self.believes(*length))
            .map(|length| reading(length, WrittenUnit::M, false))
            .collect();
        self.one_or_many(readings, Why::TenthsOrHundredths)
    }

    /// One reading is the value, several are ambiguous, none is refused.
    fn one_or_many(&self, readings: Vec<Reading>, why: Why) -> Verdict {
        match readings.as_slice() {
            [] => self.reject(),
            [only] => Verdict::Value(*only),
            _ => Verdict::Ambiguous { why, readings },
        }
    }

    /// A unit that is written always wins.
    fn written(&self, numeral: Numeral, unit: Unit) -> Verdict {
        if let Some(reading) = self.in_written(numeral, unit) {
            return Verdict::Value(reading);
        }
        let slips = self.slips_of_unit(numeral, unit);
        if slips.is_empty() {
            self.reject()
        } else {
            Verdict::Ambiguous { why: Why::SlippedUnit, readings: slips }
        }
    }

    fn in_written(&self, numeral: Numeral, unit: Unit) -> Option<Reading> {
        // Thousandths are written of metres only: `1,500 mm` is never one and a half.
        let other = numeral.other.filter(|_| unit == Unit::M || numeral.form == Form::Decimal);
        [Some(numeral.value), other]
            .into_iter()
            .flatten()
            .filter_map(|value| length_of(value, unit))
            .find(|length| self.believes(*length))
            .map(|length| reading(length, unit.into(), false))
    }

    /// The same figure in the unit that was likely meant, where the one written is far out: `240 m`.
    fn slips_of_unit(&self, numeral: Numeral, unit: Unit) -> Vec<Reading> {
        let Some(length) = length_of(numeral.value, unit) else { return Vec::new() };
        let far = length > self.high * 5 || length * 5 < self.low;
        let thousands_of_cm = unit == Unit::Cm && length > Length::from_mm(10_000);
        if !(far || thousands_of_cm) || !numeral.value.looks_measured() {
            return Vec::new();
        }
        let others: &[Unit] = match unit {
            Unit::Mm | Unit::Cm | Unit::M => &[Unit::Mm, Unit::Cm, Unit::M],
            Unit::Yd | Unit::Ft | Unit::In => &[Unit::Ft, Unit::In],
            Unit::Deg | Unit::Percent => &[],
        };
        others
            .iter()
            .filter_map(|other| Some((length_of(numeral.value, *other)?, *other)))
            .filter(|(length, _)| self.believes(*length))
            .map(|(length, other)| reading(length, other.into(), false))
            .collect()
    }

    /// A bare number: the usual unit if believable, else the only other that is.
    fn bare(&self, numeral: Numeral) -> Verdict {
        if let Some(reading) = self.usual.and_then(|unit| self.in_assumed(numeral, unit)) {
            return Verdict::Value(reading);
        }
        // Who measures in feet writes whole feet in inches, too: 96.
        let dozens = numeral.value.as_whole_up_to(MOST_INCHES).is_some_and(|inches| inches % 12 == 0);
        let inches = self.in_assumed(numeral, Unit::In).filter(|_| dozens && self.usual == Some(Unit::Ft));
        if let Some(reading) = inches {
            return Verdict::Value(reading);
        }
        for value in values(numeral) {
            let tried = self.tried.iter().filter_map(|unit| self.in_assumed(value, *unit));
            let readings = distinct(tried.chain(self.decimal_inches(value)).collect());
            if !readings.is_empty() {
                return self.one_or_many(readings, Why::SeveralUnits);
            }
        }
        let slips = self.slips_of_point(numeral);
        if slips.is_empty() {
            return self.reject();
        }
        Verdict::Ambiguous { why: Why::SlippedDecimalPoint, readings: slips }
    }

    /// `.75` and `19.2`, from somebody who measures in inches.
    fn decimal_inches(&self, numeral: Numeral) -> Option<Reading> {
        let inches = self.usual == Some(Unit::In) && numeral.form == Form::Decimal;
        let length = length_of(numeral.value, Unit::In).filter(|length| inches && self.believes(*length))?;
        Some(reading(length, WrittenUnit::In, true))
    }

    /// A bare decimal is never feet or inches where nobody measures in them.
    fn in_assumed(&self, numeral: Numeral, unit: Unit) -> Option<Reading> {
        let imperial = matches!(unit, Unit::Ft | Unit::In | Unit::Yd);
        values(numeral)
            .filter(|value| !imperial || value.form != Form::Decimal)
            .filter_map(|value| length_of(value.value, unit))
            .find(|length| self.believes(*length))
            .map(|length| reading(length, unit.into(), true))
    }

    /// Ten times as much, or a tenth, in the person's unit or in metric ones.
    fn slips_of_point(&self, numeral: Numeral) -> Vec<Reading> {
        if matches!(numeral.form, Form::Fraction | Form::Slashed) {
            return Vec::new();
        }
        let ten = Exact::whole(10);
        let tenth = Exact::fraction(Exact::ONE, ten).unwrap_or(Exact::ONE);
        let metric = [Unit::Mm, Unit::Cm, Unit::M];
        let usual = self.usual;
        let units = usual.into_iter().chain(metric.into_iter().filter(|unit| self.tried.contains(unit)));
        let readings = units
            .flat_map(|unit| [tenth, ten].map(|factor| (numeral.value.times(factor), unit)))
            .filter_map(|(value, unit)| Some((length_of(value, unit)?, unit)))
            .filter(|(length, _)| self.believes(*length) && *length > Length::ZERO)
            .map(|(length, unit)| reading(length, unit.into(), true));
        distinct(readings.collect())
    }

    /// The verdict on several figures.
    fn several(&self, terms: &[Term], said: &Said) -> Verdict {
        if let Some(reading) = self.said_twice(terms) {
            return reading;
        }
        let range = said.has(Remark::Between)
            || terms.iter().any(|term| matches!(term.link, Some(Link::To | Link::Or | Link::Slash)));
        if range {
            return self.range(terms);
        }
        if let Some(reading) = self.feet_then_inches(terms).or_else(|| self.product(terms)) {
            return Verdict::Value(reading);
        }
        let unlinked =
            terms.iter().skip(1).any(|term| term.link.is_none() && !term.touches && is_bare(term.size));
        let together = self.together(terms);
        if let (Verdict::Values(readings), true) = (&together, unlinked) {
            return Verdict::Ambiguous { why: Why::SeveralFigures, readings: readings.clone() };
        }
        together
    }

    /// "2.4 m, that's 8 foot": one length in two units.
    fn said_twice(&self, terms: &[Term]) -> Option<Verdict> {
        let [one, other] = terms else { return None };
        let apart = |term: &Term| !is_bare(term.size);
        let by = matches!(other.link, Some(Link::By | Link::To | Link::And));
        if by || !apart(one) || !apart(other) || written_unit(*one) == written_unit(*other) {
            return None;
        }
        let (a, b) = (length_of_term(*one)?, length_of_term(*other)?);
        ((a - b).abs() * 50 <= a).then(|| self.single(*one))
    }

    /// Both ends of a range, or both of two.
    fn range(&self, terms: &[Term]) -> Verdict {
        let mut found = readings_of(self.together(terms));
        if found.is_empty() {
            found = terms.iter().flat_map(|term| readings_of(self.single(*term))).collect();
        }
        let all_believed = found.len() == terms.len() && found.iter().all(|reading| self.holds(reading));
        let believed = distinct(found).into_iter().filter(|reading| self.holds(reading));
        let readings: Vec<Reading> = believed.collect();
        match readings.as_slice() {
            [] => self.reject(),
            // "1.2 + 1.2 = 2.4" says one thing twice.
            [only] if all_believed => Verdict::Value(*only),
            _ => Verdict::Ambiguous { why: Why::Range, readings },
        }
    }

    fn holds(&self, reading: &Reading) -> bool {
        matches!(reading.amount, Amount::Length(length) if self.believes(length))
    }

    /// Each figure in turn; bare ones share a unit if one fits them all.
    fn together(&self, terms: &[Term]) -> Verdict {
        let wide = Self { low: self.low.min(self.partner.0), high: self.high.max(self.partner.1), ..*self };
        let in_unit = |unit: Unit| -> Option<Vec<Reading>> {
            terms
                .iter()
                .map(|term| {
                    let Size::Bare(numeral) = term.size else { return None };
                    term.lent.is_none().then(|| wide.in_assumed(numeral, unit)).flatten()
                })
                .collect()
        };
        if let Some(readings) = self.usual.and_then(in_unit) {
            return Verdict::Values(readings);
        }
        let mut shared: Vec<Vec<Reading>> = self.tried.iter().filter_map(|unit| in_unit(*unit)).collect();
        // `1,200 by 2,400` is the same in millimetres and in metres.
        let sizes = |readings: &[Reading]| readings.iter().map(|one| one.amount).collect::<Vec<_>>();
        shared.dedup_by_key(|readings| sizes(readings));
        match shared.as_slice() {
            [] => wide.one_by_one(terms),
            [only] => Verdict::Values(only.clone()),
            several => Verdict::Ambiguous {
                why: Why::SeveralUnits,
                readings: several.iter().filter_map(|readings| readings.first().copied()).collect(),
            },
        }
    }

    fn one_by_one(&self, terms: &[Term]) -> Verdict {
        let mut readings = Vec::with_capacity(terms.len());
        for term in terms {
            match self.single(*term) {
                Verdict::Value(reading) => readings.push(reading),
                unclear @ (Verdict::Values(_) | Verdict::Ambiguous { .. } | Verdict::Reject { .. }) => {
                    return unclear;
                }
            }
        }
        Verdict::Values(readings)
    }

    /// `8 6` and "eight six", from somebody who measures in feet.
    fn feet_then_inches(&self, terms: &[Term]) -> Option<Reading> {
        let [Term { size: Size::Bare(feet), .. }, inches] = terms else { return None };
        let Size::Bare(part) = inches.size else { return None };
        let joined = self.usual == Some(Unit::Ft) && inches.link.is_none() && inches.touches;
        part.value.as_whole_up_to(11).filter(|_| joined)?;
        let length = length_of(feet.value, Unit::Ft)? + length_of(part.value, Unit::In)?;
        self.believes(length).then(|| reading(length, WrittenUnit::FtIn, true))
    }

    /// "3 x 610": so many of something, where two lengths would not be believable.
    fn product(&self, terms: &[Term]) -> Option<Reading> {
        let [count, each] = terms else { return None };
        let Size::Bare(numeral) = count.size else { return None };
        numeral.value.as_whole_up_to(6).filter(|_| each.link == Some(Link::By))?;
        let two_at_once = match count.lent {
            Some(unit) => self.in_written(numeral, unit).is_some(),
            None => matches!(self.together(terms), Verdict::Values(_) | Verdict::Ambiguous { .. }),
        };
        if two_at_once {
            return None;
        }
        match self.single(times(numeral.value, *each)?) {
            Verdict::Value(reading) => Some(reading),
            Verdict::Values(_) | Verdict::Ambiguous { .. } | Verdict::Reject { .. } => None,
        }
    }
}

fn readings_of(verdict: Verdict) -> Vec<Reading> {
    match verdict {
        Verdict::Value(reading) => vec![reading],
        Verdict::Values(readings) | Verdict::Ambiguous { readings, .. } => readings,
        Verdict::Reject { .. } => Vec::new(),
    }
}

fn reading(length: Length, unit: WrittenUnit, assumed: bool) -> Reading {
    Reading { amount: Amount::Length(length), doubt: Doubt::Stated, unit, assumed }
}

/// What a number may stand for, likeliest first: `2,400` may be a decimal, and `2.400` thousands.
fn values(numeral: Numeral) -> impl Iterator<Item = Numeral> {
    let other = numeral.other.map(|value| Numeral::plain(value, Form::Decimal));
    [Some(Numeral { other: None, ..numeral }), other].into_iter().flatten()
}

/// Without those of a size that came before: `2,400` is 2 400 mm and 2.4 m, and they are one.
fn distinct(readings: Vec<Reading>) -> Vec<Reading> {
    let mut kept: Vec<Reading> = Vec::with_capacity(readings.len());
    for reading in readings {
        if kept.iter().all(|earlier| earlier.amount != reading.amount) {
            kept.push(reading);
        }
    }
    kept
}

/// The units a bare number is tried in.
const fn tried(quantity: Quantity) -> &'static [Unit] {
    match quantity {
        Quantity::Length
        | Quantity::Width
        | Quantity::SlopeLength
        | Quantity::Height
        | Quantity::SheetLength
        | Quantity::SheetWidth => &[Unit::Mm, Unit::Cm, Unit::M, Unit::Ft],
        Quantity::DeckThickness | Quantity::Overhang | Quantity::CorrugationHeight | Quantity::TimberSize => {
            &[Unit::Mm, Unit::Cm, Unit::In]
        }
        Quantity::Spacing | Quantity::Rise => &[Unit::Mm, Unit::Cm, Unit::M, Unit::Ft, Unit::In],
        Quantity::Pitch => &[],
    }
}

/// What a person of those units means by a bare number.
const fn meant(usual: UsualUnit, quantity: Quantity) -> Unit {
    let small = match quantity {
        Quantity::DeckThickness
        | Quantity::Spacing
        | Quantity::Overhang
        | Quantity::CorrugationHeight
        | Quantity::TimberSize => true,
        Quantity::Length
        | Quantity::Width
        | Quantity::SlopeLength
        | Quantity::Height
        | Quantity::Rise
        | Quantity::SheetLength
        | Quantity::SheetWidth
        | Quantity::Pitch => false,
    };
    match (usual, small) {
        (UsualUnit::Mm, _) | (UsualUnit::M, true) => Unit::Mm,
        (UsualUnit::M, false) => Unit::M,
        (UsualUnit::FtIn, true) => Unit::In,
        (UsualUnit::FtIn, false) => Unit::Ft,
    }
}

/// What is commonly given along with a quantity.
const fn partner(quantity: Quantity) -> Quantity {
    match quantity {
        Quantity::Length => Quantity::Width,
        Quantity::Width => Quantity::Length,
        Quantity::SheetLength => Quantity::SheetWidth,
        Quantity::SheetWidth => Quantity::SheetLength,
        Quantity::SlopeLength
        | Quantity::Height
        | Quantity::Rise
        | Quantity::DeckThickness
        | Quantity::Spacing
        | Quantity::Overhang
        | Quantity::CorrugationHeight
        | Quantity::TimberSize
        | Quantity::Pitch => quantity,
    }
}
