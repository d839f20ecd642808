//! One call of the Bot API, typed by what it does.

use serde_json::Value;
use teloxide::payloads::setters::*;
use teloxide::payloads::{EditMessageReplyMarkup, EditMessageText, SendDocument, SendMessage, SendPhoto};
use teloxide::types::{
    ChatId, FileId, InlineKeyboardButton, InlineKeyboardMarkup, InputFile, LinkPreviewOptions, MessageId,
    ParseMode, ReplyMarkup, ReplyParameters, ThreadId,
};

use super::address::Address;
use super::text::escape;
use crate::message::Attachment;

/// A button as the Bot API sees it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Key {
    /// What stands on it.
    pub label: String,
    /// What comes back.
    pub data: String,
}

/// How a file is shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Showing {
    /// As a picture in the chat.
    Photo,
    /// As a file to open.
    Document,
}

/// What a message replies to and where it stands: needed in groups.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Place {
    /// The message it replies to.
    pub reply_to: Option<i64>,
    /// The topic of a forum.
    pub thread: Option<i64>,
}

/// One call of the Bot API.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Call {
    /// Sends words.
    Text {
        /// To whom.
        to: Address,
        /// Where.
        place: Place,
        /// The words, plain; escaped when the call is written.
        words: String,
        /// Rows of buttons.
        keys: Vec<Vec<Key>>,
    },
    /// Sends a file.
    File {
        /// To whom.
        to: Address,
        /// Where.
        place: Place,
        /// How it is shown.
        showing: Showing,
        /// The file.
        file: Attachment,
        /// What stands under it, plain.
        caption: String,
    },
    /// Replaces the words of a message; its buttons go.
    EditText {
        /// Where.
        to: Address,
        /// The message.
        message: i64,
        /// The new words, as HTML.
        html: String,
    },
    /// Takes the buttons off a message.
    TakeButtons {
        /// Where.
        to: Address,
        /// The message.
        message: i64,
    },
}

impl Call {
    /// The same call with a picture as a file: the server refuses pictures that are very long or very wide.
    pub fn as_document(mut self) -> Self {
        if let Self::File { showing, .. } = &mut self {
            *showing = Showing::Document;
        }
        self
    }

    /// To whom it goes.
    pub fn to(&self) -> Address {
        match self {
            Self::Text { to, .. }
            | Self::File { to, .. }
            | Self::EditText { to, .. }
            | Self::TakeButtons { to, .. } => *to,
        }
    }

    /// The Bot API's name of it.
    pub fn method(&self) -> &'static str {
        match self {
            Self::Text { .. } => "sendMessage",
            Self::File { showing: Showing::Photo, .. } => "sendPhoto",
            Self::File { showing: Showing::Document, .. } => "sendDocument",
            Self::EditText { .. } => "editMessageText",
            Self::TakeButtons { .. } => "editMessageReplyMarkup",
        }
    }

    /// The same call to a group that got a new id.
    pub fn moved_to(mut self, chat: i64) -> Self {
        match &mut self {
            Self::Text { to, .. }
            | Self::File { to, .. }
            | Self::EditText { to, .. }
            | Self::TakeButtons { to, .. } => to.chat = chat,
        }
        self
    }

    /// The parameters, without the bytes of a file.
    pub fn parameters(&self) -> Value {
        let chat = ChatId(self.to().chat);
        let written = match self {
            Self::Text { place, words, keys, .. } => {
                let mut message = SendMessage::new(chat, escape(words))
                    .parse_mode(ParseMode::Html)
                    .link_preview_options(no_preview());
                message.reply_markup =
                    (!keys.is_empty()).then(|| ReplyMarkup::InlineKeyboard(keyboard(keys)));
                message.reply_parameters = place.reply();
                message.message_thread_id = place.topic();
                serde_json::to_value(message)
            }
            Self::File { place, caption, showing: Showing::Photo, .. } => {
                let mut photo =
                    SendPhoto::new(chat, attached()).caption(escape(caption)).parse_mode(ParseMode::Html);
                photo.reply_parameters = place.reply();
                photo.message_thread_id = place.topic();
                serde_json::to_value(photo)
            }
            Self::File { place, caption, showing: Showing::Document, .. } => {
                let mut document =
                    SendDocument::new(chat, attached()).caption(escape(caption)).parse_mode(ParseMode::Html);
                document.reply_parameters = place.reply();
                document.message_thread_id = place.topic();
                serde_json::to_value(document)
            }
            Self::EditText { message, html, .. } => serde_json::to_value(
                EditMessageText::new(chat, message_id(*message), html)
                    .parse_mode(ParseMode::Html)
                    .link_preview_options(no_preview()),
            ),
            Self::TakeButtons { message, .. } => serde_json::to_value(
                EditMessageReplyMarkup::new(chat, message_id(*message))
                    .reply_markup(InlineKeyboardMarkup::default()),
            ),
        };
        // Plain data of numbers and text always has a JSON form.
        written.unwrap_or_default()
    }

    /// The same call in its plainest form, for a server that refuses the other: no formatting, no reply, no
    /// topic, no buttons. `None` where there is nothing plainer.
    pub fn plainest(&self) -> Option<Value> {
        let chat = ChatId(self.to().chat);
        let plain = match self {
            Self::Text { words, .. } => serde_json::to_value(SendMessage::new(chat, words)),
            // It goes as a file, whatever it went as before.
            Self::File { caption, .. } => {
                serde_json::to_value(SendDocument::new(chat, attached()).caption(caption))
            }
            Self::EditText { .. } | Self::TakeButtons { .. } => return None,
        };
        plain.ok()
    }
}

/// The name under which a file's bytes go beside its parameters.
pub const ATTACHED: &str = "file";

/// Where the parameters point at those bytes (Bot API, "Sending files": `attach://NAME`).
fn attached() -> InputFile {
    InputFile::file_id(FileId(format!("attach://{ATTACHED}")))
}

impl Place {
    fn reply(self) -> Option<ReplyParameters> {
        self.reply_to.map(|message| ReplyParameters::new(message_id(message)).allow_sending_without_reply())
    }

    /// The topic of a forum, as a call names it.
    pub fn topic(self) -> Option<ThreadId> {
        self.thread.map(|thread| ThreadId(message_id(thread)))
    }
}

/// Message ids are 32-bit in the client's types; one beyond that (none is known) names no message.
fn message_id(id: i64) -> MessageId {
    MessageId(i32::try_from(id).unwrap_or_default())
}

fn no_preview() -> LinkPreviewOptions {
    LinkPreviewOptions {
        is_disabled: true,
        url: None,
        prefer_small_media: false,
        prefer_large_media: false,
        show_above_text: false,
    }
}

fn keyboard(rows: &[Vec<Key>]) -> InlineKeyboardMarkup {
    let button = |key: &Key| InlineKeyboardButton::callback(&key.label, &key.data);
    InlineKeyboardMarkup::new(rows.iter().map(|row| row.iter().map(button).collect::<Vec<_>>()))
}
