//! The methods of the Bot API that the bots under test call.

use std::sync::Arc;
use std::time::{Duration, Instant};

use axum::Router;
use axum::body::Bytes;
use axum::extract::{Path, State as Shared};
use axum::http::{HeaderMap, StatusCode};
use axum::response::{IntoResponse, Response};
use axum::routing::any;
use serde_json::{Value, json};
use tokio::time::{sleep, timeout};

use super::faults::Fate;
use super::{BOT, BOT_NAME, Inner, Message, State, TOKEN, body, poison};

pub fn routes(inner: Arc<Inner>) -> Router {
    let limit = axum::extract::DefaultBodyLimit::max(60_000_000);
    Router::new().route("/{bot}/{method}", any(call)).layer(limit).with_state(inner)
}

/// What a method answers: a result, or a code, a description and parameters.
type Answer = Result<Value, (u16, String, Value)>;

fn refuse(code: u16, description: &str) -> Answer {
    Err((code, description.to_owned(), json!({})))
}

async fn call(
    Shared(inner): Shared<Arc<Inner>>,
    Path((bot, method)): Path<(String, String)>,
    headers: HeaderMap,
    body: Bytes,
) -> Response {
    if bot.strip_prefix("bot") != Some(TOKEN) {
        return answer(&inner, refuse(401, "Unauthorized"));
    }
    let method = method.to_lowercase();
    let fate = {
        let mut state = inner.lock();
        *state.calls.entry(method.clone()).or_default() += 1;
        if method == "getme" { Fate::Fine } else { state.faults.fate(&method) }
    };
    match fate {
        Fate::Fine => {}
        Fate::TooMany => return answer(&inner, too_many(1)),
        Fate::BadGateway => return (StatusCode::BAD_GATEWAY, "<html>Bad Gateway</html>").into_response(),
        Fate::Slow => sleep(Duration::from_millis(300)).await,
        Fate::HalfOpen => {
            let _done = dispatch(&inner, &method, &headers, &body).await;
            sleep(Duration::from_hours(1)).await;
        }
    }
    let outcome = dispatch(&inner, &method, &headers, &body).await;
    answer(&inner, outcome)
}

fn too_many(seconds: u64) -> Answer {
    let description = format!("Too Many Requests: retry after {seconds}");
    Err((429, description, json!({ "retry_after": seconds })))
}

fn answer(inner: &Inner, outcome: Answer) -> Response {
    let (code, body) = match outcome {
        Ok(result) => (200, json!({ "ok": true, "result": result })),
        Err((code, description, parameters)) => {
            *inner.lock().refused.entry(code).or_default() += 1;
            let mut body = json!({ "ok": false, "error_code": code, "description": description });
            if parameters != json!({}) {
                body["parameters"] = parameters;
            }
            (code, body)
        }
    };
    let json = [("content-type", "application/json")];
    (StatusCode::from_u16(code).unwrap(), json, poison::spread(&body)).into_response()
}

async fn dispatch(inner: &Arc<Inner>, method: &str, headers: &HeaderMap, body: &[u8]) -> Answer {
    let kind = headers.get("content-type").map_or("", |value| value.to_str().unwrap());
    let (parameters, file) = body::read(kind, body);
    match method {
        // No more than a server tells that is older than the client library's type of it.
        "getme" => Ok(json!({ "id": BOT, "is_bot": true, "first_name": "lapwise", "username": BOT_NAME })),
        "getupdates" => get_updates(inner, &parameters).await,
        "sendmessage" | "sendphoto" | "senddocument" => {
            let sent = inner.lock().send(&parameters, file);
            inner.sent.notify_waiters();
            sent
        }
        "editmessagetext" | "editmessagereplymarkup" => {
            let edited = inner.lock().edit(&parameters, method == "editmessagetext");
            inner.sent.notify_waiters();
            edited
        }
        "answercallbackquery" => {
            let mut state = inner.lock();
            state.answered_callbacks.push(text(&parameters, "callback_query_id"));
            let notice = text(&parameters, "text");
            if !notice.is_empty() {
                state.notices.push(notice);
            }
            Ok(json!(true))
        }
        "setmycommands" => {
            inner.lock().commands.push(parameters);
            Ok(json!(true))
        }
        "setwebhook" => {
            inner.lock().webhook = Some((text(&parameters, "url"), text(&parameters, "secret_token")));
            inner.arrived.notify_waiters();
            Ok(json!(true))
        }
        "deletewebhook" => {
            inner.lock().webhook = None;
            Ok(json!(true))
        }
        "getwebhookinfo" => {
            let state = inner.lock();
            let url = state.webhook.as_ref().map(|(url, _)| url.clone()).unwrap_or_default();
            let pending = state.updates.len();
            Ok(json!({ "url": url, "has_custom_certificate": false, "pending_update_count": pending }))
        }
        "sendchataction" => Ok(json!(true)),
        _ => refuse(404, "Not Found"),
    }
}

async fn get_updates(inner: &Arc<Inner>, parameters: &Value) -> Answer {
    let offset = number(&parameters["offset"]);
    let limit = if parameters["limit"].is_null() { 100 } else { number(&parameters["limit"]).clamp(1, 100) };
    let wait = Duration::from_secs(u64::try_from(number(&parameters["timeout"])).unwrap());
    let deadline = Instant::now() + wait;
    loop {
        let woken = inner.arrived.notified();
        {
            let mut state = inner.lock();
            if state.webhook.is_some() {
                return refuse(409, "Conflict: can't use getUpdates method while webhook is active");
            }
            while state.updates.front().is_some_and(|(id, _)| *id < offset) {
                state.updates.pop_front();
            }
            if !state.updates.is_empty() {
                let batch = state.updates.iter().take(usize::try_from(limit).unwrap());
                return Ok(batch.map(|(_, update)| update.clone()).collect());
            }
        }
        let left = deadline.saturating_duration_since(Instant::now());
        if left.is_zero() || timeout(left, woken).await.is_err() {
            return Ok(json!([]));
        }
    }
}

fn text(parameters: &Value, name: &str) -> String {
    parameters[name].as_str().unwrap_or_default().to_owned()
}

fn number(value: &Value) -> i64 {
    value.as_i64().or_else(|| value.as_str()?.parse().ok()).unwrap_or_default()
}

impl State {
    fn send(&mut self, parameters: &Value, file: Option<(String, usize)>) -> Answer {
        let chat = number(&parameters["chat_id"]);
        if let Some(refusal) = self.refuses(chat) {
            return refusal;
        }
        let parse_mode = parameters["parse_mode"].as_str().map(str::to_owned);
        if parse_mode.is_some() && self.faults.refuses_format() {
            return refuse(400, "Bad Request: can't parse entities: unexpected end tag at byte offset 7");
        }
        let field = if file.is_some() { "caption" } else { "text" };
        let text = plain(&text(parameters, field), parse_mode.is_some());
        let units = text.encode_utf16().count();
        if units > if file.is_some() { 1024 } else { 4096 } {
            return refuse(400, "Bad Request: message is too long");
        }
        if file.is_none() && text.trim().is_empty() {
            return refuse(400, "Bad Request: message text is empty");
        }
        let Some(buttons) = buttons(&parameters["reply_markup"]) else {
            return refuse(400, "Bad Request: BUTTON_DATA_INVALID");
        };
        self.next_message += 1;
        let id = self.next_message;
        self.chats.entry(chat).or_default().push(Message {
            id,
            text: text.clone(),
            buttons,
            file,
            parse_mode,
            reply_to: parameters["reply_parameters"]["message_id"].as_i64(),
            thread: parameters["message_thread_id"].as_i64(),
            edits: 0,
            at: Instant::now(),
        });
        if let Some(ear) = &self.ear {
            let _ = ear.send((chat, Instant::now()));
        }
        Ok(json!({
            "message_id": id, "date": 1_700_000_000, "text": text,
            "chat": { "id": chat, "type": "private", "first_name": "Wren" },
            "from": { "id": BOT, "is_bot": true, "first_name": "lapwise", "username": BOT_NAME },
        }))
    }

    fn edit(&mut self, parameters: &Value, words: bool) -> Answer {
        let chat = number(&parameters["chat_id"]);
        if let Some(refusal) = self.refuses(chat) {
            return refusal;
        }
        let id = number(&parameters["message_id"]);
        let new_buttons = buttons(&parameters["reply_markup"]).unwrap_or_default();
        let new_text = words.then(|| plain(&text(parameters, "text"), parameters["parse_mode"].is_string()));
        let messages = self.chats.entry(chat).or_default();
        let Some(message) = messages.iter_mut().find(|message| message.id == id) else {
            return refuse(400, "Bad Request: message to edit not found");
        };
        let new_text = new_text.unwrap_or_else(|| message.text.clone());
        if message.text == new_text && message.buttons == new_buttons {
            return refuse(
                400,
                "Bad Request: message is not modified: specified new message content and reply markup are \
                 exactly the same as a current content and reply markup of the message",
            );
        }
        message.text = new_text;
        message.buttons = new_buttons;
        message.edits += 1;
        Ok(json!({
            "message_id": id, "date": 1_700_000_000, "edit_date": 1_700_000_000, "text": message.text,
            "chat": { "id": chat, "type": "private", "first_name": "Wren" },
        }))
    }

    fn refuses(&mut self, chat: i64) -> Option<Answer> {
        if self.blocked.contains(&chat) {
            return Some(refuse(403, "Forbidden: bot was blocked by the user"));
        }
        self.limits.exceeded(chat).then(|| too_many(1))
    }
}

/// What a person reads.
fn plain(text: &str, html: bool) -> String {
    if !html {
        return text.to_owned();
    }
    let bare = text.replace("<b>", "").replace("</b>", "").replace("<i>", "").replace("</i>", "");
    bare.replace("&lt;", "<").replace("&gt;", ">").replace("&amp;", "&")
}

/// The buttons; `None` where one carries more than 64 bytes.
fn buttons(markup: &Value) -> Option<Vec<Vec<(String, String)>>> {
    let rows = markup["inline_keyboard"].as_array().cloned().unwrap_or_default();
    let mut read = Vec::new();
    for row in rows {
        let mut keys = Vec::new();
        for key in row.as_array()? {
            let data = text(key, "callback_data");
            if data.is_empty() || data.len() > 64 {
                return None;
            }
            keys.push((text(key, "text"), data));
        }
        read.push(keys);
    }
    Some(read)
}
