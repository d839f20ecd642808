//! The adviser's book: reads and checks `dialogs/` into the pure types.

pub mod topics;
