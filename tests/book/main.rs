//! The adviser's book.

mod dialogs;
