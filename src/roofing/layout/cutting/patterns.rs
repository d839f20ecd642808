//! Patterns: the ways to fill one sheet.

use std::collections::BTreeMap;

use super::Meter;
use super::guillotine::{Cut, Group, Placed, groups, one_more};
use super::kinds::{Blank, Kind};

/// Steps to stack one group on whole-width pieces, for each way to cut it.
const STACKING: usize = 10;

/// What one sheet gives.
#[derive(Clone, Debug)]
pub(super) struct Pattern {
    /// Pieces of each kind.
    pub(super) counts: Vec<i64>,
    /// The fewest cuts.
    pub(super) cuts: i64,
}

/// The fewest wasted parts, and rips, of a sheet with these whole-width pieces and this group of narrow ones.
fn best_cut(full: &[(usize, &Kind, i64)], group: &Group, blank: &Blank) -> Option<Cut> {
    let mut stack: Option<Cut> = None;
    for (index, kind, count) in full {
        for _ in 0..*count {
            let piece = Cut::piece(*index, kind, blank);
            stack = match stack {
                Some(below) => Some(below.across(piece, blank)?),
                None => Some(piece),
            };
        }
    }
    let bands: Vec<Cut> = if group.cuts.is_empty() {
        stack.into_iter().collect()
    } else {
        let whole_width = group.cuts.iter().filter(|cut| (cut.width.0..=cut.width.1).contains(&blank.width));
        whole_width
            .filter_map(|cut| match &stack {
                Some(below) => below.clone().across(cut.clone(), blank),
                None => Some(cut.clone()),
            })
            .collect()
    };
    let whole = bands.into_iter().filter_map(|cut| cut.whole_sheet(blank));
    whole.min_by_key(|cut| cut.effort)
}

/// Where every piece of a sheet lies, and how many cuts that takes.
pub(super) fn lay_out(
    counts: &[i64],
    kinds: &[Kind],
    groups: &[Group],
    blank: &Blank,
) -> Option<(Vec<Placed>, i64)> {
    let full: Vec<(usize, &Kind, i64)> = kinds
        .iter()
        .enumerate()
        .zip(counts)
        .filter(|((_, kind), _)| !kind.narrow)
        .map(|((index, kind), count)| (index, kind, *count))
        .collect();
    let narrow: Vec<i64> =
        kinds.iter().zip(counts).filter(|(kind, _)| kind.narrow).map(|(_, count)| *count).collect();
    let group = groups.iter().find(|group| group.counts == narrow)?;
    let cut = best_cut(&full, group, blank)?;
    let mut placed = Vec::new();
    let sheet = Placed { kind: 0, at: 0, at_corrugation: 0, length: blank.length, corrugations: blank.width };
    cut.place(sheet, &mut placed);
    Some((placed, counts.iter().sum::<i64>() - 1 + cut.effort.0))
}

/// All that can be cut out of one sheet: groups of narrow pieces, and whole patterns.
#[derive(Debug)]
pub(super) struct Stacks {
    /// Groups of narrow pieces.
    pub(super) groups: Vec<Group>,
    /// Every pattern that is not part of a larger one with no more cuts.
    pub(super) patterns: Vec<Pattern>,
    /// The cuts for one piece of each kind alone on a sheet.
    pub(super) alone: Vec<i64>,
}

impl Stacks {
    /// Finds them all; `None` where the meter ran out.
    pub(super) fn find(kinds: &[Kind], blank: &Blank, meter: &mut Meter) -> Option<Self> {
        let groups = groups(kinds, blank, usize::MAX, meter)?;
        let full: Vec<&Kind> = kinds.iter().filter(|kind| !kind.narrow).collect();
        let mut stacks: Vec<(Vec<i64>, i64)> = vec![(Vec::new(), 0)];
        for kind in &full {
            let mut longer = Vec::new();
            for (counts, length) in &stacks {
                let room = (blank.length - length).checked_div(kind.low).unwrap_or(0);
                for count in 0..=room.min(kind.demand) {
                    meter.spend(counts.len() + 1)?;
                    let mut counts = counts.clone();
                    counts.push(count);
                    longer.push((counts, length + count * kind.low));
                }
            }
            stacks = longer;
        }
        let mut cuts: BTreeMap<Vec<i64>, i64> = BTreeMap::new();
        for (stack, length) in &stacks {
            for group in groups.iter().filter(|group| group.height + length <= blank.length) {
                meter.spend(STACKING * (group.cuts.len() + kinds.len()))?;
                let with: Vec<(usize, &Kind, i64)> = full
                    .iter()
                    .enumerate()
                    .zip(stack)
                    .map(|((at, kind), count)| (at, *kind, *count))
                    .collect();
                let Some(cut) = best_cut(&with, group, blank) else { continue };
                let counts: Vec<i64> = stack.iter().chain(&group.counts).copied().collect();
                let pieces: i64 = counts.iter().sum();
                cuts.insert(counts, pieces - 1 + cut.effort.0);
            }
        }
        let patterns = cuts
            .iter()
            .filter(|(counts, fewest)| {
                !kinds.iter().enumerate().any(|(at, kind)| {
                    let more = one_more(counts, at, kind.demand);
                    more.and_then(|more| cuts.get(&more)).is_some_and(|with_more| with_more <= fewest)
                })
            })
            .map(|(counts, fewest)| Pattern { counts: counts.clone(), cuts: *fewest })
            .collect();
        let alone = kinds
            .iter()
            .enumerate()
            .filter_map(|(at, _)| {
                one_more(&vec![0; kinds.len()], at, 1).and_then(|one| cuts.get(&one)).copied()
            })
            .collect();
        Some(Self { groups, patterns, alone })
    }
}
