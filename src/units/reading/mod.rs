//! Reading the lengths and slopes that people type, or that a phone writes down for them.
//!
//! A text goes through these steps, each a file: `letters` (one plain sign for each kind), `tokens` (numbers,
//! words, signs), `words` (what each means), `numbers` (in one piece), `corrections` (the last figure wins),
//! `figures` (numbers with units), and `lengths` (with `terms`, for several at once) or `slopes` (believable or not,
//! in which unit). Nothing here knows which question was asked, or how the verdict is put into words.

mod corrections;
mod exact;
mod figures;
mod lengths;
mod letters;
mod numbers;
mod slopes;
mod terms;
mod tokens;
mod why;
mod words;

pub use numbers::{Part, part_of, whole_number};
pub use why::{Why, WhyFigure};

use super::{Angle, Doubt, Length, Quantity, UsualUnit};
use figures::{Remark, Said};
use words::{Link, Unit};

/// A length or a slope.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Amount {
    /// A length.
    Length(Length),
    /// A slope.
    Angle(Angle),
}

/// The unit a figure was written in, or taken to be in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum WrittenUnit {
    /// Millimetres.
    Mm,
    /// Centimetres.
    Cm,
    /// Metres, alone or with what is below them.
    M,
    /// Yards.
    Yd,
    /// Feet.
    Ft,
    /// Inches.
    In,
    /// Feet and inches together.
    FtIn,
    /// Degrees.
    Deg,
    /// So many in so many.
    Ratio,
    /// Per cent.
    Percent,
}

impl WrittenUnit {
    /// The usual unit of people who measure in it; none of a slope's.
    pub const fn usual(self) -> Option<UsualUnit> {
        match self {
            Self::Mm => Some(UsualUnit::Mm),
            Self::Cm | Self::M => Some(UsualUnit::M),
            Self::Yd | Self::Ft | Self::In | Self::FtIn => Some(UsualUnit::FtIn),
            Self::Deg | Self::Ratio | Self::Percent => None,
        }
    }

    /// Every unit with the sign it is kept under.
    const SIGNS: &'static [(Self, &'static str)] = &[
        (Self::Mm, "mm"),
        (Self::Cm, "cm"),
        (Self::M, "m"),
        (Self::Yd, "yd"),
        (Self::Ft, "ft"),
        (Self::In, "in"),
        (Self::FtIn, "ft-in"),
        (Self::Deg, "deg"),
        (Self::Ratio, "ratio"),
        (Self::Percent, "percent"),
    ];

    /// The sign it is kept under.
    pub fn sign(self) -> &'static str {
        Self::SIGNS.iter().find(|(unit, _)| *unit == self).map_or("", |(_, sign)| sign)
    }

    /// The unit of that sign.
    pub fn from_sign(sign: &str) -> Option<Self> {
        Self::SIGNS.iter().find(|(_, known)| *known == sign).map(|(unit, _)| *unit)
    }
}

/// One figure understood.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Reading {
    /// How much it is.
    pub amount: Amount,
    /// How sure the person was.
    pub doubt: Doubt,
    /// The unit it was written in, or taken to be in.
    pub unit: WrittenUnit,
    /// Whether the unit was not written: it is then said back.
    pub assumed: bool,
}

/// What became of a text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// One figure.
    Value(Reading),
    /// Several at once, in the order they were given.
    Values(Vec<Reading>),
    /// A believable figure is in there, and one question settles it.
    Ambiguous {
        /// What is unclear.
        why: Why,
        /// The readings to offer, likeliest first; never empty.
        readings: Vec<Reading>,
    },
    /// No believable figure.
    Reject {
        /// What is wrong, and so what to send instead.
        why: Why,
    },
}

/// Where a rule changes its mind: the boundary itself belongs to the side above.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Boundary<'a> {
    /// The size at which it does.
    pub amount: Amount,
    /// The rule's id.
    pub rule: &'a str,
}

/// What is known about a text before it is read.
#[derive(Clone, Copy, Debug)]
pub struct Context<'a> {
    /// What was asked for.
    pub quantity: Quantity,
    /// The units the person thinks in, where known.
    pub usual: Option<UsualUnit>,
    /// The rules' boundaries for this quantity.
    pub boundaries: &'a [Boundary<'a>],
}

/// The longest text that is read, in characters: far longer than any answer.
pub const LONGEST_TEXT: usize = 2_000;

/// More figures than this are no answer either.
const MOST_FIGURES: usize = 12;

/// Understands one answer.
///
/// Never fails, whatever the text; takes time in proportion to its length.
pub fn read(text: &str, context: &Context<'_>) -> Verdict {
    if text.chars().nth(LONGEST_TEXT).is_some() {
        return Verdict::Reject { why: Why::TooLong };
    }
    let pieces = tokens::tokens(&letters::plain(text));
    let lexemes = numbers::in_one_piece(&words::senses(&pieces));
    let settled = corrections::settle(&lexemes);
    let mut said = figures::gather(&settled.lexemes);
    said.lent = said.lent.or(settled.lent);
    if said.figures.is_empty() {
        return Verdict::Reject { why: Why::NoNumber };
    }
    if said.figures.len() > MOST_FIGURES {
        return Verdict::Reject { why: Why::TooLong };
    }
    if said.has(Remark::Negative) {
        return Verdict::Reject { why: Why::Negative };
    }
    let verdict = match context.quantity.length_band() {
        Some(_) => lengths::verdict(&said, context),
        None => slopes::verdict(&said, context),
    };
    finish(verdict, &said, context)
}

/// Adds what holds for every quantity: the doubt, "and a bit", and boundaries between the readings.
fn finish(verdict: Verdict, said: &Said, context: &Context<'_>) -> Verdict {
    let doubted = |reading: Reading| Reading { doubt: said.doubt, ..reading };
    let all_doubted = |readings: Vec<Reading>| readings.into_iter().map(doubted).collect::<Vec<_>>();
    match verdict {
        Verdict::Value(reading) if said.has(Remark::Bit) || said.has(Remark::OneSided) => {
            let why = if said.has(Remark::Bit) { Why::AndABit } else { Why::OneSided };
            Verdict::Ambiguous { why, readings: vec![doubted(reading)] }
        }
        Verdict::Value(reading) => Verdict::Value(doubted(reading)),
        Verdict::Values(readings) => several(all_doubted(readings), said, context),
        Verdict::Ambiguous { why, readings } => {
            let why = match boundary_between(&readings, context.boundaries) {
                Some(boundary) => Why::RuleBoundary {
                    rule: boundary.rule.to_owned(),
                    at: boundary.amount,
                    cause: Box::new(why),
                },
                None => why,
            };
            Verdict::Ambiguous { why, readings: all_doubted(readings) }
        }
        Verdict::Reject { why } => Verdict::Reject { why },
    }
}

/// Several figures: one said again counts once, and what is not clear is asked.
fn several(readings: Vec<Reading>, said: &Said, context: &Context<'_>) -> Verdict {
    /// Two uneven gaps may be a first and a last; more are uneven.
    const MOST_GAPS: usize = 2;
    let by = said.figures.iter().any(|figure| figure.link == Some(Link::By));
    let apart = said.figures.iter().skip(1).all(|figure| !figure.touches);
    let alike = readings.windows(2).all(|pair| matches!(pair, [one, other] if one.amount == other.amount));
    match (readings.as_slice(), context.quantity) {
        ([first, ..], _) if alike && apart && !by => Verdict::Value(*first),
        (_, Quantity::DeckThickness) if by => Verdict::Ambiguous { why: Why::SeveralFigures, readings },
        (several, Quantity::Spacing) if several.len() > MOST_GAPS => {
            Verdict::Ambiguous { why: Why::SeveralFigures, readings }
        }
        _ => Verdict::Values(readings),
    }
}

/// The first boundary with readings on either side of it.
fn boundary_between<'a>(readings: &[Reading], boundaries: &'a [Boundary<'a>]) -> Option<&'a Boundary<'a>> {
    let lowest = readings.iter().map(|reading| reading.amount).min()?;
    let highest = readings.iter().map(|reading| reading.amount).max()?;
    boundaries.iter().find(|boundary| lowest < boundary.amount && boundary.amount <= highest)
}

impl From<Unit> for WrittenUnit {
    fn from(unit: Unit) -> Self {
        match unit {
            Unit::Mm => Self::Mm,
            Unit::Cm => Self::Cm,
            Unit::M => Self::M,
            Unit::Yd => Self::Yd,
            Unit::Ft => Self::Ft,
            Unit::In => Self::In,
            Unit::Deg => Self::Deg,
            Unit::Percent => Self::Percent,
        }
    }
}
