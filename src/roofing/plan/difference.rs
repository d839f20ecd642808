//! What a change of mind changes: what to buy more or less of, which lines move, which requirements differ.

use std::collections::BTreeMap;

use super::Plan;
use crate::roofing::layout::SupportPlan;
use crate::roofing::materials::{MaterialLine, Unit};
use crate::roofing::note::{Arg, Note};
use crate::roofing::requirements::{limit_arg, requirement_word};
use crate::roofing::rules::{Limit, Requirement};
use crate::units::Length;

/// How one line of the shopping list changes, in pieces bought.
#[derive(Clone, Debug, PartialEq)]
pub struct Bought {
    /// The catalogue entry.
    pub item: String,
    /// Its name in the catalogue.
    pub name: String,
    /// Single pieces, or pieces of a length.
    pub unit: Unit,
    /// Pieces bought by the earlier plan.
    pub before: i64,
    /// Pieces bought by the later plan.
    pub after: i64,
}

impl Bought {
    /// How many more or fewer, in the sentence of each: for pieces, and for pieces of a length. The person's own sheet
    /// has no name in the catalogue, and goes by that word.
    pub fn note(&self, more: [&str; 2], fewer: [&str; 2], own: &str) -> Note {
        let count = self.after - self.before;
        let [of_pieces, of_lengths] = if count > 0 { more } else { fewer };
        let note = match self.unit {
            Unit::Piece => Note::new(of_pieces),
            Unit::PieceOf(length) => Note::new(of_lengths).length("length", length),
        };
        let note = note.with("count", Arg::Count(count.abs()));
        match self.name.as_str() {
            "" => note.word("name", own),
            name => note.text("name", name),
        }
    }
}

/// How a later plan differs from an earlier one. Only what differs is listed.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Difference {
    /// What carries the sheets, by slope.
    pub support: Vec<(usize, Option<SupportPlan>, Option<SupportPlan>)>,
    /// Requirements, by slope.
    pub requirements: Vec<(usize, Requirement, Option<Limit>, Option<Limit>)>,
    /// Heights of the fixing lines, by slope.
    pub lines: Vec<(usize, Vec<Length>, Vec<Length>)>,
    /// What to buy more of, or has become spare.
    pub materials: Vec<Bought>,
}

/// Compares two plans of one roof.
pub fn difference(before: &Plan, after: &Plan) -> Difference {
    let mut difference = Difference { materials: materials(before, after), ..Difference::default() };
    for slope in 0..before.slopes.len().max(after.slopes.len()) {
        let (was, is) = (before.slopes.get(slope), after.slopes.get(slope));
        let support = (was.map(|plan| &plan.support), is.map(|plan| &plan.support));
        if support.0 != support.1 {
            difference.support.push((slope, support.0.cloned(), support.1.cloned()));
        }
        for requirement in Requirement::ALL {
            let limit = |plan: Option<&super::SlopePlan>| {
                plan.and_then(|plan| plan.requirements.deciding(*requirement)).map(|decides| decides.limit)
            };
            let used = [was, is].into_iter().flatten().any(|plan| plan.uses(*requirement));
            if used && limit(was) != limit(is) {
                difference.requirements.push((slope, *requirement, limit(was), limit(is)));
            }
        }
        let heights = |plan: Option<&super::SlopePlan>| -> Vec<Length> {
            plan.map(|plan| plan.lines.iter().map(|line| line.y).collect()).unwrap_or_default()
        };
        if heights(was) != heights(is) {
            difference.lines.push((slope, heights(was), heights(is)));
        }
    }
    difference
}

fn materials(before: &Plan, after: &Plan) -> Vec<Bought> {
    let key = |line: &MaterialLine| (line.item.clone(), unit_order(line.unit));
    let mut bought: BTreeMap<(String, Length), Bought> = BTreeMap::new();
    for (line, later) in before
        .materials
        .lines
        .iter()
        .map(|line| (line, false))
        .chain(after.materials.lines.iter().map(|line| (line, true)))
    {
        let entry = bought.entry(key(line)).or_insert_with(|| Bought {
            item: line.item.clone(),
            name: line.name.clone(),
            unit: line.unit,
            before: 0,
            after: 0,
        });
        let count = if later { &mut entry.after } else { &mut entry.before };
        *count += line.packs * line.pack;
    }
    bought.into_values().filter(|one| one.before != one.after).collect()
}

const fn unit_order(unit: Unit) -> Length {
    match unit {
        Unit::Piece => Length::ZERO,
        Unit::PieceOf(length) => length,
    }
}

impl Difference {
    /// Whether the plans differ in nothing that is built or bought.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }

    /// The difference as it is told, what must be built otherwise first. The slope is named where the roof has two.
    pub fn notes(&self, slopes: usize) -> Vec<Note> {
        let named = |slope: &usize| if slopes > 1 { slope + 1 } else { 0 };
        let mut notes = Vec::new();
        for (slope, _, is) in &self.support {
            if let Some(is) = is {
                let note = Note::new("difference-support").word("support", support_word(is));
                notes.push(note.count("slope", named(slope)));
            }
        }
        for (slope, requirement, was, is) in &self.requirements {
            if let (Some(was), Some(is)) = (was, is) {
                let note =
                    Note::new("difference-requirement").word("requirement", requirement_word(*requirement));
                let note = note.with("before", limit_arg(*was)).with("after", limit_arg(*is));
                notes.push(note.count("slope", named(slope)));
            }
        }
        for (slope, _, is) in &self.lines {
            let note = Note::new("difference-lines").with("lines", Arg::Lengths(is.clone()));
            notes.push(note.count("slope", named(slope)));
        }
        for bought in &self.materials {
            notes.push(bought.note(
                ["difference-buy-more", "difference-buy-more-lengths"],
                ["difference-buy-less", "difference-buy-less-lengths"],
                "own-sheet",
            ));
        }
        notes
    }
}

/// The word for a kind of support.
pub(super) const fn support_word(support: &SupportPlan) -> &'static str {
    match support {
        SupportPlan::Purlins => "support-purlins",
        SupportPlan::PurlinsOverDeck { .. } => "support-purlins-over-deck",
        SupportPlan::ExistingDeck { .. } => "support-existing-deck",
        SupportPlan::NewFullDeck { .. } => "support-new-full-deck",
    }
}
