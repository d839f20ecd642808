//! What the drawings of one slope share: which slope, its pieces where they lie, and names.

use super::Words;
use super::kit::draft::Head;
use super::kit::place::Extent;
use super::{Kind, slope_word};
use crate::roofing::catalogue::{Catalogue, StockMethod, Timber};
use crate::roofing::layout::{Column, Course, LineKind, Piece, SupportPlan};
use crate::roofing::note::{Arg, Note};
use crate::roofing::plan::{PlanParts, SlopePlan};
use crate::roofing::roof::{Form, Hand};
use crate::units::Length;

/// One slope of a plan, to be drawn.
#[derive(Clone, Copy)]
pub(super) struct SlopeView<'a> {
    pub(super) plan: &'a PlanParts,
    pub(super) slope: &'a SlopePlan,
    pub(super) index: usize,
    /// Whether the other slope is laid exactly like this one, so that one drawing serves both.
    pub(super) both: bool,
    pub(super) catalogue: &'a Catalogue,
    pub(super) words: Words<'a>,
}

/// One piece where it lies on the roof.
#[derive(Clone, Debug)]
pub(super) struct Laid<'a> {
    /// `7`, or `7b` where its sheet gives more than one piece: the same as in the cut diagram.
    pub(super) label: String,
    pub(super) piece: &'a Piece,
    pub(super) left: Length,
    pub(super) right: Length,
    pub(super) low: Length,
    pub(super) high: Length,
    /// Which of its edges were cut.
    pub(super) cut: CutEdges,
}

/// Which edges of a piece were cut.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[expect(clippy::struct_excessive_bools, reason = "a piece has four edges and each is cut or not")]
pub(super) struct CutEdges {
    pub(super) left: bool,
    pub(super) right: bool,
    pub(super) low: bool,
    pub(super) high: bool,
}

impl<'a> SlopeView<'a> {
    /// Title, name and text version of a drawing of this slope.
    pub(super) fn head(&self, kind: Kind, title: &str, notes: &[Note]) -> Head {
        let title = self.words.note(&Note::new(title).word("slope", self.slope_name()));
        let description = [title.clone(), self.words.lines(notes)].join("\n");
        Head { kind, name: self.name(kind), title, description }
    }

    /// The name of a drawing of this slope, fit for a file.
    pub(super) fn name(&self, kind: Kind) -> String {
        let which = match (self.plan.slopes.len(), self.both, self.index) {
            (1, _, _) => "",
            (_, true, _) => "-both",
            (_, false, 0) => "-front",
            (_, false, _) => "-back",
        };
        format!("{}{which}", kind.key())
    }

    fn slope_name(&self) -> &'static str {
        if self.both { "drawing-slope-both" } else { slope_word(self.plan.slopes.len(), self.index) }
    }

    /// Along the eaves, barge board to barge board.
    pub(super) fn length(&self) -> Length {
        self.plan.site.length.value
    }

    /// The slope itself, without overhangs.
    pub(super) fn bare(&self) -> Extent {
        Extent { left: Length::ZERO, low: Length::ZERO, right: self.length(), high: self.slope.rafter_length }
    }

    /// The slope with its sheets.
    pub(super) fn sheeted(&self) -> Extent {
        let edges =
            |pick: fn(&Column) -> Length| self.slope.columns.iter().chain(&self.slope.staggered).map(pick);
        let left = edges(|column| column.from).min().unwrap_or_default().min(Length::ZERO);
        let right = edges(|column| column.to).max().unwrap_or_default().max(self.length());
        let low = self.slope.courses.first().map_or(Length::ZERO, |course| course.from).min(Length::ZERO);
        let high = self.slope.courses.last().map_or(Length::ZERO, |course| course.to);
        Extent { left, low, right, high: high.max(self.slope.rafter_length) }
    }

    /// The message that names the upper edge.
    pub(super) fn top_word(&self) -> &'static str {
        match (self.plan.site.form, self.plan.site.wall_top) {
            (Form::TwoSlopes, _) => "drawing-ridge",
            (Form::SingleSlope, true) => "drawing-wall",
            (Form::SingleSlope, false) => "drawing-top-edge",
        }
    }

    /// The timber of new purlins, where there are any.
    pub(super) fn timber(&self) -> Option<&'a Timber> {
        let id = self.slope.purlin_timber.as_ref()?;
        self.catalogue.timbers.iter().find(|timber| timber.item.id == *id)
    }

    /// Whether sheets lie on purlins rather than on boards.
    pub(super) fn on_purlins(&self) -> bool {
        match self.slope.support {
            SupportPlan::Purlins | SupportPlan::PurlinsOverDeck { .. } => true,
            SupportPlan::ExistingDeck { .. } | SupportPlan::NewFullDeck { .. } => false,
        }
    }

    /// The side the wind comes from on this slope as it is drawn, seen from its own eaves.
    pub(super) fn wind(&self) -> Option<Hand> {
        self.plan.site.wind_on(self.index)
    }

    /// Every piece where it lies, in the order of sheets.
    pub(super) fn laid(&self) -> Vec<Laid<'a>> {
        let mut laid = Vec::new();
        for (_, label, piece) in self.plan.offcuts_for(self.index) {
            laid.extend(self.lay(piece, label));
        }
        for sheet in &self.slope.cuts.sheets {
            let pieces = sheet.pieces.iter().zip(sheet.labels());
            laid.extend(pieces.filter_map(|(piece, label)| self.lay(piece, label)));
        }
        laid
    }

    fn lay(&self, piece: &'a Piece, label: String) -> Option<Laid<'a>> {
        let column = self.slope.columns_of(piece.course).get(piece.column)?;
        let course = self.slope.courses.get(piece.course)?;
        // A piece wider than its column reaches further back, under or over the one laid before it.
        let wide = self.plan.site.sheet.corrugation_pitch * piece.corrugations;
        let (left, right) = match self.slope.start_from {
            Hand::Left => (column.from.min(column.to - wide), column.to),
            Hand::Right => (column.from, column.to.max(column.from + wide)),
        };
        let (low, high) = (course.from, course.from + piece.length);
        Some(Laid { label, piece, left, right, low, high, cut: self.cut_edges(piece) })
    }

    /// A piece keeps a made edge only where it lay along the sheet's own edge.
    fn cut_edges(&self, piece: &Piece) -> CutEdges {
        let sheet = &self.plan.site.sheet;
        CutEdges {
            left: piece.at_corrugation > 0,
            right: piece.at_corrugation + piece.corrugations < sheet.corrugations,
            low: piece.at > Length::ZERO,
            // A sheet longer than whole millimetres is used to the millimetre: that fraction is no cut.
            high: match self.plan.site.covering.stock {
                StockMethod::CutFromStock => {
                    piece.at + piece.length < Length::from_mm(sheet.length.floor_mm())
                }
                StockMethod::OrderedToLength => false,
            },
        }
    }

    /// Where one course lies under the next.
    pub(super) fn end_laps(&self) -> Vec<(Length, Length)> {
        let pairs = self.slope.courses.iter().zip(self.slope.courses.iter().skip(1));
        pairs.map(|(lower, upper): (&Course, &Course)| (upper.from, lower.to)).collect()
    }
}

/// The name of a line's kind for programs.
pub(super) const fn line_key(kind: LineKind) -> &'static str {
    match kind {
        LineKind::Eaves => "eaves",
        LineKind::EndLap => "end-lap",
        LineKind::Intermediate => "intermediate",
        LineKind::Top => "top",
    }
}

/// A count for a message.
pub(super) fn number(count: usize) -> Arg {
    Arg::Count(i64::try_from(count).unwrap_or(i64::MAX))
}

/// A length for programs: millimetres, exact.
pub(super) fn mm(length: Length) -> String {
    length.mm().to_string()
}
