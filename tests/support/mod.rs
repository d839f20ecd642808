//! What several tests use.

#![allow(dead_code, reason = "each test target uses its own part")]
#![expect(clippy::unwrap_used, clippy::panic, reason = "only tests build with this")]

pub(crate) mod topics;

use std::path::Path;

/// The folder of the repository.
pub(crate) fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}
