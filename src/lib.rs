//! lapwise: from the facts of one roof to everything to buy and do, by chat.
//!
//! Read in this order: [`units`], [`roofing`], [`message`], [`store`].

pub mod channel;
pub mod conversation;
pub mod message;
pub mod roofing;
#[cfg(feature = "telegram")]
pub mod serve;
pub mod store;
pub mod units;
