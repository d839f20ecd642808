//! Long polling: the next question for updates, which acknowledges those before it, is asked only when they
//! are kept.

use std::sync::Arc;
use std::time::Duration;

use serde_json::{Value, json};
use teloxide::payloads::GetUpdates;
use teloxide::payloads::setters::*;
use tokio::time::timeout;
use tokio_util::sync::CancellationToken;

use super::batch::{self, Batch, Came};
use super::{ALLOWED, Intake};
use crate::serve::messenger::answers::Answers;
use crate::serve::messenger::api::{Api, CallError};
use crate::serve::messenger::backoff::delays;
use crate::store::Store;

/// How much longer than asked the server may take to say that there is nothing: at least, and at most.
const LEAST_SLACK: Duration = Duration::from_secs(1);
const MOST_SLACK: Duration = Duration::from_secs(10);

/// How long a question stays open at least.
const SHORT: Duration = Duration::from_secs(1);

/// The most updates in one answer (Bot API, `getUpdates`: 1 to 100).
const A_BATCH: u8 = 100;

/// Asks for updates until told to stop.
pub(in crate::serve::messenger) async fn poll<S: Store, T: Answers>(
    api: Api,
    intake: Arc<Intake<S, T>>,
    poll_for: Duration,
    stop: CancellationToken,
) {
    let mut asking = Asking::new(poll_for);
    let mut pauses = delays();
    loop {
        let answer = tokio::select! {
            () = stop.cancelled() => return,
            answer = asking.ask(&api) => answer,
        };
        let taken = match answer {
            Ok(answer) => asking.take(&intake, &answer).await,
            Err(error) => {
                asking.fails();
                Err(error.to_string())
            }
        };
        match taken {
            Ok(()) => pauses = delays(),
            Err(error) => {
                tracing::warn!(error, "no updates taken; they are asked for again");
                let pause = pauses.next().unwrap_or(MOST_SLACK);
                if timeout(pause, stop.cancelled()).await.is_ok() {
                    return;
                }
            }
        }
    }
}

/// What is asked for next.
///
/// An answer that never comes is noticed only when the time for it is over, and keeps everybody waiting until then.
/// So while people write a question stays open for a second, and for longer only after nobody did. The slack beyond it
/// grows as long as answers fail: a slow line gets its time.
struct Asking {
    /// Updates from this number on; those below it are acknowledged by asking.
    offset: i64,
    /// At most so many.
    at_once: u8,
    /// How long the question stays open, and how long at most.
    open_for: Duration,
    poll_for: Duration,
    slack: Duration,
}

impl Asking {
    fn new(poll_for: Duration) -> Self {
        Self { offset: 0, at_once: A_BATCH, open_for: SHORT.min(poll_for), poll_for, slack: MOST_SLACK }
    }

    async fn ask(&self, api: &Api) -> Result<Vec<u8>, CallError> {
        let seconds = u32::try_from(self.open_for.as_secs()).unwrap_or_default();
        let payload = GetUpdates::new().limit(self.at_once).timeout(seconds).allowed_updates(ALLOWED);
        let mut question = json!(payload);
        // The library holds it in 32 bits; whatever number comes must be stepped over.
        if let Some(fields) = question.as_object_mut() {
            fields.insert("offset".to_owned(), json!(self.offset));
        }
        api.updates(&question, self.open_for.saturating_add(self.slack)).await
    }

    /// No answer came, or none that is one.
    fn fails(&mut self) {
        self.slack = self.slack.saturating_mul(2).min(MOST_SLACK);
    }

    /// An answer came, with updates or without any.
    fn comes(&mut self, quiet: bool) {
        self.slack = (self.slack / 2).max(LEAST_SLACK);
        let longer = self.open_for.saturating_mul(2);
        self.open_for = if quiet { longer } else { SHORT }.min(self.poll_for);
    }

    /// Takes what came; an error where nothing of it could be acknowledged.
    async fn take<S: Store, T: Answers>(
        &mut self,
        intake: &Arc<Intake<S, T>>,
        answer: &[u8],
    ) -> Result<(), String> {
        let came = match batch::read(answer) {
            Batch::Of(came) => came,
            // Half as many, until whichever it is comes alone and can be stepped over.
            Batch::Spoilt if self.at_once > 1 => {
                self.at_once /= 2;
                return Ok(());
            }
            Batch::Spoilt => batch::spoilt(answer).map(Came::Broken).into_iter().collect(),
            Batch::None => {
                self.fails();
                return Err("an answer without updates".to_owned());
            }
        };
        self.comes(came.is_empty());
        self.at_once = self.at_once.saturating_mul(2).min(A_BATCH);
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_question_stays_open_for_long_only_while_nobody_writes() {
        let mut asking = Asking::new(Duration::from_secs(50));
        let mut open = |quiet: bool| {
            asking.comes(quiet);
            asking.open_for.as_secs()
        };
        assert_eq!([true; 7].map(&mut open), [2, 4, 8, 16, 32, 50, 50]);
        assert_eq!([false, true].map(&mut open), [1, 2]);
    }

    #[test]
    fn a_line_on_which_answers_fail_gets_its_time() {
        let mut asking = Asking::new(Duration::from_secs(50));
        for _ in 0..5 {
            asking.comes(false);
        }
        assert_eq!(asking.slack, LEAST_SLACK);
        for _ in 0..5 {
            asking.fails();
        }
        assert_eq!(asking.slack, MOST_SLACK);
    }
}
