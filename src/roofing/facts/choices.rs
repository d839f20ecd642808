//! The choices that facts take, each a type: one more does not compile until every place says what it does.

/// One of a few answers to a question.
pub trait Choice: Copy + Sized + 'static {
    /// Every one of them.
    const ALL: &'static [Self];
    /// Their names in files and in the chat's JSON, in the same order.
    const IDS: &'static [&'static str];

    /// Its name.
    fn id(self) -> &'static str;

    /// The one of that name.
    fn from_id(id: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|choice| choice.id() == id)
    }
}

macro_rules! choices {
    ($($(#[$doc:meta])* $name:ident { $($(#[$each:meta])* $variant:ident = $id:literal),+ $(,)? })+) => {
        $(
            $(#[$doc])*
            #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
            pub enum $name { $($(#[$each])* $variant),+ }

            impl Choice for $name {
                const ALL: &'static [Self] = &[$(Self::$variant),+];
                const IDS: &'static [&'static str] = &[$($id),+];

                fn id(self) -> &'static str {
                    match self { $(Self::$variant => $id),+ }
                }
            }
        )+
    };
}

choices! {
    /// Yes or no.
    YesNo {
        /// Yes.
        Yes = "yes",
        /// No.
        No = "no",
    }

    /// What may lie on a roof.
    CoveringNow {
        /// Bare timber.
        Nothing = "nothing",
        /// Felt.
        Felt = "felt",
        /// Corrugated bitumen sheets.
        BitumenSheets = "bitumen_sheets",
        /// Metal sheets.
        MetalSheets = "metal_sheets",
        /// Tiles or slates.
        TilesOrSlates = "tiles_or_slates",
        /// Plastic or glass: nobody steps on it.
        PlasticOrGlass = "plastic_or_glass",
        /// Grey sheets that may hold asbestos.
        GreyCementSheets = "grey_cement_sheets",
        /// Nobody knows.
        NotSure = "not_sure",
    }

    /// That asbestos was spoken of.
    Suspicion {
        /// It was.
        Yes = "yes",
    }

    /// What a test for asbestos found.
    AsbestosTest {
        /// None.
        TestedClear = "tested_clear",
        /// Nothing was tested.
        NotTested = "not_tested",
        /// Some.
        ContainsAsbestos = "contains_asbestos",
    }

    /// How timbers and boards are.
    Structure {
        /// Sound.
        Sound = "sound",
        /// Mended, and sound again.
        Repaired = "repaired",
        /// Rotten or sagging.
        RottenOrSagging = "rotten_or_sagging",
        /// Perhaps too weak.
        MightNotHoldWeight = "might_not_hold_weight",
        /// Nobody knows.
        NotSure = "not_sure",
    }

    /// Whether a cable passes.
    OverheadLines {
        /// None does.
        None = "none",
        /// One does.
        Near = "near",
        /// One does, and those who run it say that the work may be done.
        Cleared = "cleared",
        /// Nobody knows.
        NotSure = "not_sure",
    }

    /// How many slopes.
    RoofForm {
        /// One.
        SingleSlope = "single_slope",
        /// Two that meet at a ridge.
        TwoSlopes = "two_slopes",
    }

    /// What the sheets will lie on.
    Support {
        /// Boards.
        Boards = "boards",
        /// Plywood.
        Plywood = "plywood",
        /// OSB.
        Osb = "osb",
        /// Open purlins.
        Purlins = "purlins",
        /// Bare rafters.
        Rafters = "rafters",
    }

    /// At which sides walls stand.
    WallSide {
        /// At none.
        None = "none",
        /// At the left.
        Left = "left",
        /// At the right.
        Right = "right",
        /// At both.
        Both = "both",
    }

    /// Where the wind mostly comes from.
    WindFrom {
        /// The left.
        Left = "left",
        /// The right.
        Right = "right",
        /// The front.
        Front = "front",
        /// The back.
        Back = "back",
        /// Nobody knows.
        NotSure = "not_sure",
    }

    /// In which of the book's regions the building stands.
    Region {
        /// Low ground.
        Vale = "vale",
        /// Higher ground.
        Downs = "downs",
        /// The highest.
        Moor = "moor",
        /// Nobody knows.
        NotSure = "not_sure",
    }

    /// What lies around the building, as the wind meets it.
    Surroundings {
        /// Houses and trees, close together.
        Town = "town",
        /// Open fields.
        Fields = "fields",
        /// The top of a hill, or a steep slope's edge.
        Hilltop = "hilltop",
        /// Open water.
        Coast = "coast",
        /// Nobody knows.
        NotSure = "not_sure",
    }

    /// How many sides have no wall.
    OpenSides {
        /// None.
        None = "none",
        /// One.
        One = "one",
        /// Three or all four.
        ThreeOrMore = "three_or_more",
        /// Nobody knows.
        NotSure = "not_sure",
    }
}
