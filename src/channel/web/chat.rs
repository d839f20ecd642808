//! The chat's own routes: the page, what is sent from it, what arrives later, and files.

use std::convert::Infallible;
use std::sync::Arc;
use std::time::Duration;

use axum::extract::rejection::FormRejection;
use axum::extract::{DefaultBodyLimit, Form, Path, Query, State};
use axum::http::header::{self, HeaderValue};
use axum::http::{HeaderMap, StatusCode};
use axum::response::sse::{Event, KeepAlive, Sse};
use axum::response::{IntoResponse, Json, Redirect, Response};
use axum::routing::{get, post};
use axum::{Extension, Router};
use data_encoding::HEXLOWER;
use futures_util::stream;
use serde::Deserialize;
use tokio::time::{Instant, sleep_until};

use super::Site;
use super::cookie::{LIFETIME, Visitor};
use super::hub::Ear;
use super::view::{ChatPage, News, Notice, buttons};
use crate::channel::TurnFault;
use crate::channel::client::Client;
use crate::channel::rooms::{Entry, Rooms, Spoken};
use crate::message::{ChatId, Content, Inbound};

const STYLE: &str = include_str!("templates/lapwise.css");
const SCRIPT: &str = include_str!("templates/lapwise.js");
const ICON: &str = include_str!("templates/icon.svg");

/// The longest a message's own id may be, in bytes.
const LONGEST_ID: usize = 64;

type At<R> = State<Arc<Site<R>>>;

pub(super) fn routes<R: Rooms>(largest_body: usize) -> Router<Arc<Site<R>>> {
    Router::new()
        .route("/", get(page::<R>))
        .route("/say", post(say::<R>))
        .route("/events", get(events::<R>))
        .route("/file/{digest}/{name}", get(file::<R>))
        .route("/lapwise.css", get(|| async { asset("text/css; charset=utf-8", STYLE) }))
        .route("/lapwise.js", get(|| async { asset("text/javascript; charset=utf-8", SCRIPT) }))
        .route("/icon.svg", get(|| async { asset("image/svg+xml", ICON) }))
        .layer(DefaultBodyLimit::max(largest_body))
}

fn asset(media_type: &'static str, text: &'static str) -> Response {
    let headers = [(header::CONTENT_TYPE, media_type), (header::CACHE_CONTROL, "max-age=300")];
    (headers, text).into_response()
}

pub(super) async fn nothing_here<R: Rooms>(State(site): At<R>) -> Response {
    site.views.notice(StatusCode::NOT_FOUND, Notice::Lost)
}

/// What is sent from the page.
#[derive(Deserialize)]
struct Sent {
    /// The form's token.
    token: String,
    /// The message's own id, so that sending it twice does nothing twice.
    id: String,
    /// What was typed.
    text: Option<String>,
    /// What was pressed: the prompt, a colon, the choice.
    choice: Option<String>,
    /// What the page shows already (with the script only).
    after: Option<u64>,
}

#[derive(Deserialize)]
struct After {
    after: Option<u64>,
}

impl<R: Rooms> Site<R> {
    fn now(&self) -> u64 {
        (self.config.clock)()
    }

    fn cookie_name(&self) -> &'static str {
        // A cookie with this prefix is taken over https only, for this very host.
        if self.is_secure() { "__Host-lapwise" } else { "lapwise" }
    }

    fn is_secure(&self) -> bool {
        self.config.base.starts_with("https:")
    }

    /// Whoever the request's cookie names.
    fn visitor(&self, headers: &HeaderMap) -> Option<Visitor> {
        let cookies = headers.get_all(header::COOKIE).iter().filter_map(|value| value.to_str().ok());
        let mut pairs =
            cookies.flat_map(|line| line.split(';')).filter_map(|pair| pair.trim().split_once('='));
        let name = self.cookie_name();
        pairs.find_map(
            |(key, value)| {
                if key == name { self.config.seal.visitor(value, self.now()) } else { None }
            },
        )
    }

    fn set_cookie(&self, visitor: &Visitor, response: &mut Response) {
        let secure = if self.is_secure() { "; Secure" } else { "" };
        let cookie = format!(
            "{}={}; Path=/; Max-Age={LIFETIME}; HttpOnly; SameSite=Lax{secure}",
            self.cookie_name(),
            self.config.seal.cookie(visitor),
        );
        if let Ok(value) = HeaderValue::from_str(&cookie) {
            response.headers_mut().append(header::SET_COOKIE, value);
        }
    }

    fn form_id(&self) -> String {
        HEXLOWER.encode(&(self.config.fresh)())
    }

    fn chat_page(&self, visitor: &Visitor, entries: &[Entry]) -> Response {
        let (form_token, form_id) = (self.config.seal.form_token(visitor), self.form_id());
        self.views.chat(&self.page_of(entries, &form_token, &form_id))
    }

    fn page_of<'a>(&'a self, entries: &'a [Entry], form_token: &'a str, form_id: &'a str) -> ChatPage<'a> {
        // A browser counts a sign outside the basic plane as two; what is too long is told when it is sent.
        let longest = self.config.limits.longest_message.saturating_mul(2);
        ChatPage { entries, form_token, form_id, longest, base: &self.config.base }
    }

    async fn news(&self, visitor: &Visitor, chat: &ChatId, after: u64) -> Result<Option<News>, TurnFault> {
        let entries = self.rooms.said(chat.clone(), 0).await?;
        if entries.last().is_none_or(|entry| entry.number <= after) {
            return Ok(None);
        }
        let (form_token, form_id) = (self.config.seal.form_token(visitor), self.form_id());
        let news = self.views.news(&self.page_of(&entries, &form_token, &form_id), after);
        news.map(Some).map_err(|error| TurnFault(error.to_string()))
    }

    fn trouble(&self, fault: &TurnFault) -> Response {
        tracing::error!(%fault, "a page could not be served");
        self.views.notice(StatusCode::INTERNAL_SERVER_ERROR, Notice::Trouble)
    }
}

/// The chat as it stands; for somebody new the greeting, of which nothing is kept until they answer.
async fn page<R: Rooms>(State(site): At<R>, headers: HeaderMap) -> Response {
    let known = site.visitor(&headers);
    let renewed = match &known {
        Some(visitor) => visitor.renewed(site.now()),
        None => Some(Visitor::new((site.config.fresh)(), site.now())),
    };
    let Some(visitor) = renewed.as_ref().or(known.as_ref()) else {
        return site.views.notice(StatusCode::INTERNAL_SERVER_ERROR, Notice::Trouble);
    };
    let said = match (&known, visitor.chat()) {
        (Some(_), Some(chat)) => site.rooms.said(chat, 0).await,
        _ => Ok(Vec::new()),
    };
    let mut entries = match said {
        Ok(entries) => entries,
        Err(fault) => return site.trouble(&fault),
    };
    if entries.is_empty() {
        let greeting = site.rooms.welcome().into_iter();
        entries = greeting.map(|say| Entry { number: 0, spoken: Spoken::Bot(say) }).collect();
    }
    let mut response = site.chat_page(visitor, &entries);
    if let Some(visitor) = &renewed {
        site.set_cookie(visitor, &mut response);
    }
    response
}

/// Takes a message. With the script the answer is the news, without it the page again.
async fn say<R: Rooms>(
    State(site): At<R>,
    headers: HeaderMap,
    sent: Result<Form<Sent>, FormRejection>,
) -> Response {
    let sent = match sent {
        Ok(Form(sent)) => sent,
        Err(rejection) => return site.views.notice(rejection.status(), unreadable(rejection.status())),
    };
    let visitor = site.visitor(&headers).filter(|visitor| site.config.seal.is_form_of(visitor, &sent.token));
    let Some((visitor, chat)) = visitor.and_then(|visitor| visitor.chat().map(|chat| (visitor, chat))) else {
        return site.views.notice(StatusCode::FORBIDDEN, Notice::Ended);
    };
    let sent = Sent { text: sent.text.as_deref().map(cleaned), ..sent };
    let letters = sent.text.as_ref().map_or(0, |text| text.chars().count());
    let over = letters.saturating_sub(site.config.limits.longest_message);
    if over > 0 {
        return site.views.notice(StatusCode::PAYLOAD_TOO_LARGE, Notice::TooLongBy(over));
    }
    if sent.choice.as_ref().is_some_and(|choice| choice.len() > 200) {
        return site.views.notice(StatusCode::PAYLOAD_TOO_LARGE, Notice::TooLong);
    }
    let is_id = !sent.id.is_empty()
        && sent.id.len() <= LONGEST_ID
        && sent.id.bytes().all(|b| b.is_ascii_alphanumeric() || b == b'-');
    if !is_id {
        return site.views.notice(StatusCode::BAD_REQUEST, Notice::Ended);
    }
    let after = sent.after;
    let wants_news = headers.get(header::ACCEPT).is_some_and(|accept| accept == "application/json");
    let worked = take(&site, &chat, sent).await;
    if let Err(fault) = worked {
        return site.trouble(&fault);
    }
    if !wants_news {
        return Redirect::to("/#now").into_response();
    }
    match site.news(&visitor, &chat, after.unwrap_or_default()).await {
        Ok(news) => Json(news).into_response(),
        Err(fault) => site.trouble(&fault),
    }
}

/// What was typed, as it is counted and heard: a browser sends each end of a line as two signs.
fn cleaned(text: &str) -> String {
    text.trim().chars().filter(|c| !c.is_control() || *c == '\n').collect()
}

const fn unreadable(status: StatusCode) -> Notice {
    match status {
        StatusCode::PAYLOAD_TOO_LARGE => Notice::TooLong,
        _ => Notice::Ended,
    }
}

async fn take<R: Rooms>(site: &Site<R>, chat: &ChatId, sent: Sent) -> Result<(), TurnFault> {
    let (content, shown) = if let Some(choice) = sent.choice {
        let (prompt, id) = choice.split_once(':').unwrap_or(("", &choice));
        let shown = label(site, chat, id).await?;
        (Content::Choice { prompt: prompt.parse().ok(), id: id.to_owned() }, shown)
    } else {
        let text = sent.text.unwrap_or_default();
        (Content::Text(text.clone()), text)
    };
    site.rooms.hear(Inbound { chat: chat.clone(), id: sent.id, content }, shown).await?;
    site.hub.tell(chat);
    Ok(())
}

/// What stands on the button that was pressed.
async fn label<R: Rooms>(site: &Site<R>, chat: &ChatId, id: &str) -> Result<String, TurnFault> {
    let entries = site.rooms.said(chat.clone(), 0).await?;
    let entries = if entries.is_empty() {
        let greeting = site.rooms.welcome().into_iter();
        greeting.map(|say| Entry { number: 0, spoken: Spoken::Bot(say) }).collect()
    } else {
        entries
    };
    let pressed = buttons(&entries).and_then(|(choices, _)| {
        choices.iter().find(|choice| choice.id == id).map(|choice| choice.label.clone())
    });
    // A button of an older page: its label is gone, what it says is not known any more.
    Ok(pressed.unwrap_or_else(|| "…".to_owned()))
}

/// A page that listens for what arrives later.
struct Listening<R> {
    site: Arc<Site<R>>,
    visitor: Visitor,
    chat: ChatId,
    ear: Ear,
    last: u64,
    first: bool,
    until: Instant,
}

async fn events<R: Rooms>(
    State(site): At<R>,
    Extension(client): Extension<Client>,
    headers: HeaderMap,
    Query(after): Query<After>,
) -> Response {
    let visitor = site.visitor(&headers);
    let Some((visitor, chat)) = visitor.and_then(|visitor| visitor.chat().map(|chat| (visitor, chat))) else {
        return StatusCode::NO_CONTENT.into_response();
    };
    // A page that finds no place asks again later.
    let Some(ear) = site.hub.listen(&chat, client, &site.config.limits) else {
        return StatusCode::NO_CONTENT.into_response();
    };
    let until = Instant::now() + site.config.limits.watched_for;
    let resumed = headers.get("last-event-id").and_then(|id| id.to_str().ok()?.parse().ok());
    let last = resumed.or(after.after).unwrap_or_default();
    let listening = Listening { site, visitor, chat, ear, last, first: true, until };
    let told = stream::unfold(listening, |mut listening| async move {
        let event = listening.next().await?;
        Some((Ok::<Event, Infallible>(event), listening))
    });
    let alive = KeepAlive::new().interval(Duration::from_secs(20));
    let mut response = Sse::new(told).keep_alive(alive).into_response();
    // A proxy that gathers answers before it passes them on would hold these back.
    response.headers_mut().insert("x-accel-buffering", HeaderValue::from_static("no"));
    response
}

impl<R: Rooms> Listening<R> {
    async fn next(&mut self) -> Option<Event> {
        let mut closing = self.site.closing.clone();
        loop {
            // The first look is at once: something may have been said between the page and this.
            if !std::mem::take(&mut self.first) {
                tokio::select! {
                    heard = self.ear.heard() => if !heard { return None },
                    _ = closing.wait_for(|closing| *closing) => return None,
                    () = sleep_until(self.until) => return None,
                }
            }
            let Some(news) = self.site.news(&self.visitor, &self.chat, self.last).await.ok()? else {
                continue;
            };
            self.last = news.last;
            return Event::default().event("said").id(news.last.to_string()).json_data(news).ok();
        }
    }
}

/// A file of one's own chat, by its digest. The name only tells the browser what to call it.
async fn file<R: Rooms>(
    State(site): At<R>,
    headers: HeaderMap,
    Path((digest, name)): Path<(String, String)>,
) -> Response {
    let lost = || site.views.notice(StatusCode::NOT_FOUND, Notice::Lost);
    let is_digest = digest.len() == 64 && digest.bytes().all(|b| b.is_ascii_hexdigit());
    let Some(chat) = site.visitor(&headers).and_then(|visitor| visitor.chat()).filter(|_| is_digest) else {
        return lost();
    };
    let file = match site.rooms.file(chat, digest).await {
        Ok(Some(file)) => file,
        Ok(None) => return lost(),
        Err(fault) => return site.trouble(&fault),
    };
    let name: String =
        name.chars().filter(|c| c.is_ascii_alphanumeric() || matches!(c, '.' | '-' | '_')).collect();
    let how = if file.media_type.starts_with("image/") { "inline" } else { "attachment" };
    let mut response = file.bytes.into_response();
    let headers = response.headers_mut();
    for (key, value) in [
        (header::CONTENT_TYPE, file.media_type),
        (header::CONTENT_DISPOSITION, format!("{how}; filename=\"{name}\"")),
        (header::CACHE_CONTROL, "private, max-age=31536000, immutable".to_owned()),
        // A drawing opened on its own runs nothing.
        (
            header::CONTENT_SECURITY_POLICY,
            "default-src 'none'; style-src 'unsafe-inline'; sandbox".to_owned(),
        ),
    ] {
        if let Ok(value) = HeaderValue::from_str(&value) {
            headers.insert(key, value);
        }
    }
    response
}
