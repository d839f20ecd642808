//! One call, made until the server has it or will never take it.

use std::sync::Arc;
use std::time::Duration;

use tokio::time::sleep;

use super::{Outbox, Sent, delays};
use crate::channel::telegram::call::Call;
use crate::serve::messenger::answers::Answers;
use crate::serve::messenger::api::CallError;
use crate::store::Store;

/// Added to what the server tells us to wait: its clock and ours round differently.
const WAIT_MARGIN: Duration = Duration::from_millis(100);

impl<S: Store, T: Answers> Outbox<S, T> {
    pub(super) async fn send(self: &Arc<Self>, mut call: Call) -> Sent {
        let mut parameters = call.parameters();
        let mut delays = delays();
        let mut refused = false;
        loop {
            self.pace.wait_for(call.to()).await;
            let made = {
                let Ok(_place) = self.at_once.acquire().await else { return Sent::Never };
                self.api.make(&call, &parameters).await
            };
            match made {
                Ok(id) => return Sent::Yes(id),
                Err(CallError::Nothing(_)) => return Sent::Yes(None),
                Err(CallError::Gone(_)) => return Sent::Gone,
                // Only this chat's lane waits: the others have places and a pace of their own.
                Err(CallError::Wait(wait)) => sleep(wait.saturating_add(WAIT_MARGIN)).await,
                Err(error @ (CallError::Unreached(_) | CallError::Token(_) | CallError::Conflict(_))) => {
                    tracing::warn!(method = call.method(), %error, "will be tried again");
                    sleep(delays.next().unwrap_or(Duration::from_secs(30))).await;
                }
                Err(CallError::Moved(chat)) if call.to().chat != chat => {
                    call = call.moved_to(chat);
                    parameters = call.parameters();
                }
                Err(error @ (CallError::Refused { .. } | CallError::Moved(_))) => {
                    tracing::error!(method = call.method(), chat = call.to().chat, %error, "refused");
                    let Some(plainest) = call.plainest().filter(|_| !refused) else { return Sent::Never };
                    refused = true;
                    call = call.as_document();
                    parameters = plainest;
                }
            }
        }
    }
}
