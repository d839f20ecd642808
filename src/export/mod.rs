//! Results as others read them: JSON with schemas, the site file, the supplier sheet, the roof pack.

pub mod ask;
pub mod checks;
pub mod facts;
pub mod kept;
mod limits;
mod papers;
pub mod plan;
pub mod reading;
pub mod schema;
pub mod shape;
pub mod site;
pub mod state;

pub use papers::{captions, pack, supplier};
