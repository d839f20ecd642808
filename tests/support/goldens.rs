//! What a folder's case said when it was last read, in its `expected.txt`.

#![expect(clippy::expect_used, reason = "helpers of tests")]

use std::fs;
use std::path::PathBuf;

/// Holds what each case says now against what it said; `UPDATE=1` writes it anew.
pub(crate) fn hold(cases: impl Iterator<Item = (PathBuf, String)>) {
    let mut changed = Vec::new();
    for (case, now) in cases {
        let path = case.join("expected.txt");
        if std::env::var_os("UPDATE").is_some() {
            fs::write(&path, &now).expect("written");
        }
        let before = fs::read_to_string(&path).unwrap_or_default();
        let first = before.lines().zip(now.lines()).find(|(before, now)| before != now);
        if before != now {
            changed.push(format!("{}: {first:?}", path.display()));
        }
    }
    assert!(changed.is_empty(), "said otherwise now:\n{}", changed.join("\n"));
}

/// The cases of a folder, each a folder of its own: there are at least so many.
pub(crate) fn cases_of(folder: &str, least: usize) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).expect("the cases");
    let mut cases: Vec<PathBuf> = entries.map(|entry| entry.expect("a folder").path()).collect();
    cases.sort();
    assert!(cases.len() >= least, "the walk found the cases of {folder}");
    cases
}
