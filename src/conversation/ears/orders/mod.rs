//! Words that steer the chat instead of answering: help, back, why, change, start again.
//!
//! Understood at any time, whatever question is open. They are matched on the whole message, so that a
//! sentence which merely holds one of these words is not taken for an order.

mod job;

use super::Message;
use super::lexicon::{Hit, OrderEntry, Tag};
use super::normal::{Token, TokenKind};

pub(super) use job::job;
pub use job::{Count, Job};

/// A part of the plan that can be asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// Everything in short.
    Headline,
    /// What to buy.
    Materials,
    /// Where the purlins and laps go.
    SettingOut,
    /// The nailing pattern.
    Fixings,
    /// Which piece comes from which sheet.
    CutList,
    /// The order of work.
    Work,
    /// What to mind.
    Cautions,
    /// The plan on paper.
    Papers,
}

impl Part {
    /// Every part, in reading order.
    pub const ALL: &'static [Self] = &[
        Self::Headline,
        Self::Materials,
        Self::SettingOut,
        Self::Fixings,
        Self::CutList,
        Self::Work,
        Self::Cautions,
        Self::Papers,
    ];

    /// The name it has in ids.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Headline => "headline",
            Self::Materials => "materials",
            Self::SettingOut => "setting-out",
            Self::Fixings => "fixings",
            Self::CutList => "cut-list",
            Self::Work => "work",
            Self::Cautions => "cautions",
            Self::Papers => "papers",
        }
    }
}

/// An order to the bot.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Order {
    /// The platform's start: greets, or welcomes back.
    Start,
    /// What can be said at any time.
    Help,
    /// Takes the last answer back.
    Back,
    /// Why is that asked, or why is that so; with what was named, if anything.
    Why(String),
    /// How is that measured.
    How,
    /// The person does not know.
    NotSure,
    /// Change an answer; with what was named, if anything.
    Change(String),
    /// Drop everything.
    Restart,
    /// Choose a language.
    Language,
    /// Choose units; with what was named, if anything.
    Units(String),
    /// Show the plan, or a part of it.
    Show(Part),
    /// Show the facts.
    Review,
    /// Go on where the chat was.
    CarryOn,
    /// Nothing is wanted after all.
    LeaveIt,
    /// Put me through to a person.
    Person,
    /// What is kept, why, and for how long.
    Privacy,
    /// Everything that is kept, as a file.
    Export,
    /// Delete everything that is kept.
    Delete,
    /// Make a link for a supplier; with how long it is to live, if that was said.
    Share(String),
    /// Close every link.
    Revoke,
    /// More of what was said.
    More,
    /// What a word of the trade means.
    Meaning(String),
    /// All there is to say about something.
    Everything(String),
}

impl Order {
    /// Whether it may be an order only by its first words, and speak of anything behind them.
    pub const fn may_name_anything(&self) -> bool {
        matches!(self, Self::Why(_) | Self::Change(_) | Self::How | Self::Meaning(_) | Self::Everything(_))
    }
}

/// The orders there are, by their names in the book.
#[derive(Clone, Copy, Debug)]
pub struct Orders;

impl Orders {
    /// Every name.
    pub fn all() -> Vec<&'static str> {
        let parts = [
            "start",
            "help",
            "back",
            "why",
            "how",
            "not-sure",
            "change",
            "restart",
            "units",
            "language",
            "review",
            "carry-on",
            "leave-it",
            "person",
            "privacy",
            "export",
            "delete",
            "share",
            "revoke",
            "more",
            "meaning",
            "everything",
            "show-headline",
            "show-materials",
            "show-setting-out",
            "show-fixings",
            "show-cut-list",
            "show-work",
            "show-cautions",
            "show-papers",
        ];
        parts.into_iter().chain(OrderEntry::OF_THE_JOB.iter().copied()).collect()
    }

    /// Whether the book may name an order so.
    pub fn is_known(id: &str) -> bool {
        Self::all().contains(&id)
    }
}

fn built(id: &str, named: String) -> Option<Order> {
    if let Some(part) = Part::ALL.iter().find(|part| id.strip_prefix("show-") == Some(part.key())) {
        return Some(Order::Show(*part));
    }
    Some(match id {
        "start" => Order::Start,
        "help" => Order::Help,
        "back" => Order::Back,
        "why" => Order::Why(named),
        "how" => Order::How,
        "not-sure" => Order::NotSure,
        "change" => Order::Change(named),
        "restart" => Order::Restart,
        "language" => Order::Language,
        "units" => Order::Units(named),
        "review" => Order::Review,
        "carry-on" => Order::CarryOn,
        "leave-it" => Order::LeaveIt,
        "person" => Order::Person,
        "privacy" => Order::Privacy,
        "export" => Order::Export,
        "delete" => Order::Delete,
        "share" => Order::Share(named),
        "revoke" => Order::Revoke,
        "more" => Order::More,
        "meaning" => Order::Meaning(named),
        "everything" => Order::Everything(named),
        _ => return None,
    })
}

/// The order a whole message gives, where it gives one.
pub(super) fn order(message: &Message<'_>) -> Option<Order> {
    ways_to_start(message).find_map(|(tokens, from)| {
        let (entry, end) = message.lexicon.order(tokens, false)?;
        let named = if entry.names || entry.id == "units" {
            named_after(message, from, end, entry.names)
        } else {
            String::new()
        };
        // A word is explained; a whole sentence asks something else.
        if entry.id == "meaning" && (named.is_empty() || named.split_whitespace().count() > 2) {
            return None;
        }
        built(&entry.id, named)
    })
}

/// What is named behind the beginning of an order; the whole of an order that names nothing more.
fn named_after(message: &Message<'_>, from: usize, end: usize, rest: bool) -> String {
    let words = words(message);
    let index = |at: usize| words.get(at).map(|(index, _)| *index);
    if !rest {
        return message.text.trim().to_lowercase();
    }
    let Some(first) = index(from + end) else { return String::new() };
    let last = words.iter().rev().map(|(index, _)| *index).find(|index| !is_small(message, *index));
    let last = last.filter(|last| *last >= first).unwrap_or(first);
    let bytes = message.bytes(&(first..last + 1));
    message.text.get(bytes).unwrap_or_default().trim().to_lowercase()
}

/// The words and numbers of a message, with where each stands among its tokens.
fn words<'m>(message: &'m Message<'_>) -> Vec<(usize, &'m Token)> {
    let tokens = message.tokens.iter().enumerate();
    tokens.filter(|(_, token)| !matches!(token.kind, TokenKind::Mark(_))).collect()
}

fn is_small(message: &Message<'_>, at: usize) -> bool {
    message.hits.iter().any(|hit: &Hit<'_>| hit.is(Tag::Filler) && hit.start <= at && at < hit.end)
}

/// The message as words alone: as it is, then without the small words around it.
pub(super) fn ways_to_start<'m>(message: &'m Message<'_>) -> impl Iterator<Item = (&'m [Token], usize)> {
    message.bare.iter().map(|(tokens, from)| (tokens.as_slice(), *from))
}

/// The tokens of a message without its marks, and without the small words around them; how many were left out in
/// front.
pub(super) fn bare(tokens: &[Token], hits: &[Hit<'_>]) -> Vec<(Vec<Token>, usize)> {
    let plain: Vec<(usize, &Token)> =
        tokens.iter().enumerate().filter(|(_, token)| !matches!(token.kind, TokenKind::Mark(_))).collect();
    let small = |at: usize| hits.iter().any(|hit| hit.is(Tag::Filler) && hit.start <= at && at < hit.end);
    let whole: Vec<Token> = plain.iter().map(|(_, token)| (*token).clone()).collect();
    let front = plain.iter().take_while(|(at, _)| small(*at)).count();
    let behind = plain.iter().rev().take_while(|(at, _)| small(*at)).count();
    let mut found = vec![(whole.clone(), 0)];
    let cut = |front: usize, behind: usize| {
        let end = whole.len().saturating_sub(behind);
        whole.get(front..end).filter(|rest| !rest.is_empty()).map(|rest| (rest.to_vec(), front))
    };
    for (front, behind) in [(0, behind), (front, 0), (front, behind)] {
        if let Some(one) = cut(front, behind)
            && !found.contains(&one)
        {
            found.push(one);
        }
    }
    found
}
