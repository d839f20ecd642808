//! Which slope is meant: degrees, so many in so many, or per cent.

use super::exact::Exact;
use super::figures::{Figure, Label, Remark, Said, Size, length_of};
use super::tokens::{Form, Numeral};
use super::words::{Link, Unit};
use super::{Amount, Context, Reading, Verdict, Why, WrittenUnit};
use crate::units::num::to_f64;
use crate::units::{Angle, Doubt, Length, Quantity, UsualUnit};

/// A bare whole number up to this may be "in 12".
const TWELVE: u32 = 12;

/// Two slopes no further apart than this, in microdegrees, are one said twice: "1 in 4, about 14 degrees".
const SAID_TWICE: i64 = 600_000;

/// The verdict on what was said, for a slope.
pub(super) fn verdict(said: &Said, context: &Context<'_>) -> Verdict {
    let figures: Vec<Figure> = said.figures.iter().copied().filter(|f| f.size != Size::Foreign).collect();
    if said.has(Remark::Stuck) {
        return Verdict::Reject { why: Why::UnitUnknown };
    }
    if let [one, other] = figures.as_slice()
        && let Some(verdict) = perhaps_ratio(*one, *other)
    {
        return verdict;
    }
    if let ([Figure { size: Size::Bare(numeral), .. }], true) = (figures.as_slice(), said.has(Remark::Pitch))
        && is_share(*numeral)
    {
        return pitch_of_span(numeral.value);
    }
    let (slopes, links) = slopes(&figures, said);
    let lengths = figures.iter().any(|figure| is_length(figure.size));
    match slopes.as_slice() {
        [Slope::Bare(_), ..] if lengths => Verdict::Reject { why: Why::WantsSlope },
        [] => Verdict::Reject { why: Why::WantsSlope },
        [only] => match in_percent_or_degrees(only, said) {
            Some(readings) => Verdict::Ambiguous { why: Why::SeveralUnits, readings },
            None => single(only, said, context),
        },
        [first, .., last] => {
            let range =
                said.has(Remark::Between) || links.iter().any(|link| matches!(link, Link::To | Link::Or));
            let twice = slopes.len() == 2 && first.unit() != last.unit() && near(first, last);
            // "The phone says 14.7 then 15.2": nothing says which of them counts.
            let unlinked = said.doubt != Doubt::Stated
                && figures.iter().skip(1).all(|figure| figure.link.is_none() && !figure.touches);
            if twice {
                return single(first, said, context);
            }
            match several(&slopes, range) {
                Verdict::Values(readings) if unlinked && !all_alike(&readings) => {
                    Verdict::Ambiguous { why: Why::SeveralFigures, readings }
                }
                verdict @ (Verdict::Value(_)
                | Verdict::Values(_)
                | Verdict::Ambiguous { .. }
                | Verdict::Reject { .. }) => verdict,
            }
        }
    }
}

/// Whether all readings are of one amount.
fn all_alike(readings: &[Reading]) -> bool {
    readings.windows(2).all(|pair| matches!(pair, [one, other] if one.amount == other.amount))
}

/// "22 %, or maybe that's degrees".
fn in_percent_or_degrees(slope: &Slope, said: &Said) -> Option<Vec<Reading>> {
    let Slope::Share(share, WrittenUnit::Percent) = *slope else { return None };
    let degrees = Slope::Degrees(share.times(Exact::whole(100)));
    if said.lent != Some(Unit::Deg) {
        return None;
    }
    let readings: Vec<Reading> = [*slope, degrees].into_iter().filter_map(Slope::reading).collect();
    (readings.len() > 1).then_some(readings)
}

/// One slope, as it was given.
#[derive(Clone, Copy)]
enum Slope {
    /// A number and nothing more.
    Bare(Numeral),
    /// Degrees.
    Degrees(Exact),
    /// Rise over run as an exact share, or per cent.
    Share(Exact, WrittenUnit),
    /// Rise and run as lengths.
    Triangle(Length, Length),
}

impl Slope {
    fn angle(self) -> Option<Angle> {
        match self {
            Self::Bare(numeral) => Some(Angle::from_microdeg(numeral.value.of(1_000_000))),
            Self::Degrees(degrees) => Some(Angle::from_microdeg(degrees.of(1_000_000))),
            Self::Share(share, _) => Angle::from_tan(share.to_f64()),
            Self::Triangle(rise, run) => Angle::from_rise_run(rise, run),
        }
    }

    fn unit(self) -> WrittenUnit {
        match self {
            Self::Bare(_) | Self::Degrees(_) => WrittenUnit::Deg,
            Self::Share(_, unit) => unit,
            Self::Triangle(..) => WrittenUnit::Ratio,
        }
    }

    fn reading(self) -> Option<Reading> {
        let angle = self.angle().filter(|angle| believable(*angle))?;
        Some(reading(angle, self.unit(), matches!(self, Self::Bare(_))))
    }
}

fn believable(angle: Angle) -> bool {
    let (low, high) = Quantity::pitch_band();
    low <= angle && angle <= high
}

fn reading(angle: Angle, unit: WrittenUnit, assumed: bool) -> Reading {
    Reading { amount: Amount::Angle(angle), doubt: Doubt::Stated, unit, assumed }
}

fn near(one: &Slope, other: &Slope) -> bool {
    let apart = one.angle().zip(other.angle()).map(|(a, b)| (a - b).microdeg().abs());
    apart.is_some_and(|apart| apart <= SAID_TWICE)
}

fn reject() -> Verdict {
    let (low, high) = Quantity::pitch_band();
    Verdict::Reject { why: Why::OutOfBand { low: Amount::Angle(low), high: Amount::Angle(high) } }
}

/// The slopes among the figures: two with "in", "over" or a colon between make one. With the links between them.
fn slopes(figures: &[Figure], said: &Said) -> (Vec<Slope>, Vec<Link>) {
    let degrees = figures.iter().any(|figure| matches!(figure.size, Size::Written(_, Unit::Deg)))
        || said.lent == Some(Unit::Deg);
    let percent = figures.iter().any(|figure| matches!(figure.size, Size::Written(_, Unit::Percent)));
    let (mut slopes, mut links) = (Vec::new(), Vec::new());
    let mut rest = figures;
    while let [first, after @ ..] = rest {
        if let Some(link) = first.link.filter(|_| !slopes.is_empty()) {
            links.push(link);
        }
        let pair = after.first().and_then(|second| triangle(*first, *second));
        rest = if pair.is_some() { after.get(1..).unwrap_or(&[]) } else { after };
        if let (Some(Slope::Share(..)), Some(second)) = (pair, after.first()) {
            share_the_run(&mut slopes, links.last().copied(), second.size);
        }
        slopes.extend(pair.or_else(|| alone(first.size, degrees, percent)));
    }
    (slopes, links)
}

/// "4 or 5 in 12" is 4 in 12, or 5 in 12.
fn share_the_run(slopes: &mut [Slope], link: Option<Link>, run: Size) {
    let either = matches!(link, Some(Link::Or | Link::To | Link::And));
    if let (Some(last @ Slope::Bare(_)), Size::Bare(run), true) = (slopes.last_mut(), run, either)
        && let Slope::Bare(rise) = *last
        && let Some(share) = Exact::fraction(rise.value, run.value)
    {
        *last = Slope::Share(share, WrittenUnit::Ratio);
    }
}

/// A figure that is a slope by itself.
fn alone(size: Size, degrees: bool, percent: bool) -> Option<Slope> {
    let hundred = Exact::whole(100);
    let share =
        |value| Exact::fraction(value, hundred).map(|share| Slope::Share(share, WrittenUnit::Percent));
    match size {
        Size::Written(numeral, Unit::Deg) => Some(Slope::Degrees(numeral.value)),
        Size::Written(numeral, Unit::Percent) => share(numeral.value),
        Size::Bare(numeral) if degrees => Some(Slope::Degrees(numeral.value)),
        Size::Bare(numeral) if percent => share(numeral.value),
        Size::Bare(numeral) if is_share(numeral) => Some(Slope::Share(numeral.value, WrittenUnit::Ratio)),
        Size::Bare(numeral) => Some(Slope::Bare(numeral)),
        Size::Written(..) | Size::Length(..) | Size::Either(..) | Size::Foreign => None,
    }
}

/// `4/12` and "a third" are shares: nothing is pitched at a third of a degree.
fn is_share(numeral: Numeral) -> bool {
    let below_one = Exact::ONE.minus(numeral.value).is_some();
    numeral.form == Form::Slashed || (numeral.form == Form::Fraction && below_one)
}

fn is_length(size: Size) -> bool {
    match size {
        Size::Written(_, unit) => length_of(Exact::ONE, unit).is_some(),
        Size::Length(..) | Size::Either(..) => true,
        Size::Bare(_) | Size::Foreign => false,
    }
}

/// Rise over run from two figures: "1 in 4", `4:12`, "rise 300 over 900", "900 run, 300 rise".
fn triangle(first: Figure, second: Figure) -> Option<Slope> {
    let linked = matches!(second.link, Some(Link::In | Link::Over | Link::Slash));
    let labelled = first.label.is_some() && second.label.is_some();
    if !linked && !labelled {
        return None;
    }
    let run_first = first.label == Some(Label::Run) || second.label == Some(Label::Rise);
    let (rise, run) = if run_first { (second.size, first.size) } else { (first.size, second.size) };
    if let (Size::Bare(rise), Size::Bare(run)) = (rise, run) {
        // Over nothing it stands upright.
        let share = Exact::fraction(rise.value, run.value).unwrap_or(Exact::whole(u32::MAX));
        return Some(Slope::Share(share, WrittenUnit::Ratio));
    }
    let unit = [rise, run].iter().find_map(|size| match size {
        Size::Written(_, unit) => Some(*unit),
        Size::Bare(_) | Size::Length(..) | Size::Either(..) | Size::Foreign => None,
    });
    let length = |size: Size| match size {
        Size::Bare(numeral) => length_of(numeral.value, unit?),
        Size::Written(numeral, unit) => length_of(numeral.value, unit),
        Size::Length(length, _) => Some(length),
        Size::Either(..) | Size::Foreign => None,
    };
    let (rise, run) = (length(rise)?, length(run)?);
    (run > Length::ZERO).then_some(Slope::Triangle(rise, run))
}

/// "1 to 4", "4 and 12" and `300 x 900` may be a slope, or degrees twice.
fn perhaps_ratio(one: Figure, other: Figure) -> Option<Verdict> {
    let (Size::Bare(rise), Size::Bare(run)) = (one.size, other.size) else { return None };
    let steepest = Exact::whole(60);
    let small = rise.value.as_whole_up_to(TWELVE);
    let too_steep = steepest.minus(rise.value).is_none() && steepest.minus(run.value).is_none();
    let labelled = one.label.is_some() || other.label.is_some();
    if labelled || (small.is_none() && !too_steep) {
        return None;
    }
    let why = match other.link {
        Some(Link::To) if small == Some(1) => Why::Range,
        Some(Link::And | Link::By) => Why::SeveralFigures,
        None if other.touches => Why::SeveralFigures,
        Some(_) | None => return None,
    };
    let share = Slope::Share(Exact::fraction(rise.value, run.value)?, WrittenUnit::Ratio);
    let readings: Vec<Reading> =
        [share, Slope::Bare(rise), Slope::Bare(run)].into_iter().filter_map(Slope::reading).collect();
    Some(if readings.is_empty() { reject() } else { Verdict::Ambiguous { why, readings } })
}

/// "A quarter pitch" climbs a quarter of the whole span, as carpenters say it; others mean 1 in 4.
fn pitch_of_span(share: Exact) -> Verdict {
    let half = Exact::fraction(Exact::ONE, Exact::whole(2));
    let of_span = half.and_then(|half| Exact::fraction(share, half));
    let shares = [of_span, Some(share)].into_iter().flatten();
    let slopes = shares.map(|share| Slope::Share(share, WrittenUnit::Ratio));
    let readings: Vec<Reading> = slopes.filter_map(Slope::reading).collect();
    if readings.is_empty() { reject() } else { Verdict::Ambiguous { why: Why::PitchOfSpan, readings } }
}

/// The verdict on one slope.
fn single(slope: &Slope, said: &Said, context: &Context<'_>) -> Verdict {
    let Slope::Bare(numeral) = *slope else {
        return slope.reading().map_or_else(reject, Verdict::Value);
    };
    let metric = matches!(context.usual, Some(UsualUnit::Mm | UsualUnit::M));
    let shows_degrees = metric || said.doubt == Doubt::ByPhone;
    let whole =
        numeral.value.as_whole_up_to(TWELVE).filter(|whole| *whole > 0 && numeral.form == Form::Whole);
    if let Some(whole) = whole.filter(|_| !shows_degrees) {
        let in_twelve = Angle::from_tan(to_f64(i64::from(whole)) / to_f64(i64::from(TWELVE)))
            .map(|angle| reading(angle, WrittenUnit::Ratio, true));
        let readings = slope.reading().into_iter().chain(in_twelve).collect();
        return Verdict::Ambiguous { why: Why::DegreesOrInTwelve, readings };
    }
    // A bare `0.25` is likelier a share than a quarter of a degree.
    if numeral.form == Form::Decimal && Exact::ONE.minus(numeral.value).is_some_and(|rest| !rest.is_zero()) {
        let share = Slope::Share(numeral.value, WrittenUnit::Ratio);
        let readings: Vec<Reading> = [share, *slope].into_iter().filter_map(Slope::reading).collect();
        if readings.len() > 1 {
            return Verdict::Ambiguous { why: Why::SeveralUnits, readings };
        }
    }
    let other = numeral.other.map(|value| Slope::Bare(Numeral::plain(value, Form::Decimal)));
    match slope.reading().or_else(|| other.and_then(Slope::reading)) {
        Some(reading) => Verdict::Value(reading),
        None => slipped_point(numeral).unwrap_or_else(reject),
    }
}

/// `225` is likely 22.5; round hundreds are likely meant as they stand.
fn slipped_point(numeral: Numeral) -> Option<Verdict> {
    let degrees = numeral.value.as_whole_up_to(600).filter(|whole| *whole > 90 && whole % 10 != 0)?;
    let tenth = Exact::fraction(Exact::whole(degrees), Exact::whole(10))?;
    let reading = Slope::Bare(Numeral::plain(tenth, Form::Decimal)).reading()?;
    Some(Verdict::Ambiguous { why: Why::SlippedDecimalPoint, readings: vec![reading] })
}

/// The verdict on several: a range, or one for each side of the roof.
fn several(slopes: &[Slope], range: bool) -> Verdict {
    let readings: Vec<Reading> = slopes.iter().filter_map(|slope| slope.reading()).collect();
    match (readings.len() == slopes.len(), range) {
        (true, false) => Verdict::Values(readings),
        (_, true) if !readings.is_empty() => Verdict::Ambiguous { why: Why::Range, readings },
        _ => reject(),
    }
}
