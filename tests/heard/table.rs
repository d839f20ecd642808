//! Counts, rows and what went wrong.

use std::collections::BTreeMap;

/// What one or all hands came to.
#[derive(Default)]
pub(crate) struct Part {
    rows: BTreeMap<String, (usize, usize)>,
    failures: Vec<String>,
    confusions: BTreeMap<(String, String), usize>,
}

impl Part {
    pub(crate) fn count(&mut self, row: &str, right: bool) {
        let (rights, tries) = self.rows.entry(row.to_owned()).or_default();
        *rights += usize::from(right);
        *tries += 1;
    }

    pub(crate) fn fail(&mut self, what: String) {
        self.failures.push(what);
    }

    pub(crate) fn confuse(&mut self, wanted: &str, heard: &str) {
        *self.confusions.entry((wanted.to_owned(), heard.to_owned())).or_default() += 1;
    }

    pub(crate) fn take(&mut self, other: Self) {
        for (row, (rights, tries)) in other.rows {
            let sum = self.rows.entry(row).or_default();
            sum.0 += rights;
            sum.1 += tries;
        }
        self.failures.extend(other.failures);
        for (pair, times) in other.confusions {
            *self.confusions.entry(pair).or_default() += times;
        }
    }

    pub(crate) fn lines(&self) -> Vec<String> {
        self.rows
            .iter()
            .map(|(row, (rights, tries))| {
                let mille = if *tries == 0 { 0 } else { rights * 1_000 / tries };
                format!("| {row} | {rights} of {tries} | {}.{} % |", mille / 10, mille % 10)
            })
            .collect()
    }

    pub(crate) fn failures(&self) -> &[String] {
        &self.failures
    }

    /// What was taken for what, the most frequent first.
    pub(crate) fn worst(&self, most: usize) -> Vec<String> {
        let mut pairs: Vec<_> = self.confusions.iter().collect();
        pairs.sort_by_key(|(pair, times)| (std::cmp::Reverse(**times), (*pair).clone()));
        pairs
            .iter()
            .take(most)
            .map(|((wanted, heard), times)| format!("{times} x {wanted} taken for {heard}"))
            .collect()
    }
}
