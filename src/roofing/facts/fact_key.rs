//! The closed list of facts: what each is called outside, and what kind of answer fills it.

use super::Detail;
use super::choices::{
    AsbestosTest, Choice as _, CoveringNow, OpenSides, OverheadLines, Region, RoofForm, Structure, Support,
    Surroundings, Suspicion, WallSide, WindFrom, YesNo,
};
use crate::units::Quantity;

/// What kind of value a fact takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FactKind {
    /// A measurement.
    Quantity(Quantity),
    /// One of these ids.
    Choice(&'static [&'static str]),
    /// A whole number in this band, both ends included.
    Count(i64, i64),
    /// The id of a sheet in the catalogue, or `label` where the person reads their own.
    Sheet,
    /// A few of the person's own words that tell this, or one of its choices.
    Words(Detail),
}

macro_rules! facts {
    ($($(#[$doc:meta])* $variant:ident = $key:literal : $kind:expr),+ $(,)?) => {
        /// One thing that can be known about a roof.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum FactKey { $($(#[$doc])* $variant),+ }

        impl FactKey {
            /// Every fact, in the order a roofer would ask.
            pub const ALL: &'static [Self] = &[$(Self::$variant),+];

            /// The name it has in files and in the chat's JSON.
            pub const fn key(self) -> &'static str {
                match self { $(Self::$variant => $key),+ }
            }

            /// What fills it.
            pub const fn kind(self) -> FactKind {
                match self { $(Self::$variant => $kind),+ }
            }
        }
    };
}

const YES_NO: FactKind = FactKind::Choice(YesNo::IDS);

facts! {
    /// What is on the roof now.
    CoveringNow = "covering_now": FactKind::Choice(CoveringNow::IDS),
    /// Whether asbestos has been spoken of: once it has, it stays until a test clears it.
    AsbestosSuspicion = "asbestos_suspicion": FactKind::Choice(Suspicion::IDS),
    /// Whether a competent person has tested a suspect covering.
    AsbestosTest = "asbestos_test": FactKind::Choice(AsbestosTest::IDS),
    /// Who tested it and found it clear, and when.
    AsbestosTestedBy = "asbestos_tested_by": FactKind::Words(Detail::Account),
    /// How the timbers and boards are.
    Structure = "structure": FactKind::Choice(Structure::IDS),
    /// Who repaired them, and when.
    RepairedBy = "repaired_by": FactKind::Words(Detail::Account),
    /// Whether a cable passes over or near.
    OverheadLines = "overhead_lines": FactKind::Choice(OverheadLines::IDS),
    /// The day on which those who run the line said that the work may be done.
    LinesClearedWhen = "lines_cleared_when": FactKind::Words(Detail::Day),
    /// How far that line is from the roof.
    LinesDistance = "lines_distance": FactKind::Words(Detail::Distance),
    /// One slope or two.
    Form = "form": FactKind::Choice(RoofForm::IDS),
    /// Whether both slopes are alike.
    SlopesEqual = "slopes_equal": YES_NO,
    /// Steepness of the (front) slope.
    Pitch = "pitch": FactKind::Quantity(Quantity::Pitch),
    /// Steepness of the back slope.
    PitchBack = "pitch_back": FactKind::Quantity(Quantity::Pitch),
    /// What the sheets will lie on.
    Base = "base": FactKind::Choice(Support::IDS),
    /// Thickness of the boards.
    DeckThickness = "deck_thickness": FactKind::Quantity(Quantity::DeckThickness),
    /// Centre to centre of the timbers below.
    TimberSpacing = "timber_spacing": FactKind::Quantity(Quantity::Spacing),
    /// Along the eaves, barge board to barge board.
    Length = "length": FactKind::Quantity(Quantity::Length),
    /// Up the (front) slope from the eaves edge to the top edge.
    SlopeLength = "slope_length": FactKind::Quantity(Quantity::SlopeLength),
    /// Up the back slope.
    SlopeLengthBack = "slope_length_back": FactKind::Quantity(Quantity::SlopeLength),
    /// Level, across the building, wall to wall.
    Span = "span": FactKind::Quantity(Quantity::Width),
    /// How much the (front) slope climbs from eaves to top.
    Rise = "rise": FactKind::Quantity(Quantity::Rise),
    /// How far the rafters pass the wall, level, at each eaves.
    RafterOverhang = "rafter_overhang": FactKind::Quantity(Quantity::Overhang),
    /// Corner to corner of the (front) slope.
    DiagonalA = "diagonal_a": FactKind::Quantity(Quantity::Length),
    /// The other corner to corner.
    DiagonalB = "diagonal_b": FactKind::Quantity(Quantity::Length),
    /// Whether a wall stands at the top edge of a single slope.
    WallTop = "wall_top": YES_NO,
    /// Whether a wall stands at a side, seen facing the (front) eaves.
    WallSide = "wall_side": FactKind::Choice(WallSide::IDS),
    /// The side the wind mostly comes from, seen facing the (front) eaves.
    WindFrom = "wind_from": FactKind::Choice(WindFrom::IDS),
    /// Whether boards of insulation go between the purlins.
    Insulation = "insulation": YES_NO,
    /// Which sheet is used.
    Sheet = "sheet": FactKind::Sheet,
    /// Length of one sheet, off its label.
    SheetLength = "sheet_length": FactKind::Quantity(Quantity::SheetLength),
    /// Whole width of one sheet, off its label.
    SheetWidth = "sheet_width": FactKind::Quantity(Quantity::SheetWidth),
    /// Corrugations on one sheet, counted.
    SheetCorrugations = "sheet_corrugations": FactKind::Count(4, 30),
    /// Trough to crown of one corrugation.
    CorrugationHeight = "corrugation_height": FactKind::Quantity(Quantity::CorrugationHeight),
    /// In which of the book's regions the building stands. This and all below are for the checks of strength: no plan
    /// waits for them.
    Region = "region": FactKind::Choice(Region::IDS),
    /// What lies around it.
    Surroundings = "surroundings": FactKind::Choice(Surroundings::IDS),
    /// The basic wind speed off a map, in metres a second.
    WindSpeed = "wind_speed": FactKind::Count(10, 60),
    /// The snow load on the ground off a map, in newtons on a square metre.
    SnowLoad = "snow_load": FactKind::Count(0, 10_000),
    /// From the ground to the eaves.
    EavesHeight = "eaves_height": FactKind::Quantity(Quantity::Height),
    /// How many sides have no wall.
    OpenSides = "open_sides": FactKind::Choice(OpenSides::IDS),
    /// Whether something higher stands close beside it, from which snow slides or drifts.
    TallerBeside = "taller_beside": YES_NO,
    /// How wide a rafter is.
    RafterWidth = "rafter_width": FactKind::Quantity(Quantity::TimberSize),
    /// How deep a rafter is, square to the slope.
    RafterDepth = "rafter_depth": FactKind::Quantity(Quantity::TimberSize),
    /// How far a rafter spans between what carries it, along the slope.
    RafterSpan = "rafter_span": FactKind::Quantity(Quantity::SlopeLength),
    /// Whether the room below is heated.
    Heated = "heated": YES_NO,
}

impl FactKey {
    /// The fact of that name.
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|fact| fact.key() == key)
    }

    /// Whether it is a size of goods that nobody measures in inches any more: of a board, of a corrugation.
    pub const fn is_of_goods(self) -> bool {
        matches!(self, Self::DeckThickness | Self::CorrugationHeight | Self::RafterWidth | Self::RafterDepth)
    }

    /// Whether a wrong answer here can hurt someone: such a fact never has a default.
    pub const fn is_safety(self) -> bool {
        matches!(
            self,
            Self::CoveringNow
                | Self::AsbestosSuspicion
                | Self::AsbestosTest
                | Self::Structure
                | Self::OverheadLines
                | Self::LinesClearedWhen
                | Self::LinesDistance
        )
    }
}
