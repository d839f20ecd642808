//! The supplier's page: the sheet behind a link, and what they send back. The link is all they need.

use std::collections::HashMap;
use std::sync::Arc;

use axum::Router;
use axum::extract::rejection::FormRejection;
use axum::extract::{DefaultBodyLimit, Form, Path, Query, State};
use axum::http::StatusCode;
use axum::http::header;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::get;
use serde::Deserialize;

use super::Site;
use super::view::{Notice, SheetPage};
use crate::channel::rooms::Rooms;
use crate::channel::supplier::{Answered, Mark};

/// A token as it stands in a link: 256 bits, base64url.
const TOKEN_LENGTH: usize = 43;

type At<R> = State<Arc<Site<R>>>;

pub(super) fn routes<R: Rooms>() -> Router<Arc<Site<R>>> {
    Router::new()
        .route("/s/{token}", get(sheet::<R>).post(answer::<R>))
        .route("/s/{token}/list.csv", get(csv::<R>))
        // A long list with every line marked.
        .layer(DefaultBodyLimit::max(64 * 1024))
}

#[derive(Deserialize)]
struct Sent {
    sent: Option<String>,
}

fn is_token(token: &str) -> bool {
    token.len() == TOKEN_LENGTH && token.bytes().all(|b| b.is_ascii_alphanumeric() || b == b'-' || b == b'_')
}

fn path_of(token: &str) -> String {
    format!("/s/{token}")
}

async fn sheet<R: Rooms>(
    State(site): At<R>,
    Path(token): Path<String>,
    Query(query): Query<Sent>,
) -> Response {
    let gone = || site.views.notice(StatusCode::NOT_FOUND, Notice::Gone);
    if !is_token(&token) {
        return gone();
    }
    let path = path_of(&token);
    match site.rooms.sheet(token).await {
        Ok(Some(sheet)) => {
            let sent = query.sent.is_some() && sheet.answered;
            site.views.sheet(StatusCode::OK, &SheetPage { sheet: &sheet, path: &path, sent, wrong: None })
        }
        Ok(None) => gone(),
        Err(fault) => {
            tracing::error!(%fault, "a sheet could not be shown");
            site.views.notice(StatusCode::INTERNAL_SERVER_ERROR, Notice::Trouble)
        }
    }
}

async fn csv<R: Rooms>(State(site): At<R>, Path(token): Path<String>) -> Response {
    let found = if is_token(&token) { site.rooms.sheet(token).await } else { Ok(None) };
    match found {
        Ok(Some(sheet)) => {
            let headers = [
                (header::CONTENT_TYPE, "text/csv; charset=utf-8; header=present"),
                (header::CONTENT_DISPOSITION, "attachment; filename=\"list.csv\""),
            ];
            (headers, sheet.csv).into_response()
        }
        Ok(None) => site.views.notice(StatusCode::NOT_FOUND, Notice::Gone),
        Err(fault) => {
            tracing::error!(%fault, "a list could not be written");
            site.views.notice(StatusCode::INTERNAL_SERVER_ERROR, Notice::Trouble)
        }
    }
}

/// Takes what a supplier marked: `stock-0`, `instead-0`, `price-0` and so on, one of each for every line.
async fn answer<R: Rooms>(
    State(site): At<R>,
    Path(token): Path<String>,
    form: Result<Form<Vec<(String, String)>>, FormRejection>,
) -> Response {
    let fields: HashMap<String, String> = match form {
        Ok(Form(fields)) => fields.into_iter().collect(),
        Err(rejection) => return site.views.notice(rejection.status(), Notice::TooLong),
    };
    let gone = || site.views.notice(StatusCode::NOT_FOUND, Notice::Gone);
    if !is_token(&token) {
        return gone();
    }
    let mut sheet = match site.rooms.sheet(token.clone()).await {
        Ok(Some(sheet)) => sheet,
        Ok(None) => return gone(),
        Err(_) => return site.views.notice(StatusCode::INTERNAL_SERVER_ERROR, Notice::Trouble),
    };
    for (index, line) in sheet.lines.iter_mut().enumerate() {
        let field = |name: &str| fields.get(&format!("{name}-{index}")).cloned().unwrap_or_default();
        line.mark = Mark { stock: field("stock"), instead: field("instead"), price: field("price") };
    }
    let marks = sheet.lines.iter().map(|line| line.mark.clone()).collect();
    let path = path_of(&token);
    match site.rooms.answer(token, marks).await {
        Ok(Answered::Told(chat)) => {
            site.hub.tell(&chat);
            Redirect::to(&format!("{path}?sent=1")).into_response()
        }
        Ok(Answered::Unreadable(wrong)) => {
            let page = SheetPage { sheet: &sheet, path: &path, sent: false, wrong: Some(&wrong) };
            site.views.sheet(StatusCode::UNPROCESSABLE_ENTITY, &page)
        }
        Ok(Answered::Gone) => gone(),
        Ok(Answered::TooOften) => site.views.notice(StatusCode::TOO_MANY_REQUESTS, Notice::TooOften),
        Err(_) => site.views.notice(StatusCode::INTERNAL_SERVER_ERROR, Notice::Trouble),
    }
}
