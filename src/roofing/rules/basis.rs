//! What the checks of strength go by, and the regions with their weather.

use crate::units::Day;

macro_rules! bases {
    ($($(#[$doc:meta])* $variant:ident = $key:literal),+ $(,)?) => {
        /// What a figure of the checks is of.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Basis { $($(#[$doc])* $variant),+ }

        impl Basis {
            /// Every one.
            pub const ALL: &'static [Self] = &[$(Self::$variant),+];

            /// The name it has in rule files, its unit last where it has one.
            pub const fn key(self) -> &'static str {
                match self { $(Self::$variant => $key),+ }
            }
        }
    };
}

bases! {
    /// How much faster the wind blows over a hilltop.
    Hilltop = "hilltop_co",
    /// How far the wind below an open roof is blocked by what stands there: 0 not at all, 1 wholly.
    Blockage = "blockage",
    /// The eaves above the ground, while nobody has measured them.
    Eaves = "eaves_mm",
    /// How far what stands beside a roof rises above it, while nobody has measured that.
    WallAbove = "wall_above_mm",
    /// How wide that building is.
    WallBehind = "wall_behind_mm",
    /// How far a timber may sag: its span over this.
    SagOneIn = "sag_one_in",
    /// The strength class that old timber counts as: 16 is C16.
    OldTimber = "old_timber_c",
    /// How wide one board of an old deck is.
    BoardWidth = "board_width_mm",
    /// What sheets lap, in a hundred of what shows.
    Laps = "laps_percent",
    /// From this height of eaves on a ladder alone is not enough.
    PlatformFrom = "platform_from_mm",
    /// From this height of eaves on the roof is not for a beginner.
    ProfessionalFrom = "professional_from_mm",
    /// From this slope on a roof ladder is wanted.
    RoofLadderFrom = "roof_ladder_from_deg",
    /// How warm a heated room is.
    RoomHeated = "room_heated_celsius",
    /// How much warmer a room without heating is than the air outside.
    RoomUnheated = "room_unheated_kelvin",
    /// How much more vapour the air of a heated room holds, at 0 degrees outside.
    VapourHeated = "vapour_heated_pa",
    /// The same without heating.
    VapourUnheated = "vapour_unheated_pa",
    /// How damp the air outside is, of a hundred.
    Humidity = "humidity_percent",
    /// How much colder than the air a clear night makes the sheets.
    NightSky = "night_sky_kelvin",
}

/// One figure that the checks go by.
#[derive(Clone, Debug, PartialEq)]
pub struct Based {
    /// What it is of.
    pub basis: Basis,
    /// How many of the unit that its name ends in.
    pub value: f64,
    /// Where it is from.
    pub source: String,
    /// The day it was entered.
    pub since: Day,
}

/// The weather of a region.
#[derive(Clone, Debug, PartialEq)]
pub struct Weather {
    /// The choice of [`Region`](crate::roofing::facts::choices::Region) it is for.
    pub region: String,
    /// Basic wind velocity, in metres a second: ten minutes' mean, ten metres above open fields, once in fifty years.
    pub wind: f64,
    /// Snow on the ground, in newtons on a square metre, once in fifty years.
    pub snow: f64,
    /// Rain of a short storm, in millimetres an hour.
    pub rain: f64,
    /// The mean of each month, in degrees Celsius, January first.
    pub months: Vec<f64>,
    /// Where it is from.
    pub source: String,
    /// The day it was entered.
    pub since: Day,
}
