//! What a plan is made of.

use crate::roofing::catalogue::{Catalogue, EdgeUse, FastenerUse};
use crate::roofing::fixings::Fixing;
use crate::roofing::layout::{Column, Course, CutPlan, Line, Piece, PurlinPiece, SupportPlan};
use crate::roofing::materials::Materials;
use crate::roofing::note::Note;
use crate::roofing::roof::{FactKey, Facts, Hand, Missing, Site};
use crate::roofing::rules::{Contribution, Handover, Limit, Phase, Requirement, Requirements, RuleBook};
use crate::units::Length;

/// What the plan is made by: the pure part of the adviser's book.
#[derive(Clone, Debug, PartialEq)]
pub struct Handbook {
    /// The rules.
    pub rules: RuleBook,
    /// What can be bought.
    pub catalogue: Catalogue,
}

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
    /// The catalogue id of the nail.
    pub nail: String,
    /// The nail's length.
    pub nail_length: Length,
    /// How deep it bites.
    pub nail_bite: Length,
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
    /// The columns of one course, in laying order: what [`Piece::column`](crate::roofing::layout::Piece) counts.
    pub fn columns_of(&self, course: usize) -> &[Column] {
        if course % 2 == 1 && !self.staggered.is_empty() { &self.staggered } else { &self.columns }
    }

    /// Whether a requirement has anything to say about a slope that is carried like this one.
    pub fn uses(&self, requirement: Requirement) -> bool {
        let on_purlins = self.purlin_timber.is_some();
        let deck = match self.support {
            SupportPlan::Purlins => false,
            SupportPlan::PurlinsOverDeck { .. }
            | SupportPlan::ExistingDeck { .. }
            | SupportPlan::NewFullDeck { .. } => true,
        };
        match requirement {
            Requirement::MaxPurlinSpacing | Requirement::ScrewBite => on_purlins,
            Requirement::MaxNailLineSpacing | Requirement::NailLineSetback => !on_purlins,
            Requirement::MinDeckThickness => deck,
            Requirement::ScrewPointCover | Requirement::DeckScrewSpacing => deck && on_purlins,
            Requirement::Support
            | Requirement::EndLap
            | Requirement::SideLap
            | Requirement::NailBiteMin
            | Requirement::NailBiteMax
            | Requirement::EavesOverhang
            | Requirement::VergeOverhang
            | Requirement::FixEaves
            | Requirement::FixEndLap
            | Requirement::FixIntermediate
            | Requirement::FixRidge
            | Requirement::SpareSheets
            | Requirement::SpareFixings => true,
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

/// How strongly a finding speaks.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum FindingKind {
    /// A requirement and its value.
    Requirement,
    /// A measurement in doubt took the stricter side of a rule.
    Doubt,
    /// Advice.
    Advice,
    /// A caution.
    Caution,
}

/// Something found out, with its reasons.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// Names it.
    pub id: String,
    /// How strongly it speaks.
    pub kind: FindingKind,
    /// The slope it is about, by index; `None` is the whole roof.
    pub slope: Option<usize>,
    /// What it says.
    pub note: Note,
    /// The requirement it settles, where it settles one.
    pub requirement: Option<Requirement>,
    /// The rules behind it, the deciding one first; each has its source in the rule book.
    pub reasons: Vec<Contribution>,
    /// The source, by id.
    pub source: String,
}

/// A caution and when it is said.
#[derive(Clone, Debug, PartialEq)]
pub struct Caution {
    /// The rule it comes from.
    pub rule: String,
    /// When it is said.
    pub phase: Phase,
    /// What it says.
    pub note: Note,
}

/// Why there is no plan, and what would make the roof acceptable or who to ask. A value, not an error.
#[derive(Clone, Debug, PartialEq)]
pub struct Refusal {
    /// Names the fault: `slope-too-flat`, `asbestos-suspected`.
    pub id: String,
    /// What it says, what would do, who to ask.
    pub note: Note,
    /// Facts whose change would lift it.
    pub facts: Vec<FactKey>,
    /// To whom the person is handed, where to anybody.
    pub handover: Option<Handover>,
    /// Where it is from, by source id.
    pub source: String,
}

/// Everything in a plan.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanParts {
    /// The facts it was made from.
    pub facts: Facts,
    /// The roof they describe.
    pub site: Site,
    /// The front slope, then the back one.
    pub slopes: Vec<SlopePlan>,
    /// Pieces along the edges.
    pub edges: Vec<EdgeRun>,
    /// Finials.
    pub finials: i64,
    /// Where the back slope gets offcuts of the front one.
    pub sharing: Option<Sharing>,
    /// What to buy.
    pub materials: Materials,
    /// What to mind.
    pub cautions: Vec<Caution>,
    /// What was found, with reasons.
    pub findings: Vec<Finding>,
    /// The catalogue's version.
    pub catalogue: String,
    /// Whether the catalogue is the invented demo range.
    pub demo: bool,
}

impl PlanParts {
    /// The pieces of a slope that are cut from the other one's sheets, each with that sheet's number and its label.
    pub fn offcuts_for(&self, slope: usize) -> Vec<(usize, String, &Piece)> {
        let front = slope.checked_sub(1).and_then(|front| self.slopes.get(front));
        let sheets = front.into_iter().flat_map(|front| &front.cuts.sheets);
        let offcuts = sheets.flat_map(|sheet| {
            let labelled = sheet.labels().zip(sheet.all_pieces()).skip(sheet.pieces.len());
            labelled.map(|(label, piece)| (sheet.number, label, piece))
        });
        offcuts.collect()
    }
}

/// What two slopes save by sharing offcuts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sharing {
    /// The sheets it would take with each slope cut by itself.
    pub alone: usize,
    /// No way needs fewer sheets than this for the whole roof.
    pub at_least: usize,
}

/// One of our own mistakes: a plan that did not pass a check. Nobody sees such a plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// The check that failed.
    pub check: &'static str,
    /// Where, in figures, for the log.
    pub detail: String,
}

/// Why there is no plan.
#[derive(Clone, Debug, PartialEq)]
pub enum Unplanned {
    /// These facts must be asked for first.
    Missing(Missing),
    /// The roof is refused as described: at least one reason, stops first.
    Refused(Vec<Refusal>),
    /// A check failed: the fault is ours.
    Fault(Fault),
}
