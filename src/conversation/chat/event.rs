//! What can happen in a chat. A session is the list of these, folded; nothing else is stored.

use crate::conversation::understanding::DangerKind;
use crate::roofing::handbook::{Made, Version};
use crate::roofing::layout::cutting::Part;
use crate::roofing::roof::{FactKey, FactValue};
use crate::roofing::work::{Goods, StepKey, Stop, Tally};
use crate::units::reading::WrittenUnit;
use crate::units::{Money, UsualUnit};

/// A fact with the value it was given.
pub type Answer = (FactKey, FactValue);

/// One way to read what was typed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Offer {
    /// The facts it would give.
    pub answers: Vec<Answer>,
    /// The unit it is read in, where units are what is in doubt.
    pub unit: Option<WrittenUnit>,
}

/// Whether a supplier has what a line asks for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Stock {
    /// They did not say.
    Unsaid,
    /// They have it.
    In,
    /// They have it not, and nothing like it.
    Out,
    /// They would give this instead, in their own words.
    Instead(String),
}

/// What a supplier says of one line of the sheet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Quoted {
    /// The catalogue's id.
    pub item: String,
    /// The catalogue's name.
    pub name: String,
    /// How many pieces were asked for.
    pub pieces: i64,
    /// Whether they have it.
    pub stock: Stock,
    /// Their price for the whole line.
    pub price: Option<Money>,
}

/// Something that turned out different half-way, before it is accepted.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Change {
    /// Facts that take other values.
    pub answers: Vec<Answer>,
    /// The book and the planner that would make the plan from then on, where the change is theirs.
    pub renews: Option<Version>,
    /// Sheets that are spoilt.
    pub spoilt: i64,
    /// Parts of them that can still be used.
    pub kept: Vec<Part>,
}

/// One thing that happened.
///
/// Events are only ever added to, never changed in meaning: `store/record.rs` writes them with a version, and
/// `tests/records/` keeps one of each that was ever written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Event {
    /// The person was greeted.
    Greeted,
    /// A question was put; it is the one that is open now.
    Asked(FactKey),
    /// What was typed could not be read as an answer to the open question.
    Missed,
    /// One message answered these.
    Answered(Vec<Answer>),
    /// Asbestos was spoken of.
    Suspected,
    /// "Not sure": the question is passed over, and what leads to it is asked instead.
    Declined(FactKey),
    /// Something could be read in several ways, and these were offered.
    Offered(Vec<Offer>),
    /// Everything was shown back, and a yes is awaited.
    Reviewed,
    /// It was asked which line to change.
    AskedWhatToChange,
    /// The person asked to change this fact; its question is put again.
    Reopened(FactKey),
    /// The plan was given. By what it was made, where it is another than the one before; the plan itself is kept
    /// beside the chat under that.
    Planned(Option<Made>),
    /// Another book or planner makes the plan from now on, and it comes to this plan; `None` where it comes to none.
    Renewed(Option<Made>),
    /// The last answer was taken back.
    Undone,
    /// It was asked whether really to start again.
    AskedToRestart,
    /// Everything was dropped.
    Restarted,
    /// It was asked whether really to delete everything.
    AskedToDelete,
    /// The question about starting again, or about deleting, was answered no.
    KeptGoing,
    /// The person thinks in these units: said by them, or read off how they measure.
    UnitsSeen {
        /// The units.
        usual: UsualUnit,
        /// Whether they asked for them.
        chosen: bool,
    },
    /// What a supplier would see was shown, and a yes to a link that lives that many days is awaited.
    AskedToShare {
        /// Days.
        days: u16,
    },
    /// The person agreed: a link that lives that many days was made. Its token is never part of a chat.
    Shared {
        /// Days.
        days: u16,
    },
    /// All links were closed.
    Revoked,
    /// A supplier answered, line by line.
    Quoted(Vec<Quoted>),
    /// The work was begun, or taken up again after a stop.
    WorkStarted,
    /// A step of the work is done.
    StepDone(StepKey),
    /// The person counted what is used or left.
    Counted(Vec<(Goods, Tally)>),
    /// The work stops for a while.
    Paused(Stop),
    /// Something turned out different; what would follow was said, and a yes is awaited.
    Proposed(Change),
    /// The change that was proposed holds; these steps are thereby undone.
    Accepted(Vec<StepKey>),
    /// A plan has come about again, and these steps are not as it wants them: they are thereby undone.
    Unbuilt(Vec<StepKey>),
    /// What was undone is off the roof, or put right.
    TakenOff,
    /// The change that was proposed is dropped.
    LeftAsItWas,
    /// Something may be dangerous: it was asked in one line whether it is.
    Wondered(DangerKind),
    /// Something is dangerous to people, and nothing goes on until they say that they are all right.
    HeldFor(DangerKind),
    /// The person said that everybody is all right.
    AllRight,
    /// It was asked which of these topics was meant, by their names.
    Suggested(Vec<String>),
    /// The person is spoken to in this language from now on.
    Speaks(String),
}
