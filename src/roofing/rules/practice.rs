//! Figures of good practice: no plan is computed by them, answers and verdicts go by them.

use crate::units::{Day, Length, Speed, Temperature};

macro_rules! figures {
    ($($(#[$doc:meta])* $variant:ident = $key:literal),+ $(,)?) => {
        /// What a figure of good practice is of.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Figure { $($(#[$doc])* $variant),+ }

        impl Figure {
            /// Every one.
            pub const ALL: &'static [Self] = &[$(Self::$variant),+];

            /// The name it has in rule files, its unit last.
            pub const fn key(self) -> &'static str {
                match self { $(Self::$variant => $key),+ }
            }
        }
    };
}

figures! {
    /// The most wind to work in.
    WindMost = "wind_most_mph",
    /// The coldest to lay sheets in.
    LayColdest = "lay_coldest_celsius",
    /// The hottest to lay sheets in.
    LayHottest = "lay_hottest_celsius",
    /// How long sheets last, at least as a rule.
    LifeLeast = "life_least_years",
    /// How long they last, at most as a rule.
    LifeMost = "life_most_years",
    /// How far a ladder's top stands above the edge it leans on.
    LadderOverEdge = "ladder_over_edge_mm",
    /// A ladder's foot stands one out for so many up.
    LadderOneIn = "ladder_one_in",
    /// How long people work on a roof in a day.
    DayHours = "day_hours",
}

/// One figure of good practice.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Practice {
    /// What it is of.
    pub figure: Figure,
    /// How many of the unit that its name ends in.
    value: i64,
    /// Where it is from.
    pub source: String,
    /// The day it was entered.
    pub since: Day,
}

impl Practice {
    /// So many of the unit that the figure's name ends in.
    pub const fn new(figure: Figure, value: i64, source: String, since: Day) -> Self {
        Self { figure, value, source, since }
    }

    /// As a plain number: of years, of hours, or one in so many.
    pub const fn count(&self) -> i64 {
        self.value
    }

    /// As a length.
    pub const fn length(&self) -> Length {
        Length::from_mm(self.value)
    }

    /// As a speed.
    pub const fn speed(&self) -> Speed {
        Speed::from_mph(self.value)
    }

    /// As a temperature.
    pub const fn temperature(&self) -> Temperature {
        Temperature::from_celsius(self.value)
    }
}
