//! What may be required of a roof, and in which direction each requirement tightens.

use std::cmp::Ordering;

use crate::roofing::catalogue::{Covering, FastenerUse, SundryUse};
use crate::roofing::note::Arg;
use crate::units::Length;

/// What carries the sheets.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Support {
    /// Purlins are enough.
    Purlins,
    /// A full deck is needed.
    FullDeck,
}

/// The value of a requirement.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Limit {
    /// A length.
    Length(Length),
    /// A whole number: corrugations lapped, every how many corrugations.
    Count(i64),
    /// A kind of support.
    Support(Support),
}

impl Limit {
    /// As a figure of a note.
    pub fn arg(self) -> Arg {
        match self {
            Self::Length(length) => Arg::Length(length),
            Self::Count(count) => Arg::Count(count),
            Self::Support(Support::Purlins) => Arg::Word("support-purlins".to_owned()),
            Self::Support(Support::FullDeck) => Arg::Word("support-full-deck".to_owned()),
        }
    }
}

/// Which way a requirement tightens.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Tightens {
    Up,
    Down,
}

macro_rules! requirements {
    ($($(#[$doc:meta])* $variant:ident = $key:literal, $way:ident, $unit:ident);+ $(;)?) => {
        /// Something a rule can require of a roof.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Requirement { $($(#[$doc])* $variant),+ }

        impl Requirement {
            /// Every requirement.
            pub const ALL: &'static [Self] = &[$(Self::$variant),+];

            /// The name it has in rule files; lengths end in `_mm`.
            pub const fn key(self) -> &'static str {
                match self { $(Self::$variant => $key),+ }
            }

            /// The name its value has in messages: the name in rule files without the unit.
            pub fn name(self) -> &'static str {
                let key = self.key();
                key.strip_suffix("_mm").unwrap_or(key)
            }

            /// Whether its value is a size of nails, screws or boards.
            pub const fn is_of_goods(self) -> bool {
                matches!(
                    self,
                    Self::NailBiteMin
                        | Self::NailBiteMax
                        | Self::PurlinNailBite
                        | Self::NailPointCover
                        | Self::NailEdgeDistance
                        | Self::SawCut
                        | Self::SquaredEnd
                        | Self::SheetScrewBite
                        | Self::MinDeckThickness
                        | Self::ScrewPointCover
                        | Self::ScrewBite
                        | Self::MinPurlinDepth
                        | Self::MinDeckSpan
                )
            }

            const fn tightens(self) -> Tightens {
                match self { $(Self::$variant => Tightens::$way),+ }
            }

            /// Whether the value is of this requirement's kind.
            pub const fn takes(self, limit: Limit) -> bool {
                match self { $(Self::$variant => matches!(limit, Limit::$unit(_))),+ }
            }
        }
    };
}

requirements! {
    /// What carries the sheets.
    Support = "support", Up, Support;
    /// Centre to centre of purlins, at most.
    MaxPurlinSpacing = "max_purlin_spacing_mm", Down, Length;
    /// Centre to centre of the nail lines on a full deck, at most.
    MaxNailLineSpacing = "max_nail_line_spacing_mm", Down, Length;
    /// How far an upper sheet covers the lower one, at least.
    EndLap = "end_lap_mm", Up, Length;
    /// Corrugations shared by neighbouring sheets, at least.
    SideLap = "side_lap_corrugations", Up, Count;
    /// How deep a nail must bite into a deck, at least.
    NailBiteMin = "nail_bite_min_mm", Up, Length;
    /// How deep a nail may bite into a deck, at most.
    NailBiteMax = "nail_bite_max_mm", Down, Length;
    /// How deep a nail must bite into a purlin, at least.
    PurlinNailBite = "purlin_nail_bite_mm", Up, Length;
    /// How far a nail's point stays inside a purlin, at least.
    NailPointCover = "nail_point_cover_mm", Up, Length;
    /// How many of its own diameters a smooth nail must bite into a purlin, at least.
    SmoothNailBite = "smooth_nail_bite_diameters", Up, Count;
    /// How many of its own diameters a ringed or twisted nail must bite into a purlin, at least.
    RingedNailBite = "ringed_nail_bite_diameters", Up, Count;
    /// How many of its own diameters a nail or screw through the sheet stays from the end of a timber, at least.
    NailEndDistance = "nail_end_distance_diameters", Up, Count;
    /// How far a nail stays from the edge of a sheet, or of a piece along the top, at least.
    NailEdgeDistance = "nail_edge_distance_mm", Up, Length;
    /// How far a piece along the top covers the sheet, at least.
    TopLap = "top_lap_mm", Up, Length;
    /// How deep a screw through the sheet must bite into timber, at least.
    SheetScrewBite = "sheet_screw_bite_mm", Up, Length;
    /// The thinnest deck that takes the nails.
    MinDeckThickness = "min_deck_thickness_mm", Up, Length;
    /// How deep the purlins' timber is, at least: set by the check of what it carries.
    MinPurlinDepth = "min_purlin_depth_mm", Up, Length;
    /// How thick a new deck is, at least, to carry from timber to timber: set by the check of what it carries.
    MinDeckSpan = "min_deck_for_span_mm", Up, Length;
    /// How far a screw's point stays inside the timber, at least.
    ScrewPointCover = "screw_point_cover_mm", Up, Length;
    /// How deep a deck screw must hold in the purlin, at least.
    ScrewBite = "screw_bite_mm", Up, Length;
    /// Along a purlin over a deck, centre to centre of the screws from inside, at most.
    DeckScrewSpacing = "deck_screw_spacing_mm", Down, Length;
    /// How far a nail line on a deck stays from the deck's edge, at least.
    NailLineSetback = "nail_line_setback_mm", Up, Length;
    /// How far sheets pass the eaves, at least.
    EavesOverhang = "eaves_overhang_mm", Up, Length;
    /// How far sheets pass the barge board, at least.
    VergeOverhang = "verge_overhang_mm", Up, Length;
    /// At the eaves, a fixing every so many corrugations, at most.
    FixEaves = "fix_eaves_every", Down, Count;
    /// At end laps, a fixing every so many corrugations, at most.
    FixEndLap = "fix_end_lap_every", Down, Count;
    /// At purlins between, a fixing every so many corrugations, at most.
    FixIntermediate = "fix_intermediate_every", Down, Count;
    /// On ridge pieces and along the top, a fixing every so many corrugations, at most.
    FixRidge = "fix_ridge_every", Down, Count;
    /// How wide a joint beside a board of insulation may be left, to be sealed, at most.
    InsulationJoint = "insulation_joint_mm", Down, Length;
    /// Spare sheets, at least.
    SpareSheets = "spare_sheets", Up, Count;
    /// Spare fixings, per cent, at least.
    SpareFixings = "spare_fixings_percent", Up, Count;
    /// Along a strip of underlay, centre to centre of its staples, at most.
    UnderlayStapleSpacing = "underlay_staple_spacing_mm", Down, Length;
    /// Across a new deck's board, along each timber under it, centre to centre of its screws, at most.
    DeckBoardScrewSpacing = "deck_board_screw_spacing_mm", Down, Length;
    /// Along barge boards and fascia, centre to centre of the pairs of screws, at most.
    EdgeBoardScrewSpacing = "edge_board_screw_spacing_mm", Down, Length;
    /// Along a flashing, centre to centre of what holds it to the wall, at most.
    FlashingFixingSpacing = "flashing_fixing_spacing_mm", Down, Length;
    /// Nails in a finial, at least.
    FinialNails = "finial_nails", Up, Count;
    /// How much narrower a roof is better made to save a column of sheets, at most.
    EndPlay = "end_play_mm", Down, Length;
    /// What each cut takes from a timber, at least.
    SawCut = "saw_cut_mm", Up, Length;
    /// What is cut off a timber to square its end before pieces are cut from it, at least.
    SquaredEnd = "squared_end_mm", Up, Length;
    /// Spare lengths of purlin timber, at least.
    SpareTimber = "spare_timber", Up, Count;
}

impl Covering {
    /// Whether rules must say this of the covering.
    pub const fn needs(&self, requirement: Requirement) -> bool {
        match requirement {
            Requirement::NailBiteMin | Requirement::NailBiteMax => self.on_deck && self.is_nailed(),
            Requirement::PurlinNailBite
            | Requirement::NailPointCover
            | Requirement::SmoothNailBite
            | Requirement::RingedNailBite => self.is_nailed(),
            Requirement::SheetScrewBite => !self.is_nailed(),
            Requirement::MinDeckThickness
            | Requirement::MaxNailLineSpacing
            | Requirement::NailLineSetback => self.on_deck,
            // What the checks of strength ask for no rule need say; where no rule allows a joint, boards fit tight.
            Requirement::MinPurlinDepth | Requirement::MinDeckSpan | Requirement::InsulationJoint => false,
            Requirement::Support
            | Requirement::MaxPurlinSpacing
            | Requirement::EndLap
            | Requirement::SideLap
            | Requirement::ScrewPointCover
            | Requirement::ScrewBite
            | Requirement::DeckScrewSpacing
            | Requirement::EavesOverhang
            | Requirement::VergeOverhang
            | Requirement::FixEaves
            | Requirement::FixEndLap
            | Requirement::FixIntermediate
            | Requirement::FixRidge
            | Requirement::NailEndDistance
            | Requirement::NailEdgeDistance
            | Requirement::TopLap
            | Requirement::EndPlay
            | Requirement::SpareSheets
            | Requirement::SpareFixings
            | Requirement::UnderlayStapleSpacing
            | Requirement::DeckBoardScrewSpacing
            | Requirement::EdgeBoardScrewSpacing
            | Requirement::FlashingFixingSpacing
            | Requirement::FinialNails
            | Requirement::SawCut
            | Requirement::SquaredEnd
            | Requirement::SpareTimber => true,
        }
    }

    /// Whether its sheets are nailed, not screwed.
    pub const fn is_nailed(&self) -> bool {
        match self.fixing.fastener() {
            FastenerUse::SheetNail => true,
            FastenerUse::SheetScrew | FastenerUse::DeckScrew | FastenerUse::PurlinScrew => false,
        }
    }

    /// How deep its nails or screws must bite, at least, into purlins or into a deck.
    pub const fn bite(&self, on_purlins: bool) -> Requirement {
        match (self.is_nailed(), on_purlins) {
            (true, true) => Requirement::PurlinNailBite,
            (true, false) => Requirement::NailBiteMin,
            (false, _) => Requirement::SheetScrewBite,
        }
    }
}

impl Requirement {
    /// The requirement of that name.
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|requirement| requirement.key() == key)
    }

    /// What it counts of the list, where it counts something small that goes with the rest.
    pub const fn counts(self) -> Option<SundryUse> {
        match self {
            Self::UnderlayStapleSpacing => Some(SundryUse::UnderlayStaple),
            Self::DeckBoardScrewSpacing => Some(SundryUse::DeckBoardScrew),
            Self::EdgeBoardScrewSpacing => Some(SundryUse::EdgeBoardScrew),
            Self::FlashingFixingSpacing => Some(SundryUse::FlashingFixing),
            Self::FinialNails => Some(SundryUse::FinialNail),
            Self::Support
            | Self::MaxPurlinSpacing
            | Self::MaxNailLineSpacing
            | Self::EndLap
            | Self::SideLap
            | Self::NailBiteMin
            | Self::NailBiteMax
            | Self::SheetScrewBite
            | Self::MinDeckThickness
            | Self::ScrewPointCover
            | Self::ScrewBite
            | Self::DeckScrewSpacing
            | Self::NailLineSetback
            | Self::EavesOverhang
            | Self::VergeOverhang
            | Self::FixEaves
            | Self::FixEndLap
            | Self::FixIntermediate
            | Self::FixRidge
            | Self::MinPurlinDepth
            | Self::MinDeckSpan
            | Self::InsulationJoint
            | Self::PurlinNailBite
            | Self::NailPointCover
            | Self::SmoothNailBite
            | Self::RingedNailBite
            | Self::NailEndDistance
            | Self::NailEdgeDistance
            | Self::TopLap
            | Self::EndPlay
            | Self::SawCut
            | Self::SquaredEnd
            | Self::SpareTimber
            | Self::SpareSheets
            | Self::SpareFixings => None,
        }
    }

    /// Whether it is a limit that must not be passed, so that 0 would forbid everything.
    pub fn is_at_most(self) -> bool {
        self.tightens() == Tightens::Down
    }

    /// Compares two values by strictness; `Greater` means `a` is the stricter.
    ///
    /// Values of different kinds never meet: [`Requirement::takes`] is checked when the book is read.
    pub fn strictness(self, a: Limit, b: Limit) -> Ordering {
        let upward = match (a, b) {
            (Limit::Length(a), Limit::Length(b)) => a.cmp(&b),
            (Limit::Count(a), Limit::Count(b)) => a.cmp(&b),
            (Limit::Support(a), Limit::Support(b)) => a.cmp(&b),
            _ => Ordering::Equal,
        };
        match self.tightens() {
            Tightens::Up => upward,
            Tightens::Down => upward.reverse(),
        }
    }
}
