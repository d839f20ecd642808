//! Long polling: the next question for updates, which acknowledges those before it, is asked only when they
//! are kept.

use std::sync::Arc;
use std::time::Duration;

use serde_json::{Value, json};
use tokio::time::timeout;
use tokio_util::sync::CancellationToken;

use super::Intake;
use super::batch::{self, Batch, Came};
use crate::channel::telegram::update::KINDS;
use crate::serve::messenger::answers::Answers;
use crate::serve::messenger::api::{Api, CallError};
use crate::serve::messenger::backoff::delays;
use crate::store::Store;

/// How much longer than asked the server may take to say that there is nothing.
const SLACK: Duration = Duration::from_secs(10);

/// The most updates in one answer (Bot API, `getUpdates`: 1 to 100).
const A_BATCH: usize = 100;

/// Asks for updates until told to stop.
pub(in crate::serve::messenger) async fn poll<S: Store, T: Answers>(
    api: Api,
    intake: Arc<Intake<S, T>>,
    poll_for: Duration,
    stop: CancellationToken,
) {
    let mut asking = Asking { offset: 0, at_once: A_BATCH };
    let mut pauses = delays();
    loop {
        let answer = tokio::select! {
            () = stop.cancelled() => return,
            answer = asking.ask(&api, poll_for) => answer,
        };
        let taken = match answer {
            Ok(answer) => asking.take(&intake, &answer).await,
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

/// What is asked for next.
struct Asking {
    /// Updates from this number on; those below it are acknowledged by asking.
    offset: i64,
    /// At most so many.
    at_once: usize,
}

impl Asking {
    async fn ask(&self, api: &Api, poll_for: Duration) -> Result<Vec<u8>, CallError> {
        let question = json!({
            "offset": self.offset,
            "limit": self.at_once,
            "timeout": poll_for.as_secs(),
            "allowed_updates": KINDS,
        });
        api.updates(&question, poll_for.saturating_add(SLACK)).await
    }

    /// Takes what came; an error where nothing of it could be acknowledged.
    async fn take<S: Store, T: Answers>(
        &mut self,
        intake: &Arc<Intake<S, T>>,
        answer: &[u8],
    ) -> Result<(), String> {
        let came = match batch::read(answer) {
            Batch::Of(came) => came,
            // One at a time, so that whichever it is can be stepped over.
            Batch::Spoilt if self.at_once > 1 => {
                self.at_once = 1;
                return Ok(());
            }
            Batch::Spoilt => batch::spoilt(answer).map(Came::Broken).into_iter().collect(),
            Batch::None => return Err("an answer without updates".to_owned()),
        };
        self.at_once = A_BATCH;
        let (taken, why) = intake.take(&came).await;
        let last = came.iter().take(taken).filter_map(Came::number).max();
        let next = last.map_or(self.offset, |last| last.saturating_add(1));
        let is_stuck = next <= self.offset && !is_empty(answer);
        self.offset = next.max(self.offset);
        match why {
            Some(why) => Err(why.to_string()),
            // Asked for again at once, they would come again at once.
            None if is_stuck => Err("updates that cannot be acknowledged".to_owned()),
            None => Ok(()),
        }
    }
}

/// Whether there is nothing in an answer that can be read.
fn is_empty(answer: &[u8]) -> bool {
    let answer = serde_json::from_slice::<Value>(answer).unwrap_or_default();
    answer.get("result").and_then(Value::as_array).is_some_and(Vec::is_empty)
}
