//! Hearing: what a message says, by the lexicon of its language in `dialogs/hearing/`.

pub mod asked;
