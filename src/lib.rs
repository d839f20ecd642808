//! lapwise: from the facts of one roof to everything to buy and do, by chat.
//!
//! Read in this order: [`units`], [`roofing`], [`book`], [`message`], [`store`].

pub mod book;
pub mod conversation;
pub mod export;
pub mod message;
pub mod roofing;
pub mod store;
pub mod units;
