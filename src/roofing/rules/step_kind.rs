//! The kinds of steps the work falls into: what paces are given for, and what the work is done in.

/// Where what is built in a step belongs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Layer {
    /// Nothing that stays on the roof.
    Apart,
    /// It carries the sheets, so that it cannot be changed under them.
    Below,
    /// It lies on the roof as part of the covering, and so comes off before what is below can change.
    Covering,
}

macro_rules! kinds {
    ($($(#[$doc:meta])* $variant:ident = $key:literal: $layer:ident, [$($figure:literal),*], [$($each:literal),*];)+) => {
        /// What a step is about.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum StepKind { $($(#[$doc])* $variant),+ }

        impl StepKind {
            /// Every kind, in the order of work.
            pub const ALL: &'static [Self] = &[$(Self::$variant),+];

            /// The name it has in files and in the ids of sentences.
            pub const fn key(self) -> &'static str {
                match self { $(Self::$variant => $key),+ }
            }

            /// Where what is built in it belongs.
            pub const fn layer(self) -> Layer {
                match self { $(Self::$variant => Layer::$layer),+ }
            }

            /// What the figures of such a step say of what was built: first these, then, over and over, those. They
            /// are written into what people have done, and so never change their meaning.
            const fn figures(self) -> (&'static [&'static str], &'static [&'static str]) {
                match self { $(Self::$variant => (&[$($figure),*], &[$($each),*])),+ }
            }
        }
    };
}

// Each with the figures it is built by. Heights and lengths are micrometres; `past` and `shift` are how far the first
// sheet passes the barge board, and how much of that is for a roof that leans; `place` is where nails stand, added up.
kinds! {
    /// Tools, sheets, helper, access.
    GetReady = "get-ready": Apart, [], [];
    /// The building looked over.
    Inspect = "inspect": Apart, [], [];
    /// The old covering kept or taken off.
    Strip = "strip": Apart, [], [];
    /// The deck that is there mended.
    DeckRepair = "deck-repair": Below, [], [];
    /// A new deck.
    Deck = "deck": Below, ["thickness", "boards"], [];
    /// The membrane.
    Underlay = "underlay": Below, ["up", "along"], [];
    /// One purlin.
    Purlin = "purlin": Below, ["at", "long", "screw"], [];
    /// Nail lines snapped on a deck.
    Lines = "lines": Below, [], ["at"];
    /// Insulation between purlins.
    Insulation = "insulation": Below, [], ["at"];
    /// Corrugations closed at the eaves.
    EavesFiller = "eaves-filler": Below, [], ["run", "lap", "pieces"];
    /// The corner checked.
    Square = "square": Apart, ["up", "along"], [];
    /// Where the columns go on a roof that is out of square.
    Taper = "taper": Apart, ["lean"], [];
    /// Pieces kept for the other slope, or taken from it.
    Offcuts = "offcuts": Apart, [], ["sheet"];
    /// Sheets cut to size.
    Cut = "cut": Apart, [], ["sheet", "length", "wide"];
    /// The first sheet.
    FirstSheet = "first-sheet": Covering, ["from", "to", "past", "shift", "hand", "wide"], [];
    /// One course of sheets.
    Course = "course": Covering, ["course", "from", "to", "lap", "side_lap", "hand", "shift"], ["first", "wide"];
    /// Its laps looked over.
    Laps = "laps": Covering, ["course", "lap", "side_lap", "columns"], [];
    /// The nails of one line.
    Nails = "nails": Covering, ["at", "nail", "count", "place"], [];
    /// Flashing at a side wall.
    WallSide = "wall-side": Covering, [], ["run", "lap", "pieces"];
    /// Flashing at the top wall.
    WallTop = "wall-top": Covering, [], ["run", "lap", "pieces"];
    /// Verge pieces.
    Verge = "verge": Covering, [], ["run", "lap", "pieces"];
    /// Pieces along a free top edge.
    TopEdge = "top-edge": Covering, [], ["run", "lap", "pieces"];
    /// Ridge pieces.
    Ridge = "ridge": Covering, [], ["run", "lap", "pieces"];
    /// Finials.
    Finials = "finials": Covering, ["count"], [];
    /// The last look.
    LastLook = "last-look": Apart, [], [];
}

impl StepKind {
    /// What the figure at a place says; `None` where such a step has no such figure.
    pub fn figure(self, place: usize) -> Option<&'static str> {
        let (first, each) = self.figures();
        let beyond = place.checked_sub(first.len());
        match beyond {
            None => first.get(place).copied(),
            Some(beyond) => each.get(beyond.checked_rem(each.len())?).copied(),
        }
    }
}
