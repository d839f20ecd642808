//! What comes in from a person and what goes out to them: the only thing channels, the conversation and the
//! store have in common.

use std::fmt;

/// One chat of one person in one channel, as `terminal:default` or `telegram:42`.
///
/// In a group every person has a chat of their own: `telegram:-100123/42`.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ChatId(String);

/// The longest chat id accepted, in bytes.
const LONGEST_CHAT_ID: usize = 200;

impl ChatId {
    /// A chat id; `None` where it is empty, over 200 bytes or holds control characters.
    pub fn new(id: impl Into<String>) -> Option<Self> {
        let id = id.into();
        let fits = !id.is_empty() && id.len() <= LONGEST_CHAT_ID && !id.chars().any(char::is_control);
        fits.then_some(Self(id))
    }

    /// The id as text.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for ChatId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// What a person sent.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Content {
    /// They typed something, a command with its slash included.
    Text(String),
    /// They pressed a button of the question with that prompt token (`None`: of whichever is current).
    Choice {
        /// The token of the question the button belonged to.
        prompt: Option<u64>,
        /// The id of the choice.
        id: String,
    },
    /// They sent something that carries no words: its kind, as `photo`, `voice`, `location`.
    Other(String),
}

/// One message from a person.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Inbound {
    /// Whose chat.
    pub chat: ChatId,
    /// The channel's own id of the message: the same message sent again has the same id.
    pub id: String,
    /// What they sent.
    pub content: Content,
}

/// Something to press.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Choice {
    /// What comes back when it is pressed.
    pub id: String,
    /// What stands on it.
    pub label: String,
}

/// How a file is made when somebody wants it, so that none has to be kept.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Recipe {
    /// What is made, in the app's own word for it.
    pub what: String,
    /// From the chat as it stood after so many of its events.
    pub events: u64,
    /// As of when, in seconds since 1970.
    pub at: u64,
}

/// A file that goes with a message.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Attachment {
    /// Its name with its ending: letters, digits, `-`, `_`, `.` only.
    pub name: String,
    /// Its media type.
    pub media_type: String,
    /// What it shows, for those who cannot see it.
    pub alt: String,
    /// Its bytes; none where it is still to be made.
    pub bytes: Vec<u8>,
    /// How it is made, where it can be made again.
    pub recipe: Option<Recipe>,
}

/// One message to a person.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Say {
    /// The id of the wording it is made of, stable for tests and styling.
    pub id: String,
    /// The words: plain text, paragraphs parted by an empty line, list lines starting with `• `.
    pub text: String,
    /// What can be pressed; at most six.
    pub choices: Vec<Choice>,
    /// The prompt token, where it puts a question.
    pub prompt: Option<u64>,
    /// Files that go with it.
    pub files: Vec<Attachment>,
}
