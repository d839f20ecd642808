//! The sheets of a slope: courses, columns and cuts; and offcuts that two slopes of one roof share.

use super::refusals::CATALOGUE;
use super::{Finding, FindingKind, Handbook, Sharing, SlopePlan};
use crate::roofing::layout::cutting::{
    Budget, Cutting, Stock, columns, cut_courses, cut_together, sheets_lower_bound,
    sheets_lower_bound_together,
};
use crate::roofing::layout::{BoughtSheet, Column, Course, CutPlan, Piece, Rise, Way, cut_staggered};
use crate::roofing::note::Note;
use crate::roofing::requirements::Heard;
use crate::roofing::rules::Requirement;
use crate::units::Length;

/// What binds the sheets of one slope.
#[derive(Clone, PartialEq)]
pub(super) struct Outline {
    pub(super) rise: Rise,
    /// Along the eaves, overhangs included.
    pub(super) width: Length,
    pub(super) side_lap: i64,
    pub(super) stock: Stock,
}

impl Outline {
    /// From the sheets' lower edge to the top.
    fn length(&self) -> Length {
        self.rise.sheets_to + self.rise.eaves_overhang
    }
}

/// Courses and columns as they are cut, columns in laying order.
#[derive(Clone)]
pub(super) struct Laid {
    pub(super) outline: Outline,
    pub(super) way: Way,
    pub(super) cuts: CutPlan,
    pub(super) columns: Vec<Column>,
    /// Of every second course, where joints are staggered.
    pub(super) shifted: Vec<Column>,
    /// Every way worth weighing, fewest lines first.
    ways: Vec<Way>,
}

/// The best way to lay the slope: fewest sheets, then cuts, then lines, then the most even courses.
pub(super) fn lay(outline: Outline, stagger: bool) -> Option<Laid> {
    let Outline { rise, width, side_lap, stock } = &outline;
    let mut ways = rise.ways();
    ways.sort_by_key(|way| (way.lines.len(), unevenness(&way.courses)));
    let courses: Vec<Vec<Course>> = ways.iter().map(|way| way.courses.clone()).collect();
    let cutting = cut_courses(*width, *side_lap, &courses, stock, Budget::ROOF).ok()?;
    let way = ways.iter().find(|way| way.courses == cutting.courses)?.clone();
    if stagger && way.courses.len() > 1 {
        let staggered = cut_staggered(*width, *side_lap, &way.courses, stock, Budget::ROOF);
        let (columns, shifted, cuts) = staggered.ok()?;
        return Some(Laid { outline, way, cuts, columns, shifted, ways });
    }
    let mut cuts = cutting.plan;
    // Purlins may go anywhere, so the bound that counts is that of every choice of joints, not of this one.
    if let Ok(free) = sheets_lower_bound(*width, outline.length(), rise.end_lap, *side_lap, stock) {
        cuts.sheets_at_least = free.min(cuts.sheets.len());
    }
    Some(Laid { outline, way, cuts, columns: cutting.columns, shifted: Vec::new(), ways })
}

/// Sheets ordered to length: each piece is a sheet of its own, as long as its course, ripped only at the last column.
pub(super) fn lay_to_length(outline: Outline) -> Option<Laid> {
    let Outline { rise, width, side_lap, stock } = &outline;
    let mut ways = rise.ways();
    ways.sort_by_key(|way| (way.lines.len(), unevenness(&way.courses)));
    let way = ways.first()?.clone();
    let columns = columns(*width, stock, *side_lap).ok()?.each();
    let cells = way.courses.iter().enumerate().flat_map(|(row, course)| {
        columns.iter().enumerate().map(move |(number, column)| (row, course.length(), number, column))
    });
    let sheets = cells.zip(1..).map(|((course, length, column, wide), number)| BoughtSheet {
        number,
        length,
        pieces: vec![Piece {
            course,
            column,
            length,
            corrugations: wide.corrugations,
            at: Length::ZERO,
            at_corrugation: 0,
        }],
        for_back: Vec::new(),
        cuts: usize::from(wide.corrugations < stock.corrugations),
    });
    let sheets: Vec<BoughtSheet> = sheets.collect();
    let cuts = CutPlan {
        cuts: sheets.iter().map(|sheet| sheet.cuts).sum(),
        sheets_at_least: sheets.len(),
        cuts_proven: true,
        sheets,
    };
    Some(Laid { way, cuts, columns, shifted: Vec::new(), ways, outline })
}

fn unevenness(courses: &[Course]) -> Length {
    let lengths = || courses.iter().map(Course::length);
    lengths().max().unwrap_or_default() - lengths().min().unwrap_or_default()
}

/// Cuts both slopes together where that saves a sheet: what the front slope leaves over is then kept for the back.
///
/// # Limits
/// Only slopes whose columns are as many and as wide can share, and only where side joints are not staggered.
pub(super) fn share_offcuts(front: &mut Laid, back: &mut Laid) -> Option<Sharing> {
    let Outline { width, side_lap, stock, .. } = &front.outline;
    let joined = [&*front, &*back].map(|slope| slope.shifted.is_empty());
    if joined != [true, true] || front.columns != back.columns || *stock != back.outline.stock {
        return None;
    }
    let alone = front.cuts.sheets.len() + back.cuts.sheets.len();
    let lengths = [&front.outline, &back.outline].map(|slope| (slope.length(), slope.rise.end_lap));
    let at_least = sheets_lower_bound_together(*width, &lengths, *side_lap, stock).ok()?;
    if at_least >= alone {
        return None;
    }
    let mut pairs: Vec<(&Way, &Way)> =
        front.ways.iter().flat_map(|one| back.ways.iter().map(move |other| (one, other))).collect();
    pairs.sort_by_key(|(one, other)| {
        let lines = one.lines.len() + other.lines.len();
        (lines, unevenness(&one.courses) + unevenness(&other.courses))
    });
    let together = |(one, other): &(&Way, &Way)| [one.courses.as_slice(), &other.courses].concat();
    let courses: Vec<Vec<Course>> = pairs.iter().map(together).collect();
    let cutting = cut_together(*width, *side_lap, &courses, stock, Budget::ROOF, alone).ok()?;
    let (one, other) = pairs.into_iter().find(|pair| together(pair) == cutting.courses)?;
    (front.way, back.way) = (one.clone(), other.clone());
    let at_least = at_least.min(cutting.plan.sheets.len());
    (front.cuts, back.cuts) = by_slope(cutting, front.way.courses.len(), at_least);
    Some(Sharing { alone, at_least })
}

/// Sheets to the slope they are begun for, and the courses of each counted from its own eaves.
fn by_slope(cutting: Cutting, front_courses: usize, at_least: usize) -> (CutPlan, CutPlan) {
    let cuts_proven = cutting.plan.cuts_proven;
    let all = cutting.plan.sheets.len();
    let (mut front, mut back) = (Vec::new(), Vec::new());
    for mut sheet in cutting.plan.sheets {
        let (on_front, mut on_back): (Vec<Piece>, Vec<Piece>) =
            sheet.pieces.into_iter().partition(|piece| piece.course < front_courses);
        for piece in &mut on_back {
            piece.course -= front_courses;
        }
        if on_front.is_empty() {
            sheet.pieces = on_back;
            back.push(sheet);
        } else {
            (sheet.pieces, sheet.for_back) = (on_front, on_back);
            front.push(sheet);
        }
    }
    let spared = all.saturating_sub(at_least);
    let plan = |sheets: Vec<BoughtSheet>| CutPlan {
        cuts: sheets.iter().map(|sheet| sheet.cuts).sum(),
        sheets_at_least: sheets.len().saturating_sub(spared),
        cuts_proven,
        sheets,
    };
    (plan(front), plan(back))
}

/// Numbers the sheets of all slopes as they are laid, course by course from the eaves, the back slope's after the
/// front slope's; and the pieces of each as they are laid.
pub(super) fn number<'l>(slopes: impl Iterator<Item = &'l mut Laid>) {
    let mut numbers = 1..;
    for laid in slopes {
        for sheet in &mut laid.cuts.sheets {
            for pieces in [&mut sheet.pieces, &mut sheet.for_back] {
                pieces.sort_by_key(|piece| (piece.course, piece.column));
            }
        }
        let first = |sheet: &BoughtSheet| sheet.pieces.first().map(|piece| (piece.course, piece.column));
        laid.cuts.sheets.sort_by_key(first);
        for (sheet, number) in laid.cuts.sheets.iter_mut().zip(&mut numbers) {
            sheet.number = number;
        }
    }
}

/// Says so where the sheets of a slope are not proven the fewest.
pub(super) fn best_found(index: usize, cuts: &CutPlan, heard: &Heard, book: &Handbook) -> Option<Finding> {
    let note = Note::new("advice-sheets-best-found").count("sheets", cuts.sheets.len());
    (cuts.sheets.len() > cuts.sheets_at_least).then(|| Finding {
        id: "sheets-best-found".to_owned(),
        kind: FindingKind::Advice,
        slope: Some(index),
        note: note.count("at_least", cuts.sheets_at_least),
        requirement: None,
        reasons: Vec::new(),
        source: heard.source(Requirement::EndLap, book),
    })
}

/// Says that the slopes share offcuts, and what that saves.
pub(super) fn shared(sharing: Sharing, slopes: &[SlopePlan]) -> Finding {
    let sheets: usize = slopes.iter().map(|slope| slope.cuts.sheets.len()).sum();
    Finding {
        id: "offcuts-shared".to_owned(),
        kind: FindingKind::Advice,
        slope: None,
        note: Note::new("advice-offcuts-shared")
            .count("sheets", sheets)
            .count("saved", sharing.alone - sheets)
            .count("spared", sheets - sharing.at_least)
            .count("at_least", sharing.at_least),
        requirement: None,
        reasons: Vec::new(),
        source: CATALOGUE.to_owned(),
    }
}
