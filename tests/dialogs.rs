//! The adviser's book: the shipped one is whole, and every fault of a broken one is named where it stands.

use std::path::Path;

use lapwise::book::Book;

fn shipped_dir() -> &'static Path {
    Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/dialogs"))
}

#[test]
fn the_shipped_book_is_whole_and_part_of_the_program() {
    let read = Book::load(shipped_dir()).unwrap_or_else(|faults| {
        panic!("{}", faults.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n"))
    });
    assert_eq!(Book::shipped().version, read.version, "list every file of dialogs/ in src/book/files.rs");
}
