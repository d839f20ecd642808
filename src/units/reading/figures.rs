//! From numbers and units to figures: `8ft 6`, `2m40`, `22° 30'`, and what stands between them.

use super::WrittenUnit;
use super::exact::Exact;
use super::tokens::{Form, Numeral};
use super::words::{Lexeme, Link, Sense, Unit};
use crate::units::{Doubt, Length};

/// One figure as written.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Size {
    /// A number and no unit.
    Bare(Numeral),
    /// A number and its unit.
    Written(Numeral, Unit),
    /// Several units together, or a sum: already a length.
    Length(Length, WrittenUnit),
    /// `2m4`: 2.4 m or 2.04 m.
    Either(Length, Length),
    /// Kilograms, square metres, days.
    Foreign,
}

/// A figure and how it hangs on the one before.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Figure {
    pub(super) size: Size,
    /// What links it to the figure before.
    pub(super) link: Option<Link>,
    /// Whether nothing but the link stands between it and the figure before.
    pub(super) touches: bool,
    /// "rise" or "run", where one stands beside it.
    pub(super) label: Option<Label>,
}

/// Which side of a slope's triangle a figure is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Label {
    Rise,
    Run,
}

/// All that was said.
#[derive(Clone, Debug, Default)]
pub(super) struct Said {
    pub(super) figures: Vec<Figure>,
    pub(super) doubt: Doubt,
    /// A unit with no number of its own serves the bare ones: "in mm, 2400 by 1200".
    pub(super) lent: Option<Unit>,
    /// What else was said about them.
    pub(super) remarks: Vec<Remark>,
}

/// What is said about figures beside their doubt.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Remark {
    /// "And a bit".
    Bit,
    /// "At least", "up to".
    OneSided,
    /// "Between".
    Between,
    /// "Pitch".
    Pitch,
    /// Below zero.
    Negative,
    /// Letters stuck to a number that are no unit.
    Stuck,
}

impl Said {
    /// Whether this was said.
    pub(super) fn has(&self, remark: Remark) -> bool {
        self.remarks.contains(&remark)
    }
}

impl Sense {
    /// The unit it is by itself: "in" is left to what follows.
    pub(super) fn unit(self) -> Option<Unit> {
        if let Self::Unit(unit) = self {
            return Some(unit);
        }
        let marks = [(Self::FootMark, Unit::Ft), (Self::InchMark, Unit::In)];
        marks.into_iter().find(|(mark, _)| *mark == self).map(|(_, unit)| unit)
    }
}

/// Micrometres in one of a unit; `None` for angles.
pub(super) const fn worth(unit: Unit) -> Option<i64> {
    match unit {
        Unit::Mm => Some(1_000),
        Unit::Cm => Some(10_000),
        Unit::M => Some(1_000_000),
        Unit::Yd => Some(914_400),
        Unit::Ft => Some(304_800),
        Unit::In => Some(25_400),
        Unit::Deg | Unit::Percent => None,
    }
}

/// A number of a unit as a length; `None` for angles.
pub(super) fn length_of(value: Exact, unit: Unit) -> Option<Length> {
    worth(unit).map(|worth| Length::from_um(value.of(worth)))
}

/// Reads figures and their links off the lexemes, in order.
pub(super) fn gather(lexemes: &[Lexeme]) -> Said {
    let mut said = Said::default();
    let mut between = Between::default();
    let mut rest = lexemes;
    while let [first, after @ ..] = rest {
        rest = after;
        if let Sense::Number(numeral) = first.sense {
            if counts_things(after, between.link) {
                continue;
            }
            if only_points(numeral, after, !said.figures.is_empty()) {
                between.words = true;
                continue;
            }
            if said.figures.is_empty() && between.link == Some(Link::Less) {
                said.remarks.push(Remark::Negative);
            }
            let (size, left) = figure(numeral, after, between.foreign);
            if matches!(left.first(), Some(Lexeme { sense: Sense::Stuck, .. })) {
                said.remarks.push(Remark::Stuck);
            }
            said.figures.push(std::mem::take(&mut between).figure(size));
            rest = left;
            continue;
        }
        match first.sense.unit() {
            // "an inch and a half" without its "an".
            Some(unit) if and_a_half(ONE, after).0 != ONE => {
                let (size, left) = with_smaller_units(ONE, unit, after);
                said.figures.push(std::mem::take(&mut between).figure(size));
                rest = left;
            }
            // "4 inches per foot": one foot.
            Some(unit) if between.link == Some(Link::In) && !between.words => {
                said.figures.push(std::mem::take(&mut between).figure(Size::Written(ONE, unit)));
            }
            Some(_) | None => note(first.sense, &mut said, &mut between),
        }
    }
    said
}

/// "my 2 sheds": unless a link says that the number measures after all.
fn counts_things(after: &[Lexeme], link: Option<Link>) -> bool {
    let counts = matches!(after.first(), Some(Lexeme { sense: Sense::Counted, .. }));
    counts && matches!(link, None | Some(Link::Comma | Link::And))
}

/// "One storey", "1.2 m one side", "9 mm, one on top of the other": the word for one, with nothing that it measures in.
fn only_points(numeral: Numeral, after: &[Lexeme], beside_another: bool) -> bool {
    let word = numeral.digits == 0 && numeral.form == Form::Whole && numeral.value == Exact::ONE;
    let senses = (after.first().map(|next| next.sense), after.get(1).map(|next| next.sense));
    word && match senses {
        (Some(Sense::Other | Sense::Side), _) => true,
        (Some(Sense::Link(Link::In | Link::Over)), Some(Sense::Number(_))) => false,
        (Some(Sense::Counted | Sense::Link(Link::In)), _) => beside_another,
        _ => false,
    }
}

/// "A foot" is one.
const ONE: Numeral = Numeral { value: Exact::ONE, other: None, form: Form::Whole, digits: 1 };

/// What stands between one figure and the next.
#[derive(Default)]
struct Between {
    link: Option<Link>,
    words: bool,
    label: Option<Label>,
    foreign: bool,
}

impl Between {
    fn figure(&self, size: Size) -> Figure {
        Figure { size, link: self.link, touches: !self.words, label: self.label }
    }
}

/// Takes down a sense that is no figure.
fn note(sense: Sense, said: &mut Said, between: &mut Between) {
    between.foreign = false;
    match sense {
        Sense::Link(Link::GiveOrTake) => {
            said.doubt = wider(said.doubt, Doubt::About);
            between.link = Some(Link::GiveOrTake);
        }
        // "over 2 metres", with nothing before it.
        Sense::Link(Link::Over) if said.figures.is_empty() && between.label.is_none() => {
            said.doubt = wider(said.doubt, Doubt::JustOver);
        }
        // "2.4, or 2.6": the comma says nothing that "or" does not say better.
        Sense::Link(Link::Comma | Link::And)
            if matches!(between.link, Some(Link::To | Link::Or | Link::Plus | Link::By)) => {}
        Sense::Link(link) => between.link = Some(link),
        Sense::Dash => between.link = Some(Link::To),
        Sense::In => between.link = Some(Link::In),
        Sense::Slash => between.link = Some(Link::Slash),
        Sense::Doubt(doubt) => said.doubt = wider(said.doubt, doubt),
        Sense::Bit => said.remarks.push(Remark::Bit),
        Sense::OneSided => said.remarks.push(Remark::OneSided),
        Sense::Between => said.remarks.push(Remark::Between),
        Sense::Pitch => said.remarks.push(Remark::Pitch),
        Sense::Negative => said.remarks.push(Remark::Negative),
        Sense::Rise => label(Label::Rise, said, between),
        Sense::Run => label(Label::Run, said, between),
        Sense::Unit(unit) => said.lent = Some(unit),
        Sense::Foreign => between.foreign = true,
        Sense::A | Sense::Of | Sense::Side => {}
        Sense::Other | Sense::Counted | Sense::Correction | Sense::No | Sense::Not => {
            between.words = true;
            // "2.4 to the eaves, 2.6 to the ridge" is no range.
            between.link = between.link.filter(|link| matches!(link, Link::And | Link::Or | Link::Comma));
        }
        Sense::Number(_)
        | Sense::Cardinal(_)
        | Sense::Vulgar(_)
        | Sense::Broken
        | Sense::FootMark
        | Sense::InchMark
        | Sense::Stuck => between.words = true,
    }
}

/// "rise 300" names the figure after it, "300 rise" the one before.
fn label(label: Label, said: &mut Said, between: &mut Between) {
    match said.figures.last_mut() {
        Some(last) if last.label.is_none() && between.link.is_none() && !between.words => {
            last.label = Some(label);
        }
        _ => between.label = Some(label),
    }
}

/// The doubt that may be off by more; which way it is off says more than that it is.
fn wider(one: Doubt, other: Doubt) -> Doubt {
    let width = |doubt: Doubt| match doubt {
        Doubt::Stated => 0,
        Doubt::ByPhone => 1,
        Doubt::About => 2,
        Doubt::JustUnder | Doubt::JustOver => 3,
    };
    if width(other) > width(one) { other } else { one }
}

/// The figure that a number starts, with its units.
fn figure(numeral: Numeral, after: &[Lexeme], foreign: bool) -> (Size, &[Lexeme]) {
    if foreign || matches!(after.first(), Some(Lexeme { sense: Sense::Foreign, .. })) {
        return (Size::Foreign, after);
    }
    let Some((unit, left)) = unit_at(after) else { return (Size::Bare(numeral), after) };
    let named = matches!(after.first(), Some(Lexeme { sense: Sense::Unit(_), .. }));
    if named && is_area(left) {
        return (Size::Foreign, left.get(1..).unwrap_or(&[]));
    }
    if unit == Unit::Deg {
        return with_minutes(numeral, left);
    }
    if let Some((size, left)) = metres_and(numeral, unit, left) {
        return (size, left);
    }
    with_smaller_units(numeral, unit, left)
}

/// The unit right here; "in" is inches unless a number follows, and then it is a slope.
fn unit_at(lexemes: &[Lexeme]) -> Option<(Unit, &[Lexeme])> {
    let (first, after) = lexemes.split_first()?;
    let inches = first.sense == Sense::In && !slope_follows(after);
    let unit = if inches { Some(Unit::In) } else { first.sense.unit() };
    Some((unit?, after))
}

fn slope_follows(after: &[Lexeme]) -> bool {
    matches!(
        after,
        [Lexeme { sense: Sense::Number(_) | Sense::Run, .. }, ..]
            | [Lexeme { sense: Sense::A, .. }, Lexeme { sense: Sense::Unit(_) | Sense::Run, .. }, ..]
    )
}

/// `m²`, `m2`, "m squared".
fn is_area(left: &[Lexeme]) -> bool {
    match left {
        [Lexeme { sense: Sense::Foreign, .. }, Lexeme { sense: Sense::Number(_), .. }, ..] => false,
        [Lexeme { sense: Sense::Foreign, .. }, ..] => true,
        [Lexeme { sense: Sense::Number(two), glued: true }] => {
            two.digits == 1 && two.value.as_whole_up_to(3).is_some_and(|power| power >= 2)
        }
        _ => false,
    }
}

/// `22° 30'` and "22 degrees 30 minutes": sixty minutes in a degree.
fn with_minutes(numeral: Numeral, left: &[Lexeme]) -> (Size, &[Lexeme]) {
    if let [
        Lexeme { sense: Sense::Number(minutes), .. },
        Lexeme { sense: Sense::FootMark | Sense::Foreign, .. },
        after @ ..,
    ] = left
        && let Some(part) = Exact::fraction(minutes.value, Exact::whole(60))
    {
        let value = numeral.value.plus(part);
        return (Size::Written(Numeral::plain(value, Form::Fraction), Unit::Deg), after);
    }
    let (numeral, left) = and_a_half(numeral, left);
    (Size::Written(numeral, Unit::Deg), left)
}

/// "a metre *and a half*": the half is of the unit just said.
fn and_a_half(numeral: Numeral, left: &[Lexeme]) -> (Numeral, &[Lexeme]) {
    if let [
        Lexeme { sense: Sense::Link(Link::And), .. },
        Lexeme { sense: Sense::Number(half), .. },
        after @ ..,
    ] = left
        && half.form == Form::Fraction
        && below(half.value, Exact::ONE)
        && unit_at(after).is_none()
    {
        return (Numeral::plain(numeral.value.plus(half.value), Form::Fraction), after);
    }
    (numeral, left)
}

fn below(one: Exact, other: Exact) -> bool {
    other.minus(one).is_some_and(|rest| !rest.is_zero())
}

/// `2m40` and "2 metres 40": the digits after the metres are their decimals.
fn metres_and(numeral: Numeral, unit: Unit, left: &[Lexeme]) -> Option<(Size, &[Lexeme])> {
    let (joined, rest) = match left {
        [Lexeme { sense: Sense::Link(Link::And), .. }, rest @ ..] => (true, rest),
        _ => (false, left),
    };
    let ([Lexeme { sense: Sense::Number(part), .. }, after @ ..], Unit::M) = (rest, unit) else {
        return None;
    };
    // "2 m and 3" may be two lengths; "2 m and 40" is one.
    if joined && part.value.as_whole_up_to(20).is_some() {
        return None;
    }
    let centimetres = part.form == Form::Fraction && !joined && !below(part.value, Exact::whole(10));
    if centimetres && below(part.value, Exact::whole(100)) && unit_at(after).is_none() {
        // "1 metre 97 and a half".
        let whole = length_of(numeral.value, Unit::M).filter(|_| numeral.form == Form::Whole)?;
        return Some((Size::Length(whole + length_of(part.value, Unit::Cm)?, WrittenUnit::M), after));
    }
    if part.form != Form::Whole || numeral.form != Form::Whole || unit_at(after).is_some() {
        return None;
    }
    if matches!(after.first(), Some(Lexeme { sense: Sense::Counted | Sense::Foreign | Sense::Stuck, .. })) {
        return None;
    }
    let whole = length_of(numeral.value, Unit::M)?;
    let with = |worth: i64| whole + Length::from_um(part.value.of(worth));
    let size = match part.digits {
        1 => Size::Either(with(100_000), with(10_000)),
        2 => Size::Length(with(10_000), WrittenUnit::M),
        3 => Size::Length(with(1_000), WrittenUnit::M),
        _ => return None,
    };
    Some((size, after))
}

/// `8ft 6`, `2m 40cm`, "8 foot and 6 inches", `8'-6"`: each unit smaller than the one before.
fn with_smaller_units(numeral: Numeral, unit: Unit, left: &[Lexeme]) -> (Size, &[Lexeme]) {
    let (numeral, left) = and_a_half(numeral, left);
    let (Some(whole), Some(unit_worth)) = (length_of(numeral.value, unit), worth(unit)) else {
        return (Size::Written(numeral, unit), left);
    };
    let (mut total, mut last_worth, mut last_unit, mut rest) = (whole, unit_worth, unit, left);
    while let Some((part, part_unit, after)) = smaller_part(last_unit, rest) {
        let Some(part_worth) = worth(part_unit).filter(|part_worth| *part_worth < last_worth) else { break };
        let (part, after) = and_a_half(part, after);
        let size = Length::from_um(part.value.of(part_worth));
        // "8 ft 13 in" is one length; "3 m 220 cm" are two.
        if size.um() >= last_worth && last_unit != Unit::Ft {
            break;
        }
        (total, last_worth, last_unit, rest) = (total + size, part_worth, part_unit, after);
    }
    if last_unit == unit {
        return (Size::Written(numeral, unit), left);
    }
    let written = if unit == Unit::Ft { WrittenUnit::FtIn } else { unit.into() };
    (Size::Length(total, written), rest)
}

/// A number with a smaller unit, or a bare one after feet.
fn smaller_part(unit: Unit, left: &[Lexeme]) -> Option<(Numeral, Unit, &[Lexeme])> {
    let (joined, dashed, rest) = match left {
        [Lexeme { sense: Sense::Link(Link::And | Link::Comma), .. }, rest @ ..] => (true, false, rest),
        [Lexeme { sense: Sense::Dash, .. }, rest @ ..] => (false, true, rest),
        _ => (false, false, left),
    };
    let [Lexeme { sense: Sense::Number(part), .. }, after @ ..] = rest else { return None };
    if let Some((part_unit, after)) = unit_at(after) {
        // `2m-40cm` is a range; `8'-6"` is how draughtsmen write feet and inches.
        return (!dashed || unit == Unit::Ft).then_some((*part, part_unit, after));
    }
    let apart = matches!(left.first(), Some(Lexeme { sense: Sense::Dash, glued: false }));
    let inches = unit == Unit::Ft && !joined && !apart && below(part.value, Exact::whole(12));
    inches.then_some((*part, Unit::In, after))
}
