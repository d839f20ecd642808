//! `lapwise aside`: messages that could not be worked, for a person to look at.

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use anyhow::Context as _;
use clap::Args;
use lapwise::store::sled::{Options, SledStore};

use super::set_aside::{What, done};
use crate::cli::{StoreArguments, print};

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
