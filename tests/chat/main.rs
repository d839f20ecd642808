//! The chat: what is heard, decided and answered, by cases, properties and whole sessions.

#[path = "../support/common.rs"]
mod common;
#[path = "../support/people.rs"]
mod people;
#[path = "../heard/stages.rs"]
mod stages;
#[path = "../support/mod.rs"]
mod support;
#[path = "../support/talking.rs"]
mod talking;

mod answers;
mod chats_cover;
mod deciding;
mod hearing;
mod hearing_properties;
mod languages;
mod pipe_fuzz;
mod session_properties;
mod understanding;
mod verdicts;
mod working;
