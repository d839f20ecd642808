//! The ways in which measurements of one roof hang together, and the figures they are worked out from.

use std::collections::BTreeMap;

use super::form::{slopes_across, slopes_unequal};
use crate::roofing::facts::{FactKey, Facts};
use crate::roofing::handbook::Handbook;
use crate::roofing::note::Arg;
use crate::units::{Angle, Length, Quantity};

/// A fact's figure with the least and the most it may be, in millimetres or degrees.
#[derive(Clone, Copy, Debug)]
pub(super) struct Figure {
    pub(super) least: f64,
    pub(super) said: f64,
    pub(super) most: f64,
}

/// What is compared with what: `measured` against `work_out` of the other facts.
pub(super) struct Relation {
    pub(super) measured: FactKey,
    pub(super) others: &'static [FactKey],
    pub(super) message: &'static str,
    work_out: fn(&Figures) -> f64,
}

/// The figures of one roof, and how many slopes share its span.
#[derive(Clone, Debug)]
pub(super) struct Figures {
    pub(super) by_fact: BTreeMap<FactKey, Figure>,
    slopes_across: f64,
    chosen: BTreeMap<FactKey, f64>,
}

/// Whatever the form: the rise over the length up the slope is the sine of the pitch.
const PITCH_BY_RISE: Relation = Relation {
    measured: FactKey::Pitch,
    others: &[FactKey::Rise, FactKey::SlopeLength],
    message: "contradiction-pitch-rise-slope",
    work_out: |f| libm::asin((f.get(FactKey::Rise) / f.get(FactKey::SlopeLength)).min(1.0)).to_degrees(),
};

/// One slope over the whole span, or two that share it evenly.
pub(super) const EVEN: &[Relation] = &[
    PITCH_BY_RISE,
    Relation {
        measured: FactKey::Pitch,
        others: &[FactKey::Rise, FactKey::Span, FactKey::RafterOverhang],
        message: "contradiction-pitch-rise-span",
        work_out: |f| libm::atan2(f.get(FactKey::Rise), f.run()).to_degrees(),
    },
    Relation {
        measured: FactKey::SlopeLength,
        others: &[FactKey::Span, FactKey::RafterOverhang, FactKey::Pitch],
        message: "contradiction-slope-span-pitch",
        work_out: |f| f.run() / libm::cos(f.get(FactKey::Pitch).to_radians()),
    },
    Relation {
        measured: FactKey::SlopeLength,
        others: &[FactKey::Span, FactKey::RafterOverhang, FactKey::Rise],
        message: "contradiction-slope-span-rise",
        work_out: |f| libm::hypot(f.run(), f.get(FactKey::Rise)),
    },
];

/// Two slopes that share the span unevenly.
pub(super) const UNEVEN: &[Relation] = &[
    PITCH_BY_RISE,
    Relation {
        measured: FactKey::Span,
        others: &[
            FactKey::Pitch,
            FactKey::PitchBack,
            FactKey::SlopeLength,
            FactKey::SlopeLengthBack,
            FactKey::RafterOverhang,
        ],
        message: "contradiction-span-two-slopes",
        work_out: |f| {
            let front = f.get(FactKey::SlopeLength) * libm::cos(f.get(FactKey::Pitch).to_radians());
            let back = f.get(FactKey::SlopeLengthBack) * libm::cos(f.get(FactKey::PitchBack).to_radians());
            front + back - 2.0 * f.get(FactKey::RafterOverhang)
        },
    },
];

/// A slope with square corners has two equal diagonals, which follow from its sides.
pub(super) const DIAGONALS: &[Relation] = &[
    Relation {
        measured: FactKey::DiagonalA,
        others: &[FactKey::DiagonalB],
        message: "contradiction-diagonals",
        work_out: |f| f.get(FactKey::DiagonalB),
    },
    Relation {
        measured: FactKey::DiagonalA,
        others: &[FactKey::Length, FactKey::SlopeLength],
        message: "contradiction-diagonal-sides",
        work_out: |f| libm::hypot(f.get(FactKey::Length), f.get(FactKey::SlopeLength)),
    },
    Relation {
        measured: FactKey::DiagonalB,
        others: &[FactKey::Length, FactKey::SlopeLength],
        message: "contradiction-diagonal-sides",
        work_out: |f| libm::hypot(f.get(FactKey::Length), f.get(FactKey::SlopeLength)),
    },
];

/// With both sides known the diagonals may well differ: a slope that leans is a parallelogram, whose diagonals'
/// squares add up to those of all four sides.
pub(super) const LEANING: &[Relation] = &[Relation {
    measured: FactKey::DiagonalA,
    others: &[FactKey::DiagonalB, FactKey::Length, FactKey::SlopeLength],
    message: "contradiction-diagonals-and-sides",
    work_out: |f| {
        let square = |key| f.get(key) * f.get(key);
        let sides = 2.0 * (square(FactKey::Length) + square(FactKey::SlopeLength));
        libm::sqrt((sides - square(FactKey::DiagonalB)).max(0.0))
    },
}];

impl Relation {
    /// How far beyond all doubt and tolerance the two ways stand apart, as a share of what was measured;
    /// nothing or less where they agree, `None` where a fact is unknown.
    pub(super) fn apart(&self, figures: &Figures, book: &Handbook) -> Option<f64> {
        let measured = figures.by_fact.get(&self.measured)?;
        let mut corners = vec![figures.clone()];
        for other in self.others {
            let figure = figures.by_fact.get(other)?;
            let ends = [figure.least, figure.said, figure.most];
            corners = corners.iter().flat_map(|one| ends.map(|end| one.with(*other, end))).collect();
        }
        let worked = corners.iter().map(self.work_out);
        let (low, high) = worked.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), v| (a.min(v), b.max(v)));
        let tolerance = if is_angle(self.measured) {
            book.rules.agree.angle.deg()
        } else {
            measured.said * thousandth(book.rules.agree.length_per_mille)
        };
        let apart = (measured.least - high).max(low - measured.most) - tolerance;
        Some(apart / measured.said.max(1.0))
    }

    /// What the other facts make of it, as they were said.
    pub(super) fn worked_out(&self, figures: &Figures) -> f64 {
        (self.work_out)(figures)
    }
}

impl Figures {
    pub(super) fn of(facts: &Facts, book: &Handbook) -> Self {
        let mut by_fact = BTreeMap::new();
        for key in FactKey::ALL {
            if let Some(length) = facts.length(*key) {
                let (least, most) = book.rules.length_band(length);
                by_fact.insert(*key, Figure { least: least.mm(), said: length.value.mm(), most: most.mm() });
            }
            if let Some(angle) = facts.angle(*key) {
                let (least, most) = book.rules.angle_band(angle);
                by_fact
                    .insert(*key, Figure { least: least.deg(), said: angle.value.deg(), most: most.deg() });
            }
        }
        // An overhang nobody spoke of may be any believable one: it must not make a contradiction.
        if let Some((least, most)) = Quantity::Overhang.length_band() {
            let anything = Figure { least: least.mm(), said: least.mm(), most: most.mm() };
            by_fact.entry(FactKey::RafterOverhang).or_insert(anything);
        }
        let across = slopes_across(facts);
        // Without a form nothing can be said of a span.
        if across.is_none() && !slopes_unequal(facts) {
            by_fact.remove(&FactKey::Span);
        }
        let slopes_across = if across == Some(2) { 2.0 } else { 1.0 };
        Self { by_fact, slopes_across, chosen: BTreeMap::new() }
    }

    /// The figure of a fact: the end that was chosen, else as said.
    pub(super) fn get(&self, key: FactKey) -> f64 {
        let said = self.by_fact.get(&key).map_or(0.0, |figure| figure.said);
        self.chosen.get(&key).copied().unwrap_or(said)
    }

    fn with(&self, key: FactKey, value: f64) -> Self {
        let mut other = self.clone();
        other.chosen.insert(key, value);
        other
    }

    fn run(&self) -> f64 {
        self.get(FactKey::Span) / self.slopes_across + self.get(FactKey::RafterOverhang)
    }
}

pub(super) fn is_angle(key: FactKey) -> bool {
    matches!(key, FactKey::Pitch | FactKey::PitchBack)
}

/// A figure as the note shows it: lengths to the millimetre, angles to the tenth of a degree.
pub(super) fn arg(key: FactKey, value: f64) -> Arg {
    if is_angle(key) {
        Arg::Angle(Angle::from_deg_f64(libm::round(value * 10.0) / 10.0).unwrap_or_default())
    } else {
        Arg::Length(Length::from_mm_f64(libm::round(value)).unwrap_or_default())
    }
}

fn thousandth(per_mille: i64) -> f64 {
    Length::from_um(per_mille).mm()
}
