//! The fewest straight cuts that take a group of pieces out of one sheet.
//!
//! Every cut turns one part into two, so a sheet cut into `parts` took `parts - 1` cuts: the fewest cuts is the
//! fewest *wasted* parts. A way to cut is a tree; what matters of it is the box of sizes it can fill exactly
//! (pieces whose end is hidden may be longer, pieces of the last column may be wider) and its wasted parts.
//! Whole-width pieces only ever stack up the sheet, so the trees are searched for groups of narrow pieces alone.

use std::rc::Rc;

use super::Meter;
use super::kinds::{Blank, Kind};

/// Steps for one pair of ways, set against those already kept.
const WEIGHING: usize = 20;

/// A way to cut, and the sizes of part it fills exactly.
#[derive(Clone, Debug)]
pub(super) struct Cut {
    /// Narrowest and widest part, in corrugations.
    pub(super) width: (i64, i64),
    /// Shortest and longest part, in micrometres.
    pub(super) length: (i64, i64),
    /// Wasted parts, then rips: cuts along the corrugations are the laborious ones.
    pub(super) effort: (i64, i64),
    /// How.
    pub(super) tree: Rc<Tree>,
}

/// What a part becomes.
#[derive(Debug)]
pub(super) enum Tree {
    /// A piece of this kind (index).
    Piece(usize),
    /// Nothing.
    Waste,
    /// Cut across: the first part lies at the sheet's lower end.
    Across(Cut, Cut),
    /// Cut along the corrugations: the first part lies at the left.
    Along(Cut, Cut),
}

/// A piece cut out: kind, distance from the sheet's lower end, first corrugation, length, corrugations.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Placed {
    pub(super) kind: usize,
    pub(super) at: i64,
    pub(super) at_corrugation: i64,
    pub(super) length: i64,
    pub(super) corrugations: i64,
}

impl Cut {
    /// A piece as it is.
    pub(super) fn piece(index: usize, kind: &Kind, blank: &Blank) -> Self {
        let width = if kind.narrow { (blank.narrow, blank.narrow_max) } else { (blank.width, blank.width) };
        Self { width, length: (kind.low, kind.high), effort: (0, 0), tree: Rc::new(Tree::Piece(index)) }
    }

    fn waste(blank: &Blank) -> Self {
        Self {
            width: (1, blank.width),
            length: (1, blank.length),
            effort: (1, 0),
            tree: Rc::new(Tree::Waste),
        }
    }

    /// Two parts one above the other, where a part of the sheet can be that.
    pub(super) fn across(self, other: Self, blank: &Blank) -> Option<Self> {
        let width = (self.width.0.max(other.width.0), self.width.1.min(other.width.1));
        let length = (self.length.0 + other.length.0, (self.length.1 + other.length.1).min(blank.length));
        let effort = (self.effort.0 + other.effort.0, self.effort.1 + other.effort.1);
        (width.0 <= width.1 && length.0 <= length.1).then(|| Self {
            width,
            length,
            effort,
            tree: Rc::new(Tree::Across(self, other)),
        })
    }

    /// Two parts side by side, where a part of the sheet can be that.
    fn along(self, other: Self, blank: &Blank) -> Option<Self> {
        let width = (self.width.0 + other.width.0, (self.width.1 + other.width.1).min(blank.width));
        let length = (self.length.0.max(other.length.0), self.length.1.min(other.length.1));
        let effort = (self.effort.0 + other.effort.0, self.effort.1 + other.effort.1 + 1);
        (width.0 <= width.1 && length.0 <= length.1).then(|| Self {
            width,
            length,
            effort,
            tree: Rc::new(Tree::Along(self, other)),
        })
    }

    /// The whole sheet cut this way, its unused end cut off where there is one.
    pub(super) fn whole_sheet(self, blank: &Blank) -> Option<Self> {
        if self.length.1 >= blank.length { Some(self) } else { self.across(Self::waste(blank), blank) }
    }

    /// Whether this way does all that the other does, for no more effort.
    fn beats(&self, other: &Self) -> bool {
        let holds = |a: (i64, i64), b: (i64, i64)| a.0 <= b.0 && a.1 >= b.1;
        self.effort <= other.effort && holds(self.width, other.width) && holds(self.length, other.length)
    }

    /// Where every piece lies when a part of this size is cut this way.
    pub(super) fn place(&self, part: Placed, placed: &mut Vec<Placed>) {
        match &*self.tree {
            Tree::Waste => {}
            Tree::Piece(kind) => placed.push(Placed { kind: *kind, ..part }),
            Tree::Across(first, second) => {
                let length = first.length.0.max(part.length - second.length.1);
                first.place(Placed { length, ..part }, placed);
                second.place(Placed { at: part.at + length, length: part.length - length, ..part }, placed);
            }
            Tree::Along(first, second) => {
                let wide = first.width.0.max(part.corrugations - second.width.1);
                first.place(Placed { corrugations: wide, ..part }, placed);
                let rest = part.corrugations - wide;
                second.place(
                    Placed { at_corrugation: part.at_corrugation + wide, corrugations: rest, ..part },
                    placed,
                );
            }
        }
    }
}

/// A number of narrow pieces of each kind that can come out of one sheet.
#[derive(Clone, Debug)]
pub(super) struct Group {
    /// Of each narrow kind, in order.
    pub(super) counts: Vec<i64>,
    /// The shortest band of the sheet, whole width, that holds them.
    pub(super) height: i64,
    /// Every way to cut them that no other beats.
    pub(super) cuts: Vec<Cut>,
}

/// Every group of up to so many narrow pieces that fits on one sheet, smaller ones first; the first is no piece.
///
/// `None` where the meter ran out.
pub(super) fn groups(kinds: &[Kind], blank: &Blank, most: usize, meter: &mut Meter) -> Option<Vec<Group>> {
    let narrow: Vec<(usize, &Kind)> = kinds.iter().enumerate().filter(|(_, kind)| kind.narrow).collect();
    let none = vec![0; narrow.len()];
    let mut groups = vec![Group { counts: none.clone(), height: 0, cuts: Vec::new() }];
    let mut layer = vec![none];
    for _ in 0..most {
        if layer.is_empty() {
            break;
        }
        let mut next: Vec<Vec<i64>> = Vec::new();
        for counts in &layer {
            for (at, (_, kind)) in narrow.iter().enumerate() {
                if let Some(more) = one_more(counts, at, kind.demand)
                    && !next.contains(&more)
                {
                    next.push(more);
                }
            }
        }
        layer.clear();
        for counts in next {
            let cuts = ways(&counts, &narrow, &groups, blank, meter)?;
            let height = cuts.iter().map(|cut| cut.length.0).min();
            if let Some(height) = height {
                groups.push(Group { counts: counts.clone(), height, cuts });
                layer.push(counts);
            }
        }
    }
    Some(groups)
}

/// The counts with one more of the kind at `at`, up to its demand.
pub(super) fn one_more(counts: &[i64], at: usize, demand: i64) -> Option<Vec<i64>> {
    let mut more = counts.to_vec();
    let count = more.get_mut(at)?;
    *count += 1;
    (*count <= demand).then_some(more)
}

/// Every unbeaten way to cut a group, from the ways to cut its parts.
fn ways(
    counts: &[i64],
    narrow: &[(usize, &Kind)],
    smaller: &[Group],
    blank: &Blank,
    meter: &mut Meter,
) -> Option<Vec<Cut>> {
    let mut kept: Vec<Cut> = Vec::new();
    if counts.iter().sum::<i64>() == 1 {
        let single = narrow.iter().zip(counts).find(|(_, count)| **count == 1);
        if let Some(((index, kind), _)) = single {
            keep(&mut kept, Some(Cut::piece(*index, kind, blank)));
        }
    }
    for part in smaller.iter().skip(1) {
        let Some(rest) = rest_of(counts, &part.counts) else { continue };
        // Each split is met twice, once from either side: one is enough.
        if part.counts > rest {
            continue;
        }
        let Some(other) = smaller.iter().find(|group| group.counts == rest) else { continue };
        meter.spend(WEIGHING * part.cuts.len() * other.cuts.len())?;
        for first in &part.cuts {
            for second in &other.cuts {
                keep(&mut kept, first.clone().across(second.clone(), blank));
                keep(&mut kept, first.clone().along(second.clone(), blank));
            }
        }
    }
    // Waste beside a part and waste above it: either, or both, once each.
    for _ in 0..2 {
        for cut in kept.clone() {
            keep(&mut kept, cut.clone().across(Cut::waste(blank), blank));
            keep(&mut kept, cut.along(Cut::waste(blank), blank));
        }
    }
    Some(kept)
}

fn rest_of(counts: &[i64], part: &[i64]) -> Option<Vec<i64>> {
    let rest: Vec<i64> = counts.iter().zip(part).map(|(all, some)| all - some).collect();
    (rest.iter().all(|count| *count >= 0) && rest.iter().any(|count| *count > 0)).then_some(rest)
}

fn keep(kept: &mut Vec<Cut>, cut: Option<Cut>) {
    let Some(cut) = cut else { return };
    if !kept.iter().any(|other| other.beats(&cut)) {
        kept.retain(|other| !cut.beats(other));
        kept.push(cut);
    }
}
