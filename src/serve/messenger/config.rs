//! What the server must be told.

use std::fmt;
use std::net::SocketAddr;
use std::num::NonZeroU32;
use std::path::Path;
use std::time::Duration;

/// The bot's token. It stands in every URL that is called, so it is never shown: not by `Debug`, not in an
/// error, not in a log.
#[derive(Clone, PartialEq, Eq)]
pub struct Token(String);

/// Why a token is none.
#[derive(Debug, thiserror::Error)]
pub enum TokenError {
    /// The file cannot be read.
    #[error("the token file {path} cannot be read: {reason}")]
    Unreadable {
        /// The file.
        path: String,
        /// What the system said.
        reason: std::io::Error,
    },
    /// What is in it has not the form of a token.
    #[error("that is no bot token: it should be digits, a colon, then letters, digits, - and _")]
    Malformed,
}

impl Token {
    /// A token as the platform gives it, white space around it ignored.
    pub fn new(token: &str) -> Result<Self, TokenError> {
        let token = token.trim();
        let (id, secret) = token.split_once(':').ok_or(TokenError::Malformed)?;
        let digits = !id.is_empty() && id.bytes().all(|b| b.is_ascii_digit());
        let safe = |b: u8| b.is_ascii_alphanumeric() || b == b'_' || b == b'-';
        let fits = digits && !secret.is_empty() && token.len() <= 200 && secret.bytes().all(safe);
        if fits { Ok(Self(token.to_owned())) } else { Err(TokenError::Malformed) }
    }

    /// The token in a file: a secret that only the service can read.
    pub fn from_file(path: &Path) -> Result<Self, TokenError> {
        let text = std::fs::read_to_string(path)
            .map_err(|reason| TokenError::Unreadable { path: path.display().to_string(), reason })?;
        Self::new(&text)
    }

    pub(super) fn expose(&self) -> &str {
        &self.0
    }

    /// The text with the token struck out, wherever it stands.
    pub fn strike_from(&self, text: &str) -> String {
        text.replace(&self.0, "<token>")
    }
}

impl fmt::Debug for Token {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Token(…)")
    }
}

/// How updates come in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Way {
    /// We ask for them.
    Polling,
    /// They are sent to us.
    Webhook {
        /// Where we listen, behind whatever speaks TLS.
        listen: SocketAddr,
        /// The address the platform calls, as `https://roof.example/telegram`. Its path is where we listen.
        public_url: String,
    },
}

/// How fast and how much. The defaults keep to the published limits with room to spare.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Limits {
    /// Calls a second over all chats; `None` for no limit (measuring only).
    pub sends_per_second: Option<NonZeroU32>,
    /// Messages a second to one person, after a burst of three; `None` for no limit (measuring only).
    pub sends_per_chat: Option<NonZeroU32>,
    /// Messages a minute to one group.
    pub sends_per_group_minute: NonZeroU32,
    /// Calls that may be under way at once.
    pub calls_at_once: usize,
    /// Answers that may be worked at once, each of another chat.
    pub turns_at_once: usize,
    /// Messages that may wait for their turn; beyond it the intake pauses.
    pub messages_waiting: usize,
    /// Messages a minute read of one chat, after as many at once; `None` for no limit (measuring only).
    pub read_per_minute: Option<NonZeroU32>,
    /// The largest body a webhook call may have, in bytes.
    pub largest_update: usize,
    /// How long stopping may take.
    pub stop_within: Duration,
    /// How long one question for updates stays open.
    pub poll_for: Duration,
    /// How long any other call may take.
    pub answer_within: Duration,
}

impl Default for Limits {
    fn default() -> Self {
        let number = |n| NonZeroU32::new(n).unwrap_or(NonZeroU32::MIN);
        Self {
            // Published: about 30 a second over all chats. 25 with a burst of five stays under it in any second.
            sends_per_second: Some(number(25)),
            // Published: about one a second to a chat, short bursts allowed.
            sends_per_chat: Some(number(1)),
            // Published: 20 a minute to a group.
            sends_per_group_minute: number(18),
            calls_at_once: 64,
            turns_at_once: 64,
            messages_waiting: 10_000,
            read_per_minute: Some(number(40)),
            largest_update: 1_000_000,
            stop_within: Duration::from_secs(10),
            poll_for: Duration::from_secs(50),
            answer_within: Duration::from_secs(20),
        }
    }
}

/// Everything the server must be told.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Config {
    /// The bot's token.
    pub token: Token,
    /// The Bot API server, as `https://api.telegram.org`.
    pub api_url: String,
    /// How updates come in.
    pub way: Way,
    /// How fast and how much.
    pub limits: Limits,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_token_never_shows() {
        let token = Token::new(" 123:abc-DEF_9\n").unwrap();
        assert_eq!(format!("{token:?}"), "Token(…)");
        assert_eq!(token.strike_from("GET /bot123:abc-DEF_9/getMe"), "GET /bot<token>/getMe");
    }

    #[test]
    fn what_is_no_token_is_refused_without_repeating_it() {
        for wrong in ["", "abc", "12:", ":abc", "12:a b", "12:a/../b", "x1:abc"] {
            let error = Token::new(wrong).unwrap_err().to_string();
            assert!(error.starts_with("that is no bot token"), "{wrong}");
        }
    }
}
