//! The ways messages come in and go out. A channel sees [`crate::message`] only: it carries, never decides.

#[cfg(feature = "telegram")]
pub mod telegram;
