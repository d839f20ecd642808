//! The adviser's book, and the house it is built in.

mod architecture;
mod dialogs;
