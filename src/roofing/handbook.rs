//! What every stage goes by: the pure part of the adviser's book, and which one it is.

use crate::roofing::catalogue::Catalogue;
use crate::roofing::facts::Facts;
use crate::roofing::rules::RuleBook;
use crate::units::Day;

/// The planner's own version: it grows whenever the same facts and the same book come to another plan.
///
/// `tests/plan/plans.rs` holds that: a plan that comes out differently there fails until this number has grown.
pub const PLANNER: u32 = 2;

/// What tells one way of planning from every other: the book's rules and goods, and the planner.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Version {
    /// The fingerprint of the rules, sources and goods in force.
    pub book: String,
    /// The planner's version.
    pub planner: u32,
}

impl Version {
    /// A book by its fingerprint, and this program's planner.
    pub fn of_book(fingerprint: impl Into<String>) -> Self {
        Self { book: fingerprint.into(), planner: PLANNER }
    }

    /// As much of the fingerprint as people read to each other.
    pub fn short(&self) -> &str {
        self.book.get(..12).unwrap_or(&self.book)
    }
}

/// What the plan is made by: the pure part of the adviser's book.
#[derive(Clone, Debug, PartialEq)]
pub struct Handbook {
    /// The rules in force.
    pub rules: RuleBook,
    /// What can be bought.
    pub catalogue: Catalogue,
    /// Which book this is, and which planner reads it.
    pub version: Version,
}

/// By what a plan was made, and when: whoever has begun to build keeps the plan of then.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Made {
    /// The book and the planner.
    pub by: Version,
    /// The day, where it was handed in.
    pub day: Option<Day>,
    /// What tells these facts from others.
    pub facts: u64,
}

impl Made {
    /// By this book, of these facts.
    pub fn of(facts: &Facts, book: &Handbook, day: Option<Day>) -> Self {
        Self { by: book.version.clone(), day, facts: mark(facts) }
    }

    /// The book and the planner in short, for people to read to each other: `1f2e3d4c5b6a-1`.
    pub fn label(&self) -> String {
        format!("{}-{}", self.by.short(), self.by.planner)
    }

    /// Whether this is the same plan: one made again on another day is.
    pub fn is_same_plan(&self, other: &Self) -> bool {
        self.by == other.by && self.facts == other.facts
    }
}

/// A number that tells sets of facts apart: FNV-1a over their names and values, the same on every machine.
///
/// # Source
/// draft-eastlake-fnv, 64 bit: offset basis 14695981039346656037, prime 1099511628211.
fn mark(facts: &Facts) -> u64 {
    let mut mark: u64 = 14_695_981_039_346_656_037;
    for (key, value) in facts.iter() {
        for byte in format!("{}={value:?};", key.key()).bytes() {
            mark = (mark ^ u64::from(byte)).wrapping_mul(1_099_511_628_211);
        }
    }
    mark
}
