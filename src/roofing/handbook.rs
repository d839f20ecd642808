//! What every stage goes by: the pure part of the adviser's book.

use crate::roofing::catalogue::Catalogue;
use crate::roofing::rules::RuleBook;

/// What the plan is made by: the pure part of the adviser's book.
#[derive(Clone, Debug, PartialEq)]
pub struct Handbook {
    /// The rules.
    pub rules: RuleBook,
    /// What can be bought.
    pub catalogue: Catalogue,
}
