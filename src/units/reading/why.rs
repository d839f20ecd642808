//! Why an answer could not simply be taken: a code with its figures. The words for it stand in
//! `dialogs/words/en/reading.ftl`.

use super::Amount;

/// What stands in the way of taking a figure.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Why {
    /// Nothing in it is a number.
    NoNumber,
    /// Longer than any answer.
    TooLong,
    /// Below zero.
    Negative,
    /// The letters after the number are no unit we know.
    UnitUnknown,
    /// An angle where a length was asked for.
    WantsLength,
    /// A length where a slope was asked for.
    WantsSlope,
    /// Nothing in the believable band, both ends of which are given.
    OutOfBand {
        /// The smallest believable.
        low: Amount,
        /// The largest believable.
        high: Amount,
    },
    /// Believable in several units.
    SeveralUnits,
    /// Believable only if the decimal point slipped by one place.
    SlippedDecimalPoint,
    /// Believable only in another unit than the one written.
    SlippedUnit,
    /// "And a bit": how much of a bit?
    AndABit,
    /// "At least", "up to": one end only.
    OneSided,
    /// From one figure to another, or one of two.
    Range,
    /// Several figures with nothing that says which counts.
    SeveralFigures,
    /// `2m4`: tenths or hundredths?
    TenthsOrHundredths,
    /// A small whole number for a slope: degrees, or so many in 12?
    DegreesOrInTwelve,
    /// "Quarter pitch": of the whole span, as carpenters say it, or 1 in 4?
    PitchOfSpan,
    /// The readings fall either side of a rule's boundary.
    RuleBoundary {
        /// The rule whose boundary lies between them.
        rule: String,
        /// The boundary itself.
        at: Amount,
        /// Why there are several readings at all.
        cause: Box<Why>,
    },
}

/// A figure or name that belongs in the words for a [`Why`].
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WhyFigure<'a> {
    /// A size to be said in the person's own units.
    Amount(Amount),
    /// A rule's id.
    Rule(&'a str),
}

impl Why {
    /// The id of the message that says it.
    pub const fn message(&self) -> &'static str {
        match self {
            Self::NoNumber => "reading-no-number",
            Self::TooLong => "reading-too-long",
            Self::Negative => "reading-negative",
            Self::UnitUnknown => "reading-unit-unknown",
            Self::WantsLength => "reading-wants-length",
            Self::WantsSlope => "reading-wants-slope",
            Self::OutOfBand { .. } => "reading-out-of-band",
            Self::SeveralUnits => "reading-several-units",
            Self::SlippedDecimalPoint => "reading-slipped-decimal-point",
            Self::SlippedUnit => "reading-slipped-unit",
            Self::AndABit => "reading-and-a-bit",
            Self::OneSided => "reading-one-sided",
            Self::Range => "reading-range",
            Self::SeveralFigures => "reading-several-figures",
            Self::TenthsOrHundredths => "reading-tenths-or-hundredths",
            Self::DegreesOrInTwelve => "reading-degrees-or-in-twelve",
            Self::PitchOfSpan => "reading-pitch-of-span",
            Self::RuleBoundary { .. } => "reading-rule-boundary",
        }
    }

    /// The figures its message needs, each under its name there.
    pub fn figures(&self) -> Vec<(&'static str, WhyFigure<'_>)> {
        match self {
            Self::OutOfBand { low, high } => {
                vec![("low", WhyFigure::Amount(*low)), ("high", WhyFigure::Amount(*high))]
            }
            Self::RuleBoundary { rule, at, .. } => {
                vec![("rule", WhyFigure::Rule(rule)), ("at", WhyFigure::Amount(*at))]
            }
            Self::NoNumber
            | Self::TooLong
            | Self::Negative
            | Self::UnitUnknown
            | Self::WantsLength
            | Self::WantsSlope
            | Self::SeveralUnits
            | Self::SlippedDecimalPoint
            | Self::SlippedUnit
            | Self::AndABit
            | Self::OneSided
            | Self::Range
            | Self::SeveralFigures
            | Self::TenthsOrHundredths
            | Self::DegreesOrInTwelve
            | Self::PitchOfSpan => Vec::new(),
        }
    }
}
