//! The app as the server calls it.

use super::{App, AppError};
use crate::conversation::saying::Draft;
use crate::conversation::session::Session;
use crate::message::{Attachment, ChatId, Inbound, Say};
use crate::roofing::note::Note;
use crate::serve::{Answers, Menu, Phrase, TurnError, Turned};
use crate::store::record::{read_say, write_say};
use crate::store::{InboxKey, Store};

/// The commands of the client's menu, in the order they are shown.
const COMMANDS: &[&str] =
    &["start", "help", "review", "plan", "cancel", "settings", "privacy", "export", "delete"];

impl<S: Store> Answers for App<S> {
    async fn turn(&self, key: InboxKey, inbound: Inbound) -> Result<Turned, TurnError> {
        match self.work(&inbound, Some(key), true).await {
            Ok(worked) => Ok(Turned { answered: worked.answered }),
            Err(AppError::Store(error)) => Err(error.into()),
            Err(error @ (AppError::Record(_) | AppError::Share(_) | AppError::Panicked)) => {
                Err(TurnError::Fault(error.to_string()))
            }
        }
    }

    fn read_say(&self, say: &[u8]) -> Result<Say, String> {
        read_say(say).map_err(|error| error.to_string())
    }

    async fn made(&self, chat: ChatId, files: Vec<Attachment>) -> Result<Vec<Attachment>, TurnError> {
        match self.made(&chat, files).await {
            Ok(files) => Ok(files),
            Err(AppError::Store(error)) => Err(error.into()),
            Err(error @ (AppError::Record(_) | AppError::Share(_) | AppError::Panicked)) => {
                Err(TurnError::Fault(error.to_string()))
            }
        }
    }

    fn apology(&self) -> Result<Vec<u8>, String> {
        let say = self.voice(&Session::default()).speak(&Draft::of(Note::new("our-fault")), 0);
        write_say(&say).map_err(|error| error.to_string())
    }

    fn phrase(&self, phrase: Phrase) -> String {
        let message = match phrase {
            Phrase::TooFast => "too-fast",
            Phrase::NotYourButton => "not-your-button",
        };
        self.voice(&Session::default()).say(&Note::new(message))
    }

    fn menus(&self) -> Vec<Menu> {
        let menu = |language: &str, code: Option<String>| Menu {
            language: code,
            commands: COMMANDS
                .iter()
                .map(|command| {
                    let note = Note::new(format!("menu-{command}"));
                    ((*command).to_owned(), self.book.words.say(language, &note, crate::units::UsualUnit::M))
                })
                .collect(),
        };
        let languages = self.book.words.languages();
        let each = languages.map(|language| menu(language, Some(language.to_owned())));
        [menu(&self.language, None)].into_iter().chain(each).collect()
    }
}
