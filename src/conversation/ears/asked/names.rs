//! What is asked about a figure, what it may be of, and of which kind it is.

macro_rules! named {
    ($(#[$all:meta])* $name:ident { $($(#[$doc:meta])* $variant:ident = $key:literal),+ $(,)? }) => {
        $(#[$all])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum $name { $($(#[$doc])* $variant),+ }

        impl $name {
            /// Every one.
            pub const ALL: &'static [Self] = &[$(Self::$variant),+];

            /// The name it has in the book.
            pub const fn key(self) -> &'static str {
                match self { $(Self::$variant => $key),+ }
            }
        }
    };
}

named! {
    /// What is asked about a figure.
    Sense {
        /// Which of two it is.
        Choice = "choice",
        /// Whether it will do.
        Enough = "enough",
        /// Whether it is too much.
        TooMuch = "too_much",
        /// Whether it is too little.
        TooLittle = "too_little",
        /// Whether it does harm.
        Bad = "bad",
        /// Whether it may be, or is, less than that.
        Less = "less",
        /// Whether it may be, or is, more than that.
        More = "more",
        /// Whether it is that.
        Confirm = "confirm",
        /// Nothing: it is said, as the weather is.
        Stated = "stated",
    }
}

named! {
    /// What a figure may be of.
    Subject {
        /// Something that is never judged: a cable, a person, a boundary, snow.
        Nothing = "nothing",
        /// How far one sheet covers the one below.
        EndLap = "end_lap",
        /// How many corrugations neighbours share.
        SideLap = "side_lap",
        /// At every how many corrugations a nail goes.
        NailEvery = "nail_every",
        /// The same at the eaves and at end laps.
        NailEveryEdge = "nail_every_edge",
        /// Spare sheets.
        Spare = "spare",
        /// How far the sheets pass the eaves.
        EavesOverhang = "eaves_overhang",
        /// How far they pass the barge board.
        VergeOverhang = "verge_overhang",
        /// How thick the deck is.
        Deck = "deck",
        /// How deep a nail bites.
        NailBite = "nail_bite",
        /// How long the nails are.
        NailLength = "nail_length",
        /// How long the screws are.
        ScrewLength = "screw_length",
        /// How far purlins or lines of nails stand apart.
        Spacing = "spacing",
        /// How far the rafters stand apart.
        TimberSpacing = "timber_spacing",
        /// How many purlins or lines of nails.
        Purlins = "purlins",
        /// How steep the roof is.
        Pitch = "pitch",
        /// What one sheet weighs.
        SheetMass = "sheet_mass",
        /// What the covering weighs.
        Mass = "mass",
        /// What a car or a trailer may carry.
        Carried = "carried",
        /// What one sheet costs.
        SheetPrice = "sheet_price",
        /// What it all costs.
        Price = "price",
        /// How long the work takes.
        Hours = "hours",
        /// Pieces for the ridge.
        RidgePieces = "ridge_pieces",
        /// Pieces for the verges.
        VergePieces = "verge_pieces",
        /// Fillers for the eaves.
        Fillers = "fillers",
        /// Nails.
        Nails = "nails",
        /// Sheets.
        Sheets = "sheets",
        /// Courses of sheets.
        Courses = "courses",
        /// How hard the wind blows.
        Wind = "wind",
        /// How warm it is.
        Temperature = "temperature",
        /// How long a ladder is.
        Ladder = "ladder",
        /// How high the edge is that a ladder must reach.
        EdgeHeight = "edge_height",
    }
}

named! {
    /// Kinds of figure, as far as they tell what a figure can be of.
    Kind {
        /// A length.
        Length = "length",
        /// Corrugations.
        Waves = "waves",
        /// An angle.
        Angle = "angle",
        /// A temperature.
        Celsius = "celsius",
        /// A speed.
        Speed = "speed",
        /// A mass.
        Mass = "mass",
        /// Money.
        Money = "money",
        /// A time of work.
        Time = "time",
        /// Years.
        Years = "years",
        /// A number without a unit.
        Bare = "bare",
    }
}
