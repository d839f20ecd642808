//! What the messenger does again and again: reads its gauges, forgets what is no longer needed, looks for what lies.

use std::sync::Arc;

use tokio::time::interval;
use tokio_util::sync::CancellationToken;

use super::answers::Answers;
use super::intake::Intake;
use super::outbox::Outbox;
use crate::serve::watch::{ROUND, count};
use crate::store::Store;

/// Every how many rounds the store is asked for messages that nobody is sending.
const RESUME_ROUNDS: u32 = 12;

/// Goes its rounds until told to stop.
pub(super) async fn go<S: Store, T: Answers>(
    intake: Arc<Intake<S, T>>,
    outbox: Arc<Outbox<S, T>>,
    stop: CancellationToken,
) {
    let mut every = interval(ROUND);
    let mut round: u32 = 0;
    loop {
        tokio::select! {
            () = stop.cancelled() => return,
            _ = every.tick() => {}
        }
        intake.tidy();
        outbox.tidy();
        let (depth, age) = outbox.depth();
        metrics::gauge!("lapwise_outbox_chats").set(count(depth));
        metrics::gauge!("lapwise_outbox_oldest_seconds").set(age.as_secs_f64());
        metrics::gauge!("lapwise_inbox_messages").set(count(intake.waiting()));
        metrics::gauge!("lapwise_chats_gone").set(count(outbox.gone()));
        round = round.wrapping_add(1);
        // What was kept while the store failed must not wait for long: it is looked for only where there may be such.
        let mut found = intake.look_again().await;
        if round.is_multiple_of(RESUME_ROUNDS) {
            // Nothing should be left lying; if anything is, this finds it.
            found = found.and(outbox.resume().await.map(drop));
        }
        if let Err(error) = found {
            tracing::error!(%error, "the store fails");
        }
    }
}
