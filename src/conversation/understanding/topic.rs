//! The topics a person may ask about, and what the adviser writes beside each.

use crate::roofing::rules::Handover;

macro_rules! topics {
    ($($(#[$doc:meta])* $variant:ident = $key:literal),+ $(,)?) => {
        /// Something a person may ask about or ask for.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum TopicId { $($(#[$doc])* $variant),+ }

        impl TopicId {
            /// Every topic, in the order they are listed.
            pub const ALL: &'static [Self] = &[$(Self::$variant),+];

            /// The name it has in files and in JSON.
            pub const fn key(self) -> &'static str {
                match self { $(Self::$variant => $key),+ }
            }
        }
    };
}

topics! {
    /// How far the upper sheet covers the lower one.
    EndLapSize = "end_lap_size",
    /// How many corrugations neighbouring sheets share.
    SideLapCount = "side_lap_count",
    /// Nailing on the purlins between eaves and end laps.
    NailPatternIntermediate = "nail_pattern_intermediate",
    /// Nailing at the eaves and at end laps.
    NailPatternEaves = "nail_pattern_eaves",
    /// Which end of the roof the first sheet goes on.
    WhichEndToStart = "which_end_to_start",
    /// Whether to carry on in wind.
    WindStopWork = "wind_stop_work",
    /// Rain arriving part-way.
    RainMidJob = "rain_mid_job",
    /// Deck will not hold the nails.
    DeckTooThin = "deck_too_thin",
    /// Nail points showing inside.
    NailsPokingThrough = "nails_poking_through",
    /// How far apart purlins go, and why.
    PurlinSpacingWhy = "purlin_spacing_why",
    /// Cutting sheets.
    SheetCuttingHow = "sheet_cutting_how",
    /// A sheet cracked, split or dented.
    SheetSplit = "sheet_split",
    /// Roof is not square.
    OutOfSquare = "out_of_square",
    /// Fitting ridge pieces.
    RidgeFit = "ridge_fit",
    /// Finishing the gable or side edge.
    VergeFinish = "verge_finish",
    /// How far sheets stick out at the eaves.
    EavesOverhang = "eaves_overhang",
    /// Where the roof meets a wall.
    WallAbutment = "wall_abutment",
    /// Whether to fit underlay.
    UnderlayNeeded = "underlay_needed",
    /// Drips on the inside.
    Condensation = "condensation",
    /// Insulating under the sheets.
    InsulationBetweenPurlins = "insulation_between_purlins",
    /// What to do with old felt.
    OldFeltLeaveOrStrip = "old_felt_leave_or_strip",
    /// May be asbestos.
    AsbestosSuspect = "asbestos_suspect",
    /// Standing on the sheets.
    WalkingOnSheets = "walking_on_sheets",
    /// Placing a ladder or platform.
    LadderSetup = "ladder_setup",
    /// Old or unknown roof that might give way.
    FragileRoof = "fragile_roof",
    /// Spares for breakage.
    HowManySpare = "how_many_spare",
    /// Using or dumping offcuts.
    LeftoverOffcuts = "leftover_offcuts",
    /// Short of sheets.
    ExtraSheetNeeded = "extra_sheet_needed",
    /// Correct a figure in the plan.
    ChangeMeasurement = "change_measurement",
    /// Price questions.
    Cost = "cost",
    /// Loads on the roof or frame.
    WeightLimits = "weight_limits",
    /// Gutters.
    Gutter = "gutter",
    /// Clear sheets or roof windows.
    Rooflight = "rooflight",
    /// Pipes and flues through the roof.
    PipePenetration = "pipe_penetration",
    /// Moss and dirt.
    MossCleaning = "moss_cleaning",
    /// Painting the sheets.
    Paint = "paint",
    /// Permission and building rules.
    PlanningPermission = "planning_permission",
    /// Edges near a neighbour.
    NeighboursBoundary = "neighbours_boundary",
    /// Cables near the roof.
    ElectricityCableOverhead = "electricity_cable_overhead",
    /// Doing it alone.
    WorkingAlone = "working_alone",
    /// Children and animals near the job.
    ChildPets = "child_pets",
    /// Stop and come back later.
    CanIPause = "can_i_pause",
    /// New plan from scratch.
    StartOver = "start_over",
    /// Wants a person.
    TalkToHuman = "talk_to_human",
    /// Send the list to a supplier.
    SendToSupplier = "send_to_supplier",
    /// Wants data gone.
    DeleteMyData = "delete_my_data",
    /// Thanks or sign-off.
    Thanks = "thanks",
    /// Hello.
    Greeting = "greeting",
    /// Roof too flat for the sheets.
    UnsuitablePitch = "unsuitable_pitch",
    /// Someone is hurt.
    InjuryEmergency = "injury_emergency",
    /// Asks for help to do something unsafe.
    DangerousRequest = "dangerous_request",
    /// Nothing to do with the roof, noise, abuse or tampering.
    OffTopic = "off_topic",
    /// Which nails, shorter or longer ones, or screws instead.
    NailSize = "nail_size",
    /// Tools and what to wear.
    ToolsNeeded = "tools_needed",
    /// How long the work takes, and how many people.
    TimeNeeded = "time_needed",
    /// How long the sheets last.
    SheetLife = "sheet_life",
    /// Colours, and whether they fade.
    ColourFading = "colour_fading",
    /// How loud rain is on the sheets.
    NoiseOfRain = "noise_of_rain",
    /// Fire, sparks, a barbecue, and how far from a boundary.
    FireRisk = "fire_risk",
    /// Drinking the rain off the roof.
    DrinkingRainwater = "drinking_rainwater",
    /// Working and laying in heat.
    HotWeather = "hot_weather",
    /// Working and laying in cold and frost.
    ColdAndFrost = "cold_and_frost",
    /// Treating the timber.
    WoodTreatment = "wood_treatment",
    /// Which sheet to take, and which is cheaper.
    WhichSheet = "which_sheet",
    /// How long a ladder must be.
    LadderLength = "ladder_length",
    /// Whether somebody is fit for the work.
    AgeAndHealth = "age_and_health",
    /// Paying somebody to do it.
    HiringSomebody = "hiring_somebody",
    /// Guarantees.
    Guarantee = "guarantee",
    /// Getting rid of the old roof.
    Disposal = "disposal",
    /// Birds, wasps, mice and rats.
    BirdsAndVermin = "birds_and_vermin",
    /// Snow: its load, and shovelling it.
    SnowOnRoof = "snow_on_roof",
    /// Aerials and dishes.
    AerialOrDish = "aerial_or_dish",
    /// Solar panels.
    SolarPanels = "solar_panels",
    /// How big a gutter must be.
    GutterSize = "gutter_size",
    /// What the insurer wants to know.
    HomeInsurance = "home_insurance",
    /// Borrowing and hiring tools.
    BorrowingTools = "borrowing_tools",
    /// Where and how to keep the sheets until they are laid.
    SheetStorage = "sheet_storage",
    /// Fetching, lifting and carrying sheets.
    CarryingSheets = "carrying_sheets",
    /// Soil and plants on the roof.
    GreenRoof = "green_roof",
    /// Rust, the coast, and what eats nails.
    RustAndSalt = "rust_and_salt",
    /// Laying on top of old sheets or tiles.
    OverOldCovering = "over_old_covering",
    /// Mending a leak.
    LeakRepair = "leak_repair",
    /// What to look after each year.
    YearlyCare = "yearly_care",
    /// What to wear.
    WhatToWear = "what_to_wear",
    /// Dust, fumes and smell.
    DustAndFumes = "dust_and_fumes",
    /// Animals that live under the roof.
    AnimalsInside = "animals_inside",
    /// Screws in place of nails.
    ScrewsOrNails = "screws_or_nails",
    /// A nail gun.
    NailGun = "nail_gun",
    /// Sealant in the laps.
    SealantInLaps = "sealant_in_laps",
    /// What is done in which order.
    OrderOfWork = "order_of_work",
    /// Which time of the year is best.
    BestSeason = "best_season",
    /// Used sheets.
    SecondHandSheets = "second_hand_sheets",
    /// A roof that is curved.
    CurvedRoof = "curved_roof",
    /// Working as it gets dark.
    WorkingAtDusk = "working_at_dusk",
    /// Who or what is talking.
    WhoAreYou = "who_are_you",
    /// Other languages.
    Languages = "languages",
    /// Units, and how to give a figure.
    UnitsExplained = "units_explained",
    /// What is kept, and who sees it.
    Privacy = "privacy",
    /// Thunder and lightning.
    ThunderAndLightning = "thunder_and_lightning",
    /// What is different since the last change.
    WhatChanged = "what_changed",
}

impl TopicId {
    /// The topic of that name.
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|topic| topic.key() == key)
    }

    /// Whether it is small talk or noise, which gives way to anything else in the same message.
    pub const fn gives_way(self) -> bool {
        matches!(self, Self::Greeting | Self::Thanks | Self::OffTopic)
    }

    /// Whether its answer keeps people from harm.
    pub const fn keeps_safe(self) -> bool {
        matches!(
            self,
            Self::WalkingOnSheets
                | Self::FragileRoof
                | Self::LadderSetup
                | Self::WorkingAlone
                | Self::ChildPets
        )
    }
}

/// What the adviser writes beside one topic.
///
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Topic {
    /// Which.
    pub id: TopicId,
    /// How somebody may ask, shown in lists and on buttons.
    pub example: String,
    /// Words that make it one of the topics whatever else is said, and hand the person on.
    pub hands_on: Vec<String>,
    /// To whom the person is handed whenever this is the topic.
    pub handover: Option<Handover>,
    /// To whom the person is handed where such a word was said.
    pub hands_on_to: Option<Handover>,
    /// Where the answer is from, by the source's id; nowhere for what is asked about the chat itself.
    pub source: Option<String>,
    /// The day the answer was written, `2026-11-27`.
    pub since: Option<String>,
    /// Whether the answer is said whole at once, because a part of it keeps people from harm.
    pub whole: bool,
    /// Phrasings of it in well-spelt words.
    pub asked_as: Vec<String>,
}

/// How words are read: all data, no rule of grammar.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Vocabulary {
    /// Pictures and the words they stand for.
    pub emoji: Vec<(char, String)>,
    /// What dictation makes of trade words, and what was meant: `as best os`, `asbestos`.
    pub slips: Vec<(String, String)>,
    /// A word, and the words that are read as it.
    pub words: Vec<(String, Vec<String>)>,
    /// Several words that are read as one: `bargeboard`, `barge board`.
    pub phrases: Vec<(String, Vec<String>)>,
    /// Words that say nothing of the topic: never counted by the ranking.
    pub fillers: Vec<String>,
    /// Words that start a question or a new sentence after "and" or a comma.
    pub openers: Vec<String>,
    /// Pairs of words that begin another question where nothing joins it to the one before.
    pub begins: Vec<String>,
    /// Words that join two sentences.
    pub joiners: Vec<String>,
}
