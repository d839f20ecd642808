//! lapwise: from the facts of one roof to everything to buy and do, by chat.
//!
//! Read in this order: [`units`] (exact quantities, and reading them from what people type), [`roofing`] (from facts
//! to a plan), [`book`] (the adviser's rules, goods, questions and sentences), [`conversation`] (a chat as a pure
//! fold), [`message`] and [`store`] (what comes in, goes out and is kept), [`app`] (one turn), [`channel`] (how it is
//! carried), [`drawing`] and [`render`] (pictures of a plan), [`export`] (how others read it).

pub mod app;
pub mod book;
pub mod channel;
pub mod conversation;
pub mod drawing;
pub mod export;
pub mod message;
pub mod render;
pub mod roofing;
#[cfg(feature = "serve")]
pub mod serve;
pub mod store;
pub mod units;
