//! The cut list: sheets that are cut alike, their pieces by size, and what is left over.

use std::collections::BTreeMap;

use crate::roofing::catalogue::Sheet;
use crate::roofing::layout::{BoughtSheet, Piece};
use crate::roofing::note::ranges;
use crate::roofing::plan::{PlanParts, SlopePlan};
use crate::units::Length;

/// Sheets that are cut alike.
pub(super) struct Alike<'a> {
    pub(super) numbers: Vec<usize>,
    pub(super) first: &'a BoughtSheet,
}

/// A row of the cut list: pieces of one size from sheets that are cut alike.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CutRow {
    /// The sheets, `1–3, 5`.
    pub sheets: String,
    /// The pieces as the drawings label them, `4a–4c`; empty where each sheet gives one.
    pub piece: String,
    /// Up the slope.
    pub length: Length,
    /// Along the eaves.
    pub width: Length,
    /// The width in corrugations.
    pub corrugations: i64,
    /// Whether it is kept for the back slope.
    pub for_back: bool,
}

/// The cut list of one slope of a plan.
pub fn cut_list(plan: &PlanParts, slope: &SlopePlan) -> Vec<CutRow> {
    let mut rows = Vec::new();
    for alike in alike(slope) {
        for Cut { labels, piece, for_back } in by_size(&alike) {
            rows.push(CutRow {
                sheets: ranges(&alike.numbers),
                piece: if alike.gives_several() { labels } else { String::new() },
                length: piece.length,
                width: plan.site.sheet.corrugation_pitch * piece.corrugations,
                corrugations: piece.corrugations,
                for_back,
            });
        }
    }
    rows
}

/// Lengths of timber that are cut alike.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TimberCut {
    /// Their numbers, from 1.
    pub numbers: Vec<usize>,
    /// How long they are bought.
    pub stock: Length,
    /// What each is cut to, the longest first.
    pub pieces: Vec<Length>,
    /// The purlins that the pieces are for, from 1 at the eaves.
    pub purlins: Vec<usize>,
}

/// What the purlin timber of one slope is cut to.
pub fn timber_cuts(slope: &SlopePlan) -> Vec<TimberCut> {
    let mut by_number: BTreeMap<usize, TimberCut> = BTreeMap::new();
    for piece in &slope.purlin_pieces {
        let cut = by_number.entry(piece.stock_number).or_insert_with(|| TimberCut {
            numbers: vec![piece.stock_number],
            stock: piece.stock,
            pieces: Vec::new(),
            purlins: Vec::new(),
        });
        cut.pieces.push(piece.to - piece.from);
        cut.purlins.push(piece.line + 1);
    }
    let mut alike: Vec<TimberCut> = Vec::new();
    for mut cut in by_number.into_values() {
        cut.pieces.sort_unstable_by(|one, other| other.cmp(one));
        match alike.iter_mut().find(|one| (one.stock, &one.pieces) == (cut.stock, &cut.pieces)) {
            Some(one) => {
                one.numbers.append(&mut cut.numbers);
                one.purlins.append(&mut cut.purlins);
            }
            None => alike.push(cut),
        }
    }
    for cut in &mut alike {
        cut.purlins.sort_unstable();
        cut.purlins.dedup();
    }
    alike
}

impl Alike<'_> {
    /// Whether each sheet gives more than one piece, so that pieces need names of their own.
    pub(super) fn gives_several(&self) -> bool {
        self.first.all_pieces().count() > 1
    }
}

pub(super) fn alike(slope: &SlopePlan) -> Vec<Alike<'_>> {
    let same = |one: &BoughtSheet, other: &BoughtSheet| {
        let cut = |piece: &Piece| (piece.at, piece.at_corrugation, piece.length, piece.corrugations);
        one.pieces.len() == other.pieces.len() && one.all_pieces().map(cut).eq(other.all_pieces().map(cut))
    };
    let mut groups: Vec<Alike<'_>> = Vec::new();
    for sheet in &slope.cuts.sheets {
        match groups.iter_mut().find(|group| same(group.first, sheet)) {
            Some(group) => group.numbers.push(sheet.number),
            None => groups.push(Alike { numbers: vec![sheet.number], first: sheet }),
        }
    }
    groups
}

/// On one sheet its own label, as in drawing 2; on several cut alike, the letter they share.
pub(super) fn label(alike: &Alike, place: usize) -> String {
    let full = alike.first.labels().nth(place).unwrap_or_default();
    let letter = full.strip_prefix(&alike.first.number.to_string()).unwrap_or(&full);
    match (alike.numbers.as_slice(), letter) {
        ([_], _) => full,
        (_, "") => short(&alike.numbers),
        (_, letter) => letter.to_owned(),
    }
}

/// Numbers where they are few, how many where they are not.
fn short(numbers: &[usize]) -> String {
    let all = ranges(numbers);
    if all.chars().count() <= 10 { all } else { format!("{} ×", numbers.len()) }
}

/// Pieces of one size from one sheet.
pub(super) struct Cut<'a> {
    /// `4a–4c`.
    pub(super) labels: String,
    pub(super) piece: &'a Piece,
    /// Whether they are kept for the back slope.
    pub(super) for_back: bool,
}

/// Pieces of one size together.
pub(super) fn by_size<'a>(alike: &Alike<'a>) -> Vec<Cut<'a>> {
    let mut sizes: Vec<(String, Cut)> = Vec::new();
    for (place, piece) in alike.first.all_pieces().enumerate() {
        let label = label(alike, place);
        let for_back = place >= alike.first.pieces.len();
        let same = |cut: &Cut| {
            let sizes = (cut.piece.length, cut.piece.corrugations);
            sizes == (piece.length, piece.corrugations) && cut.for_back == for_back
        };
        match sizes.last_mut() {
            Some((first, last)) if same(last) => last.labels = format!("{first}–{label}"),
            _ => sizes.push((label.clone(), Cut { labels: label, piece, for_back })),
        }
    }
    sizes.into_iter().map(|(_, cut)| cut).collect()
}

/// What is left of a sheet, as rectangles: first the strip past all pieces at its end, then what lies between
/// and beside them.
pub(super) fn left_over(sheet: &Sheet, bought: &BoughtSheet) -> Vec<(Length, Length)> {
    let pieces: Vec<&Piece> = bought.all_pieces().collect();
    let reach = pieces.iter().map(|piece| piece.at + piece.length).max().unwrap_or_default();
    let end = bought.length - reach;
    let mut edges = vec![0, sheet.corrugations];
    edges.extend(
        pieces.iter().flat_map(|piece| [piece.at_corrugation, piece.at_corrugation + piece.corrugations]),
    );
    edges.sort_unstable();
    edges.dedup();
    // Strips of corrugations between edges; a gap that goes on in the next strip is one rectangle.
    let mut gaps: Vec<(Length, Length, i64, i64)> = Vec::new();
    for (low, high) in edges.iter().zip(edges.iter().skip(1)) {
        for (from, to) in gaps_in(&pieces, (*low, *high), reach) {
            match gaps.iter_mut().find(|gap| (gap.0, gap.1, gap.3) == (from, to, *low)) {
                Some(gap) => gap.3 = *high,
                None => gaps.push((from, to, *low, *high)),
            }
        }
    }
    let beside =
        gaps.into_iter().map(|(from, to, low, high)| (to - from, sheet.corrugation_pitch * (high - low)));
    let strip = (end > Length::ZERO).then_some((end, sheet.width));
    strip.into_iter().chain(beside).collect()
}

/// Where no piece lies on a strip of corrugations, up to `reach`.
fn gaps_in(pieces: &[&Piece], (low, high): (i64, i64), reach: Length) -> Vec<(Length, Length)> {
    let on_strip =
        |piece: &&&Piece| piece.at_corrugation <= low && piece.at_corrugation + piece.corrugations >= high;
    let mut taken: Vec<(Length, Length)> =
        pieces.iter().filter(on_strip).map(|piece| (piece.at, piece.at + piece.length)).collect();
    taken.sort_unstable();
    taken.push((reach, reach));
    let mut from = Length::ZERO;
    let mut gaps = Vec::new();
    for (start, stop) in taken {
        if start > from {
            gaps.push((from, start));
        }
        from = from.max(stop);
    }
    gaps
}
