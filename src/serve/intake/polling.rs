//! Long polling: the next question for updates, which acknowledges those before it, is asked only when they
//! are kept.

use std::sync::Arc;
use std::time::Duration;

use serde_json::{Value, json};
use tokio::time::timeout;
use tokio_util::sync::CancellationToken;

use super::Intake;
use crate::channel::telegram::update::{KINDS, update_id};
use crate::serve::answers::Answers;
use crate::serve::api::{Api, CallError};
use crate::serve::backoff::delays;
use crate::store::Store;

/// How much longer than asked the server may take to say that there is nothing.
const SLACK: Duration = Duration::from_secs(10);

/// The most updates in one answer (Bot API, `getUpdates`: 1 to 100).
const A_BATCH: usize = 100;

/// Asks for updates until told to stop.
pub(in crate::serve) async fn poll<S: Store, T: Answers>(
    api: Api,
    intake: Arc<Intake<S, T>>,
    poll_for: Duration,
    stop: CancellationToken,
) {
    let mut offset: i64 = 0;
    let mut pauses = delays();
    loop {
        let answer = tokio::select! {
            () = stop.cancelled() => return,
            answer = ask(&api, offset, poll_for) => answer,
        };
        let taken = match answer {
            Ok(updates) => {
                let (taken, why) = intake.take(&updates).await;
                let last = updates.iter().take(taken).filter_map(update_id).max();
                offset = last.map_or(offset, |last| last.saturating_add(1));
                why.map_or(Ok(()), |why| Err(why.to_string()))
            }
            Err(error) => Err(error.to_string()),
        };
        match taken {
            Ok(()) => pauses = delays(),
            Err(error) => {
                tracing::warn!(error, "no updates taken; they are asked for again");
                let pause = pauses.next().unwrap_or(SLACK);
                if timeout(pause, stop.cancelled()).await.is_ok() {
                    return;
                }
            }
        }
    }
}

async fn ask(api: &Api, offset: i64, poll_for: Duration) -> Result<Vec<Value>, CallError> {
    let question = json!({
        "offset": offset,
        "limit": A_BATCH,
        "timeout": poll_for.as_secs(),
        "allowed_updates": KINDS,
    });
    let answer = api.ask_within("getUpdates", &question, poll_for.saturating_add(SLACK)).await?;
    let Value::Array(updates) = answer else {
        return Err(CallError::Unreached("updates that are no list".to_owned()));
    };
    // One without a number can be neither kept nor acknowledged; the next acknowledged one takes it along.
    Ok(updates.into_iter().filter(|update| update_id(update).is_some()).collect())
}
