//! Whether a roof holds: snow, wind, timber, fastenings, water and damp, each by a published method.

pub mod methods;
