//! Chats without a store: one person's messages worked through the conversation with the shipped book.

#![allow(dead_code, reason = "each test target uses its own part")]

#[path = "guide.rs"]
mod book_guide;

use std::sync::LazyLock;

use lapwise::book::Book;
use lapwise::conversation::event::Event;
use lapwise::conversation::saying::Voice;
use lapwise::conversation::session::Session;
use lapwise::conversation::{Guide, Wish, turn};
use lapwise::export::state::state_json;
use lapwise::message::{Content, Say};
use lapwise::units::UsualUnit;

pub(crate) use book_guide::guide_of;

static BOOK: LazyLock<Book> = LazyLock::new(Book::shipped);

/// The shipped book, as far as it concerns a chat.
pub(crate) fn guide() -> Guide<'static> {
    guide_of(&BOOK)
}

/// A message as the tests write it down: `[id]` presses a button, anything else is typed.
pub(crate) fn content(said: &str) -> Content {
    match said.strip_prefix('[').and_then(|rest| rest.strip_suffix(']')) {
        Some(id) => Content::Choice { prompt: None, id: id.to_owned() },
        None => Content::Text(said.to_owned()),
    }
}

/// One person's chat, with everything that has happened in it.
#[derive(Clone, Default)]
pub(crate) struct Chat {
    pub(crate) session: Session,
    pub(crate) events: Vec<Event>,
}

impl Chat {
    /// The chat after these messages.
    pub(crate) fn after<S: AsRef<str>>(messages: impl IntoIterator<Item = S>) -> Self {
        let mut chat = Self::default();
        for message in messages {
            chat.say(&content(message.as_ref()));
        }
        chat
    }

    /// Works one message; answers what happened and what was said.
    pub(crate) fn say(&mut self, content: &Content) -> (Vec<Event>, Vec<Say>) {
        let worked = turn(&guide(), &self.session, content);
        if worked.wish == Some(Wish::Delete) {
            // Whoever keeps the chat says by count what is gone, and nothing is left of it.
            *self = Self::default();
            let says = vec![Say { id: "deleted".to_owned(), text: "deleted".to_owned(), ..Say::default() }];
            return (Vec::new(), says);
        }
        for event in &worked.events {
            self.session.apply(event);
        }
        self.events.extend(worked.events.iter().cloned());
        let voice = self.voice();
        let says = worked.says.iter().map(|draft| voice.speak(draft, self.session.prompt())).collect();
        (worked.events, says)
    }

    /// Where the chat stands, as the pipe prints it, always in metres: units are the person's, not the roof's.
    pub(crate) fn state(&self) -> serde_json::Value {
        state_json(&guide(), &Voice { units: UsualUnit::M, ..self.voice() }, &self.session)
    }

    fn voice(&self) -> Voice<'static> {
        Voice { words: &BOOK.words, language: "en", units: self.session.usual().unwrap_or(UsualUnit::M) }
    }
}
