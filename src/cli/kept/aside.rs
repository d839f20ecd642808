//! `lapwise aside`: messages that could not be worked, for a person to look at.

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use anyhow::Context as _;
use clap::{Args, Subcommand};
use lapwise::store::sled::{Options, SledStore};
use lapwise::store::{InboxKey, Store, StoreError};
use serde::{Deserialize, Serialize};

use crate::cli::{StoreArguments, print, seconds_since_1970};

#[derive(Args, Clone)]
pub(in crate::cli) struct AsideArguments {
    #[command(subcommand)]
    what: Option<What>,
    /// Where answers are kept; without it, the platform's usual place.
    #[arg(long, value_name = "DIR", env = "LAPWISE_DATA", global = true)]
    data: Option<PathBuf>,
    /// The file with the keys that what is kept is sealed with: the newest first, one a line.
    #[arg(long, value_name = "FILE", env = "LAPWISE_KEY_FILE", global = true)]
    key_file: Option<PathBuf>,
}

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

/// Does it where the store is: in the server that has it open, or here.
pub(in crate::cli) fn run(arguments: &AsideArguments) -> anyhow::Result<ExitCode> {
    let store = StoreArguments { data: arguments.data.clone(), key_file: arguments.key_file.clone() };
    let data = super::store_dir(&store)?;
    let what = arguments.what.clone().unwrap_or(What::List);
    print(&ask(&data, &store, &what)?)?;
    Ok(ExitCode::SUCCESS)
}

fn ask(data: &Path, arguments: &StoreArguments, what: &What) -> anyhow::Result<String> {
    #[cfg(unix)]
    if let Some(said) = super::live::ask(data, what)? {
        return Ok(said);
    }
    let keyring = super::keyring_of(arguments)?;
    let (store, _) = SledStore::open(data, Options { keyring, ..Options::default() })
        .with_context(|| format!("cannot open {}", data.display()))?;
    let runtime = tokio::runtime::Builder::new_current_thread().build()?;
    runtime.block_on(done(&store, what))
}

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
