//! The page, from outside: in real Chromium, by hand-made requests, and by attacks.
//!
//! Needs Debian's `chromium` and `chromium-driver`, and `npm ci` in `tests/web` for axe-core. Nothing is skipped
//! where they are missing: the tests fail and say what to install.

#![allow(
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "a test that meets what it does not expect should end there"
)]

mod attacks;
#[cfg(feature = "outside")]
mod browser;
#[cfg(feature = "outside")]
mod browsing;
mod http;
#[path = "../attack/mount.rs"]
mod mount;
mod requests;
mod restored;
mod server;
mod sharing;
#[path = "../support/shed.rs"]
mod shed;
mod storing;
