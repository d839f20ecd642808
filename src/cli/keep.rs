//! `lapwise backup` and `lapwise restore`, from cold: while a server runs, it is asked to back itself up.

use std::fs::File;
use std::io::{BufReader, BufWriter, Write};
use std::path::PathBuf;
use std::process::ExitCode;

use anyhow::Context;
use clap::Args;
use lapwise::store::SledStore;

use super::{StoreArguments, data_dir, print};

#[derive(Args, Clone)]
pub(super) struct BackupArguments {
    /// The file to write; it must not be there yet.
    to: PathBuf,
    #[command(flatten)]
    store: StoreArguments,
}

#[derive(Args, Clone)]
pub(super) struct RestoreArguments {
    /// The file that `backup` wrote.
    from: PathBuf,
    /// Where to put it: an empty directory, or one that is not there yet.
    #[arg(long, value_name = "DIR")]
    into: PathBuf,
}

/// Writes a backup of a store that nobody has open.
pub(super) fn backup(arguments: &BackupArguments) -> anyhow::Result<ExitCode> {
    let data = data_dir(arguments.store.data.as_deref())?;
    let to = arguments.to.display();
    let file = File::create_new(&arguments.to).with_context(|| format!("cannot write {to}"))?;
    let mut out = BufWriter::new(file);
    let held = SledStore::backup_cold(&data, &mut out)
        .with_context(|| format!("cannot back up {}", data.display()))?;
    out.flush()?;
    out.get_ref().sync_all()?;
    print(&format!("{to}: {} chats, {} records", held.chats, held.records))?;
    Ok(ExitCode::SUCCESS)
}

/// Puts a backup back.
pub(super) fn restore(arguments: &RestoreArguments) -> anyhow::Result<ExitCode> {
    let from = arguments.from.display();
    let file = File::open(&arguments.from).with_context(|| format!("cannot read {from}"))?;
    let held = SledStore::restore(BufReader::new(file), &arguments.into)
        .with_context(|| format!("cannot restore {from} into {}", arguments.into.display()))?;
    print(&format!("{}: {} chats, {} records", arguments.into.display(), held.chats, held.records))?;
    Ok(ExitCode::SUCCESS)
}
