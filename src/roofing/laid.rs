//! Slopes laid out: what the layout, the fixings and the timber of one slope come to, and the pieces along its edges.

use crate::roofing::catalogue::{EdgeUse, FastenerUse};
use crate::roofing::fixings::Fixing;
use crate::roofing::layout::{Column, Course, CutPlan, Line, LineKind, PurlinPiece, SupportPlan};
use crate::roofing::roof::Hand;
use crate::roofing::rules::{Limit, Requirement, Requirements};
use crate::units::Length;

/// One slope, laid out.
#[derive(Clone, Debug, PartialEq)]
pub struct SlopePlan {
    /// What must hold on this slope, and why.
    pub requirements: Requirements,
    /// What carries the sheets.
    pub support: SupportPlan,
    /// Along the eaves, overhangs at the verges included: the sheets' own width.
    pub covered_width: Length,
    /// From the eaves edge to the top edge or ridge line.
    pub rafter_length: Length,
    /// How far sheets pass the eaves edge.
    pub eaves_overhang: Length,
    /// How far sheets pass the first barge board.
    pub verge_overhang: Length,
    /// How far the last corrugation passes the far barge board.
    pub far_verge_overhang: Length,
    /// How far an upper sheet covers the lower one.
    pub end_lap: Length,
    /// Corrugations shared by neighbouring sheets.
    pub side_lap: i64,
    /// Purlins, or nail lines on a deck, lowest first.
    pub lines: Vec<Line>,
    /// Courses, lowest first.
    pub courses: Vec<Course>,
    /// Columns, in laying order.
    pub columns: Vec<Column>,
    /// Columns of the second, fourth, … course where side joints are staggered; else empty.
    pub staggered: Vec<Column>,
    /// The end laying starts from, away from the wind.
    pub start_from: Hand,
    /// How the pieces come out of bought sheets.
    pub cuts: CutPlan,
    /// Every nail.
    pub fixings: Vec<Fixing>,
    /// What holds the sheets.
    pub fixed_by: FastenerUse,
    /// The catalogue id of the nail, or of the screw.
    pub nail: String,
    /// Its length.
    pub nail_length: Length,
    /// How deep it bites at least, where most layers lie of those it goes through.
    pub nail_bite: Length,
    /// The longer one for end laps and under pieces, where one nail does not do for all.
    pub long_nail: Option<LongNail>,
    /// The catalogue id of the purlin timber, where purlins are fitted.
    pub purlin_timber: Option<String>,
    /// How the purlin timber is cut and laid.
    pub purlin_pieces: Vec<PurlinPiece>,
    /// The screws that hold the purlins.
    pub screws: Vec<Screws>,
    /// Deck boards, where a deck is to be fitted.
    pub deck_boards: i64,
}

impl SlopePlan {
    /// What holds the sheets on a line of this kind, by catalogue id, and its length.
    pub fn nail_on(&self, kind: LineKind) -> (&str, Length) {
        let stacked = || match kind {
            LineKind::EndLap => true,
            LineKind::Top => self.fixings.iter().any(|fixing| fixing.through_edge_piece),
            LineKind::Eaves => self.eaves_on_lap(),
            LineKind::Intermediate => false,
        };
        match &self.long_nail {
            Some(long) if stacked() => (&long.nail, long.length),
            Some(_) | None => (&self.nail, self.nail_length),
        }
    }

    /// Whether the first course is so short that the second lies on the eaves line too.
    fn eaves_on_lap(&self) -> bool {
        let eaves = self.lines.first().map(|line| line.y);
        self.courses.get(1).zip(eaves).is_some_and(|(second, eaves)| second.lies_at(eaves))
    }

    /// What holds the pieces along the ends, by catalogue id.
    pub fn nail_of_pieces(&self) -> &str {
        self.long_nail.as_ref().map_or(&self.nail, |long| &long.nail)
    }

    /// How deep any nail bites at least.
    pub fn least_bite(&self) -> Length {
        self.long_nail.as_ref().map_or(self.nail_bite, |long| long.bite.min(self.nail_bite))
    }

    /// How many of the fixings through sheets are of the longer nail.
    pub fn long_nails(&self) -> usize {
        let Some(long) = &self.long_nail else { return 0 };
        self.fixings.iter().filter(|fixing| self.nail_on(fixing.line).0 == long.nail).count()
    }

    /// The columns of one course, in laying order: what [`Piece::column`](crate::roofing::layout::Piece) counts.
    pub fn columns_of(&self, course: usize) -> &[Column] {
        if course % 2 == 1 && !self.staggered.is_empty() { &self.staggered } else { &self.columns }
    }

    /// Whether boards of insulation have a place here: between purlins, on the deck under them.
    pub const fn takes_insulation(&self) -> bool {
        match self.support {
            SupportPlan::PurlinsOverDeck { .. } => true,
            SupportPlan::Purlins | SupportPlan::ExistingDeck { .. } | SupportPlan::NewFullDeck { .. } => {
                false
            }
        }
    }

    /// Whether a requirement has anything to say about a slope that is carried like this one.
    pub fn uses(&self, requirement: Requirement) -> bool {
        let on_purlins = self.purlin_timber.is_some();
        let nailed = self.fixed_by == FastenerUse::SheetNail;
        let deck = match self.support {
            SupportPlan::Purlins => false,
            SupportPlan::PurlinsOverDeck { .. }
            | SupportPlan::ExistingDeck { .. }
            | SupportPlan::NewFullDeck { .. } => true,
        };
        match requirement {
            Requirement::MaxPurlinSpacing | Requirement::ScrewBite | Requirement::MinPurlinDepth => {
                on_purlins
            }
            Requirement::MinDeckSpan => matches!(self.support, SupportPlan::NewFullDeck { .. }),
            Requirement::MaxNailLineSpacing | Requirement::NailLineSetback => !on_purlins,
            Requirement::MinDeckThickness => deck,
            Requirement::ScrewPointCover | Requirement::DeckScrewSpacing => deck && on_purlins,
            Requirement::InsulationJoint => self.takes_insulation(),
            Requirement::NailBiteMin | Requirement::NailBiteMax => nailed && !on_purlins,
            Requirement::PurlinNailBite | Requirement::NailPointCover => nailed && on_purlins,
            // What they come to for the nail that is taken is part of its bite.
            Requirement::SmoothNailBite | Requirement::RingedNailBite => false,
            Requirement::EndPlay => self.columns.len() > 1,
            Requirement::SawCut | Requirement::SquaredEnd | Requirement::SpareTimber => on_purlins,
            Requirement::NailEdgeDistance | Requirement::TopLap => {
                self.fixings.iter().any(|fixing| fixing.through_edge_piece)
            }
            Requirement::SheetScrewBite => self.fixed_by == FastenerUse::SheetScrew,
            Requirement::Support
            | Requirement::EndLap
            | Requirement::SideLap
            | Requirement::EavesOverhang
            | Requirement::VergeOverhang
            | Requirement::FixEaves
            | Requirement::FixEndLap
            | Requirement::FixIntermediate
            | Requirement::FixRidge
            | Requirement::NailEndDistance
            | Requirement::SpareSheets
            | Requirement::SpareFixings
            | Requirement::UnderlayStapleSpacing
            | Requirement::DeckBoardScrewSpacing
            | Requirement::EdgeBoardScrewSpacing
            | Requirement::FlashingFixingSpacing
            | Requirement::FinialNails => true,
        }
    }

    /// The widest gap allowed from line to line: between purlins, or between nail lines on a deck.
    pub fn max_line_gap(&self) -> Option<Length> {
        let requirement = match self.support {
            SupportPlan::Purlins | SupportPlan::PurlinsOverDeck { .. } => Requirement::MaxPurlinSpacing,
            SupportPlan::ExistingDeck { .. } | SupportPlan::NewFullDeck { .. } => {
                Requirement::MaxNailLineSpacing
            }
        };
        match self.requirements.deciding(requirement)?.limit {
            Limit::Length(length) => Some(length),
            Limit::Count(_) | Limit::Support(_) => None,
        }
    }
}

/// A longer nail, for where more layers lie.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LongNail {
    /// Its catalogue id.
    pub nail: String,
    /// Its length.
    pub length: Length,
    /// How deep it bites at least.
    pub bite: Length,
}

/// Screws of one kind on one slope.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Screws {
    /// The catalogue id of the screw.
    pub screw: String,
    /// Its length.
    pub length: Length,
    /// From inside through the deck, or from outside through the purlin.
    pub usage: FastenerUse,
    /// How many.
    pub count: i64,
}

/// A run of pieces along one edge: ridge, top edge, verge, wall, eaves filler.
#[derive(Clone, Debug, PartialEq)]
pub struct EdgeRun {
    /// The catalogue id of the piece.
    pub piece: String,
    /// Which edge.
    pub edge: EdgeUse,
    /// Which slope (index); the ridge belongs to the first.
    pub slope: usize,
    /// At which hand, for verges and side walls.
    pub hand: Option<Hand>,
    /// How long the edge is.
    pub run: Length,
    /// How far each piece laps the next.
    pub lap: Length,
    /// Pieces, the last one cut.
    pub pieces: i64,
    /// Nails that hold it and nothing else (those through the sheet's own fixings are counted there).
    pub own_fixings: i64,
}
