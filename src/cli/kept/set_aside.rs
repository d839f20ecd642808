//! What can be done with what was set aside, over any store that is open.

use anyhow::Context as _;
use clap::Subcommand;
use lapwise::store::{InboxKey, Store, StoreError};
use serde::{Deserialize, Serialize};

use crate::cli::seconds_since_1970;

/// What is to be done with what was set aside.
#[derive(Subcommand, Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub(in crate::cli) enum What {
    /// List them, without a word of anybody (what runs without a word, too).
    List,
    /// Show one, with what the person wrote.
    Show {
        /// Its key, as `list` tells it.
        key: String,
    },
    /// Put one back to be worked as if it had never been tried.
    Retry {
        /// Its key, as `list` tells it.
        key: String,
    },
    /// Let go of one: it is never worked.
    Drop {
        /// Its key, as `list` tells it.
        key: String,
    },
}

/// What the list says where there is none.
pub(in crate::cli) const NOTHING: &str = "nothing is set aside";

/// Does it, and says what was done.
pub(in crate::cli) async fn done(store: &impl Store, what: &What) -> anyhow::Result<String> {
    match what {
        What::List => list(store).await,
        What::Show { key } => {
            let all = store.aside(usize::MAX).await?;
            let found = all.into_iter().find(|message| message.key.0 == *key);
            let message = found.with_context(|| not_there(key))?;
            let words = String::from_utf8_lossy(&message.inbound);
            Ok(format!("{key}: chat {}, failed {} times\n{words}", message.chat, message.tries))
        }
        What::Retry { key } => {
            known(key, store.put_back(InboxKey(key.clone())).await)?;
            Ok(format!(
                "{key} is to be worked again: within a minute where a server runs, else when one starts"
            ))
        }
        What::Drop { key } => {
            known(key, store.drop_aside(InboxKey(key.clone()), seconds_since_1970()).await)?;
            Ok(format!("{key} is gone"))
        }
    }
}

async fn list(store: &impl Store) -> anyhow::Result<String> {
    let all = store.aside(usize::MAX).await?;
    if all.is_empty() {
        return Ok(NOTHING.to_owned());
    }
    let lines = all.iter().map(|message| {
        let bytes = message.inbound.len();
        format!("{}  chat {}  failed {} times  {bytes} bytes", message.key.0, message.chat, message.tries)
    });
    Ok(lines.collect::<Vec<_>>().join("\n"))
}

fn known(key: &str, done: Result<(), StoreError>) -> anyhow::Result<()> {
    match done {
        Err(StoreError::NotWaiting(_)) => anyhow::bail!(not_there(key)),
        done => Ok(done?),
    }
}

fn not_there(key: &str) -> String {
    format!("no message {key} is set aside; `lapwise aside list` tells which are")
}
