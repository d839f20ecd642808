//! Results as other programs read them: stable, documented JSON.

pub mod ask;
pub mod reading;
