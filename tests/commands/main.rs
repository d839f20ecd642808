//! The commands, as they are typed.

mod cli;
