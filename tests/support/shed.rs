//! What somebody types to have a small shed planned.

/// Each message when the one before is answered; the last says that all is right.
pub(crate) const SHED: &[&str] = &[
    "It's felt on 12mm boards, one slope of 25 degrees, 2.4m long, 1.8m up the slope",
    "felt",
    "sound",
    "none",
    "600",
    "no",
    "none",
    "left",
    "no",
    "demo",
    "yes",
];
