//! What several tests use.

pub mod topics;

use std::path::Path;

/// The folder of the repository.
pub fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}
