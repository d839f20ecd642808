//! The plan and its parts as others read them: JSON with schemas, and the site file.

pub mod facts;
mod limits;
pub mod plan;
pub mod reading;
pub mod schema;
pub mod shape;
pub mod site;
pub mod state;
