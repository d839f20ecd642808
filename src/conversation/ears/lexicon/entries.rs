//! What may stand in the files of a lexicon.

use super::Way;
use crate::roofing::roof::FactKey;
use crate::roofing::work::{Goods, StepKind};

macro_rules! tags {
    ($($(#[$doc:meta])* $variant:ident = $key:literal),+ $(,)?) => {
        /// What a word or a phrase is, whatever it is said about.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Tag { $($(#[$doc])* $variant),+ }

        impl Tag {
            /// Every tag.
            pub const ALL: &'static [Self] = &[$(Self::$variant),+];

            /// The name it has in the book.
            pub const fn key(self) -> &'static str {
                match self { $(Self::$variant => $key),+ }
            }

            /// The tag of that name.
            pub fn from_key(key: &str) -> Option<Self> {
                Self::ALL.iter().copied().find(|tag| tag.key() == key)
            }
        }
    };
}

tags! {
    /// "Yes", "spot on".
    Agrees = "agrees",
    /// A yes and nothing more: it answers a question of yes or no.
    PlainYes = "plain_yes",
    /// A no and nothing more.
    PlainNo = "plain_no",
    /// A yes that cannot be a figure of speech: for what cannot be undone.
    Surely = "surely",
    /// "No", "not quite".
    Refuses = "refuses",
    /// Says nothing: "mate", "please", "well".
    Filler = "filler",
    /// "Mate", "love", "sir": by which people are spoken to.
    Address = "address",
    /// "Probably", "I think": not sure of it.
    Hedges = "hedges",
    /// "About", "roughly": a measurement that may be a little off.
    Roughly = "roughly",
    /// "Except", "bar", "apart from".
    Excepts = "excepts",
    /// "If", "unless", "as long as".
    Conditions = "conditions",
    /// "No", "not", "without" before what is denied.
    Denies = "denies",
    /// "What if", "suppose".
    Supposes = "supposes",
    /// "My neighbour says".
    Reports = "reports",
    /// Another's roof, another part of the house.
    Others = "others",
    /// "Mine", "on my roof".
    Mine = "mine",
    /// "Used to be", "last year".
    Past = "past",
    /// "Will be", "I am going to".
    Planned = "planned",
    /// What opens a question.
    Asks = "asks",
    /// What makes a question wherever it stands.
    AsksAnywhere = "asks_anywhere",
    /// "OK, will do".
    Promises = "promises",
    /// "Tell me about", "explain".
    Wants = "wants",
    /// What a figure may measure that is no fact of a roof: ladder, drill, weather, money.
    Thing = "thing",
    /// A unit of money.
    MoneyUnit = "money_unit",
    /// A unit of mass.
    MassUnit = "mass_unit",
    /// A unit of speed.
    SpeedUnit = "speed_unit",
    /// A unit of time.
    TimeUnit = "time_unit",
    /// A unit of heat, or talk of the weather that makes degrees a temperature.
    Heat = "heat",
    /// What is counted and never measured: "sheds", "people".
    Counted = "counted",
    /// Stands in front of what is said, and says nothing: "so", "well", "hi".
    LeadIn = "lead_in",
    /// "A", "an".
    Article = "article",
    /// "Of".
    Of = "of",
    /// "One", which may count nothing.
    One = "one",
    /// "In", for inches.
    Inch = "inch",
    /// "In all", "in the": no inches.
    NotInches = "not_inches",
    /// "By", between two sizes.
    LinkBy = "link_by",
    /// "And", between two figures.
    LinkAnd = "link_and",
    /// "To", between the ends of a range.
    LinkTo = "link_to",
    /// "Or", between two figures.
    LinkOr = "link_or",
    /// "Plus", "and another".
    LinkPlus = "link_plus",
    /// "Than", before what something is compared with.
    Than = "than",
    /// Parts rise from run: "over", "in every".
    Over = "over",
    /// Joins clauses, the second saying more: "and", "with".
    Joins = "joins",
    /// Joins clauses, the second against the first: "but", "though".
    But = "but",
    /// Of the back slope.
    Back = "back",
    /// Of the front slope.
    Front = "front",
    /// Of both.
    Both = "both",
    /// "More", "longer".
    More = "more",
    /// "Less", "shorter".
    Less = "less",
    /// "Half that".
    Halves = "halves",
    /// "Double it".
    Doubles = "doubles",
    /// "Swap them", "the other way round".
    Swaps = "swaps",
    /// "Not", "instead of" before a value that is wrong.
    Instead = "instead",
    /// "Actually", "is wrong", "change": something said before is put right.
    Corrects = "corrects",
    /// "I don't know".
    Unsure = "unsure",
    /// "The first one".
    First = "first",
    /// "The second one".
    Second = "second",
    /// "The third one".
    Third = "third",
    /// "The last one".
    Last = "last",
    /// Everybody is all right.
    AllRight = "all_right",
    /// Where a height is measured: front, back, ridge, eaves.
    HeightAt = "height_at",
    /// "Sheets", "the sheets I have".
    OfSheets = "of_sheets",
    /// "Comes out", "deep": how far a lean-to stands out.
    Deep = "deep",
    /// "I don't trust it": what was measured may be wrong.
    Distrusts = "distrusts",
    /// "Let me", "not yet": somebody is not done.
    Delays = "delays",
    /// "You wrote", "I said": what stands so far, beside a value that is wrong.
    Recorded = "recorded",
    /// "More than", "at least", "something": a figure that is only a bound of the true one.
    Bounds = "bounds",
    /// "Between", before the first of two.
    OpensRange = "opens_range",
    /// A part of the roof named as a place or as something handled: "along the boards", "four purlins".
    Landmark = "landmark",
    /// "Originally", "as a child": past to the end of the sentence.
    LongAgo = "long_ago",
    /// "When I retire": planned to the end of the sentence.
    FarOff = "far_off",
    /// "Was", "had".
    Was = "was",
    /// "Is", "has", "now".
    Is = "is",
    /// "It", "they" at the head of a clause: what was spoken of just before.
    Stands = "stands",
    /// Today, and not as a rule.
    Today = "today",
    /// The longest sheet of the list.
    LongSheet = "long_sheet",
    /// What makes a wall a wall.
    Wall = "wall",
    /// How something was looked at: with what, from where, when.
    Looked = "looked",
    /// How people give their word.
    Assures = "assures",
    /// Asbestos by any name.
    Asbestos = "asbestos",
    /// That there is no asbestos.
    NoAsbestos = "no_asbestos",
    /// "The one", "this one": points, and counts nothing.
    Points = "points",
    /// Words that may stand around a number that measures.
    AroundNumber = "around_number",
    /// On the job: weather talk that is none about now.
    NotWeather = "not_weather",
    /// On the job: used up.
    Used = "used",
    /// On the job: left over.
    Left = "left",
    /// On the job: spoilt.
    Spoilt = "spoilt",
    /// On the job: what is spoilt is no sheet.
    NoSheet = "no_sheet",
    /// On the job: not square.
    OutOfSquare = "out_of_square",
    /// On the job: a supplier has only these.
    OnlyHas = "only_has",
    /// On the job: a supplier has none.
    SoldOut = "sold_out",
    /// On the job: how long it should have been.
    ShouldBe = "should_be",
    /// On the job: rain, snow, frost.
    Wet = "wet",
    /// On the job: wind.
    Wind = "wind",
    /// On the job: a rest.
    Pause = "pause",
    /// A slope as so many in so many.
    Ratio = "ratio",
    /// Feet and inches for everything.
    Imperial = "imperial",
    /// Metres and millimetres for everything.
    Metric = "metric",
    /// A week.
    Week = "week",
    /// A month.
    Month = "month",
    /// A day.
    Day = "day",
    /// The left.
    LeftHand = "left_hand",
    /// The right.
    RightHand = "right_hand",
    /// A gap between timbers rather than their spacing.
    ClearGap = "clear_gap",
    /// Before the figure that holds in the end: "call it".
    CallIt = "call_it",
    /// What was said is to be let be.
    Ignores = "ignores",
    /// A diagonal.
    Diagonal = "diagonal",
    /// One's own sheet.
    OwnSheet = "own_sheet",
    /// The first sheet of the list.
    FirstSheet = "first_sheet",
}

/// On which side of its figure a fact's name stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Side {
    /// On either.
    Either,
    /// Before it: "rafters at 400".
    Before,
    /// Behind it: "3 m up the slope".
    Behind,
    /// A word of size, "long", "thick": it names a fact only where nothing else is named that has a size.
    Size,
}

/// How telling the words of a choice are.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Aspect {
    /// Where it is asked for, or named in the same breath.
    Asked,
    /// By themselves.
    Tells,
    /// By themselves they say that nobody can be hurt, where it is asked.
    Safe,
    /// They may stand in a clause that says so.
    Within,
    /// They may be a clause of their own beside one that says so.
    Along,
}

/// What something means.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Means {
    /// A kind of word.
    Tag(Tag),
    /// It names a fact.
    Names(FactKey, Side),
    /// It answers what is one of a few.
    Choice(FactKey, String, Aspect),
    /// A kind of goods that is counted on the job.
    Goods(Goods),
    /// Everything of this kind is done.
    AllDone(StepKind),
    /// It says that this fact has more, or less.
    Compares(FactKey, bool),
}

/// An order, as it is said in a whole message.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OrderEntry {
    /// Which.
    pub id: String,
    /// Whether what follows names something.
    pub names: bool,
}

impl OrderEntry {
    /// The names that orders of the job have in the book.
    pub const OF_THE_JOB: &'static [&'static str] =
        &["work-start", "done", "peek", "where", "problem", "how-many", "accept", "leave"];

    /// Whether it is one of the job.
    pub fn is_of_the_job(&self) -> bool {
        Self::OF_THE_JOB.contains(&self.id.as_str())
    }
}

/// What a plain yes and a plain no stand for where a fact is asked for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Asked {
    /// The fact.
    pub fact: FactKey,
    /// The choice a plain yes stands for.
    pub yes: Option<String>,
    /// The choice a plain no stands for.
    pub no: Option<String>,
}

/// All that a lexicon is made of.
#[derive(Clone, Debug, Default)]
pub struct Entries {
    /// Words and phrases within a message.
    pub said: Vec<(Means, Way)>,
    /// Orders.
    pub orders: Vec<(OrderEntry, Way)>,
    /// What yes and no stand for.
    pub asked: Vec<Asked>,
    /// Words that mean nothing here, and must not be taken for a slip.
    pub plain_words: Vec<String>,
    /// Words of a dialect or of a hasty thumb, and the plain word that each stands for.
    pub spelt: Vec<(String, String)>,
}
