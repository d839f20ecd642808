//! Books of the tests: the shipped one with something laid over it, or changed in it.

#![allow(
    dead_code,
    clippy::expect_used,
    clippy::panic,
    reason = "only tests build with this, each with its own part"
)]

use std::fs;
use std::path::Path;

use lapwise::book::Book;

fn copy(from: &Path, to: &Path) {
    fs::create_dir_all(to).expect("a folder");
    for entry in fs::read_dir(from).expect("a folder").map(|entry| entry.expect("an entry").path()) {
        let target = to.join(entry.file_name().expect("a name"));
        if entry.is_dir() {
            copy(&entry, &target);
        } else {
            fs::copy(&entry, target).expect("a copy");
        }
    }
}

fn load(dir: &Path) -> Book {
    Book::load(dir).unwrap_or_else(|faults| panic!("{faults:#?}"))
}

/// The shipped book with some of its words changed: in which file, from, to.
pub(crate) fn edited(changes: &[(&str, &str, &str)]) -> Book {
    let place = tempfile::tempdir().expect("a place");
    let dir = place.path().join("dialogs");
    copy(Path::new("dialogs"), &dir);
    for (file, from, to) in changes {
        let text = fs::read_to_string(dir.join(file)).expect("a file of the book");
        assert!(text.contains(from), "{file} has no {from:?} any more");
        fs::write(dir.join(file), text.replacen(from, to, 1)).expect("written");
    }
    load(&dir)
}

/// The shipped book with the files of a folder laid over it.
pub(crate) fn with(folder: &str) -> Book {
    let place = tempfile::tempdir().expect("a place");
    let dir = place.path().join("dialogs");
    copy(Path::new("dialogs"), &dir);
    copy(Path::new(folder), &dir);
    load(&dir)
}
