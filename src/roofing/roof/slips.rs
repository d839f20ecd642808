//! The slips people make with a tape, each tried as an explanation of two figures that disagree.

use super::relations::{Figure, Figures, Relation, arg, is_angle};
use super::{FactKey, FactKind};
use crate::roofing::handbook::Handbook;
use crate::roofing::note::Arg;
use crate::units::Quantity;

/// A slip of measuring or of telling.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Slip {
    /// The distance on plan was given for the length up the slope.
    PlanForSlope,
    /// Half the span was given for the whole.
    HalfForWhole,
    /// The whole was given for half.
    WholeForHalf,
    /// Feet were taken for metres.
    FeetAsMetres,
    /// Metres were taken for feet.
    MetresAsFeet,
    /// Centimetres were taken for millimetres, or a nought was lost.
    TenTimesTooSmall,
    /// Millimetres were taken for centimetres, or a nought was added.
    TenTimesTooBig,
    /// Per cent were taken for degrees.
    PercentAsDegrees,
    /// Rise and run changed places.
    RiseRunSwapped,
}

/// Metres in a foot, exactly.
const FOOT: f64 = 0.304_8;

impl Slip {
    /// Every slip, the likelier of two equally good ones first.
    pub const ALL: &'static [Self] = &[
        Self::PlanForSlope,
        Self::HalfForWhole,
        Self::WholeForHalf,
        Self::FeetAsMetres,
        Self::MetresAsFeet,
        Self::TenTimesTooSmall,
        Self::TenTimesTooBig,
        Self::PercentAsDegrees,
        Self::RiseRunSwapped,
    ];

    /// The name it has in the wording.
    pub const fn key(self) -> &'static str {
        match self {
            Self::PlanForSlope => "plan-for-slope",
            Self::HalfForWhole => "half-for-whole",
            Self::WholeForHalf => "whole-for-half",
            Self::FeetAsMetres => "feet-as-metres",
            Self::MetresAsFeet => "metres-as-feet",
            Self::TenTimesTooSmall => "ten-times-too-small",
            Self::TenTimesTooBig => "ten-times-too-big",
            Self::PercentAsDegrees => "percent-as-degrees",
            Self::RiseRunSwapped => "rise-run-swapped",
        }
    }

    /// What a figure of this fact would be without the slip; `None` where the slip cannot happen to it.
    fn undo(self, key: FactKey, said: f64, figures: &Figures, relation: &Relation) -> Option<f64> {
        let length = (!is_angle(key)).then_some(said);
        let angle = is_angle(key).then_some(said);
        match self {
            Self::PlanForSlope if key == FactKey::SlopeLength => plan_for_slope(said, figures, relation),
            Self::HalfForWhole if key == FactKey::Span => Some(said * 2.0),
            Self::WholeForHalf if key == FactKey::Span => Some(said / 2.0),
            Self::PlanForSlope | Self::HalfForWhole | Self::WholeForHalf => None,
            Self::FeetAsMetres => length.map(|said| said * FOOT),
            Self::MetresAsFeet => length.map(|said| said / FOOT),
            Self::TenTimesTooSmall => length.map(|said| said * 10.0),
            Self::TenTimesTooBig => length.map(|said| said / 10.0),
            Self::PercentAsDegrees => angle.map(|said| libm::atan(said / 100.0).to_degrees()),
            Self::RiseRunSwapped => angle.map(|said| 90.0 - said),
        }
    }
}

/// The length up the slope over a distance on plan, by the rise where it takes part, else by the pitch.
fn plan_for_slope(run: f64, figures: &Figures, relation: &Relation) -> Option<f64> {
    if relation.others.contains(&FactKey::Rise) {
        return Some(libm::hypot(run, figures.get(FactKey::Rise)));
    }
    let knows_pitch = relation.others.contains(&FactKey::Pitch);
    knows_pitch.then(|| run / libm::cos(figures.get(FactKey::Pitch).to_radians()))
}

/// The slip that reconciles a relation best, the fact it happened to, and what that fact would then be.
///
/// A slip that leaves fewer other relations in contradiction explains more, however well it fits this one.
pub(super) fn likeliest(
    relation: &Relation,
    all: &[&Relation],
    figures: &Figures,
    book: &Handbook,
) -> Option<(Slip, FactKey, Arg)> {
    let facts = std::iter::once(relation.measured).chain(relation.others.iter().copied());
    let facts: Vec<FactKey> = facts.collect();
    let apart = |relation: &Relation, figures: &Figures| {
        relation.apart(figures, book).is_some_and(|apart| apart > 0.0)
    };
    let mut best: Option<((usize, f64), Slip, FactKey, f64)> = None;
    for slip in Slip::ALL {
        for key in &facts {
            let Some(figure) = figures.by_fact.get(key) else { continue };
            let Some(undone) = slip.undo(*key, figure.said, figures, relation) else { continue };
            if !believable(*key, undone) {
                continue;
            }
            let corrected = figures.corrected(*key, undone);
            if apart(relation, &corrected) {
                continue;
            }
            let still_apart = all.iter().filter(|other| apart(other, &corrected)).count();
            let measured = corrected.get(relation.measured);
            let left = (measured - relation.worked_out(&corrected)).abs() / measured.max(1.0);
            if best.is_none_or(|(least, ..)| (still_apart, left) < least) {
                best = Some(((still_apart, left), *slip, *key, undone));
            }
        }
    }
    best.map(|(_, slip, key, undone)| (slip, key, arg(key, undone)))
}

impl Figures {
    /// The same figures with one of them put right, its doubt in proportion.
    fn corrected(&self, key: FactKey, said: f64) -> Self {
        let mut other = self.clone();
        if let Some(figure) = other.by_fact.get_mut(&key) {
            let scale = said / figure.said.max(f64::MIN_POSITIVE);
            *figure = Figure { least: figure.least * scale, said, most: figure.most * scale };
        }
        other
    }
}

fn believable(key: FactKey, value: f64) -> bool {
    let FactKind::Quantity(quantity) = key.kind() else { return false };
    let (low, high) = match quantity.length_band() {
        Some((low, high)) => (low.mm(), high.mm()),
        None => (Quantity::pitch_band().0.deg(), Quantity::pitch_band().1.deg()),
    };
    (low..=high).contains(&value)
}
