//! Which nail and which screw: long enough to hold, short enough to stay inside.

use crate::roofing::catalogue::{Fastener, FastenerUse};
use crate::units::Length;

fn of_use(fasteners: &[Fastener], usage: FastenerUse) -> impl Iterator<Item = &Fastener> {
    fasteners.iter().filter(move |fastener| fastener.usage == usage)
}

/// What may hold the sheets of a covering.
fn of_covering<'a>(
    fasteners: &'a [Fastener],
    usage: FastenerUse,
    covering: &'a str,
) -> impl Iterator<Item = &'a Fastener> {
    of_use(fasteners, usage).filter(move |fastener| fastener.covering.as_deref() == Some(covering))
}

/// The shortest nail for a covering that bites deep enough, and not too deep, below a corrugation of this height.
pub fn choose_nail<'a>(
    fasteners: &'a [Fastener],
    covering: &'a str,
    corrugation_height: Length,
    bite: (Length, Length),
) -> Option<&'a Fastener> {
    let (least, most) = (corrugation_height + bite.0, corrugation_height + bite.1);
    let nails = of_covering(fasteners, FastenerUse::SheetNail, covering);
    nails.filter(|nail| (least..=most).contains(&nail.length)).min_by_key(|nail| nail.length)
}

/// The shortest screw for a covering that bites deep enough below what of it is above the timber.
pub fn choose_sheet_screw<'a>(
    fasteners: &'a [Fastener],
    covering: &'a str,
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
