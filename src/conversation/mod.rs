//! The conversation: a pure function from (guide, session, message) to events and things to say.
//!
//! [`turn`] is the whole of it. It reads in this order, and nothing looks back: [`wording`] and [`pattern`] (words),
//! [`understanding`] (what is asked, and danger), [`chat`] (what a chat is), [`holds`] (what a stop answers), [`script`]
//! (which questions there are, what to ask next), [`ears`] (what was typed), [`deciding`] (what follows from it),
//! [`answers`] (to what is asked), [`saying`] (what is said), `talk` (one turn), [`working`] (on the job).
//! It knows roofing and units, never channels, stores or pictures, and holds no sentence: every word stands in
//! `dialogs/words/`.

#[expect(
    clippy::wildcard_enum_match_arm,
    clippy::match_same_arms,
    reason = "of very many kinds of word, act or place few are looked for, and the rest pass"
)]
pub mod answers;
#[expect(clippy::match_same_arms, reason = "what each event does stands by itself")]
pub mod chat;
#[expect(
    clippy::wildcard_enum_match_arm,
    reason = "of very many kinds of word, act or place few are looked for, and the rest pass"
)]
pub mod deciding;
#[expect(
    clippy::wildcard_enum_match_arm,
    clippy::match_same_arms,
    clippy::struct_excessive_bools,
    reason = "of very many kinds of word, act or place few are looked for, and the rest pass"
)]
pub mod ears;
pub mod holds;
pub mod pattern;
#[expect(
    clippy::wildcard_enum_match_arm,
    clippy::single_match_else,
    reason = "of very many kinds of word, act or place few are looked for, and the rest pass"
)]
pub mod saying;
pub mod script;
#[expect(
    clippy::wildcard_enum_match_arm,
    clippy::single_match_else,
    reason = "of very many kinds of word, act or place few are looked for, and the rest pass"
)]
mod talk;
#[expect(
    clippy::wildcard_enum_match_arm,
    reason = "of very many kinds of word, act or place few are looked for, and the rest pass"
)]
pub mod understanding;
pub mod wording;
pub mod working;

pub use chat::{event, session};
pub use script::{details, interview};
pub use talk::{Turn, Wish, quoted, turn};

use ears::asked::Asks;
use ears::{Ears, Hearing};
use script::Script;
use understanding::Topics;
use wording::Words;

use crate::roofing::plan::{Handbook, Plan};
use crate::units::Day;

/// So many days before everything is deleted, the person is told.
pub const NOTICE_DAYS: u16 = 14;

/// What the conversation goes by: the adviser's book, as far as it concerns the chat.
#[derive(Clone, Copy, Debug)]
pub struct Guide<'a> {
    /// Rules and catalogue.
    pub handbook: &'a Handbook,
    /// Questions.
    pub script: &'a Script,
    /// The sentences, for the labels that a person may type instead of pressing.
    pub words: &'a Words,
    /// What people's words mean, in the language they are spoken to in.
    pub ears: &'a Ears,
    /// The languages that may be chosen.
    pub hearing: &'a Hearing,
    /// What can be asked.
    pub topics: &'a Topics,
    /// How figures are put to the bot.
    pub asks: &'a Asks,
    /// The language the person is spoken to in.
    pub language: &'a str,
    /// The message that says where answers are kept: on this computer, or by the adviser.
    pub kept: &'a str,
    /// After how many days without a word everything is deleted; `None` where it is kept until then.
    pub keep_days: Option<u16>,
    /// The day it is: handed in like the clock, so that every turn replays.
    pub today: Day,
    /// The plan that was given last, where another book or planner made it: whoever has begun to build keeps it.
    pub earlier: Option<&'a Plan>,
    /// A link that nobody has been given yet, ready for a supplier; `None` where no page is served.
    ///
    /// Chance is handed in like the clock: the conversation says the link or not, and whoever made it keeps what
    /// it leads to where [`event::Event::Shared`] tells.
    pub link: Option<&'a str>,
}
