//! Which nail and which screw: long enough to hold, short enough to stay inside.

use super::layers::Above;
use crate::roofing::catalogue::{Fastener, FastenerUse, Shank};
use crate::units::Length;

fn of_use(fasteners: &[Fastener], usage: FastenerUse) -> impl Iterator<Item = &Fastener> {
    fasteners.iter().filter(move |fastener| fastener.usage == usage)
}

/// What may hold the sheets of a covering.
fn of_covering<'a>(
    fasteners: &'a [Fastener],
    usage: FastenerUse,
    covering: &str,
) -> impl Iterator<Item = &'a Fastener> {
    of_use(fasteners, usage).filter(move |fastener| fastener.covering.as_deref() == Some(covering))
}

/// How deep a nail may and must bite, and which of those that do is wanted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bite {
    /// At least, where the most layers lie.
    pub least: Length,
    /// At least, in diameters of the nail itself: of a smooth one, and of another.
    pub diameters: (i64, i64),
    /// At most, where the fewest layers lie.
    pub most: Length,
    /// Whether the deepest is wanted, not the shallowest.
    pub deep: bool,
}

impl Bite {
    /// How deep this nail must bite.
    pub fn least_of(&self, nail: &Fastener) -> Length {
        let (smooth, other) = self.diameters;
        self.least.max(nail.diameter * if nail.shank == Shank::Smooth { smooth } else { other })
    }
}

/// The nail for a covering that bites deep enough where most layers lie, and not too deep where the fewest do.
pub fn choose_nail<'a>(
    fasteners: &'a [Fastener],
    covering: &str,
    above: Above,
    bite: Bite,
) -> Option<&'a Fastener> {
    let nails = of_covering(fasteners, FastenerUse::SheetNail, covering);
    let fits = |nail: &&Fastener| {
        (above.most + bite.least_of(nail)..=above.fewest + bite.most).contains(&nail.length)
    };
    let fitting = nails.filter(fits);
    if bite.deep {
        fitting.min_by_key(|nail| std::cmp::Reverse(nail.length))
    } else {
        fitting.min_by_key(|nail| nail.length)
    }
}

/// The shortest screw for a covering that bites deep enough below what of it is above the timber.
pub fn choose_sheet_screw<'a>(
    fasteners: &'a [Fastener],
    covering: &str,
    above: Length,
    bite: Length,
) -> Option<&'a Fastener> {
    let screws = of_covering(fasteners, FastenerUse::SheetScrew, covering);
    screws.filter(|screw| screw.length >= above + bite).min_by_key(|screw| screw.length)
}

/// The shortest and longest screw that may go from inside through a deck into a purlin on it.
pub fn deck_screw_band(deck: Length, purlin_depth: Length, bite: Length, cover: Length) -> (Length, Length) {
    (deck + bite, deck + purlin_depth - cover)
}

/// The longest screw of that band: all it can hold, and no point comes through.
pub fn choose_deck_screw(fasteners: &[Fastener], band: (Length, Length)) -> Option<&Fastener> {
    let screws = of_use(fasteners, FastenerUse::DeckScrew);
    screws.filter(|screw| (band.0..=band.1).contains(&screw.length)).max_by_key(|screw| screw.length)
}

/// The shortest screw from outside that goes through `through` and bites `bite` into the timber below.
pub fn choose_purlin_screw(fasteners: &[Fastener], through: Length, bite: Length) -> Option<&Fastener> {
    let screws = of_use(fasteners, FastenerUse::PurlinScrew);
    screws.filter(|screw| screw.length >= through + bite).min_by_key(|screw| screw.length)
}
