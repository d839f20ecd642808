//! Learning from the kept messages, and what was learned.

pub(super) mod confidence;
pub(super) mod evidence;
pub(super) mod held_out;
pub(super) mod learned;
pub(super) mod machine;
pub(super) mod scoring;
pub(super) mod table;
