//! The plan on paper: the words of drawings, the roof pack, the supplier's sheet.

pub mod captions;
pub mod pack;
pub mod supplier;
