//! The kinds of steps the work falls into: what paces are given for, and what the work is done in.

macro_rules! kinds {
    ($($(#[$doc:meta])* $variant:ident = $key:literal),+ $(,)?) => {
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
        }
    };
}

kinds! {
    /// Tools, sheets, helper, access.
    GetReady = "get-ready",
    /// The building looked over.
    Inspect = "inspect",
    /// The old covering kept or taken off.
    Strip = "strip",
    /// The deck that is there mended.
    DeckRepair = "deck-repair",
    /// A new deck.
    Deck = "deck",
    /// The membrane.
    Underlay = "underlay",
    /// One purlin.
    Purlin = "purlin",
    /// Nail lines snapped on a deck.
    Lines = "lines",
    /// Insulation between purlins.
    Insulation = "insulation",
    /// Corrugations closed at the eaves.
    EavesFiller = "eaves-filler",
    /// The corner checked.
    Square = "square",
    /// Where the columns go on a roof that is out of square.
    Taper = "taper",
    /// Pieces kept for the other slope, or taken from it.
    Offcuts = "offcuts",
    /// The first sheet.
    FirstSheet = "first-sheet",
    /// One course of sheets.
    Course = "course",
    /// Its laps looked over.
    Laps = "laps",
    /// The nails of one line.
    Nails = "nails",
    /// Flashing at a side wall.
    WallSide = "wall-side",
    /// Flashing at the top wall.
    WallTop = "wall-top",
    /// Verge pieces.
    Verge = "verge",
    /// Pieces along a free top edge.
    TopEdge = "top-edge",
    /// Ridge pieces.
    Ridge = "ridge",
    /// Finials.
    Finials = "finials",
    /// The last look.
    LastLook = "last-look",
}
