//! The Bot API over HTTP.
//!
//! What is asked is the client library's typed payloads throughout, and what they answer is read as the library's types.
//! Three things are read by hand. `tests/benches/updates.rs` weighs two of them: updates, and of a message that was sent
//! its number alone, for a reply of a newer kind that was refused for it would send the message once more. Who the bot is,
//! is the third: the library's type wants what servers older than it do not tell. The calls themselves are our own, for the
//! library waits ten seconds inside a call when the server fails.

use std::borrow::Cow;
use std::time::Duration;

use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};
use serde_json::value::RawValue;
use serde_json::{Value, json};
use teloxide::ApiError;
use teloxide::payloads::GetMe;
use teloxide::requests::Payload;

use super::config::Token;
use crate::channel::telegram::call::{ATTACHED, Call};
use crate::channel::telegram::update::Me;

const CONNECT_WITHIN: Duration = Duration::from_secs(5);

/// Why a call did not do what it should. No variant holds the token or a URL.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum CallError {
    /// Too fast: wait.
    #[error("told to wait {0:?}")]
    Wait(Duration),
    /// The person cannot be written to: blocked, left, or never was.
    #[error("the chat is gone: {0}")]
    Gone(String),
    /// What was to be changed is as it should be, or cannot be changed any more.
    #[error("nothing to do: {0}")]
    Nothing(String),
    /// The group has a new id.
    #[error("the group moved to {0}")]
    Moved(i64),
    /// The call is wrong in itself.
    #[error("refused ({code}): {description}")]
    Refused {
        /// The HTTP-like code.
        code: u64,
        /// What the server says.
        description: String,
    },
    /// The token is not, or no longer, valid.
    #[error("the token is refused: {0}")]
    Token(String),
    /// Somebody else asks for the same bot's updates, or a webhook is set.
    #[error("another intake is at work: {0}")]
    Conflict(String),
    /// The server or the way to it failed: try again.
    #[error("not reached: {0}")]
    Unreached(String),
}

impl CallError {
    /// A short name for metrics.
    pub fn label(&self) -> &'static str {
        match self {
            Self::Wait(_) => "429",
            Self::Gone(_) => "gone",
            Self::Nothing(_) => "nothing",
            Self::Moved(_) => "moved",
            Self::Refused { .. } => "400",
            Self::Token(_) => "401",
            Self::Conflict(_) => "409",
            Self::Unreached(_) => "unreached",
        }
    }
}

/// A client of one bot at one Bot API server.
#[derive(Clone)]
pub struct Api {
    client: reqwest::Client,
    server: String,
    token: Token,
}

impl Api {
    /// A client; nothing is called yet.
    pub fn new(server: &str, token: Token, answer_within: Duration) -> Result<Self, CallError> {
        let client = reqwest::Client::builder()
            .connect_timeout(CONNECT_WITHIN)
            .timeout(answer_within)
            // A redirect would carry the token to a place nobody named.
            .redirect(reqwest::redirect::Policy::none())
            .build()
            .map_err(|error| CallError::Unreached(describe(error, &token)))?;
        Ok(Self { client, server: server.trim_end_matches('/').to_owned(), token })
    }

    /// Makes a call and answers its result.
    pub async fn ask<P: Payload<Output: DeserializeOwned> + Serialize>(
        &self,
        payload: &P,
    ) -> Result<P::Output, CallError> {
        self.ask_for(payload).await
    }

    /// Asks who the bot is.
    pub async fn me(&self) -> Result<Me, CallError> {
        let Named { id, username } = self.ask_for(&GetMe::new()).await?;
        Ok(Me { id, username: username.unwrap_or_default() })
    }

    async fn ask_for<P: Payload + Serialize, A: DeserializeOwned>(
        &self,
        payload: &P,
    ) -> Result<A, CallError> {
        let method = method_of::<P>();
        let request = self.post(&method).json(payload);
        let answer = self.finish(method, request).await?;
        serde_json::from_str(&answer)
            .map_err(|_| CallError::Unreached(format!("{} was answered with something else", P::NAME)))
    }

    /// Asks for updates, and answers the whole of what came, read or not.
    pub(super) async fn updates(&self, question: &Value, within: Duration) -> Result<Vec<u8>, CallError> {
        let request = self.post("getUpdates").json(question).timeout(within);
        let answer = match self.fetch(request).await {
            Ok((200, body)) => Ok(body),
            Ok((status, body)) => Err(match read_answer(status, &body) {
                Ok(_) => CallError::Unreached(format!("status {status}")),
                Err(error) => error,
            }),
            Err(error) => Err(error),
        };
        let outcome = answer.as_ref().map_or_else(CallError::label, |_| "ok");
        metrics::counter!("lapwise_telegram_calls_total", "method" => "getUpdates", "outcome" => outcome)
            .increment(1);
        answer
    }

    /// Makes a call of ours; answers the id of the message, where the server tells one.
    pub async fn make(&self, call: &Call, parameters: &Value) -> Result<Option<i64>, CallError> {
        let method = call.method();
        let result = match call {
            Call::File { file, .. } => {
                let form = form(parameters);
                let part = reqwest::multipart::Part::bytes(file.bytes.clone())
                    .file_name(file.name.clone())
                    .mime_str(&file.media_type)
                    .map_err(|error| CallError::Refused {
                        code: 0,
                        description: describe(error, &self.token),
                    })?;
                self.finish(method, self.post(method).multipart(form.part(ATTACHED, part))).await?
            }
            Call::Text { .. } | Call::EditText { .. } | Call::TakeButtons { .. } => {
                self.finish(method, self.post(method).json(parameters)).await?
            }
        };
        Ok(message_id(&result))
    }

    fn post(&self, method: &str) -> reqwest::RequestBuilder {
        self.client.post(format!("{}/bot{}/{method}", self.server, self.token.expose()))
    }

    async fn finish(
        &self,
        method: impl Into<Cow<'static, str>>,
        request: reqwest::RequestBuilder,
    ) -> Result<String, CallError> {
        let answer = self.fetch(request).await.and_then(|(status, body)| read_answer(status, &body));
        let outcome = answer.as_ref().map_or_else(CallError::label, |_| "ok");
        metrics::counter!("lapwise_telegram_calls_total", "method" => method.into(), "outcome" => outcome)
            .increment(1);
        answer
    }

    async fn fetch(&self, request: reqwest::RequestBuilder) -> Result<(u16, Vec<u8>), CallError> {
        let unreached = |error| CallError::Unreached(describe(error, &self.token));
        let response = request.send().await.map_err(unreached)?;
        let status = response.status().as_u16();
        let body = response.bytes().await.map_err(unreached)?;
        Ok((status, body.to_vec()))
    }
}

/// The Bot API's name of a payload's method.
fn method_of<P: Payload>() -> String {
    let mut name = P::NAME.to_owned();
    if let Some(first) = name.get_mut(..1) {
        first.make_ascii_lowercase();
    }
    name
}

/// Form fields: text as it is, everything else as JSON (Bot API, "Making requests").
fn form(parameters: &Value) -> reqwest::multipart::Form {
    let mut form = reqwest::multipart::Form::new();
    for (name, value) in parameters.as_object().into_iter().flatten() {
        let text = value.as_str().map_or_else(|| value.to_string(), str::to_owned);
        form = form.text(name.clone(), text);
    }
    form
}

/// What went wrong, without the URL, which holds the token.
fn describe(error: reqwest::Error, token: &Token) -> String {
    let error = error.without_url();
    let mut text = error.to_string();
    let mut cause = std::error::Error::source(&error);
    while let Some(deeper) = cause {
        text.push_str(": ");
        text.push_str(&deeper.to_string());
        cause = deeper.source();
    }
    token.strike_from(&text)
}

/// The bot, as far as it must be known.
#[derive(Deserialize)]
struct Named {
    id: i64,
    username: Option<String>,
}

/// An answer as far as it must be known to go on.
#[derive(Deserialize)]
struct Answer<'a> {
    ok: bool,
    #[serde(borrow)]
    result: &'a RawValue,
}

/// The number of the message that a call's result tells of; none where it tells of something else.
pub fn message_id(result: &str) -> Option<i64> {
    #[derive(Deserialize)]
    struct Numbered {
        message_id: i64,
    }
    serde_json::from_str::<Numbered>(result).ok().map(|numbered| numbered.message_id)
}

/// The result of an answer, as it was written.
fn read_answer(status: u16, body: &[u8]) -> Result<String, CallError> {
    match serde_json::from_slice::<Answer<'_>>(body) {
        Ok(Answer { ok: true, result }) => Ok(result.get().to_owned()),
        Ok(_) | Err(_) => Err(read_refusal(status, body)),
    }
}

fn read_refusal(status: u16, body: &[u8]) -> CallError {
    let Some(answer) = serde_json::from_slice::<Value>(body).ok().filter(Value::is_object) else {
        return CallError::Unreached(format!("status {status}, and no answer that can be read"));
    };
    let code = answer.get("error_code").and_then(Value::as_u64).unwrap_or_else(|| u64::from(status));
    let description =
        answer.get("description").and_then(Value::as_str).unwrap_or("no reason given").to_owned();
    let parameter = |name: &str| answer.pointer(&format!("/parameters/{name}"));
    if let Some(seconds) = parameter("retry_after").and_then(Value::as_u64) {
        return CallError::Wait(Duration::from_secs(seconds));
    }
    if let Some(chat) = parameter("migrate_to_chat_id").and_then(Value::as_i64) {
        return CallError::Moved(chat);
    }
    judge(code, description)
}

fn judge(code: u64, description: String) -> CallError {
    match code {
        429 => CallError::Wait(Duration::from_secs(1)),
        401 | 404 => CallError::Token(description),
        403 => CallError::Gone(description),
        409 => CallError::Conflict(description),
        500.. => CallError::Unreached(format!("{code} {description}")),
        _ => match known(&description) {
            Some(ApiError::ChatNotFound | ApiError::UserDeactivated) => CallError::Gone(description),
            Some(
                ApiError::MessageNotModified
                | ApiError::MessageToEditNotFound
                | ApiError::MessageCantBeEdited
                | ApiError::MessageIdInvalid
                | ApiError::InvalidQueryId,
            ) => CallError::Nothing(description),
            _ => CallError::Refused { code, description },
        },
    }
}

/// The description as one of those the client library knows.
fn known(description: &str) -> Option<ApiError> {
    serde_json::from_value(json!(description)).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn answer(code: u64, description: &str) -> CallError {
        let body = json!({ "ok": false, "error_code": code, "description": description }).to_string();
        read_answer(400, body.as_bytes()).unwrap_err()
    }

    #[test]
    fn known_refusals_are_told_apart() {
        assert_eq!(answer(403, "Forbidden: bot was blocked by the user").label(), "gone");
        assert_eq!(answer(400, "Bad Request: chat not found").label(), "gone");
        assert_eq!(answer(400, "Bad Request: can't parse entities: x").label(), "400");
        assert_eq!(answer(502, "Bad Gateway").label(), "unreached");
        let unchanged = "Bad Request: message is not modified: specified new message content and reply markup \
                         are exactly the same as a current content and reply markup of the message";
        assert_eq!(answer(400, unchanged).label(), "nothing");
    }

    #[test]
    fn a_wait_is_as_long_as_the_server_says() {
        let body = br#"{"ok":false,"error_code":429,"description":"Too Many Requests","parameters":{"retry_after":7}}"#;
        assert_eq!(read_answer(429, body).unwrap_err(), CallError::Wait(Duration::from_secs(7)));
    }

    #[test]
    fn a_web_page_in_place_of_an_answer_is_a_failed_way() {
        assert_eq!(read_answer(502, b"<html>").unwrap_err().label(), "unreached");
    }

    #[tokio::test]
    async fn an_unreachable_server_is_named_without_the_token() {
        let token = Token::new("123:SECRET").unwrap();
        let api = Api::new("http://127.0.0.1:1", token, Duration::from_secs(1)).unwrap();
        let error = api.me().await.unwrap_err();
        assert_eq!(error.label(), "unreached");
        assert!(!format!("{error} {error:?}").contains("SECRET"));
    }
}
