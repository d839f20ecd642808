//! The supplier's side of a share: the sheet they are shown, and what they send back. No name, no chat.

/// One line of the sheet, in words.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct SheetLine {
    /// The catalogue's name.
    pub name: String,
    /// What a counter must know beside the name, in words.
    pub details: Vec<String>,
    /// Its weight, how many are spare, and the price of the list, in words.
    pub figures: Vec<String>,
    /// How many pieces.
    pub pieces: i64,
    /// In which packs, where it is sold in packs.
    pub packs: String,
    /// What the supplier marked before; empty where nothing.
    pub mark: Mark,
}

/// What a supplier says of one line, as they typed it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Mark {
    /// `in`, `out`, `instead`, or nothing.
    pub stock: String,
    /// What they would give instead.
    pub instead: String,
    /// Their price for the whole line.
    pub price: String,
}

/// The sheet as the page shows it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Sheet {
    /// When it was made and how long the link works, in words.
    pub dates: String,
    /// What the list is called, in words.
    pub order: String,
    /// What must be said of all the goods; empty where nothing must.
    pub notice: String,
    /// What it all costs by the list, in words; empty where that is not known.
    pub total: String,
    /// The weight of the delivery and its longest piece, in words.
    pub weight: String,
    /// What is said to a price in other money, in words.
    pub other_money: String,
    /// Whether they have answered before.
    pub answered: bool,
    /// What to pick.
    pub lines: Vec<SheetLine>,
    /// The same as CSV (RFC 4180).
    pub csv: String,
}

/// What became of an answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Answered {
    /// The person has been told.
    Told(crate::message::ChatId),
    /// There is no such link, or no longer.
    Gone,
    /// Line by line (from 0), what cannot be taken: `price`, `currency` or `instead`. Nothing was sent.
    Unreadable(Vec<(usize, &'static str)>),
    /// Answered too often already.
    TooOften,
}
