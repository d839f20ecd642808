//! The site file: facts as TOML, for a plan without a chat.

use std::ops::Range;

use super::facts::{FactFault, FactJson, facts_from};
use crate::roofing::roof::Facts;

/// What is wrong with a site file.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("line {line}: {what}")]
pub struct SiteFault {
    /// Where, counted from 1.
    pub line: usize,
    /// What, and what would do.
    pub what: String,
}

/// Reads a site file.
///
/// # Errors
/// Every fault with its line; a file with any fault gives no facts at all.
pub fn read_site(text: &str) -> Result<Facts, Vec<SiteFault>> {
    type Entries = std::collections::BTreeMap<toml::Spanned<String>, toml::Spanned<FactJson>>;
    let line_of = |range: Option<Range<usize>>| {
        let start = range.map_or(0, |range| range.start);
        text.bytes().take(start).filter(|byte| *byte == b'\n').count() + 1
    };
    let entries: Entries = toml::from_str(text)
        .map_err(|error| vec![SiteFault { line: line_of(error.span()), what: error.message().to_owned() }])?;
    let mut faults = Vec::new();
    for (key, value) in &entries {
        if let Err(found) = facts_from([(key.get_ref().as_str(), value.get_ref().clone())]) {
            let line = line_of(Some(key.span()));
            faults.extend(
                found.into_iter().map(|fault: FactFault| SiteFault { line, what: fault.to_string() }),
            );
        }
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    let pairs = entries.iter().map(|(key, value)| (key.get_ref().as_str(), value.get_ref().clone()));
    facts_from(pairs).map_err(|found| {
        found.into_iter().map(|fault| SiteFault { line: 1, what: fault.to_string() }).collect()
    })
}
