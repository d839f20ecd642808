//! What was mended when a store was opened, for the operator to read.

use std::fmt;
use std::path::PathBuf;

/// Something that was mended.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Recovered {
    /// A compaction had been cut short; the files that do not count were deleted.
    OtherGeneration {
        /// What was deleted.
        deleted: PathBuf,
    },
    /// A snapshot had been left half written, which keeps sled from opening. The log holds everything.
    HalfSnapshot {
        /// What was removed.
        removed: PathBuf,
    },
    /// A snapshot was not readable; everything was read from the log instead.
    Snapshot {
        /// What was removed.
        removed: PathBuf,
    },
    /// The end of the log is missing or not readable: what was acknowledged last is lost.
    LogCut {
        /// How many of the last writes (each of one or more turns) are lost.
        writes: u64,
    },
    /// The files as found were copied before anything was mended. The copy holds people's words: a person is to
    /// look at it and delete it.
    Copied {
        /// Where they are.
        to: PathBuf,
    },
}

impl fmt::Display for Recovered {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::OtherGeneration { deleted } => {
                write!(
                    f,
                    "an interrupted compaction had left {}, which did not count: deleted",
                    deleted.display()
                )
            }
            Self::HalfSnapshot { removed } => {
                write!(
                    f,
                    "a half-written snapshot was removed ({}); the log holds everything",
                    removed.display()
                )
            }
            Self::Snapshot { removed } => {
                write!(f, "a snapshot was not readable ({}); the log was read instead", removed.display())
            }
            Self::LogCut { writes } => write!(
                f,
                "THE END OF THE LOG IS MISSING: the last {writes} writes, each of one or more turns, are lost; what \
                 came before them is whole"
            ),
            Self::Copied { to } => {
                write!(f, "the files as found are in {}: delete them once they are not needed", to.display())
            }
        }
    }
}
