//! Results as others read them: stable, documented JSON, the supplier sheet, the roof pack.

pub mod captions;
pub mod pack;
pub mod reading;
pub mod supplier;
