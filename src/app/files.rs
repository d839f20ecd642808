//! Files made when somebody wants them: sent, or looked at. None is kept, so none can fill the disk or hold another.

use std::sync::Arc;

use serde_json::{Value, json};

use super::papers::Papers;
use super::shares::{CODE, draw_code};
use super::{App, AppError, Shows};
use crate::conversation::saying::Draft;
use crate::conversation::session::Session;
use crate::message::{Attachment, ChatId, Recipe, Say};
use crate::roofing::note::Note;
use crate::roofing::plan::Plan;
use crate::store::record::read_event;
use crate::store::{Store, StoreError};
use crate::units::Day;

/// The word for everything held of a chat in a recipe.
const EXPORT: &str = "export";
const EXPORT_NAME: &str = "everything-kept.json";
/// What the names of files begin with that an earlier version kept.
pub(super) const KEPT_FILE: &str = "file/";

impl<S: Store> App<S> {
    /// Whether files are made when a message is sent or looked at, and not when it is said.
    pub(super) fn makes_later(&self) -> bool {
        matches!(self.shows, Shows::Photos | Shows::Page)
    }

    /// The message that hands over everything held of a chat.
    pub(super) fn exported(&self, later: Option<(u64, u64)>) -> Say {
        let mut say = self.voice(&Session::default()).speak(&Draft::of(Note::new("exported")), 0);
        let recipe = later.map(|(events, at)| Recipe { what: EXPORT.to_owned(), events, at });
        let media_type = "application/json".to_owned();
        let alt = say.text.clone();
        say.files =
            vec![Attachment { name: EXPORT_NAME.to_owned(), media_type, alt, bytes: Vec::new(), recipe }];
        say
    }

    /// Fills in what an export holds, in messages that are handed over at once.
    pub(super) async fn fill_export(&self, chat: &ChatId, says: &mut [Say]) -> Result<(), AppError> {
        for file in says.iter_mut().flat_map(|say| &mut say.files) {
            if file.name == EXPORT_NAME && file.recipe.is_none() {
                file.bytes = self.everything(chat).await?;
            }
        }
        Ok(())
    }

    /// These files of a chat's message, made; one that cannot be made any more is left out, and the log says so.
    pub(super) async fn made(
        &self,
        chat: &ChatId,
        files: Vec<Attachment>,
    ) -> Result<Vec<Attachment>, AppError> {
        let mut made = Vec::with_capacity(files.len());
        let mut session: Option<(u64, Option<Arc<Session>>)> = None;
        for file in files {
            let Some(recipe) = file.recipe.clone() else {
                made.push(file);
                continue;
            };
            let bytes = match recipe.what.as_str() {
                EXPORT => Some(self.everything(chat).await?),
                CODE => {
                    let (name, url) = (file.name.clone(), file.alt.clone());
                    self.pool.draw(move || draw_code(&name, &url)).await
                }
                _ => {
                    let known = session.take().filter(|(events, _)| *events == recipe.events);
                    let (_, then) = match known {
                        Some(known) => known,
                        None => (recipe.events, self.session_then(chat, recipe.events).await?),
                    };
                    session = Some((recipe.events, then.clone()));
                    match then {
                        Some(then) => {
                            let earlier = self.earlier_on(chat, &then, Day::from_seconds(recipe.at)).await?;
                            self.draw(then, earlier, recipe, file.name.clone()).await
                        }
                        None => None,
                    }
                }
            };
            if let Some(bytes) = bytes {
                made.push(Attachment { bytes, ..file });
            } else {
                tracing::error!(name = file.name, "a file could not be made");
            }
        }
        Ok(made)
    }

    /// The chat as it stood after so many events; `None` where it never had as many.
    async fn session_then(&self, chat: &ChatId, events: u64) -> Result<Option<Arc<Session>>, AppError> {
        let stored = self.store.load(chat.clone()).await?.events;
        let events = usize::try_from(events).unwrap_or(usize::MAX);
        let Some(then) = stored.get(..events) else { return Ok(None) };
        let then = then.iter().map(|bytes| read_event(bytes)).collect::<Result<Vec<_>, _>>()?;
        Ok(Some(Arc::new(Session::fold(&then))))
    }

    async fn draw(
        &self,
        session: Arc<Session>,
        earlier: Option<Plan>,
        recipe: Recipe,
        name: String,
    ) -> Option<Vec<u8>> {
        let app = self.clone();
        let draw = move || {
            let guide = app.guide_on(Day::from_seconds(recipe.at), &session, None, earlier.as_ref());
            let (voice, date) = (app.voice(&session), guide.today.to_string());
            let papers = Papers { guide, voice, session: &session, date, shows: app.shows };
            papers.named(&recipe.what, &name)
        };
        self.pool.draw(draw).await
    }

    /// Everything held of a chat, for a person to read and for another program.
    async fn everything(&self, chat: &ChatId) -> Result<Vec<u8>, AppError> {
        let stored = self.store.load(chat.clone()).await?;
        let waiting = self.store.waiting_for(chat.clone()).await?;
        let others = self.store.list_other(Some(chat.clone())).await?;
        let chat = chat.clone();
        let write = move || {
            let held = json!({
                "chat": chat.as_str(),
                "events": stored.events.iter().map(|event| readable(event)).collect::<Vec<_>>(),
                "waiting_to_be_sent": waiting.iter().map(|one| without_bytes(readable(&one.say))).collect::<Vec<_>>(),
                "other": others.iter().map(|other| described(&other.name, &other.value)).collect::<Vec<_>>(),
            });
            serde_json::to_vec_pretty(&held)
        };
        let written = self.pool.draw(write).await;
        written.map_err(|error| AppError::Store(StoreError::Damaged(error.to_string())))
    }
}

/// What is kept, as JSON: files by their name and size.
fn described(name: &str, value: &[u8]) -> Value {
    if name.starts_with(KEPT_FILE) {
        let name = name.rsplit('/').next().unwrap_or(name);
        return json!({ "file": name, "bytes": value.len() });
    }
    readable(value)
}

fn readable(bytes: &[u8]) -> Value {
    serde_json::from_slice(bytes).unwrap_or_else(|_| json!({ "bytes": bytes.len() }))
}

/// A message that waits, with the size of each file in place of what is in it.
fn without_bytes(mut say: Value) -> Value {
    for file in say.get_mut("files").and_then(Value::as_array_mut).into_iter().flatten() {
        if let Some(file) = file.as_object_mut()
            && let Some(base64) = file.remove("base64")
        {
            let bytes = base64.as_str().map_or(0, str::len) / 4 * 3;
            file.insert("bytes".to_owned(), json!(bytes));
        }
    }
    say
}
